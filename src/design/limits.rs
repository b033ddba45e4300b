//! What must hold, and what was taken where the job is silent.

use crate::exact::ExactLength;
use crate::finding::{Figure, Name};
use crate::job::spec::{LimitKey, TakenFact};
use crate::quantity::{Amps, Corners, Share, Temperature};
use crate::source::Source;
use serde::{Deserialize, Serialize};

/// The limits of the job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Limits {
    /// Least current of a cell, as a share of its nominal.
    pub least_current: Share,
    /// Greatest step of light where it is seen.
    pub visible_step: Option<Share>,
    /// Greatest departure from even balance of emitters lit together.
    pub balance: Option<Share>,
    /// Greatest drop as a share of the rated voltage.
    pub voltage_drop: Option<Share>,
    /// Whether the job states the greatest drop, or lifts it.
    #[serde(default)]
    pub voltage_drop_stated: bool,
    /// Greatest current through one connection to the tape.
    pub connector_current: Option<Amps>,
    /// Greatest current of one core.
    pub core_current: Option<Amps>,
    /// Share of a supply's derated power that is planned.
    pub load_factor: Share,
    /// Temperature of the copper of cables: `low` where no table says how hot a cable gets by its own load.
    pub conductor: Corners<Temperature>,
    /// Temperature of cells, and of the rails beside them.
    pub cell: Corners<Temperature>,
    /// Tolerance of a tape's current.
    pub current_tolerance: Share,
    /// Longest feeder that carries chopped current.
    pub chopped_feeder: Option<ExactLength>,
    /// Most devices on one chain.
    pub chain_devices: u32,
    /// Longest chain.
    pub chain_length: ExactLength,
    /// Whether the job states the longest chain.
    pub chain_length_stated: bool,
}

/// What may be assumed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Assumed {
    /// A limit of the job.
    Limit(LimitKey),
    /// Temperatures of cells at the three corners.
    Cells,
    /// Diodes: the curve through the one point that a strip states.
    Diodes,
    /// The lead between a supply and a decoder, where their place states none.
    Lead,
    /// Devices of which a kind states no price: the fewest units, then the least rated size.
    UnpricedDevices,
    /// Cable without a price: so much a square millimetre of all cores.
    UnpricedCable,
    /// A fact of one thing of the job.
    Fact(TakenFact),
}

/// A value taken where the job is silent.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Assumption {
    /// What was assumed.
    pub what: Assumed,
    /// The strip, cable, supply, decoder, place or run that it is of; none: of the job.
    #[serde(default)]
    pub of: Option<Name>,
    /// The value, both ends of what it may be, or the values at the three corners; empty where there is none.
    pub values: Vec<Figure>,
    /// Where it comes from.
    pub source: Source,
}
