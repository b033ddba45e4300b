//! From a data sheet to a model: hand cases, the way back from a reading, sheets that cannot be.
#[path = "../common/mod.rs"]
mod common;

mod build;
#[cfg(feature = "job")]
mod demo;
mod hand_cases;
mod meanings;
mod refused;
mod round_trip;
