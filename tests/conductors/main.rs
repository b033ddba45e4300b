//! Conductors, cables and protection against published tables and worked examples.
#[path = "../common/mod.rs"]
mod common;

mod sizes;
