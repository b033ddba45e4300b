//! Cutting stock: against HiGHS, against brute force, against laws and traps.

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/highs.rs"]
mod instances;

mod brute_force;
mod build;
mod hand_cases;
mod highs;
mod hostile;
mod laws;
