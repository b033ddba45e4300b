//! Tape as its data sheet states it.

use super::class::{CopperClass, StringClass};
use crate::device::IngressCode;
use crate::exact::{CutPitch, ExactLength};
use crate::network::Polarity;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Length, LinearLuminousFlux,
    LinearPower, LinearResistance, Power, Ratio, ThermodynamicTemperature,
};

/// A tape.
#[derive(Debug, Clone, PartialEq)]
pub struct StripSpec {
    /// Name.
    pub name: String,
    /// Rated voltage.
    pub rated: ElectricPotential,
    /// Which side its emitters share.
    pub polarity: Polarity,
    /// Distance between permitted cuts.
    pub pitch: CutPitch,
    /// Electrical cells of each emitter between two cuts.
    pub cells: u32,
    /// Emitters, one to six, in the order of the pads.
    pub emitters: Vec<EmitterSpec>,
    /// How the resistance of its rails is known.
    pub rails: RailSpec,
    /// Rated power per length, all emitters, where the sheet states it.
    pub power: Option<LinearPower>,
    /// What that power was measured on.
    pub power_basis: PowerBasis,
    /// Longest branch from its feed that the maker permits, where stated.
    pub longest_branch: Option<ExactLength>,
    /// Greatest current of one conductor's pads, where stated.
    pub pad_current: Option<ElectricCurrent>,
    /// Smallest radius it may be bent to over its face, where stated.
    pub bend_radius: Option<ExactLength>,
    /// Length of a reel.
    pub reel: ExactLength,
    /// Joint that is made where one reel ends and the next begins; where it is not stated, what it adds is not known.
    pub reel_joint: Option<ReelJointSpec>,
    /// Factory splices inside a reel.
    pub splices: Option<SpliceSpec>,
    /// Highest voltage at its feed that the maker permits, where stated.
    pub highest_volts: Option<ElectricPotential>,
    /// Highest ambient it is rated for, where stated.
    pub highest_ambient: Option<ThermodynamicTemperature>,
    /// Degrees of protection, where stated.
    pub ingress: Option<IngressCode>,
    /// Price of a reel in minor units, where stated.
    pub price: Option<u64>,
}

impl StripSpec {
    /// Joints between reels in a piece of tape, whole reels first: 0 where it fits on one.
    #[must_use]
    pub fn joints_in(&self, increments: u64) -> u64 {
        let reel = self.pitch.count_in(self.reel).max(1);
        increments.div_ceil(reel).saturating_sub(1)
    }
}

/// An emitter of a tape.
#[derive(Debug, Clone, PartialEq)]
pub struct EmitterSpec {
    /// Its colour; the name that zones and reports call it by.
    pub name: String,
    /// What one of its cells is.
    pub cell: CellSpec,
    /// Light of bare tape per length at rated voltage, where stated.
    pub flux: Option<LinearLuminousFlux>,
}

/// One cell of one emitter.
#[derive(Debug, Clone, PartialEq)]
pub enum CellSpec {
    /// Diodes and a ballast resistor in series.
    Series {
        /// Diodes in series.
        diodes: u32,
        /// Forward voltage of one at `current`.
        forward: ElectricPotential,
        /// Current of the cell at the rated voltage of the tape.
        current: ElectricCurrent,
        /// Ballast; none: what `current` at rated voltage asks for.
        ballast: Option<ElectricalResistance>,
    },
    /// Diodes and a linear regulator in series.
    ConstantCurrent {
        /// Diodes in series.
        diodes: u32,
        /// Forward voltage of one at `current`.
        forward: ElectricPotential,
        /// Regulated current.
        current: ElectricCurrent,
        /// What the regulator needs to hold it.
        drop_out: ElectricPotential,
    },
    /// A string read as a straight line: nothing up to a knee, then in proportion to the rest.
    StraightLine {
        /// Voltage below which nothing flows.
        knee: ElectricPotential,
        /// Current of the cell at the rated voltage of the tape.
        current: ElectricCurrent,
    },
    /// A switching converter: current falls as voltage rises.
    ConstantPower {
        /// Power of the cell.
        power: Power,
        /// Lowest voltage at which it holds that power.
        works_from: ElectricPotential,
    },
    /// Diodes and a ballast of which nothing but the current is known: between the sides of a class.
    Class {
        /// Class of string.
        strings: StringClass,
        /// Current of the cell at the rated voltage of the tape.
        current: ElectricCurrent,
    },
}

/// How the resistance of the rails is known.
///
/// Data sheets are ambiguous here, so every meaning is asked for and none is taken as usual.
#[derive(Debug, Clone, PartialEq)]
pub enum RailSpec {
    /// Stated or measured per length at 20 °C.
    Stated {
        /// Common rail.
        common: LinearResistance,
        /// Each emitter's return.
        returns: LinearResistance,
    },
    /// From the copper foil.
    Foil {
        /// Layers that lie in parallel.
        layers: u32,
        /// Finished thickness of one layer.
        thickness: Length,
        /// Width of the common rail, in each layer.
        common_width: Length,
        /// Width of each return, in each layer.
        return_width: Length,
    },
    /// From a maximum run.
    MaximumRun {
        /// Its length.
        length: ExactLength,
        /// From where it is fed.
        fed: FedFrom,
        /// What falls.
        falls: Falls,
        /// By how much, at the far end, or in the middle when fed from both.
        by: Ratio,
    },
    /// From one reading at the far end of a piece fed at one end, all emitters lit.
    Reading {
        /// Length of the piece.
        length: ExactLength,
        /// Volts at its feed.
        fed: ElectricPotential,
        /// Volts at its far end: the least over its emitters.
        far: ElectricPotential,
    },
    /// From the current of the last cut increment of a piece fed at one end, all emitters lit.
    CurrentReading {
        /// Length of the piece.
        length: ExactLength,
        /// Volts at its feed.
        fed: ElectricPotential,
        /// Current of its last increment, all emitters together.
        far: ElectricCurrent,
    },
    /// Not known: between the sides of a class.
    Class {
        /// Class by its copper.
        copper: CopperClass,
    },
}

/// From where a maximum run is fed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FedFrom {
    /// One end.
    OneEnd,
    /// Both ends.
    BothEnds,
}

/// What falls along a maximum run.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Falls {
    /// Voltage.
    Volts,
    /// Light.
    Light,
}

/// What a rated power per length was measured on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum PowerBasis {
    /// A short piece: no drop in it.
    ShortPiece,
    /// A whole reel fed at one end: its drop is in it.
    FullReel,
    /// The sheet does not say.
    #[default]
    Unknown,
}

/// A joint between two reels, made on site.
#[derive(Debug, Clone, PartialEq)]
pub struct ReelJointSpec {
    /// Resistance it adds to each rail.
    pub resistance: ElectricalResistance,
    /// Price of making it in minor units, where stated.
    pub price: Option<u64>,
}

/// Factory splices.
#[derive(Debug, Clone, PartialEq)]
pub struct SpliceSpec {
    /// Distance from one to the next.
    pub every: ExactLength,
    /// Resistance of one, each rail.
    pub resistance: ElectricalResistance,
}
