//! Decoders, their outputs, universes, slots, chains.

use super::{Name, Solved};
use crate::device::{LevelCurve, PortIsolation};
use crate::exact::ExactLength;
use crate::finding::Loads;
use crate::id::{
    ChainId, DecoderId, PlaceId, ProductId, RunId, SegmentId, SupplyId, UniverseId, ZoneId,
};
use crate::job::spec::DataCable;
use crate::quantity::{Amps, Corners, Ohms, Seconds, Volts};
use serde::{Deserialize, Serialize};

/// A decoder.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Decoder {
    /// Id.
    pub id: DecoderId,
    /// Place.
    pub place: PlaceId,
    /// Kind.
    pub kind: ProductId,
    /// Zone that it dims.
    pub zone: ZoneId,
    /// Its slots, where it has an address.
    pub address: Option<Address>,
    /// Outputs in use.
    pub outputs_used: u64,
    /// Total current, high corner.
    pub current: Option<Amps>,
    /// Limit of the total.
    pub current_limit: Amps,
    /// Least volts at its supply terminals, low corner.
    pub least_volts: Option<Volts>,
    /// Volts at its supply terminals, most emitters lit.
    pub volts: Option<Corners<Volts>>,
    /// How far its minus stands above its supply's at most.
    pub minus_rise: Option<Volts>,
    /// Dimming curve.
    pub curve: Option<LevelCurve>,
    /// Supply output that feeds it.
    pub supply: Option<(SupplyId, u64)>,
    /// Whether it is there already, or was chosen by hand.
    pub fixed: bool,
}

/// Slots of a device.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Address {
    /// Universe.
    pub universe: u32,
    /// First slot.
    pub first: u16,
    /// How many.
    pub slots: u16,
}

/// One output of a decoder.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DecoderOutput {
    /// Decoder.
    pub decoder: DecoderId,
    /// Output, from 1.
    pub output: u64,
    /// Emitter.
    pub emitter: Name,
    /// Zone.
    pub zone: ZoneId,
    /// Segments on it.
    pub segments: Vec<SegmentId>,
    /// Greatest current, high corner.
    pub current: Option<Amps>,
    /// Its limit.
    pub limit: Amps,
}

/// A universe.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Universe {
    /// Id.
    pub id: UniverseId,
    /// Number.
    pub number: u16,
    /// Device and port it leaves from; empty in a design that was written before it was kept.
    #[serde(default)]
    pub port: Name,
}

/// A powered splitter that the plan adds at a port, where several chains begin: an output for each.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PortSplitter {
    /// Universe that it repeats.
    pub universe: UniverseId,
    /// Device and port that drives it.
    pub port: Name,
    /// Chains on its outputs, from output 1.
    pub chains: Vec<ChainId>,
}

/// One DMX slot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Slot {
    /// Universe.
    pub universe: u32,
    /// Slot, 1 to 512.
    pub slot: u16,
    /// Device.
    pub device: DecoderId,
    /// Offset within the device, from 0.
    pub offset: u16,
    /// What it sets.
    pub sets: SlotUse,
    /// Zone.
    pub zone: ZoneId,
    /// Runs that answer to it.
    pub runs: Vec<RunId>,
}

/// What a slot sets.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum SlotUse {
    /// Nothing is on its output.
    Unused,
    /// The level of an emitter.
    Level(Name),
    /// The fine part of it.
    Fine(Name),
}

/// A chain of the data line.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Chain {
    /// Id.
    pub id: ChainId,
    /// Universe that it carries.
    pub universe: UniverseId,
    /// Cable.
    pub cable: DataCable,
    /// Terminator at its far end.
    pub terminator: Option<Ohms>,
    /// Devices in the order of the cable.
    pub devices: Vec<ChainDevice>,
}

/// A device on a chain.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ChainDevice {
    /// Its name: a decoder's id, or what the job calls a device of others.
    pub name: Name,
    /// The decoder, where it is one of this design.
    pub decoder: Option<DecoderId>,
    /// Length of the cable into it.
    pub length: ExactLength,
    /// Its own load on the line.
    pub unit_loads: Loads,
    /// Whether its port is isolated.
    pub isolation: PortIsolation,
    /// Where its minus stands.
    pub ground: Option<Ground>,
    /// What it sees of a packet, or why the line was not simulated.
    #[serde(default = "Margin::unwritten")]
    pub margin: Solved<Margin>,
}

/// What a device sees of a packet from the weakest permitted driver, simulated in time: the room
/// [`signal`](crate::dmx::signal). Volts are counted in the sense of the level sent: below zero a bit reads wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Margin {
    /// How far the least volts stand above those that a receiver needs.
    pub margin: Volts,
    /// Least volts from a quarter to three quarters of any bit of the packet, where a receiver may sample.
    pub least: Volts,
    /// Least volts in the middle of a bit.
    pub least_at_middle: Volts,
    /// Largest magnitude.
    pub peak: Volts,
    /// Volts of a long mark.
    pub steady: Volts,
    /// When an edge that leaves the driver at zero arrives.
    pub arrival: Seconds,
}

impl Margin {
    /// What stands for it in a design that was written before it was simulated.
    fn unwritten() -> Solved<Self> {
        Solved::Not("the design was written before lines were simulated".into())
    }
}

/// How far the minus of a device stands above that of its supply.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Ground {
    /// Supply.
    pub supply: SupplyId,
    /// At most.
    pub most: Volts,
}
