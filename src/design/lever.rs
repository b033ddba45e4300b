//! The weakest cell of a run, and what would help it.

use super::{Name, Solved};
use crate::exact::ExactLength;
use crate::finding::Figure;
use crate::id::{CableId, DecoderId, ProductId, SegmentId, SupplyId};
use crate::quantity::Share;
use serde::{Deserialize, Serialize};

/// The cell of a run that has the least current, as a share of nominal, with all that shares its copper: at the low
/// corner, in the worst state.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Weakest {
    /// Its segment.
    pub segment: SegmentId,
    /// Its emitter.
    pub emitter: Name,
    /// The cut mark before it, from the start of the run's tape.
    pub position: ExactLength,
    /// Its current, as a share of nominal.
    pub current: Share,
    /// What would give it more, the greatest gain first.
    pub levers: Vec<Lever>,
}

impl Weakest {
    /// What stands for it in a design that was written before it was asked.
    pub(super) fn unwritten() -> Solved<Self> {
        Solved::Not("the design was written before this was asked".into())
    }
}

/// One change, and what it brings.
///
/// The gain is of first order: the slope of the current at the operating point times the change, all else as designed, from one
/// adjoint solve ([`Solution::sensitivity`](crate::network::Solution::sensitivity)). Gains of small changes add up; how large a
/// change may be before the slope no longer holds depends on the cells, so a change that is made is planned again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Lever {
    /// What is changed.
    pub what: LeverKind,
    /// By how much: volts more, or a share of a resistance, below zero for less.
    pub change: Figure,
    /// What the weakest cell gains, as a share of its nominal current.
    pub gain: Share,
}

/// What may be changed.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum LeverKind {
    /// The set point of an output of a supply.
    SetPoint {
        /// Supply.
        supply: SupplyId,
        /// Output, from 1.
        output: u64,
    },
    /// The resistance of an output of a supply.
    OutputResistance {
        /// Supply.
        supply: SupplyId,
        /// Output, from 1.
        output: u64,
    },
    /// The resistance of a lead, all cores.
    Lead(CableId),
    /// The resistance of a feeder, all cores.
    Feeder(CableId),
    /// The switch of an output of a decoder.
    Switch {
        /// Decoder.
        decoder: DecoderId,
        /// Output, from 1.
        output: u64,
    },
    /// The rails of the run's tape.
    Rails(ProductId),
}
