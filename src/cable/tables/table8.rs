//! Conductor properties of the US code: chapter 9, table 8.
//!
//! Printed figures, not recomputed ones: a designer cites these. Rebuilding them
//! from 1/58 Ω·mm²/m at 75 °C, the exact gauge area, 1.02 for the lay of strands
//! and the coating ratios of ASTM B33 agrees within 0.75 % (checked in the tests).
//! Its two unit columns disagree with each other by up to 0.71 % (rounding of the
//! print); the metric column is used.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = documents::NEC.at("chapter 9, table 8");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "us-code-chapter-9-table-8",
    covers: "18 AWG to 4/0 AWG (solid to 8 AWG), copper uncoated and coated, aluminium, at 75 °C",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one gauge, solid or stranded.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Gauge number; 1/0 is 0, 4/0 is -3.
    pub gauge: i8,
    /// Solid, else stranded (class B).
    pub solid: bool,
    /// Number of wires.
    pub wires: u8,
    /// Area, mm².
    pub area_mm2: f64,
    /// Area, circular mils.
    pub area_cmil: f64,
    /// Diameter of one wire of a strand, mm.
    pub wire_diameter_mm: Option<f64>,
    /// Diameter over the whole conductor, mm.
    pub overall_diameter_mm: f64,
    /// Copper, uncoated, at 75 °C, Ω/km.
    pub copper_ohm_per_km: f64,
    /// Copper, uncoated, at 75 °C, Ω per 1000 ft.
    pub copper_ohm_per_kft: f64,
    /// Copper, coated, at 75 °C, Ω/km.
    pub coated_ohm_per_km: f64,
    /// Copper, coated, at 75 °C, Ω per 1000 ft.
    pub coated_ohm_per_kft: f64,
    /// Aluminium at 75 °C, Ω/km.
    pub aluminium_ohm_per_km: f64,
    /// Aluminium at 75 °C, Ω per 1000 ft.
    pub aluminium_ohm_per_kft: f64,
}

/// The rows.
#[rustfmt::skip]
#[allow(clippy::approx_constant, reason = "3.14 ohm per 1000 ft is a printed figure")]
pub const ROWS: &[Row] = &[
    Row { gauge: 18, solid: true, wires: 1, area_mm2: 0.823, area_cmil: 1620.0, wire_diameter_mm: None, overall_diameter_mm: 1.02, copper_ohm_per_km: 25.5, copper_ohm_per_kft: 7.77, coated_ohm_per_km: 26.5, coated_ohm_per_kft: 8.08, aluminium_ohm_per_km: 42.0, aluminium_ohm_per_kft: 12.8 },
    Row { gauge: 18, solid: false, wires: 7, area_mm2: 0.823, area_cmil: 1620.0, wire_diameter_mm: Some(0.39), overall_diameter_mm: 1.16, copper_ohm_per_km: 26.1, copper_ohm_per_kft: 7.95, coated_ohm_per_km: 27.7, coated_ohm_per_kft: 8.45, aluminium_ohm_per_km: 42.8, aluminium_ohm_per_kft: 13.1 },
    Row { gauge: 16, solid: true, wires: 1, area_mm2: 1.31, area_cmil: 2580.0, wire_diameter_mm: None, overall_diameter_mm: 1.29, copper_ohm_per_km: 16.0, copper_ohm_per_kft: 4.89, coated_ohm_per_km: 16.7, coated_ohm_per_kft: 5.08, aluminium_ohm_per_km: 26.4, aluminium_ohm_per_kft: 8.05 },
    Row { gauge: 16, solid: false, wires: 7, area_mm2: 1.31, area_cmil: 2580.0, wire_diameter_mm: Some(0.49), overall_diameter_mm: 1.46, copper_ohm_per_km: 16.4, copper_ohm_per_kft: 4.99, coated_ohm_per_km: 17.3, coated_ohm_per_kft: 5.29, aluminium_ohm_per_km: 26.9, aluminium_ohm_per_kft: 8.21 },
    Row { gauge: 14, solid: true, wires: 1, area_mm2: 2.08, area_cmil: 4110.0, wire_diameter_mm: None, overall_diameter_mm: 1.63, copper_ohm_per_km: 10.1, copper_ohm_per_kft: 3.07, coated_ohm_per_km: 10.4, coated_ohm_per_kft: 3.19, aluminium_ohm_per_km: 16.6, aluminium_ohm_per_kft: 5.06 },
    Row { gauge: 14, solid: false, wires: 7, area_mm2: 2.08, area_cmil: 4110.0, wire_diameter_mm: Some(0.62), overall_diameter_mm: 1.85, copper_ohm_per_km: 10.3, copper_ohm_per_kft: 3.14, coated_ohm_per_km: 10.7, coated_ohm_per_kft: 3.26, aluminium_ohm_per_km: 16.9, aluminium_ohm_per_kft: 5.17 },
    Row { gauge: 12, solid: true, wires: 1, area_mm2: 3.31, area_cmil: 6530.0, wire_diameter_mm: None, overall_diameter_mm: 2.05, copper_ohm_per_km: 6.34, copper_ohm_per_kft: 1.93, coated_ohm_per_km: 6.57, coated_ohm_per_kft: 2.01, aluminium_ohm_per_km: 10.45, aluminium_ohm_per_kft: 3.18 },
    Row { gauge: 12, solid: false, wires: 7, area_mm2: 3.31, area_cmil: 6530.0, wire_diameter_mm: Some(0.78), overall_diameter_mm: 2.32, copper_ohm_per_km: 6.5, copper_ohm_per_kft: 1.98, coated_ohm_per_km: 6.73, coated_ohm_per_kft: 2.05, aluminium_ohm_per_km: 10.69, aluminium_ohm_per_kft: 3.25 },
    Row { gauge: 10, solid: true, wires: 1, area_mm2: 5.261, area_cmil: 10380.0, wire_diameter_mm: None, overall_diameter_mm: 2.588, copper_ohm_per_km: 3.984, copper_ohm_per_kft: 1.21, coated_ohm_per_km: 4.148, coated_ohm_per_kft: 1.26, aluminium_ohm_per_km: 6.561, aluminium_ohm_per_kft: 2.0 },
    Row { gauge: 10, solid: false, wires: 7, area_mm2: 5.261, area_cmil: 10380.0, wire_diameter_mm: Some(0.98), overall_diameter_mm: 2.95, copper_ohm_per_km: 4.07, copper_ohm_per_kft: 1.24, coated_ohm_per_km: 4.226, coated_ohm_per_kft: 1.29, aluminium_ohm_per_km: 6.679, aluminium_ohm_per_kft: 2.04 },
    Row { gauge: 8, solid: true, wires: 1, area_mm2: 8.367, area_cmil: 16510.0, wire_diameter_mm: None, overall_diameter_mm: 3.264, copper_ohm_per_km: 2.506, copper_ohm_per_kft: 0.764, coated_ohm_per_km: 2.579, coated_ohm_per_kft: 0.786, aluminium_ohm_per_km: 4.125, aluminium_ohm_per_kft: 1.26 },
    Row { gauge: 8, solid: false, wires: 7, area_mm2: 8.367, area_cmil: 16510.0, wire_diameter_mm: Some(1.23), overall_diameter_mm: 3.71, copper_ohm_per_km: 2.551, copper_ohm_per_kft: 0.778, coated_ohm_per_km: 2.653, coated_ohm_per_kft: 0.809, aluminium_ohm_per_km: 4.204, aluminium_ohm_per_kft: 1.28 },
    Row { gauge: 6, solid: false, wires: 7, area_mm2: 13.3, area_cmil: 26240.0, wire_diameter_mm: Some(1.56), overall_diameter_mm: 4.67, copper_ohm_per_km: 1.608, copper_ohm_per_kft: 0.491, coated_ohm_per_km: 1.671, coated_ohm_per_kft: 0.51, aluminium_ohm_per_km: 2.652, aluminium_ohm_per_kft: 0.808 },
    Row { gauge: 4, solid: false, wires: 7, area_mm2: 21.15, area_cmil: 41740.0, wire_diameter_mm: Some(1.96), overall_diameter_mm: 5.89, copper_ohm_per_km: 1.01, copper_ohm_per_kft: 0.308, coated_ohm_per_km: 1.053, coated_ohm_per_kft: 0.321, aluminium_ohm_per_km: 1.666, aluminium_ohm_per_kft: 0.508 },
    Row { gauge: 3, solid: false, wires: 7, area_mm2: 26.67, area_cmil: 52620.0, wire_diameter_mm: Some(2.2), overall_diameter_mm: 6.6, copper_ohm_per_km: 0.802, copper_ohm_per_kft: 0.245, coated_ohm_per_km: 0.833, coated_ohm_per_kft: 0.254, aluminium_ohm_per_km: 1.32, aluminium_ohm_per_kft: 0.403 },
    Row { gauge: 2, solid: false, wires: 7, area_mm2: 33.62, area_cmil: 66360.0, wire_diameter_mm: Some(2.47), overall_diameter_mm: 7.42, copper_ohm_per_km: 0.634, copper_ohm_per_kft: 0.194, coated_ohm_per_km: 0.661, coated_ohm_per_kft: 0.201, aluminium_ohm_per_km: 1.045, aluminium_ohm_per_kft: 0.319 },
    Row { gauge: 1, solid: false, wires: 19, area_mm2: 42.41, area_cmil: 83690.0, wire_diameter_mm: Some(1.69), overall_diameter_mm: 8.43, copper_ohm_per_km: 0.505, copper_ohm_per_kft: 0.154, coated_ohm_per_km: 0.524, coated_ohm_per_kft: 0.16, aluminium_ohm_per_km: 0.829, aluminium_ohm_per_kft: 0.253 },
    Row { gauge: 0, solid: false, wires: 19, area_mm2: 53.49, area_cmil: 105600.0, wire_diameter_mm: Some(1.89), overall_diameter_mm: 9.45, copper_ohm_per_km: 0.399, copper_ohm_per_kft: 0.122, coated_ohm_per_km: 0.415, coated_ohm_per_kft: 0.127, aluminium_ohm_per_km: 0.66, aluminium_ohm_per_kft: 0.201 },
    Row { gauge: -1, solid: false, wires: 19, area_mm2: 67.43, area_cmil: 133100.0, wire_diameter_mm: Some(2.13), overall_diameter_mm: 10.62, copper_ohm_per_km: 0.317, copper_ohm_per_kft: 0.0967, coated_ohm_per_km: 0.329, coated_ohm_per_kft: 0.101, aluminium_ohm_per_km: 0.523, aluminium_ohm_per_kft: 0.159 },
    Row { gauge: -2, solid: false, wires: 19, area_mm2: 85.01, area_cmil: 167800.0, wire_diameter_mm: Some(2.39), overall_diameter_mm: 11.94, copper_ohm_per_km: 0.2512, copper_ohm_per_kft: 0.0766, coated_ohm_per_km: 0.261, coated_ohm_per_kft: 0.0797, aluminium_ohm_per_km: 0.413, aluminium_ohm_per_kft: 0.126 },
    Row { gauge: -3, solid: false, wires: 19, area_mm2: 107.2, area_cmil: 211600.0, wire_diameter_mm: Some(2.68), overall_diameter_mm: 13.41, copper_ohm_per_km: 0.1996, copper_ohm_per_kft: 0.0608, coated_ohm_per_km: 0.205, coated_ohm_per_kft: 0.0626, aluminium_ohm_per_km: 0.328, aluminium_ohm_per_kft: 0.1 },
];
