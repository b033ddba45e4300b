//! Published inductance and capacitance of pairs, to compare a computed one with.

use super::Table;
use crate::source::Source;
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = super::maker("equipment manuals: characteristics of pairs");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "published-pairs",
    covers: "inductance of shielded 18 to 10 AWG pairs, capacitance of instrumentation pairs, impedance of a fieldbus pair",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one cable and quantity.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// The cable.
    pub cable: &'static str,
    /// The quantity.
    pub quantity: &'static str,
    /// Least value, in `unit`.
    pub least: f64,
    /// Greatest value, in `unit`; equal to the least where one value is given.
    pub greatest: f64,
    /// The unit of the values.
    pub unit: &'static str,
    /// Remembered, not read in a document.
    pub from_memory: bool,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { cable: "18 AWG twisted shielded pair", quantity: "loop inductance", least: 0.5577, greatest: 0.5577, unit: "uH/m", from_memory: false },
    Row { cable: "16 AWG twisted shielded pair", quantity: "loop inductance", least: 0.5709, greatest: 0.5709, unit: "uH/m", from_memory: false },
    Row { cable: "14 AWG twisted shielded pair", quantity: "loop inductance", least: 0.5249, greatest: 0.5249, unit: "uH/m", from_memory: false },
    Row { cable: "12 AWG twisted shielded pair", quantity: "loop inductance", least: 0.5249, greatest: 0.5249, unit: "uH/m", from_memory: false },
    Row { cable: "10 AWG twisted shielded pair", quantity: "loop inductance", least: 0.4593, greatest: 0.4593, unit: "uH/m", from_memory: false },
    Row { cable: "18 AWG shielded pair", quantity: "capacitance, one conductor to all others and shield", least: 180.0, greatest: 180.0, unit: "pF/m", from_memory: false },
    Row { cable: "0.5 to 1.5 mm2 polyethylene-insulated instrumentation pair, screened (design value)", quantity: "capacitance, one conductor to all others and shield", least: 200.0, greatest: 200.0, unit: "pF/m", from_memory: false },
    Row { cable: "0.5 to 1.5 mm2 PVC-insulated instrumentation pair, screened (design value)", quantity: "capacitance, one conductor to all others and shield", least: 400.0, greatest: 400.0, unit: "pF/m", from_memory: false },
    Row { cable: "100 ohm twisted pair, unshielded", quantity: "capacitance", least: 33.0, greatest: 66.0, unit: "pF/m", from_memory: false },
    Row { cable: "18 AWG (0.8 mm2) fieldbus type A pair, shielded", quantity: "characteristic impedance at 31.25 kHz", least: 80.0, greatest: 120.0, unit: "ohm", from_memory: false },
    Row { cable: "18 AWG two-conductor unshielded PVC building/control cable", quantity: "capacitance, conductor to conductor", least: 65.0, greatest: 100.0, unit: "pF/m", from_memory: true },
];
