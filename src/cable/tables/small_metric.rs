//! Maximum resistance at 20 °C of conductors below 0.5 mm², which IEC 60228 does not list.
//!
//! A cable maker's table that cites DIN VDE 0295; which of its two values is the
//! plain and which the tinned column is a reading of the page, not printed on it.

use super::Table;
use crate::source::Source;
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = super::maker(
    "cable maker's table of fine-stranded conductors below 0.5 mm², citing DIN VDE 0295 (outside IEC 60228)",
);

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "small-metric-resistance",
    covers: "0.05 mm² to 0.34 mm², fine-stranded copper plain and tinned, maximum at 20 °C",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Nominal area, mm².
    pub area_mm2: f64,
    /// Plain copper, greatest at 20 °C, Ω/km.
    pub plain_ohm_per_km: f64,
    /// Tinned copper, greatest at 20 °C, Ω/km.
    pub tinned_ohm_per_km: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { area_mm2: 0.05, plain_ohm_per_km: 380.0, tinned_ohm_per_km: 392.0 },
    Row { area_mm2: 0.08, plain_ohm_per_km: 237.0, tinned_ohm_per_km: 244.0 },
    Row { area_mm2: 0.11, plain_ohm_per_km: 170.0, tinned_ohm_per_km: 175.0 },
    Row { area_mm2: 0.12, plain_ohm_per_km: 150.0, tinned_ohm_per_km: 155.0 },
    Row { area_mm2: 0.14, plain_ohm_per_km: 134.0, tinned_ohm_per_km: 138.0 },
    Row { area_mm2: 0.22, plain_ohm_per_km: 96.0, tinned_ohm_per_km: 99.0 },
    Row { area_mm2: 0.25, plain_ohm_per_km: 76.0, tinned_ohm_per_km: 79.0 },
    Row { area_mm2: 0.34, plain_ohm_per_km: 53.0, tinned_ohm_per_km: 56.0 },
];
