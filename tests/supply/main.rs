//! Assignment of loads: against HiGHS, against traps, against laws.

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/highs.rs"]
mod instances;

mod build;
mod highs;
mod laws;
mod traps;
