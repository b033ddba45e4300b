//! Cables as they are sold.

use crate::cable::{ConductorSize, Construction, Installation, Metal};
use crate::device::Environment;
use crate::exact::ExactLength;
use crate::quantity::{ElectricCurrent, ThermodynamicTemperature};

/// A kind of cable.
#[derive(Debug, Clone, PartialEq)]
pub struct CableItem {
    /// Name.
    pub name: String,
    /// Cores, all of one size.
    pub cores: u32,
    /// Size of one.
    pub size: ConductorSize,
    /// What they are made of.
    pub metal: Metal,
    /// How they are built.
    pub construction: Construction,
    /// Greatest temperature of the insulation.
    pub insulation: ThermodynamicTemperature,
    /// Ampacity of one core as its maker or the installer states it; none: tables decide.
    pub ampacity: Option<ElectricCurrent>,
    /// Ambient that its stated ampacity is for; none: 30 °C in air, to which IEC 60364-5-52 refers its tables.
    pub ampacity_ambient: Option<ThermodynamicTemperature>,
    /// How it is installed, which decides the ampacity table; none: no table is asked.
    pub installed: Option<Installation>,
    /// Worst surroundings its jacket is made for, where stated.
    pub environment: Option<Environment>,
    /// Price of a metre in minor units, where stated.
    pub price_per_metre: Option<u64>,
    /// Length of a reel, where it is bought in whole ones; none: by the metre.
    pub reel: Option<ExactLength>,
}
