//! Rows of the power side: cables, supplies, protection, energy.

use crate::exact::ExactLength;
use crate::quantity::{
    Corners, ElectricCurrent, ElectricPotential, Mass, Power, Ratio, RouteLength,
    ThermodynamicTemperature,
};
use crate::source::Source;

/// A cable.
#[derive(Debug, Clone, PartialEq)]
pub struct CableRow {
    /// Cable id.
    pub id: String,
    /// Terminals it starts from.
    pub from: String,
    /// Terminals it goes to.
    pub to: String,
    /// Kind, from the job's list.
    pub kind: String,
    /// Cores and size as it is sold, with the other system's figure: `4 × 18 AWG (0.823 mm²)`.
    pub size: String,
    /// Core, function: `1 plus, 2 red return`.
    pub functions: String,
    /// Route, one way.
    pub route: RouteLength,
    /// `measured`, `scaled` or `guessed`.
    pub basis: String,
    /// Greatest current of any core at the high corner.
    pub current: ElectricCurrent,
    /// Core that carries it.
    pub busiest: String,
    /// Ampacity in this place, or why there is none.
    pub ampacity: Result<ElectricCurrent, String>,
    /// Source of the ampacity.
    pub ampacity_source: Source,
    /// Drop over the loop at the low corner, worst emitter.
    pub drop: ElectricPotential,
    /// Drop as a share of the rated voltage.
    pub drop_share: Ratio,
    /// Longest route, up to 1 km, at which every cell still has its least current and emitters their balance, low corner,
    /// everything else as planned.
    pub longest: Option<RouteLength>,
    /// Energy class inherited from the source.
    pub energy_class: String,
    /// Copper in it.
    pub copper: Mass,
    /// Cable ambient temperature.
    pub ambient: ThermodynamicTemperature,
}

/// A supply.
#[derive(Debug, Clone, PartialEq)]
pub struct SupplyRow {
    /// Supply id.
    pub id: String,
    /// Place.
    pub place: String,
    /// Kind, from the job's list.
    pub kind: String,
    /// Set point.
    pub set_point: ElectricPotential,
    /// Rated power.
    pub rated: Power,
    /// Rated power at the ambient assumed.
    pub derated: Power,
    /// Ambient assumed.
    pub ambient: ThermodynamicTemperature,
    /// Load at nominal, and at the high corner.
    pub load: Corners<Power>,
    /// Greatest load as a share of the derated power.
    pub share: Ratio,
    /// Heat given off at nominal load, where an efficiency is stated.
    pub heat: Option<Power>,
    /// Shock protection class, from the label.
    pub shock_class: String,
    /// Energy class, from the label.
    pub energy_class: String,
    /// What it feeds; that it stands by.
    pub feeds: String,
    /// Whether it is there already, or was chosen by hand.
    pub fixed: bool,
    /// Why this one and not another.
    pub why: String,
}

/// A conductor, what it carries and what protects it.
#[derive(Debug, Clone, PartialEq)]
pub struct ProtectionRow {
    /// Conductor: `cable C3, core plus`, `tape A1.1, common rail`.
    pub conductor: String,
    /// Load current at the high corner.
    pub load: ElectricCurrent,
    /// Protective device upstream, or none.
    pub device: String,
    /// Ampacity, or why there is none.
    pub ampacity: Result<ElectricCurrent, String>,
    /// What the source can push, and how it behaves on overload.
    pub source_limit: String,
    /// Fault current at the near end, high corner, where it was evaluated.
    pub fault_near: Option<ElectricCurrent>,
    /// Fault current at the far end, low corner, where it was evaluated.
    pub fault_far: Option<ElectricCurrent>,
    /// The answer in words.
    pub verdict: String,
}

/// Connected load of a zone.
#[derive(Debug, Clone, PartialEq)]
pub struct EnergyRow {
    /// Zone.
    pub zone: String,
    /// Lit length.
    pub length: ExactLength,
    /// Power into the tape at nominal.
    pub tape: Power,
    /// Lost in copper and switches at nominal.
    pub wiring: Power,
    /// From the mains at nominal, where every supply states an efficiency.
    pub mains: Option<Power>,
}
