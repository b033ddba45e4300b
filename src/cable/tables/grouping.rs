//! Factors for conductors and circuits bundled together.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// US code: current-carrying conductors in a raceway or cable, or bundled for more than 600 mm.
pub const US: Source = documents::NEC.at("table 310.15(C)(1)");
/// IEC: circuits bunched in air, on a surface or enclosed.
pub const IEC: Source = documents::IEC_60364_5_52.at("table B.52.17");

/// US code: current-carrying conductors of one flexible cord.
pub const US_CORD: Source = documents::NEC.at("table 400.5(A)(3)");
/// Germany: loaded cores of one multi-core cable.
pub const VDE_CORES: Source = documents::DIN_VDE_0298_4.at("table 26");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "grouping-factors",
    covers: "US code: any number of current-carrying conductors; IEC: 1 to 20 circuits or multi-core cables bunched; DIN VDE 0298-4: 5 to 61 loaded cores of one cable",
    source: documents::NEC.at("tables 310.15(C)(1) and 400.5(A)(3); IEC 60364-5-52:2009, table B.52.17; DIN VDE 0298-4:2013-06, table 26"),
    csv: || super::rows_as_csv(ROWS),
};

/// What is counted, and by which standard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub enum Family {
    /// US code, table 310.15(C)(1): current-carrying conductors.
    Us,
    /// IEC 60364-5-52, table B.52.17, first row: circuits bunched.
    Iec,
    /// US code, table 400.5(A)(3): current-carrying conductors of one flexible cord.
    UsCord,
    /// DIN VDE 0298-4, table 26: loaded cores of one cable up to 10 mm², in air. IEC 60364-5-52 has no such table.
    VdeCores,
}

/// One row: up to so many conductors (US code) or circuits (IEC).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Which family.
    pub family: Family,
    /// Most conductors or circuits of the band; `u32::MAX` where it has no end.
    pub count_to: u32,
    /// The factor as printed.
    pub factor: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { family: Family::Us, count_to: 3, factor: 1.0 },
    Row { family: Family::Us, count_to: 6, factor: 0.8 },
    Row { family: Family::Us, count_to: 9, factor: 0.7 },
    Row { family: Family::Us, count_to: 20, factor: 0.5 },
    Row { family: Family::Us, count_to: 30, factor: 0.45 },
    Row { family: Family::Us, count_to: 40, factor: 0.4 },
    Row { family: Family::Us, count_to: u32::MAX, factor: 0.35 },
    Row { family: Family::Iec, count_to: 1, factor: 1.0 },
    Row { family: Family::Iec, count_to: 2, factor: 0.8 },
    Row { family: Family::Iec, count_to: 3, factor: 0.7 },
    Row { family: Family::Iec, count_to: 4, factor: 0.65 },
    Row { family: Family::Iec, count_to: 5, factor: 0.6 },
    Row { family: Family::Iec, count_to: 6, factor: 0.57 },
    Row { family: Family::Iec, count_to: 7, factor: 0.54 },
    Row { family: Family::Iec, count_to: 8, factor: 0.52 },
    Row { family: Family::Iec, count_to: 9, factor: 0.5 },
    Row { family: Family::Iec, count_to: 12, factor: 0.45 },
    Row { family: Family::Iec, count_to: 16, factor: 0.41 },
    Row { family: Family::Iec, count_to: 20, factor: 0.38 },
    Row { family: Family::VdeCores, count_to: 5, factor: 0.75 },
    Row { family: Family::VdeCores, count_to: 7, factor: 0.65 },
    Row { family: Family::VdeCores, count_to: 10, factor: 0.55 },
    Row { family: Family::VdeCores, count_to: 14, factor: 0.5 },
    Row { family: Family::VdeCores, count_to: 19, factor: 0.45 },
    Row { family: Family::VdeCores, count_to: 24, factor: 0.4 },
    Row { family: Family::VdeCores, count_to: 40, factor: 0.35 },
    Row { family: Family::VdeCores, count_to: 61, factor: 0.3 },
    Row { family: Family::UsCord, count_to: 3, factor: 1.0 },
    Row { family: Family::UsCord, count_to: 6, factor: 0.8 },
    Row { family: Family::UsCord, count_to: 9, factor: 0.7 },
    Row { family: Family::UsCord, count_to: 20, factor: 0.5 },
    Row { family: Family::UsCord, count_to: 30, factor: 0.45 },
    Row { family: Family::UsCord, count_to: 40, factor: 0.4 },
    Row { family: Family::UsCord, count_to: u32::MAX, factor: 0.35 },
];
