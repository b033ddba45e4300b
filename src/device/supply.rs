//! Supplies as their labels and data sheets state them.

use super::class::{EnergyLimit, ShockProtection};
use super::surroundings::IngressCode;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio,
    ThermodynamicTemperature, Time,
};

/// A kind of supply.
#[derive(Debug, Clone, PartialEq)]
pub struct SupplySpec {
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
    pub energy: EnergyLimit,
    /// Share of the rated power at an ambient, by rising ambient; empty: not stated, full power is taken.
    pub derating: Vec<(ThermodynamicTemperature, Ratio)>,
    /// Efficiency, where stated.
    pub efficiency: Option<Ratio>,
    /// Inrush: peak and duration, where stated.
    pub inrush: Option<(ElectricCurrent, Time)>,
    /// Supplies on one breaker as the maker states it, with the breaker in words.
    pub per_breaker: Option<(u32, String)>,
    /// Current in the protective conductor, where stated.
    pub leakage: Option<ElectricCurrent>,
    /// Degrees of protection, where stated.
    pub ingress: Option<IngressCode>,
    /// Price in minor units, where stated.
    pub price: Option<u64>,
}

impl SupplySpec {
    /// The highest voltage of an output: no load, the trimmer as high as it goes, tolerance added.
    #[must_use]
    pub fn highest_settable(&self) -> ElectricPotential {
        let set = self.trim.map_or(self.volts, |(_, highest)| highest);
        set * (1.0 + self.tolerance.value)
    }
}

/// What a supply does on overload.
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
