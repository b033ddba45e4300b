//! Thickness of copper foil by weight, as drawn, as the trade rounds it, and as little as may be left.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Least thickness after processing.
pub const LEAST: Source =
    documents::IPC_6012.at("least copper thickness, as a board maker tabulates it");
/// Nominal thickness.
pub const NOMINAL: Source =
    Source::computed("1 oz/ft2 = 305.15 g/m2 at 8.89 g/cm3 (annealed copper, IEC 60028)");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "copper-foil",
    covers: "0.5 to 3 oz per square foot: nominal, conventional, least after processing with and without plating",
    source: LEAST,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one weight and meaning.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Weight and meaning.
    pub foil: &'static str,
    /// Thickness, micrometre.
    pub thickness_um: f64,
    /// Remembered, not read in a document.
    pub from_memory: bool,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { foil: "0.5 oz nominal", thickness_um: 17.15, from_memory: true },
    Row { foil: "1 oz nominal, from 305.15 g/m2 at 8.89 g/cm3", thickness_um: 34.33, from_memory: false },
    Row { foil: "1 oz conventional 1.37 mil", thickness_um: 34.8, from_memory: true },
    Row { foil: "1 oz conventional", thickness_um: 35.0, from_memory: false },
    Row { foil: "2 oz nominal, from 610.3 g/m2 at 8.89 g/cm3", thickness_um: 68.65, from_memory: false },
    Row { foil: "2 oz conventional 2.74 mil", thickness_um: 69.6, from_memory: false },
    Row { foil: "2 oz conventional", thickness_um: 70.0, from_memory: false },
    Row { foil: "3 oz conventional", thickness_um: 105.0, from_memory: false },
    Row { foil: "0.5 oz, minimum after processing (unplated layer)", thickness_um: 11.4, from_memory: false },
    Row { foil: "1 oz, minimum after processing (unplated layer)", thickness_um: 24.9, from_memory: false },
    Row { foil: "2 oz, minimum after processing (unplated layer)", thickness_um: 55.7, from_memory: false },
    Row { foil: "1 oz, minimum after plating and processing, class 2", thickness_um: 47.9, from_memory: false },
    Row { foil: "2 oz, minimum after plating and processing, class 2", thickness_um: 78.7, from_memory: false },
];
