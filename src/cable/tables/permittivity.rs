//! Relative permittivity of insulations.

use super::Table;
use crate::source::Source;
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = super::maker("cable makers' design data");

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "insulation-permittivity",
    covers: "PVC, polyethylene, XLPE, polypropylene, EPR, silicone, fluoropolymers, polyurethane, TPE; falls with frequency, rises with temperature (PVC most)",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one insulation.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// What it is.
    pub insulation: &'static str,
    /// Least relative permittivity.
    pub least: f64,
    /// Greatest; equal to the least where one value is given.
    pub greatest: f64,
}

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { insulation: "PVC, flexible", least: 5.0, greatest: 5.0 },
    Row { insulation: "PVC, semi-rigid", least: 3.6, greatest: 3.6 },
    Row { insulation: "PVC, range over compounds at 50 Hz", least: 4.0, greatest: 8.0 },
    Row { insulation: "polyethylene, solid", least: 2.29, greatest: 2.29 },
    Row { insulation: "polyethylene, cellular", least: 1.56, greatest: 1.56 },
    Row { insulation: "XLPE", least: 2.3, greatest: 2.5 },
    Row { insulation: "polypropylene", least: 2.25, greatest: 2.25 },
    Row { insulation: "EPR", least: 2.8, greatest: 3.5 },
    Row { insulation: "silicone rubber", least: 3.1, greatest: 3.1 },
    Row { insulation: "FEP/PFA/PTFE", least: 2.1, greatest: 2.1 },
    Row { insulation: "polyurethane", least: 6.5, greatest: 6.5 },
    Row { insulation: "TPE", least: 5.0, greatest: 5.0 },
];
