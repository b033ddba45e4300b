//! Effective diameter of a strand for capacitance: so much of the diameter over all wires.

use super::Table;
use crate::source::Source;
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = super::maker("cable maker's design data: stranding factor");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "strand-diameter-factor",
    covers: "1, 7, 19, 37, 61 and 91 wires",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one number of wires.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Number of wires.
    pub wires: u16,
    /// Factor on the overall diameter.
    pub factor: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { wires: 1, factor: 1.0 },
    Row { wires: 7, factor: 0.939 },
    Row { wires: 19, factor: 0.97 },
    Row { wires: 37, factor: 0.98 },
    Row { wires: 61, factor: 0.985 },
    Row { wires: 91, factor: 0.988 },
];
