//! Voltages that depend on the waveform and the place: US code.

use crate::cable::tables::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Notes to the power-limit tables.
pub const SOURCE: Source = documents::NEC
    .at("chapter 9, tables 11(A) and 11(B) with notes 2 and 4, figures of 2017")
    .quoted();
/// Low-voltage lighting.
pub const ARTICLE_411: Source = documents::NEC.at("411.3, 411.4 and 411.8");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "us-code-voltage-conditions",
    covers: "Class 2 dc dry and wet, dc interrupted at 10 to 200 Hz, ac; low-voltage lighting of article 411",
    source: SOURCE,
    csv: || crate::cable::tables::rows_as_csv(ROWS),
};

/// One row: one condition.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Waveform and place.
    pub condition: &'static str,
    /// Highest voltage, V.
    pub max_v: f64,
    /// What the voltage is measured as, and what it means.
    pub measured_as: &'static str,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { condition: "continuous dc, dry indoor", max_v: 60.0, measured_as: "highest useful Class 2 dc Vmax" },
    Row { condition: "continuous dc, wet contact likely (not immersion)", max_v: 30.0, measured_as: "above this Class 3 wiring methods are required" },
    Row { condition: "dc interrupted at 10 to 200 Hz, dry", max_v: 24.8, measured_as: "peak" },
    Row { condition: "dc interrupted at 10 to 200 Hz, wet contact likely", max_v: 12.4, measured_as: "peak" },
    Row { condition: "sinusoidal ac, dry", max_v: 30.0, measured_as: "rms" },
    Row { condition: "nonsinusoidal ac, dry", max_v: 42.4, measured_as: "peak" },
    Row { condition: "sinusoidal ac, wet contact likely", max_v: 15.0, measured_as: "rms" },
    Row { condition: "nonsinusoidal ac, wet contact likely", max_v: 21.2, measured_as: "peak" },
    Row { condition: "Article 411 low-voltage lighting, dry", max_v: 60.0, measured_as: "dc (30 V ac); each output circuit rated 25 A maximum; branch circuit 20 A maximum" },
    Row { condition: "Article 411 low-voltage lighting, wet contact likely", max_v: 30.0, measured_as: "dc (15 V ac)" },
];
