//! Extra-low voltage: SELV, PELV, class III.

use crate::cable::tables::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// SELV and ripple-free.
pub const SELV: Source = documents::IEC_61558_1.at("3.7.16");
/// Class III equipment.
pub const CLASS_III: Source = documents::IEC_61140.at("7.4.1.1");
/// Bare parts of class III luminaires.
pub const LUMINAIRE: Source = documents::IEC_60598_1.at("8.2.3 c)");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "extra-low-voltage",
    covers: "SELV and PELV to 120 V ripple-free dc between conductors; touchable parts 60 V, elsewhere than ordinary locations 30 V",
    source: documents::IEC_61558_1
        .at("3.7.16; IEC 61140, 7.4; IEC 60335-1, 3.4.2; IEC 60598-1:2008, 8.2.3"),
    csv: || crate::cable::tables::rows_as_csv(ROWS),
};

/// One row: one term or condition.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Term or condition.
    pub term: &'static str,
    /// Limit on ac, V r.m.s.
    pub ac_v: Option<f64>,
    /// Limit on dc, V.
    pub dc_v: Option<f64>,
    /// What goes with it.
    pub note: &'static str,
    /// Remembered, not read in a document.
    pub from_memory: bool,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { term: "SELV system upper limit (band I)", ac_v: Some(50.0), dc_v: Some(120.0), note: "ripple-free dc; lower limits may be set where live parts can be touched", from_memory: false },
    Row { term: "ripple-free", ac_v: None, dc_v: None, note: "rms ripple not above 10 % of the dc component; peak not above 140 V for nominal 120 V and 70 V for nominal 60 V", from_memory: false },
    Row { term: "class III equipment rating", ac_v: Some(50.0), dc_v: Some(120.0), note: "ripple-free dc; accepted only on SELV or PELV; no fault protection of its own", from_memory: false },
    Row { term: "SELV in appliance standards", ac_v: Some(30.0), dc_v: Some(60.0), note: "42.4 V peak ac; 60 V dc", from_memory: false },
    Row { term: "bare live parts in a class III luminaire, ordinary, under load", ac_v: Some(25.0), dc_v: Some(60.0), note: "ripple-free dc; above this the touch current must stay at or below 0.7 mA peak ac / 2.0 mA dc, or one pole insulated", from_memory: false },
    Row { term: "bare live parts in a class III luminaire, ordinary, no load", ac_v: None, dc_v: Some(60.0), note: "35 V peak ac; 60 V ripple-free dc", from_memory: false },
    Row { term: "bare live parts in a class III luminaire, other than ordinary", ac_v: Some(12.0), dc_v: Some(30.0), note: "ripple-free dc, nominal", from_memory: false },
    Row { term: "touchable voltage without basic insulation, dry", ac_v: Some(25.0), dc_v: Some(60.0), note: "common installation-rule value", from_memory: false },
    Row { term: "touchable voltage without basic insulation, other conditions", ac_v: Some(12.0), dc_v: Some(30.0), note: "", from_memory: true },
    Row { term: "interrupted or pulse-width-modulated dc in controlgear", ac_v: None, dc_v: None, note: "the 2024 edition brings in reduced touch voltages and currents for interrupted dc and PWM; numbers not seen", from_memory: false },
    Row { term: "Class 2 of the US code, dc (for comparison)", ac_v: None, dc_v: Some(60.0), note: "see the power source limits", from_memory: false },
];
