//! Resistance of solid copper-clad aluminium wire as one wire maker prints it.
//!
//! These lie 3 % to 4 % below the least conductivity of ASTM B566 (62.9 % and
//! 64.4 %), which this crate computes with; the print is here for comparison.

use super::Table;
use crate::source::Source;
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = super::maker("wire maker's table of solid copper-clad aluminium wire");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "copper-clad-wire",
    covers: "solid 14 to 21 AWG, 10 % and 15 % copper by volume, at 20 °C",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one gauge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Gauge number.
    pub gauge: i8,
    /// 10 % copper by volume, Ω per 1000 ft at 20 °C.
    pub ten_percent_ohm_per_kft: f64,
    /// 15 % copper by volume, Ω per 1000 ft at 20 °C.
    pub fifteen_percent_ohm_per_kft: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { gauge: 14, ten_percent_ohm_per_kft: 3.91, fifteen_percent_ohm_per_kft: 3.79 },
    Row { gauge: 15, ten_percent_ohm_per_kft: 4.93, fifteen_percent_ohm_per_kft: 4.78 },
    Row { gauge: 16, ten_percent_ohm_per_kft: 6.23, fifteen_percent_ohm_per_kft: 6.05 },
    Row { gauge: 17, ten_percent_ohm_per_kft: 7.83, fifteen_percent_ohm_per_kft: 7.6 },
    Row { gauge: 18, ten_percent_ohm_per_kft: 9.9, fifteen_percent_ohm_per_kft: 9.61 },
    Row { gauge: 19, ten_percent_ohm_per_kft: 12.5, fifteen_percent_ohm_per_kft: 12.1 },
    Row { gauge: 20, ten_percent_ohm_per_kft: 15.7, fifteen_percent_ohm_per_kft: 15.2 },
    Row { gauge: 21, ten_percent_ohm_per_kft: 19.8, fifteen_percent_ohm_per_kft: 19.2 },
];
