//! Resistivities and temperature coefficients.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Annealed copper: 58 m/(Ω·mm²), 0.003 93 /K, 8.89 g/cm³ at 20 °C.
pub const ANNEALED_COPPER: Source = documents::IEC_60028.at("");
/// Aluminium of 61 % conductivity.
pub const ALUMINIUM: Source =
    documents::NEC.at("chapter 9, table 8, note 4; 0.004 03 /K of IEC 60287-1-1, table 1");
/// Copper-clad aluminium, least conductivity.
pub const COPPER_CLAD: Source =
    documents::ASTM_B566.at("least conductivity, as a data sheet prints it");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "resistivities",
    covers: "annealed, medium-hard and hard-drawn copper, aluminium, copper-clad aluminium of 10 % and 15 %, at 20 °C; profile alloy and tin from memory",
    source: documents::IEC_60028.at("copper; aluminium by NFPA 70-2023, chapter 9, table 8 and IEC 60287-1-1, table 1; clad by ASTM B566"),
    csv: || super::rows_as_csv(ROWS),
};

/// Resistivity of annealed copper at 20 °C, Ω·m: 1/58 Ω·mm²/m exactly.
pub const COPPER_OHM_METRE: f64 = 1e-6 / 58.0;
/// Temperature coefficient of annealed copper at 20 °C, 1/K.
pub const COPPER_ALPHA_20: f64 = 0.003_93;
/// Temperature coefficient of aluminium at 20 °C, 1/K.
pub const ALUMINIUM_ALPHA_20: f64 = 0.004_03;
/// Density of annealed copper at 20 °C, kg/m³.
pub const COPPER_DENSITY: f64 = 8890.0;

/// One row: one metal.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// What it is.
    pub metal: &'static str,
    /// Conductivity in per cent of annealed copper; the lower end where a range is given.
    pub conductivity_percent: f64,
    /// Resistivity at 20 °C, Ω·mm²/m; the upper end where a range is given.
    pub ohm_mm2_per_m: f64,
    /// Temperature coefficient at 20 °C, 1/K, where one was found.
    pub alpha_20_per_k: Option<f64>,
    /// Remembered, not read in a document.
    pub from_memory: bool,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { metal: "annealed copper, IACS", conductivity_percent: 100.0, ohm_mm2_per_m: 0.0172414, alpha_20_per_k: Some(0.00393), from_memory: false },
    Row { metal: "copper, medium-hard drawn", conductivity_percent: 96.66, ohm_mm2_per_m: 0.0178371, alpha_20_per_k: None, from_memory: false },
    Row { metal: "copper, hard drawn", conductivity_percent: 96.16, ohm_mm2_per_m: 0.0179299, alpha_20_per_k: None, from_memory: false },
    Row { metal: "aluminium 1350 as used by the US code Table 8", conductivity_percent: 61.0, ohm_mm2_per_m: 0.0282646, alpha_20_per_k: Some(0.00403), from_memory: false },
    Row { metal: "copper-clad aluminium class 10A (10 % Cu by volume), minimum", conductivity_percent: 62.9, ohm_mm2_per_m: 0.0274108, alpha_20_per_k: None, from_memory: false },
    Row { metal: "copper-clad aluminium class 15A (15 % Cu by volume), minimum", conductivity_percent: 64.4, ohm_mm2_per_m: 0.0267723, alpha_20_per_k: None, from_memory: false },
    Row { metal: "copper-clad aluminium 10 %, rule of mixtures", conductivity_percent: 64.9, ohm_mm2_per_m: 0.0265661, alpha_20_per_k: None, from_memory: false },
    Row { metal: "copper-clad aluminium 15 %, rule of mixtures", conductivity_percent: 66.85, ohm_mm2_per_m: 0.0257911, alpha_20_per_k: None, from_memory: false },
    Row { metal: "aluminium alloy 6101/6063 profile", conductivity_percent: 50.0, ohm_mm2_per_m: 0.0345, alpha_20_per_k: None, from_memory: true },
    Row { metal: "tin", conductivity_percent: 15.0, ohm_mm2_per_m: 0.115, alpha_20_per_k: None, from_memory: true },
];
