//! Cables, supplies and decoders as their labels and data sheets state them.

use super::control::{PortIsolation, UnitLoads};
use super::core_size::CoreSize;
use super::places::{Environment, LevelBits, LevelCurve};
use crate::network::Polarity;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Frequency, Power, Ratio,
    ThermodynamicTemperature, Time,
};

/// A kind of cable.
#[derive(Debug, Clone, PartialEq)]
pub struct CableItem {
    /// Name.
    pub name: String,
    /// Cores, all of one size.
    pub cores: u32,
    /// Size of one.
    pub size: CoreSize,
    /// What they are made of.
    pub material: CoreMaterial,
    /// How they are stranded.
    pub strands: CoreStrands,
    /// Greatest temperature of the insulation.
    pub insulation: ThermodynamicTemperature,
    /// Ampacity of one core as its maker or the installer states it; none: tables decide.
    pub ampacity: Option<ElectricCurrent>,
    /// Worst surroundings its jacket is made for.
    pub environment: Environment,
    /// Price of a metre in minor units, where stated.
    pub price_per_metre: Option<u64>,
}

/// What a core is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CoreMaterial {
    /// Plain copper.
    Copper,
    /// Tinned copper.
    TinnedCopper,
    /// Copper-clad aluminium.
    CopperCladAluminium,
    /// Not known: the worst is assumed, and the plan says so.
    Unknown,
}

/// How a core is stranded: the classes of IEC 60228.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CoreStrands {
    /// Class 1.
    Solid,
    /// Class 2.
    Stranded,
    /// Class 5.
    Flexible,
    /// Class 6.
    ExtraFlexible,
}

/// A kind of supply.
#[derive(Debug, Clone, PartialEq)]
pub struct SupplyItem {
    /// Name.
    pub name: String,
    /// Rated power, all outputs.
    pub power: Power,
    /// Set point of its outputs as delivered.
    pub volts: ElectricPotential,
    /// Tolerance of the set point.
    pub tolerance: Ratio,
    /// Lowest and highest set point, where it can be trimmed.
    pub trim: Option<(ElectricPotential, ElectricPotential)>,
    /// Outputs, each with its own limit.
    pub outputs: u32,
    /// Current one output is rated for.
    pub output_current: ElectricCurrent,
    /// Greatest current one output can push before it gives way.
    pub limit_current: Option<ElectricCurrent>,
    /// What it does on overload.
    pub overload: Overload,
    /// Resistance of an output.
    pub output_resistance: ElectricalResistance,
    /// Shock protection, from the label.
    pub shock: ShockProtection,
    /// Energy class, from the label.
    pub energy: EnergyClass,
    /// Share of the rated power at an ambient, by rising ambient; empty: not stated.
    pub derating: Vec<(ThermodynamicTemperature, Ratio)>,
    /// Efficiency, where stated.
    pub efficiency: Option<Ratio>,
    /// Inrush: peak and duration, where stated.
    pub inrush: Option<(ElectricCurrent, Time)>,
    /// Supplies on one breaker as the maker states it, with the breaker in words.
    pub per_breaker: Option<(u32, String)>,
    /// Current in the protective conductor, where stated.
    pub leakage: Option<ElectricCurrent>,
    /// Price in minor units, where stated.
    pub price: Option<u64>,
}

/// What a supply does on overload.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Overload {
    /// Holds its limit current.
    ConstantCurrent,
    /// Lowers current with voltage.
    FoldBack,
    /// Switches off and tries again.
    Hiccup,
    /// Switches off until it is reset.
    LatchOff,
    /// Not known.
    #[default]
    Unknown,
}

/// Protection against electric shock, from the label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum ShockProtection {
    /// Safety extra-low voltage.
    Selv,
    /// Protective extra-low voltage: one pole earthed.
    Pelv,
    /// Something else.
    Other,
    /// Not known: treated as none.
    #[default]
    Unknown,
}

/// Limit of energy, from the label.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum EnergyClass {
    /// Class 2 power source.
    Class2,
    /// Limited power source.
    LimitedPower,
    /// No limit of energy.
    None,
    /// Not known: treated as none.
    #[default]
    Unknown,
}

/// A kind of decoder.
#[derive(Debug, Clone, PartialEq)]
pub struct DecoderItem {
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
    pub energy: EnergyClass,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
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
