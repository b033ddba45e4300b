//! What is bought, as far as rules and schedules need it.

use super::{Name, Note};
use crate::device::{
    EnergyLimit, Environment, IngressCode, LevelCurve, Overload, PortIsolation, ShockProtection,
    SignalLoss,
};
use crate::exact::{CutPitch, ExactLength};
use crate::id::ProductId;
use crate::network::Polarity;
use crate::quantity::{
    Amps, Hertz, Ohms, Share, SquareMetres, Temperature, Volts, Watts, WattsPerMetre,
};
use serde::{Deserialize, Serialize};

/// A tape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Strip {
    /// Name.
    pub id: ProductId,
    /// Rated voltage.
    pub rated: Volts,
    /// Distance between permitted cuts.
    pub pitch: CutPitch,
    /// Which side its emitters share.
    pub polarity: Polarity,
    /// Emitters.
    pub emitters: Vec<Emitter>,
    /// Power per length as its sheet states it.
    pub power_stated: Option<WattsPerMetre>,
    /// Whether the sheet says what length the stated power was measured on.
    #[serde(default = "yes")]
    pub power_length_stated: bool,
    /// Power per length of its cells, rated voltage, warm.
    pub power: WattsPerMetre,
    /// Current of one connection, where stated.
    pub pad_current: Option<Amps>,
    /// Smallest bend, where stated.
    pub bend_radius: Option<ExactLength>,
    /// Highest voltage at its feed, where stated.
    pub highest_volts: Option<Volts>,
    /// Highest ambient, where stated.
    pub highest_ambient: Option<Temperature>,
    /// Ingress code, where stated.
    pub ingress: Option<IngressCode>,
    /// Length of a reel.
    pub reel: ExactLength,
    /// Whether what a joint between reels adds is stated.
    pub reel_joint_stated: bool,
}

/// An emitter of a tape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Emitter {
    /// Its colour.
    pub name: Name,
}

/// A kind of cable.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CableKind {
    /// Name.
    pub id: ProductId,
    /// Cores.
    pub cores: u32,
    /// Cross-section of one core.
    pub area: SquareMetres,
    /// Size as it is sold: `18 AWG`.
    pub size: Name,
    /// Rating of its insulation.
    pub insulation: Temperature,
    /// Whether its ampacity is looked up in a table of the US code, as the job states its way of installation.
    #[serde(default)]
    pub us_tables: bool,
    /// Worst surroundings that its jacket is made for, where stated.
    pub environment: Option<Environment>,
    /// What was taken for its resistance that no table states.
    pub resistance_assumed: Vec<Note>,
    /// Where its resistance comes from.
    pub resistance_source: crate::source::Source,
}

/// A kind of supply.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SupplyKind {
    /// Name.
    pub id: ProductId,
    /// Rated power, all outputs.
    pub power: Watts,
    /// Set point as delivered.
    pub set_point: Volts,
    /// Tolerance of the set point.
    pub tolerance: Share,
    /// Highest set point, where it can be trimmed.
    pub highest: Option<Volts>,
    /// Outputs.
    pub outputs: u32,
    /// Current one output is rated for.
    pub output_current: Amps,
    /// Greatest current one output can push before it gives way.
    pub limit_current: Option<Amps>,
    /// What it does on overload.
    pub overload: Overload,
    /// Resistance of an output.
    pub output_resistance: Ohms,
    /// Shock protection, from the label.
    pub shock: ShockProtection,
    /// Energy class, from the label.
    pub energy: EnergyLimit,
    /// Share of the rated power by ambient; empty: not stated.
    pub derating: Vec<Derating>,
    /// Efficiency, where stated.
    pub efficiency: Option<Share>,
    /// Ingress code, where stated.
    pub ingress: Option<IngressCode>,
    /// How many the maker lets one breaker start, where stated.
    #[serde(default)]
    pub per_breaker: Option<PerBreaker>,
}

impl SupplyKind {
    /// The highest voltage of an output: no load, the trimmer as high as it goes, tolerance added.
    #[must_use]
    pub fn highest_settable(&self) -> Volts {
        let set = self.highest.unwrap_or(self.set_point).si();
        crate::quantity::volts(set * (1.0 + self.tolerance.si())).into()
    }
}

/// How many supplies of a kind one breaker starts together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PerBreaker {
    /// How many.
    pub count: u32,
    /// The breaker, in the words of the job.
    pub breaker: Name,
}

/// Share of the rated power at an ambient.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Derating {
    /// Ambient.
    pub ambient: Temperature,
    /// Share.
    pub share: Share,
}

/// A kind of decoder.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DecoderKind {
    /// Name.
    pub id: ProductId,
    /// Whether the job names it. If not, only its outputs and its switch have a meaning here: what is needed stands in
    /// [`Design::materials`](super::Design::materials).
    #[serde(default = "yes")]
    pub named: bool,
    /// Outputs.
    pub outputs: u32,
    /// Current of one output.
    pub output_current: Amps,
    /// Current of all outputs together.
    pub total_current: Amps,
    /// Current of its supply terminal.
    pub terminal_current: Amps,
    /// Lowest supply voltage.
    pub least_volts: Volts,
    /// Highest supply voltage.
    pub most_volts: Volts,
    /// Resistance of one switch.
    pub switch: Ohms,
    /// Frequency of its chopping.
    pub frequency: Hertz,
    /// Bits of its level inside.
    pub bits: u8,
    /// Share of the period that its shortest pulse takes, where stated: below it nothing is dimmed further.
    #[serde(default)]
    pub shortest_on: Option<Share>,
    /// Curves it can be set to.
    pub curves: Vec<LevelCurve>,
    /// What it does when the signal is lost.
    pub signal_loss: SignalLoss,
    /// Whether its data port is isolated.
    pub port: PortIsolation,
    /// Energy class of its outputs, if it is listed for one.
    pub energy: EnergyLimit,
    /// Ingress code, where stated.
    pub ingress: Option<IngressCode>,
}

/// What stands for a question that older designs did not ask.
fn yes() -> bool {
    true
}
