//! Temperature factors of IEC 60228: `R20 = R(t) · kt`, so `R(t) = R20 / kt`.
//!
//! The printed factors follow `1 / (1 + 0.004 (t − 20))` within rounding (0.06 %).
//! They do not follow the 0.003 93 /K of annealed copper (up to 0.43 % apart).

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source =
    documents::IEC_60228.at("annex B, temperature factors, as a cable maker prints them");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "iec-60228-temperature",
    covers: "5 °C to 100 °C in steps of 5 K, copper",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one conductor temperature.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Conductor temperature at which the resistance was measured, °C.
    pub celsius: f64,
    /// The factor as printed.
    pub factor: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { celsius: 5.0, factor: 1.064 },
    Row { celsius: 10.0, factor: 1.042 },
    Row { celsius: 15.0, factor: 1.02 },
    Row { celsius: 20.0, factor: 1.0 },
    Row { celsius: 25.0, factor: 0.98 },
    Row { celsius: 30.0, factor: 0.962 },
    Row { celsius: 35.0, factor: 0.943 },
    Row { celsius: 40.0, factor: 0.926 },
    Row { celsius: 45.0, factor: 0.909 },
    Row { celsius: 50.0, factor: 0.893 },
    Row { celsius: 55.0, factor: 0.877 },
    Row { celsius: 60.0, factor: 0.862 },
    Row { celsius: 65.0, factor: 0.847 },
    Row { celsius: 70.0, factor: 0.833 },
    Row { celsius: 75.0, factor: 0.82 },
    Row { celsius: 80.0, factor: 0.806 },
    Row { celsius: 85.0, factor: 0.794 },
    Row { celsius: 90.0, factor: 0.781 },
    Row { celsius: 95.0, factor: 0.769 },
    Row { celsius: 100.0, factor: 0.758 },
];
