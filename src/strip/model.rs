//! The electrical model of one cut increment of a tape at the corners of tolerance.

use crate::exact::CutPitch;
use crate::load::Law;
use crate::network::Polarity;
use crate::quantity::{
    Corners, ElectricPotential, ElectricalResistance, Ratio, ThermodynamicTemperature, celsius,
    fraction,
};

/// A tape as solvers see it: one cut increment at the three corners of tolerance.
///
/// The cells of an increment tap the rails in its middle: half an increment of rail lies
/// between a cut mark and the nearest cell, on every rail.
#[derive(Debug, Clone)]
pub struct TapeModel {
    /// Name of the strip.
    pub strip: String,
    /// Distance between cut marks.
    pub pitch: CutPitch,
    /// Rated voltage: relative currents refer to the nominal cell at this voltage.
    pub rated: ElectricPotential,
    /// Which side the emitters share.
    pub polarity: Polarity,
    /// Common rail of one increment: hot and above tolerance at the low corner.
    pub common: Corners<ElectricalResistance>,
    /// Emitters, 1 to 6, in the order of the strip.
    pub emitters: Vec<TapeEmitter>,
    /// Longest branch the maker permits, in increments.
    pub branch: Option<u64>,
}

/// One emitter of a tape.
#[derive(Debug, Clone)]
pub struct TapeEmitter {
    /// Name.
    pub name: String,
    /// Its return rail over one increment.
    pub rail: Corners<ElectricalResistance>,
    /// What one increment draws: cells cold at the low corner, hot at the high one.
    pub law: Corners<Law>,
}

/// Temperatures and tolerances of the corners.
#[derive(Debug, Clone, PartialEq)]
pub struct CornerSet {
    /// Rails: hot at the low corner, cold at the high one.
    pub conductor: Corners<ThermodynamicTemperature>,
    /// Cells: cold at the low corner, hot at the high one.
    pub cell: Corners<ThermodynamicTemperature>,
    /// Rails: this much above their stated resistance at the low corner, below at the high one.
    pub rail_tolerance: Ratio,
    /// Cells: this much below their stated current at the low corner, above it at the high one.
    pub current_tolerance: Ratio,
    /// Cells draw so much more again at the high corner: the margin of every current that is judged there.
    pub current_margin: Ratio,
}

impl CornerSet {
    /// No tolerance: cells at 25 °C and copper at 20 °C, to which the figures of sheets refer.
    #[must_use]
    pub fn exact() -> Self {
        Self {
            conductor: Corners::same(celsius(20.0)),
            cell: Corners::same(celsius(25.0)),
            rail_tolerance: fraction(0.0),
            current_tolerance: fraction(0.0),
            current_margin: fraction(0.0),
        }
    }
}
