//! Universes, and the chains that carry them.

use crate::device::{PortIsolation, UnitLoads};
use crate::exact::ExactLength;
use crate::quantity::ElectricalResistance;

/// A universe of 512 slots.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UniverseSpec {
    /// Name.
    pub name: String,
    /// Its number, from 1 to 63999.
    pub number: u16,
    /// Device and port it leaves from, in words.
    pub port: String,
    /// Slots that something outside this job uses.
    pub taken: Vec<SlotRange>,
}

/// Slots `from` to `to`, both included, 1 to 512.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SlotRange {
    /// First slot.
    pub from: u16,
    /// Last slot.
    pub to: u16,
}

/// A chain: one line from a port through devices to a terminator.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainSpec {
    /// Name.
    pub name: String,
    /// Universe it carries.
    pub universe: String,
    /// Cable it is made of.
    pub cable: DataCable,
    /// What it passes, in order from the port.
    pub stops: Vec<ChainStop>,
    /// Terminator after the last device; none: there is none.
    pub terminator: Option<ElectricalResistance>,
}

/// Kind of data cable.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum DataCable {
    /// 120 Ω pairs made for EIA-485.
    DataPair,
    /// Shielded category cable, 100 Ω pairs.
    ShieldedCategory,
    /// Unshielded category cable, 100 Ω pairs.
    UnshieldedCategory,
    /// Not known.
    Unknown,
}

impl DataCable {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::DataPair => "data pair, 120 Ω",
            Self::ShieldedCategory => "shielded category cable",
            Self::UnshieldedCategory => "unshielded category cable",
            Self::Unknown => "unknown",
        }
    }
}

/// What a chain passes.
#[derive(Debug, Clone, PartialEq)]
pub enum ChainStop {
    /// All decoders that the plan puts in a place, one after the other.
    Place {
        /// The place.
        place: String,
        /// Cable into the first of them.
        length: ExactLength,
        /// Cable from one to the next.
        between: ExactLength,
    },
    /// Something that is no part of this job.
    Other {
        /// What it is; its name on this chain.
        name: String,
        /// Cable into it.
        length: ExactLength,
        /// Load it puts on the line.
        unit_loads: UnitLoads,
        /// Whether its port is isolated.
        isolation: PortIsolation,
    },
}
