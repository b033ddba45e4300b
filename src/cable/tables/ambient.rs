//! Factors for another ambient temperature than the reference.
//!
//! Each printed factor is that of the top of its band of 5 K (US code) or of the
//! temperature named (IEC); between printed temperatures the next hotter one is
//! taken. `sqrt((Tc − Ta)/(Tc − 30))` agrees within 1 %, the rounding of the print.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// US code.
pub const US: Source = documents::NEC.at("table 310.15(B)(1)(1)");
/// IEC.
pub const IEC: Source = documents::IEC_60364_5_52.at("table B.52.14");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "ambient-factors",
    covers: "US code: 10 °C and below to 85 °C for 60, 75 and 90 °C conductors; IEC: 10 °C to 60 °C for PVC 70 °C and XLPE or EPR 90 °C, in air; reference 30 °C",
    source: documents::NEC.at("table 310.15(B)(1)(1); IEC 60364-5-52:2009, table B.52.14"),
    csv: || super::rows_as_csv(ROWS),
};

/// Which family.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Family {
    /// US code.
    Us,
    /// IEC.
    Iec,
}

/// One row: one conductor rating up to one ambient.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Which family.
    pub family: Family,
    /// Rating of the conductor, °C.
    pub rating_celsius: f64,
    /// Hottest ambient of the band, °C.
    pub ambient_to_celsius: f64,
    /// The factor as printed.
    pub factor: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 10.0, factor: 1.29 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 10.0, factor: 1.2 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 10.0, factor: 1.15 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 15.0, factor: 1.22 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 15.0, factor: 1.15 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 15.0, factor: 1.12 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 20.0, factor: 1.15 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 20.0, factor: 1.11 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 20.0, factor: 1.08 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 25.0, factor: 1.08 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 25.0, factor: 1.05 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 25.0, factor: 1.04 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 30.0, factor: 1.0 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 30.0, factor: 1.0 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 30.0, factor: 1.0 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 35.0, factor: 0.91 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 35.0, factor: 0.94 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 35.0, factor: 0.96 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 40.0, factor: 0.82 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 40.0, factor: 0.88 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 40.0, factor: 0.91 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 45.0, factor: 0.71 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 45.0, factor: 0.82 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 45.0, factor: 0.87 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 50.0, factor: 0.58 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 50.0, factor: 0.75 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 50.0, factor: 0.82 },
    Row { family: Family::Us, rating_celsius: 60.0, ambient_to_celsius: 55.0, factor: 0.41 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 55.0, factor: 0.67 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 55.0, factor: 0.76 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 60.0, factor: 0.58 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 60.0, factor: 0.71 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 65.0, factor: 0.47 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 65.0, factor: 0.65 },
    Row { family: Family::Us, rating_celsius: 75.0, ambient_to_celsius: 70.0, factor: 0.33 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 70.0, factor: 0.58 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 75.0, factor: 0.5 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 80.0, factor: 0.41 },
    Row { family: Family::Us, rating_celsius: 90.0, ambient_to_celsius: 85.0, factor: 0.29 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 10.0, factor: 1.22 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 15.0, factor: 1.17 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 20.0, factor: 1.12 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 25.0, factor: 1.06 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 30.0, factor: 1.0 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 35.0, factor: 0.94 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 40.0, factor: 0.87 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 45.0, factor: 0.79 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 50.0, factor: 0.71 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 55.0, factor: 0.61 },
    Row { family: Family::Iec, rating_celsius: 70.0, ambient_to_celsius: 60.0, factor: 0.5 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 10.0, factor: 1.15 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 15.0, factor: 1.12 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 20.0, factor: 1.08 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 25.0, factor: 1.04 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 30.0, factor: 1.0 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 35.0, factor: 0.96 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 40.0, factor: 0.91 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 45.0, factor: 0.87 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 50.0, factor: 0.82 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 55.0, factor: 0.76 },
    Row { family: Family::Iec, rating_celsius: 90.0, ambient_to_celsius: 60.0, factor: 0.71 },
];
