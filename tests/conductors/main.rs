//! Conductors, cables and protection against published tables and worked examples.
//!
//! Every `seen` or `computed` row of `tests/reference/conductors` is either checked here or listed in
//! [`coverage`] with the reason why not; rows marked `memory` are never asserted.
#[path = "../common/mod.rs"]
mod common;

mod ampacities;
mod cables;
mod citing;
mod classes;
mod coverage;
mod factors;
mod fields;
mod limits;
mod materials;
mod power_sources;
mod protection;
mod protection_limits;
mod residuals;
mod resistances;
mod rules;
mod sizes;
mod worked;

use common::{Row, rows};

/// The rows of one conductor table; fails when there are fewer than expected.
fn table(name: &str, at_least: usize) -> Vec<Row> {
    rows(&format!("conductors/{name}.csv"), at_least)
}

/// A gauge as the tables write it: `18`, `4/0`, `0000`.
fn gauge(text: &str) -> evenrun::cable::ConductorSize {
    format!("{text} AWG")
        .parse()
        .unwrap_or_else(|e| panic!("{text}: {e}"))
}
