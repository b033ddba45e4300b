//! Tape of which a sheet or a label says little: a class of tape, with its two sides.
//!
//! ```text
//!             weaker side                 middle                   stronger side
//!  copper     thin, narrow                geometric mean           thick, wide, two layers
//!  strings    forward voltage high:       the mean                 forward voltage low: current falls
//!             current falls fast                                   slowly
//!  corner     low: light is judged        nominal                  high: currents are judged
//! ```
//!
//! A tape whose copper or strings are those of a class has its weaker side at the low corner and its stronger side at the
//! high one, each beside the tolerances of the job. A string of the stronger side is taken to draw no less than one of the weaker
//! side up to [`ABOVE_RATED`] above the rated voltage, so that it bounds currents there too.
//! Every figure here is an assumption of this library, but for the thickness of an ounce of copper a square foot.

use super::spec::{CellSpec, RailSpec, StripSpec};
use crate::quantity::{
    Corners, ElectricCurrent, ElectricPotential, LinearResistance, micrometres, millimetres,
    ohms_per_metre, volts,
};
use crate::source::Source;
use std::borrow::Cow;

/// Volts of rated voltage for one diode, V: 3 diodes at 12 V, 6 at 24 V, 12 at 48 V.
pub const VOLTS_A_DIODE: f64 = 4.0;
/// How far above its rated voltage the strings of a class are bounded: what a plan takes for the same voltage.
pub const ABOVE_RATED: f64 = 0.05;

/// The copper of a class of tape: foil of each rail, from the weaker to the stronger side.
///
/// | class | weaker: foil, common rail | stronger: foil, common rail |
/// | --- | --- | --- |
/// | any copper | one layer of 35 µm, 3 mm: 0.164 Ω/m | two layers of 70 µm, 4 mm: 0.031 Ω/m |
/// | 1 oz copper | one layer of 35 µm, 3 mm: 0.164 Ω/m | two layers of 35 µm, 4 mm: 0.062 Ω/m |
/// | 2 oz copper | one layer of 70 µm, 3 mm: 0.082 Ω/m | two layers of 70 µm, 4 mm: 0.031 Ω/m |
/// | 3 oz copper | one layer of 105 µm, 3 mm: 0.055 Ω/m | two layers of 105 µm, 4 mm: 0.021 Ω/m |
///
/// Returns share the width: at the weaker side all of them together have that of the common rail, at the stronger side twice that,
/// and none more than the common rail.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub enum CopperClass {
    /// Nothing is known.
    #[default]
    Any,
    /// Its label says 1 oz.
    OneOunce,
    /// Its label says 2 oz.
    TwoOunces,
    /// Its label says 3 oz.
    ThreeOunces,
}

/// A side of a class, or the middle between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Light falls off most.
    Weaker,
    /// Between both.
    Middle,
    /// Light falls off least, and currents are greatest.
    Stronger,
}

impl CopperClass {
    /// The words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Any => "any copper",
            Self::OneOunce => "1 oz copper",
            Self::TwoOunces => "2 oz copper",
            Self::ThreeOunces => "3 oz copper",
        }
    }

    /// The rails of one side, for a tape of so many emitters.
    #[must_use]
    pub fn side(self, side: Side, emitters: usize) -> RailSpec {
        let (thin, thick) = match self {
            Self::Any => (35.0, 70.0),
            Self::OneOunce => (35.0, 35.0),
            Self::TwoOunces => (70.0, 70.0),
            Self::ThreeOunces => (105.0, 105.0),
        };
        let returns = emitters.max(1) as f64;
        let foil = |layers, thickness, common: f64, together: f64| RailSpec::Foil {
            layers,
            thickness: micrometres(thickness),
            common_width: millimetres(common),
            return_width: millimetres((together / returns).min(common)),
        };
        let (weaker, stronger) = (foil(1, thin, 3.0, 3.0), foil(2, thick, 4.0, 8.0));
        match side {
            Side::Weaker => weaker,
            Side::Stronger => stronger,
            Side::Middle => {
                let of = |rails: &RailSpec| super::rails::of_foil(rails).unwrap_or((1.0, 1.0));
                let (weak, strong) = (of(&weaker), of(&stronger));
                let mean = |a: f64, b: f64| ohms_per_metre(libm::sqrt(a * b));
                RailSpec::Stated {
                    common: mean(weak.0, strong.0),
                    returns: mean(weak.1, strong.1),
                }
            }
        }
    }

    /// Resistance of the common rail and of a return at 20 °C, from the stronger to the weaker side.
    #[must_use]
    pub fn resistance(self, emitters: usize) -> [[LinearResistance; 2]; 2] {
        let of = |side| {
            let (common, returns) =
                super::rails::of_foil(&self.side(side, emitters)).unwrap_or((0.0, 0.0));
            [ohms_per_metre(common), ohms_per_metre(returns)]
        };
        let ([common, returns], [most, most_of_returns]) = (of(Side::Stronger), of(Side::Weaker));
        [[common, most], [returns, most_of_returns]]
    }

    /// Where a class comes from.
    pub const SOURCE: Source = Source::assumption(
        "a class of tape by its copper: rails of 3 mm in one layer to 4 mm in two, an ounce taken as 35 µm, on one layer or both",
    );
}

/// The strings of a class of tape: diodes in series with a ballast, of which only the current is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StringClass {
    /// One or two emitters, taken as white: 2.8 V to 3.2 V a diode.
    White,
    /// Three or more emitters, taken as colours: 2.0 V to 3.2 V a diode.
    Colours,
}

impl StringClass {
    /// The class of a tape of so many emitters.
    #[must_use]
    pub fn of(emitters: usize) -> Self {
        if emitters < 3 {
            Self::White
        } else {
            Self::Colours
        }
    }

    /// Diodes in series at a rated voltage: one for every [`VOLTS_A_DIODE`], one at least.
    #[must_use]
    pub fn diodes(rated: ElectricPotential) -> u32 {
        libm::floor(rated.value / VOLTS_A_DIODE).clamp(1.0, 100.0) as u32
    }

    /// Forward voltage of one diode at the stronger and at the weaker side.
    #[must_use]
    pub fn forward(self) -> [ElectricPotential; 2] {
        match self {
            Self::White => [volts(2.8), volts(3.2)],
            Self::Colours => [volts(2.0), volts(3.2)],
        }
    }

    /// The string of one side.
    #[must_use]
    pub fn side(self, side: Side, rated: ElectricPotential, current: ElectricCurrent) -> CellSpec {
        let [strong, weak] = self.forward();
        CellSpec::Series {
            diodes: Self::diodes(rated),
            forward: match side {
                Side::Weaker => weak,
                Side::Middle => (strong + weak) / 2.0,
                Side::Stronger => strong,
            },
            current,
            ballast: None,
        }
    }
}

impl StripSpec {
    /// Whether its copper or a string of it is that of a class.
    #[must_use]
    pub fn is_of_a_class(&self) -> bool {
        matches!(self.rails, RailSpec::Class { .. })
            || self
                .emitters
                .iter()
                .any(|emitter| matches!(emitter.cell, CellSpec::Class { .. }))
    }

    /// The strip with one side of its classes in their place; itself where it has none.
    #[must_use]
    pub fn side(&self, side: Side) -> Cow<'_, Self> {
        if !self.is_of_a_class() {
            return Cow::Borrowed(self);
        }
        let mut own = self.clone();
        if let RailSpec::Class { copper } = own.rails {
            own.rails = copper.side(side, own.emitters.len());
        }
        for emitter in &mut own.emitters {
            if let CellSpec::Class { strings, current } = emitter.cell {
                emitter.cell = strings.side(side, own.rated, current);
            }
        }
        Cow::Owned(own)
    }

    /// Both sides and the middle at the corners where they are judged.
    #[must_use]
    pub fn sides(&self) -> Corners<Cow<'_, Self>> {
        Corners {
            low: self.side(Side::Weaker),
            nominal: self.side(Side::Middle),
            high: self.side(Side::Stronger),
        }
    }
}
