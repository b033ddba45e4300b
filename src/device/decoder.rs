//! Decoders as their labels and data sheets state them.

use super::class::EnergyLimit;
use super::levels::{LevelBits, LevelCurve};
use super::port::{PortIsolation, UnitLoads};
use super::surroundings::IngressCode;
use crate::network::Polarity;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency, Time};

/// A kind of decoder.
#[derive(Debug, Clone, PartialEq)]
pub struct DecoderSpec {
    /// Name.
    pub name: String,
    /// Outputs.
    pub outputs: u32,
    /// Current of one output.
    pub output_current: ElectricCurrent,
    /// Current of all outputs together.
    pub total_current: ElectricCurrent,
    /// Current of its supply terminal.
    pub terminal_current: ElectricCurrent,
    /// Lowest and highest supply voltage.
    pub volts: (ElectricPotential, ElectricPotential),
    /// Which side its outputs share.
    pub polarity: Polarity,
    /// Resistance of one switch.
    pub switch: ElectricalResistance,
    /// Frequency of its chopping.
    pub frequency: Frequency,
    /// Bits of its level inside.
    pub bits: u32,
    /// Levels on the line it understands; never empty.
    pub levels: Vec<LevelBits>,
    /// Curves it can be set to; never empty.
    pub curves: Vec<LevelCurve>,
    /// Shortest pulse, where stated.
    pub shortest_pulse: Option<Time>,
    /// Whether its outputs switch on together.
    pub edges: Edges,
    /// What it does when the signal is lost.
    pub signal_loss: SignalLoss,
    /// Whether its data port is isolated.
    pub port: PortIsolation,
    /// Load it puts on the line.
    pub unit_loads: UnitLoads,
    /// Energy class of its outputs, if it is listed for one.
    pub energy: EnergyLimit,
    /// Degrees of protection, where stated.
    pub ingress: Option<IngressCode>,
    /// Price in minor units, where stated.
    pub price: Option<u64>,
}

/// When the outputs of a decoder switch on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Edges {
    /// All at the start of the period.
    Aligned,
    /// Spread over the period.
    Staggered,
    /// Not known.
    #[default]
    Unknown,
}

/// What a decoder does when the signal is lost.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Default,
    serde::Serialize,
    serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum SignalLoss {
    /// Holds the last levels.
    Hold,
    /// Goes dark.
    Dark,
    /// Goes to full.
    Full,
    /// Not known.
    #[default]
    Unknown,
}
