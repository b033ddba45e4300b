//! A job as plain data: what a job file says, or a program builds.
//!
//! Nothing here is checked: [`check`](crate::job::check) turns a [`JobSpec`] into a
//! [`Job`](crate::job::Job) or says everything that is wrong with it.
#![doc = include_str!("format.md")]

mod control;
mod core_size;
mod limits;
mod places;
mod products;
mod runs;
mod tape;

pub use control::{
    ChainSpec, ChainStop, DataCable, PortIsolation, SlotRange, UnitLoads, UnitLoadsError,
    UniverseSpec,
};
pub use core_size::{CoreSize, CoreSizeError};
pub use limits::{Costs, Limits};
pub use places::{
    Control, Environment, IngressCode, IngressCodeError, LevelBits, LevelCurve, PlaceSpec, Service,
    Together, WaySpec, ZoneSpec,
};
pub use products::{
    CableItem, CoreMaterial, CoreStrands, DecoderItem, Edges, EnergyClass, Overload,
    ShockProtection, SignalLoss, SupplyItem,
};
pub use runs::{CoverSpec, ProfileSpec, RunSpec, StockLength};
pub use tape::{
    CellItem, EmitterItem, Falls, FedFrom, PowerBasis, RailItem, SpliceItem, StripItem,
};

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
    pub limits: Limits,
    /// What things cost beside their material.
    pub costs: Costs,
    /// Kinds of tape.
    pub strips: Vec<StripItem>,
    /// Kinds of cable.
    pub cables: Vec<CableItem>,
    /// Kinds of supply.
    pub supplies: Vec<SupplyItem>,
    /// Kinds of decoder.
    pub decoders: Vec<DecoderItem>,
    /// Profiles.
    pub profiles: Vec<ProfileSpec>,
    /// Where supplies and decoders may be put.
    pub places: Vec<PlaceSpec>,
    /// What dims together.
    pub zones: Vec<ZoneSpec>,
    /// What was drawn.
    pub runs: Vec<RunSpec>,
    /// Universes.
    pub universes: Vec<UniverseSpec>,
    /// Chains.
    pub chains: Vec<ChainSpec>,
}
