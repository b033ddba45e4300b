//! A job as plain data: what a job file says, or a program builds.
//!
//! Nothing here is checked: [`check`](crate::job::check) turns a [`JobSpec`] into a
//! [`Job`](crate::job::Job) or says everything that is wrong with it.
#![doc = include_str!("format.md")]
#![doc = ""]
#![doc = include_str!("left_out.md")]

mod cables;
mod candidates;
mod control;
mod fixed;
mod limit_key;
mod limits;
mod places;
mod runs;
mod stated_limits;
pub mod taken;

pub use crate::device::{
    DecoderSpec, Edges, EnergyLimit, Environment, IngressCode, IngressCodeError, LevelBits,
    LevelCurve, Overload, PortIsolation, ShockProtection, SignalLoss, SupplySpec, UnitLoads,
    UnitLoadsError,
};
pub use crate::finding::Service;
pub use crate::strip::{
    CellSpec, CopperClass, EmitterSpec, Falls, FedFrom, PowerBasis, RailSpec, ReelJointSpec,
    SpliceSpec, StringClass, StripSpec,
};
pub use cables::CableItem;
pub use candidates::{CandidateSpec, Swap};
pub use control::{ChainSpec, ChainStop, DataCable, SlotRange, UniverseSpec};
pub use fixed::{FixedFeedSpec, FixedSegmentSpec, InstalledKind, InstalledSpec, Sharing, Standby};
pub use limit_key::LimitKey;
pub use limits::{Costs, Limits};
pub use places::{Control, PlaceSpec, Together, WaySpec, ZoneSpec};
pub use runs::{CoverSpec, ProfileSpec, RunSpec, StockLength};
pub use stated_limits::{Bound, LimitsSpec};
pub use taken::{Taken, TakenFact};

use serde::{Deserialize, Serialize};

/// A whole job.
///
/// The order of the lists has no meaning: a checked job keeps them by name.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct JobSpec {
    /// Title.
    pub title: String,
    /// What its data are, such as that they are invented; may be empty.
    pub note: String,
    /// Currency of the prices; needed where there are prices.
    pub currency: Option<String>,
    /// What must hold.
    pub limits: LimitsSpec,
    /// What things cost beside their material.
    pub costs: Costs,
    /// Kinds of tape.
    pub strips: Vec<StripSpec>,
    /// Kinds of cable.
    pub cables: Vec<CableItem>,
    /// Kinds of supply.
    pub supplies: Vec<SupplySpec>,
    /// Kinds of decoder.
    pub decoders: Vec<DecoderSpec>,
    /// Profiles.
    pub profiles: Vec<ProfileSpec>,
    /// Where supplies and decoders may be put.
    pub places: Vec<PlaceSpec>,
    /// What dims together.
    pub zones: Vec<ZoneSpec>,
    /// What was drawn.
    pub runs: Vec<RunSpec>,
    /// Supplies and decoders that are already there, or chosen by hand.
    pub installed: Vec<InstalledSpec>,
    /// Universes.
    pub universes: Vec<UniverseSpec>,
    /// Chains.
    pub chains: Vec<ChainSpec>,
    /// Other products to be planned beside each other.
    pub candidates: Vec<CandidateSpec>,
    /// In what the lengths of its runs are written, and so printed; a file says it by how it is written.
    pub units: LengthUnits,
    /// Facts among the above that were taken, as the job is silent about them.
    pub taken: Vec<Taken>,
}

/// In what the lengths of a job are written, and so printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LengthUnits {
    /// Metres and millimetres, °C.
    #[default]
    Metric,
    /// Feet and inches, °F.
    Us,
    /// Metres with feet and inches behind them.
    Both,
}
