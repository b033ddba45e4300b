//! Four-pair Class 2 data cable in bundles: US code table 725.144, 2017.
//!
//! Per conductor, all conductors loaded, ambient 30 °C. The 2020 edition changed
//! these figures upwards; its values were not seen and are not here.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = documents::NEC
    .at("table 725.144, figures of 2017 (2020 refined them upwards)")
    .quoted();

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "us-code-725-144",
    covers: "four-pair data cable of 22 to 26 AWG, bundles of 1 to 192 cables (26 AWG: to 91), 60, 75 and 90 °C cable",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one gauge and bundle size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Gauge number.
    pub gauge: i8,
    /// Fewest cables of the bundle.
    pub bundle_from: u16,
    /// Most cables of the bundle.
    pub bundle_to: u16,
    /// 60 °C cable, A per conductor.
    pub at_60_a: f64,
    /// 75 °C cable, A per conductor.
    pub at_75_a: f64,
    /// 90 °C cable, A per conductor.
    pub at_90_a: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { gauge: 26, bundle_from: 1, bundle_to: 1, at_60_a: 1.0, at_75_a: 1.0, at_90_a: 1.0 },
    Row { gauge: 26, bundle_from: 2, bundle_to: 7, at_60_a: 1.0, at_75_a: 1.0, at_90_a: 1.0 },
    Row { gauge: 26, bundle_from: 8, bundle_to: 19, at_60_a: 0.7, at_75_a: 0.8, at_90_a: 1.0 },
    Row { gauge: 26, bundle_from: 20, bundle_to: 37, at_60_a: 0.5, at_75_a: 0.6, at_90_a: 0.7 },
    Row { gauge: 26, bundle_from: 38, bundle_to: 61, at_60_a: 0.4, at_75_a: 0.5, at_90_a: 0.6 },
    Row { gauge: 26, bundle_from: 62, bundle_to: 91, at_60_a: 0.4, at_75_a: 0.5, at_90_a: 0.6 },
    Row { gauge: 24, bundle_from: 1, bundle_to: 1, at_60_a: 2.0, at_75_a: 2.0, at_90_a: 2.0 },
    Row { gauge: 24, bundle_from: 2, bundle_to: 7, at_60_a: 1.0, at_75_a: 1.4, at_90_a: 1.6 },
    Row { gauge: 24, bundle_from: 8, bundle_to: 19, at_60_a: 0.8, at_75_a: 1.0, at_90_a: 1.1 },
    Row { gauge: 24, bundle_from: 20, bundle_to: 37, at_60_a: 0.6, at_75_a: 0.7, at_90_a: 0.9 },
    Row { gauge: 24, bundle_from: 38, bundle_to: 61, at_60_a: 0.5, at_75_a: 0.6, at_90_a: 0.7 },
    Row { gauge: 24, bundle_from: 62, bundle_to: 91, at_60_a: 0.4, at_75_a: 0.5, at_90_a: 0.6 },
    Row { gauge: 24, bundle_from: 92, bundle_to: 192, at_60_a: 0.3, at_75_a: 0.4, at_90_a: 0.5 },
    Row { gauge: 23, bundle_from: 1, bundle_to: 1, at_60_a: 2.5, at_75_a: 2.5, at_90_a: 2.5 },
    Row { gauge: 23, bundle_from: 2, bundle_to: 7, at_60_a: 1.2, at_75_a: 1.5, at_90_a: 1.7 },
    Row { gauge: 23, bundle_from: 8, bundle_to: 19, at_60_a: 0.8, at_75_a: 1.1, at_90_a: 1.2 },
    Row { gauge: 23, bundle_from: 20, bundle_to: 37, at_60_a: 0.6, at_75_a: 0.8, at_90_a: 0.9 },
    Row { gauge: 23, bundle_from: 38, bundle_to: 61, at_60_a: 0.5, at_75_a: 0.7, at_90_a: 0.8 },
    Row { gauge: 23, bundle_from: 62, bundle_to: 91, at_60_a: 0.5, at_75_a: 0.7, at_90_a: 0.8 },
    Row { gauge: 23, bundle_from: 92, bundle_to: 192, at_60_a: 0.4, at_75_a: 0.5, at_90_a: 0.6 },
    Row { gauge: 22, bundle_from: 1, bundle_to: 1, at_60_a: 3.0, at_75_a: 3.0, at_90_a: 3.0 },
    Row { gauge: 22, bundle_from: 2, bundle_to: 7, at_60_a: 1.4, at_75_a: 1.8, at_90_a: 2.1 },
    Row { gauge: 22, bundle_from: 8, bundle_to: 19, at_60_a: 1.0, at_75_a: 1.2, at_90_a: 1.4 },
    Row { gauge: 22, bundle_from: 20, bundle_to: 37, at_60_a: 0.7, at_75_a: 0.9, at_90_a: 1.1 },
    Row { gauge: 22, bundle_from: 38, bundle_to: 61, at_60_a: 0.6, at_75_a: 0.8, at_90_a: 0.9 },
    Row { gauge: 22, bundle_from: 62, bundle_to: 91, at_60_a: 0.6, at_75_a: 0.8, at_90_a: 0.9 },
    Row { gauge: 22, bundle_from: 92, bundle_to: 192, at_60_a: 0.5, at_75_a: 0.6, at_90_a: 0.7 },
];
