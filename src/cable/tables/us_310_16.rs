//! Ampacities of the US code: table 310.16 (in 2017 numbered 310.15(B)(16)), and
//! the greatest overcurrent device of small conductors, 240.4(D).
//!
//! Not more than three current-carrying conductors in a raceway, cable or earth,
//! ambient 30 °C. Older prints carry 20/25 A at 60 °C for 14 and 12 AWG and 110/150 A
//! at 90 °C for 3 and 1 AWG; they are superseded and still common.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the ampacities come from.
pub const SOURCE: Source =
    documents::NEC.at("table 310.16 (2017: table 310.15(B)(16), same figures)");

/// Where the limits of the overcurrent device come from.
pub const OVERCURRENT: Source = documents::NEC.at("240.4(D)");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "us-code-310-16",
    covers: "copper 14 AWG to 4/0 AWG at 60, 75 and 90 °C, 18 and 16 AWG at 90 °C only; aluminium and copper-clad aluminium from 12 AWG; ambient 30 °C; up to three current-carrying conductors",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one gauge. A cell without a figure is `None`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Gauge number; 1/0 is 0, 4/0 is -3.
    pub gauge: i8,
    /// Copper, 60 °C column, A.
    pub copper_60_a: Option<f64>,
    /// Copper, 75 °C column, A.
    pub copper_75_a: Option<f64>,
    /// Copper, 90 °C column, A.
    pub copper_90_a: Option<f64>,
    /// Aluminium or copper-clad aluminium, 60 °C column, A.
    pub aluminium_60_a: Option<f64>,
    /// Aluminium or copper-clad aluminium, 75 °C column, A.
    pub aluminium_75_a: Option<f64>,
    /// Aluminium or copper-clad aluminium, 90 °C column, A.
    pub aluminium_90_a: Option<f64>,
    /// Greatest overcurrent device for copper of this size, 240.4(D), A.
    pub copper_overcurrent_a: Option<f64>,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { gauge: 18, copper_60_a: None, copper_75_a: None, copper_90_a: Some(14.0), aluminium_60_a: None, aluminium_75_a: None, aluminium_90_a: None, copper_overcurrent_a: Some(7.0) },
    Row { gauge: 16, copper_60_a: None, copper_75_a: None, copper_90_a: Some(18.0), aluminium_60_a: None, aluminium_75_a: None, aluminium_90_a: None, copper_overcurrent_a: Some(10.0) },
    Row { gauge: 14, copper_60_a: Some(15.0), copper_75_a: Some(20.0), copper_90_a: Some(25.0), aluminium_60_a: None, aluminium_75_a: None, aluminium_90_a: None, copper_overcurrent_a: Some(15.0) },
    Row { gauge: 12, copper_60_a: Some(20.0), copper_75_a: Some(25.0), copper_90_a: Some(30.0), aluminium_60_a: Some(15.0), aluminium_75_a: Some(20.0), aluminium_90_a: Some(25.0), copper_overcurrent_a: Some(20.0) },
    Row { gauge: 10, copper_60_a: Some(30.0), copper_75_a: Some(35.0), copper_90_a: Some(40.0), aluminium_60_a: Some(25.0), aluminium_75_a: Some(30.0), aluminium_90_a: Some(35.0), copper_overcurrent_a: Some(30.0) },
    Row { gauge: 8, copper_60_a: Some(40.0), copper_75_a: Some(50.0), copper_90_a: Some(55.0), aluminium_60_a: Some(35.0), aluminium_75_a: Some(40.0), aluminium_90_a: Some(45.0), copper_overcurrent_a: None },
    Row { gauge: 6, copper_60_a: Some(55.0), copper_75_a: Some(65.0), copper_90_a: Some(75.0), aluminium_60_a: Some(40.0), aluminium_75_a: Some(50.0), aluminium_90_a: Some(55.0), copper_overcurrent_a: None },
    Row { gauge: 4, copper_60_a: Some(70.0), copper_75_a: Some(85.0), copper_90_a: Some(95.0), aluminium_60_a: Some(55.0), aluminium_75_a: Some(65.0), aluminium_90_a: Some(75.0), copper_overcurrent_a: None },
    Row { gauge: 3, copper_60_a: Some(85.0), copper_75_a: Some(100.0), copper_90_a: Some(115.0), aluminium_60_a: Some(65.0), aluminium_75_a: Some(75.0), aluminium_90_a: Some(85.0), copper_overcurrent_a: None },
    Row { gauge: 2, copper_60_a: Some(95.0), copper_75_a: Some(115.0), copper_90_a: Some(130.0), aluminium_60_a: Some(75.0), aluminium_75_a: Some(90.0), aluminium_90_a: Some(100.0), copper_overcurrent_a: None },
    Row { gauge: 1, copper_60_a: Some(110.0), copper_75_a: Some(130.0), copper_90_a: Some(145.0), aluminium_60_a: Some(85.0), aluminium_75_a: Some(100.0), aluminium_90_a: Some(115.0), copper_overcurrent_a: None },
    Row { gauge: 0, copper_60_a: Some(125.0), copper_75_a: Some(150.0), copper_90_a: Some(170.0), aluminium_60_a: Some(100.0), aluminium_75_a: Some(120.0), aluminium_90_a: Some(135.0), copper_overcurrent_a: None },
    Row { gauge: -1, copper_60_a: Some(145.0), copper_75_a: Some(175.0), copper_90_a: Some(195.0), aluminium_60_a: Some(115.0), aluminium_75_a: Some(135.0), aluminium_90_a: Some(150.0), copper_overcurrent_a: None },
    Row { gauge: -2, copper_60_a: Some(165.0), copper_75_a: Some(200.0), copper_90_a: Some(225.0), aluminium_60_a: Some(130.0), aluminium_75_a: Some(155.0), aluminium_90_a: Some(175.0), copper_overcurrent_a: None },
    Row { gauge: -3, copper_60_a: Some(195.0), copper_75_a: Some(230.0), copper_90_a: Some(260.0), aluminium_60_a: Some(150.0), aluminium_75_a: Some(180.0), aluminium_90_a: Some(205.0), copper_overcurrent_a: None },
];
