//! Conductors, cables and protection against published tables and worked examples.
#[path = "../common/mod.rs"]
mod common;

mod classes;
mod protection;
mod protection_limits;
mod sizes;
