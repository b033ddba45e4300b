//! How much voltage drop the codes advise: on the mains side, and as advice.

use super::Table;
use crate::source::{Source, documents};
use serde::Serialize;

/// Where the figures come from.
pub const SOURCE: Source = documents::NEC.at(
    "informational notes of 210.19 and 215.2; IEC 60364-5-52:2009, table G.52.1; BS 7671:2018+A4:2026, 525.202 and 715.525",
);

/// The table, for citation.
pub const TABLE: Table = Table {
    id: "voltage-drop-guidance",
    covers: "branch circuits, feeders and both together (US code, informational); public and private supply (IEC, informative); BS 7671: lighting of public supply, extra-low-voltage lighting; IEC 60364-7-715 from memory",
    source: SOURCE,
    csv: || super::rows_as_csv(ROWS),
};

/// One row: one rule and scope.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Row {
    /// Rule.
    pub rule: &'static str,
    /// Scope.
    pub scope: &'static str,
    /// Limit, per cent.
    pub percent: f64,
    /// Whether it binds.
    pub binding: &'static str,
    /// Remembered, not read in a document.
    pub from_memory: bool,
}

/// Where the figure for extra-low-voltage lighting comes from.
pub const EXTRA_LOW_VOLTAGE_SOURCE: Source = documents::BS_7671
    .at("715.525, the adoption of IEC 60364-7-715: 5 % from the source to the farthest luminaire");

/// Extra-low-voltage lighting.
pub const EXTRA_LOW_VOLTAGE: Row = Row {
    rule: "BS 7671 715.525",
    scope: "extra-low-voltage lighting, transformer to farthest luminaire",
    percent: 5.0,
    binding: "deemed to comply",
    from_memory: false,
};

/// The rows.
#[rustfmt::skip]
pub const ROWS: &[Row] = &[
    Row { rule: "NEC 210.19 informational note", scope: "branch circuit to the farthest outlet", percent: 3.0, binding: "no (informational)", from_memory: false },
    Row { rule: "NEC 215.2(A) informational note 2", scope: "feeder", percent: 3.0, binding: "no (informational)", from_memory: false },
    Row { rule: "NEC 210.19 and 215.2 informational notes", scope: "feeder plus branch circuit", percent: 5.0, binding: "no (informational)", from_memory: false },
    Row { rule: "IEC 60364-5-52:2009 Table G.52.1 type A", scope: "public supply, lighting", percent: 3.0, binding: "no (informative annex)", from_memory: false },
    Row { rule: "IEC 60364-5-52:2009 Table G.52.1 type A", scope: "public supply, other uses", percent: 5.0, binding: "no (informative annex)", from_memory: false },
    Row { rule: "IEC 60364-5-52:2009 Table G.52.1 type B", scope: "private supply, lighting", percent: 6.0, binding: "no (informative annex)", from_memory: false },
    Row { rule: "IEC 60364-5-52:2009 Table G.52.1 type B", scope: "private supply, other uses", percent: 8.0, binding: "no (informative annex)", from_memory: false },
    Row { rule: "IEC 60364-5-52:2009 Annex G", scope: "extra allowance above 100 m: 0.005 % per metre, at most 0.5 %", percent: 0.5, binding: "no (informative annex)", from_memory: false },
    Row { rule: "IEC 60364-7-715", scope: "extra-low-voltage lighting, source to farthest luminaire", percent: 5.0, binding: "yes where adopted", from_memory: true },
    EXTRA_LOW_VOLTAGE,
    Row { rule: "BS 7671 Table 4Ab (525.202)", scope: "public supply, lighting; other uses 5 %", percent: 3.0, binding: "deemed to comply", from_memory: false },
];
