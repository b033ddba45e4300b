//! The limits that a segment keeps.

/// Which limit of the search.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum LimitKind {
    /// Least relative current of a cell, low corner.
    LeastCurrent,
    /// Step of light at a visible joint, low corner.
    VisibleStep,
    /// Balance of emitters lit together, low corner.
    Balance,
    /// Drop as a share of the rated voltage, low corner.
    VoltageDrop,
    /// Longest branch from a feed, increments.
    Branch,
    /// Current of a rail, worst corner.
    RailCurrent,
    /// Current of one connection to the tape, worst corner.
    ConnectorCurrent,
    /// Current of one core, worst corner.
    CoreCurrent,
    /// Current of one decoder output, worst corner.
    OutputCurrent,
    /// Current of one segment, worst corner.
    SegmentCurrent,
    /// Length of a feeder under chopping.
    FeederLength,
}
