//! Greatest resistivity of tinned copper wire, by the diameter of the wire: ASTM B33.
//!
//! In a strand the diameter of one wire counts, not that of the strand; that
//! explains the coated column of the US code's table 8.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = documents::ASTM_B33.at("table 2");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "astm-b33-tinned",
    covers: "wire diameters of 0.076 mm to 11.7 mm, at 20 °C",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// Mass resistivity of annealed copper that the ratios divide by, Ω·g/m².
pub const ANNEALED_OHM_GRAM_PER_M2: f64 = 0.153_28;

/// One row: one band of wire diameters, from above the lower end to the upper end.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Above this diameter, mm.
    pub from_mm: f64,
    /// Up to this diameter, mm.
    pub to_mm: f64,
    /// Mass resistivity at 20 °C, Ω·g/m².
    pub ohm_gram_per_m2: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { from_mm: 7.4, to_mm: 11.7, ohm_gram_per_m2: 0.15695 },
    Row { from_mm: 2.6, to_mm: 7.4, ohm_gram_per_m2: 0.15776 },
    Row { from_mm: 0.51, to_mm: 2.6, ohm_gram_per_m2: 0.1594 },
    Row { from_mm: 0.28, to_mm: 0.51, ohm_gram_per_m2: 0.16279 },
    Row { from_mm: 0.076, to_mm: 0.28, ohm_gram_per_m2: 0.16454 },
];
