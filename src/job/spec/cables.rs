//! Cables as they are sold.

use super::core_size::CoreSize;
use crate::device::Environment;
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature};

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
