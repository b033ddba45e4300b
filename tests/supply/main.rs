//! Assignment of loads: against HiGHS, against traps, against laws.

#[path = "../common/mod.rs"]
mod common;

mod build;
mod highs;
mod laws;
mod traps;
