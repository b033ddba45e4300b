//! Maximum resistance at 20 °C of the nominal sizes of IEC 60228.
//!
//! The maximum *defines* the nominal size: class 2 lies 4 % to 12 %, class 5 11 % to
//! 16 % above resistivity over nominal area, so resistance is never computed from
//! the nominal area. At 50 mm² class 5 (0.386) lies below class 2 (0.387); that
//! is in the print, not a slip here.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = documents::IEC_60228.at("tables 1 to 4, as cable makers print them");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "iec-60228-resistance",
    covers: "0.5 mm² to 50 mm², classes 1, 2, 5 and 6, plain and metal-coated copper; aluminium of classes 1 and 2 from 10 mm²; maximum at 20 °C",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// The metals that the standard lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Listed {
    /// Plain annealed copper.
    PlainCopper,
    /// Metal-coated (tinned) annealed copper.
    CoatedCopper,
    /// Aluminium.
    Aluminium,
}

/// One row: one size, class and metal.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Nominal area, mm².
    pub area_mm2: f64,
    /// Class: 1 solid, 2 stranded, 5 flexible, 6 more flexible.
    pub class: u8,
    /// Metal.
    pub metal: Listed,
    /// Greatest resistance at 20 °C, Ω/km.
    pub max_ohm_per_km: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { area_mm2: 0.5, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 36.0 },
    Row { area_mm2: 0.5, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 36.7 },
    Row { area_mm2: 0.5, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 36.0 },
    Row { area_mm2: 0.5, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 36.7 },
    Row { area_mm2: 0.5, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 39.0 },
    Row { area_mm2: 0.5, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 40.1 },
    Row { area_mm2: 0.5, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 39.0 },
    Row { area_mm2: 0.5, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 40.1 },
    Row { area_mm2: 0.75, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 24.5 },
    Row { area_mm2: 0.75, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 24.8 },
    Row { area_mm2: 0.75, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 24.5 },
    Row { area_mm2: 0.75, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 24.8 },
    Row { area_mm2: 0.75, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 26.0 },
    Row { area_mm2: 0.75, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 26.7 },
    Row { area_mm2: 0.75, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 26.0 },
    Row { area_mm2: 0.75, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 26.7 },
    Row { area_mm2: 1.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 18.1 },
    Row { area_mm2: 1.0, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 18.2 },
    Row { area_mm2: 1.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 18.1 },
    Row { area_mm2: 1.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 18.2 },
    Row { area_mm2: 1.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 19.5 },
    Row { area_mm2: 1.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 20.0 },
    Row { area_mm2: 1.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 19.5 },
    Row { area_mm2: 1.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 20.0 },
    Row { area_mm2: 1.5, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 12.1 },
    Row { area_mm2: 1.5, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 12.2 },
    Row { area_mm2: 1.5, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 12.1 },
    Row { area_mm2: 1.5, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 12.2 },
    Row { area_mm2: 1.5, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 13.3 },
    Row { area_mm2: 1.5, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 13.7 },
    Row { area_mm2: 1.5, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 13.3 },
    Row { area_mm2: 1.5, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 13.7 },
    Row { area_mm2: 2.5, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 7.41 },
    Row { area_mm2: 2.5, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 7.56 },
    Row { area_mm2: 2.5, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 7.41 },
    Row { area_mm2: 2.5, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 7.56 },
    Row { area_mm2: 2.5, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 7.98 },
    Row { area_mm2: 2.5, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 8.21 },
    Row { area_mm2: 2.5, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 7.98 },
    Row { area_mm2: 2.5, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 8.21 },
    Row { area_mm2: 4.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 4.61 },
    Row { area_mm2: 4.0, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 4.7 },
    Row { area_mm2: 4.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 4.61 },
    Row { area_mm2: 4.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 4.7 },
    Row { area_mm2: 4.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 4.95 },
    Row { area_mm2: 4.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 5.09 },
    Row { area_mm2: 4.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 4.95 },
    Row { area_mm2: 4.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 5.09 },
    Row { area_mm2: 6.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 3.08 },
    Row { area_mm2: 6.0, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 3.11 },
    Row { area_mm2: 6.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 3.08 },
    Row { area_mm2: 6.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 3.11 },
    Row { area_mm2: 6.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 3.3 },
    Row { area_mm2: 6.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 3.39 },
    Row { area_mm2: 6.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 3.3 },
    Row { area_mm2: 6.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 3.39 },
    Row { area_mm2: 10.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 1.83 },
    Row { area_mm2: 10.0, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 1.84 },
    Row { area_mm2: 10.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 1.83 },
    Row { area_mm2: 10.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 1.84 },
    Row { area_mm2: 10.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 1.91 },
    Row { area_mm2: 10.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 1.95 },
    Row { area_mm2: 10.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 1.91 },
    Row { area_mm2: 10.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 1.95 },
    Row { area_mm2: 10.0, class: 1, metal: Listed::Aluminium, max_ohm_per_km: 3.08 },
    Row { area_mm2: 10.0, class: 2, metal: Listed::Aluminium, max_ohm_per_km: 3.08 },
    Row { area_mm2: 16.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 1.15 },
    Row { area_mm2: 16.0, class: 1, metal: Listed::CoatedCopper, max_ohm_per_km: 1.16 },
    Row { area_mm2: 16.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 1.15 },
    Row { area_mm2: 16.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 1.16 },
    Row { area_mm2: 16.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 1.21 },
    Row { area_mm2: 16.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 1.24 },
    Row { area_mm2: 16.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 1.21 },
    Row { area_mm2: 16.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 1.24 },
    Row { area_mm2: 16.0, class: 1, metal: Listed::Aluminium, max_ohm_per_km: 1.91 },
    Row { area_mm2: 16.0, class: 2, metal: Listed::Aluminium, max_ohm_per_km: 1.91 },
    Row { area_mm2: 25.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 0.727 },
    Row { area_mm2: 25.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 0.727 },
    Row { area_mm2: 25.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 0.734 },
    Row { area_mm2: 25.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 0.78 },
    Row { area_mm2: 25.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 0.795 },
    Row { area_mm2: 25.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 0.78 },
    Row { area_mm2: 25.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 0.795 },
    Row { area_mm2: 25.0, class: 1, metal: Listed::Aluminium, max_ohm_per_km: 1.2 },
    Row { area_mm2: 25.0, class: 2, metal: Listed::Aluminium, max_ohm_per_km: 1.2 },
    Row { area_mm2: 35.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 0.524 },
    Row { area_mm2: 35.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 0.524 },
    Row { area_mm2: 35.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 0.529 },
    Row { area_mm2: 35.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 0.554 },
    Row { area_mm2: 35.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 0.565 },
    Row { area_mm2: 35.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 0.554 },
    Row { area_mm2: 35.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 0.565 },
    Row { area_mm2: 35.0, class: 1, metal: Listed::Aluminium, max_ohm_per_km: 0.868 },
    Row { area_mm2: 35.0, class: 2, metal: Listed::Aluminium, max_ohm_per_km: 0.868 },
    Row { area_mm2: 50.0, class: 1, metal: Listed::PlainCopper, max_ohm_per_km: 0.387 },
    Row { area_mm2: 50.0, class: 2, metal: Listed::PlainCopper, max_ohm_per_km: 0.387 },
    Row { area_mm2: 50.0, class: 2, metal: Listed::CoatedCopper, max_ohm_per_km: 0.391 },
    Row { area_mm2: 50.0, class: 5, metal: Listed::PlainCopper, max_ohm_per_km: 0.386 },
    Row { area_mm2: 50.0, class: 5, metal: Listed::CoatedCopper, max_ohm_per_km: 0.393 },
    Row { area_mm2: 50.0, class: 6, metal: Listed::PlainCopper, max_ohm_per_km: 0.386 },
    Row { area_mm2: 50.0, class: 6, metal: Listed::CoatedCopper, max_ohm_per_km: 0.393 },
    Row { area_mm2: 50.0, class: 1, metal: Listed::Aluminium, max_ohm_per_km: 0.641 },
    Row { area_mm2: 50.0, class: 2, metal: Listed::Aluminium, max_ohm_per_km: 0.641 },
];
