//! Protection: one test for each way in which a low-voltage job goes wrong, and joins found by union.
//!
//! The rows of the power-limit tables are checked in `tests/conductors`; limits that flip a finding likewise.
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/dice.rs"]
mod dice;

mod build;
mod cases;
mod joins;
mod nameplate;
mod random;
mod rules;
