//! Tape from what a sheet or the label of a reel says.

use super::error::AskError;
use crate::exact::{CutPitch, ExactLength};
use crate::job::spec::Limits;
use crate::plan::corner_set;
use crate::quantity::{
    ElectricPotential, Length, LinearPower, LinearResistance, Ratio, amps, show,
};
use crate::strip::{
    CopperClass, EmitterSpec, Falls, FedFrom, PowerBasis, RailSpec, Side, StringClass, StripSpec,
    TapeModel, VOLTS_A_DIODE,
};

/// What a sheet or the label of a reel says of a tape of one emitter.
#[derive(Debug, Clone, PartialEq)]
pub struct TapeFacts {
    /// Rated voltage.
    pub volts: ElectricPotential,
    /// Power per length, as a short piece draws it.
    pub power: LinearPower,
    /// Distance between cuts.
    pub cut: CutPitch,
    /// What is known of its copper.
    pub copper: Copper,
}

/// What is known of the copper of a tape.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Copper {
    /// Nothing: between the two sides of [`CopperClass`].
    Unknown,
    /// Resistance per length of both rails together, at 20 °C.
    Loop(LinearResistance),
    /// Finished foil.
    Foil {
        /// Thickness of one layer.
        thickness: Length,
        /// Layers that carry each rail.
        layers: u32,
        /// Width of one rail.
        width: Length,
    },
    /// The longest run that the maker permits, with what is meant by it.
    LongestRun {
        /// Length.
        length: ExactLength,
        /// Fed from where.
        fed: FedFrom,
        /// What falls to the far end.
        falls: Falls,
        /// By which share it falls.
        by: Ratio,
    },
}

impl Copper {
    /// The rails it means: the thinner of two first, where it is not known.
    fn rails(self) -> Vec<RailSpec> {
        vec![match self {
            Self::Unknown => {
                let side = |side| CopperClass::Any.side(side, 1);
                return vec![side(Side::Weaker), side(Side::Stronger)];
            }
            Self::Loop(both) => RailSpec::Stated {
                common: both / 2.0,
                returns: both / 2.0,
            },
            Self::Foil {
                thickness,
                layers,
                width,
            } => RailSpec::Foil {
                layers,
                thickness,
                common_width: width,
                return_width: width,
            },
            Self::LongestRun {
                length,
                fed,
                falls,
                by,
            } => RailSpec::MaximumRun {
                length,
                fed,
                falls,
                by,
            },
        }]
    }
}

impl TapeFacts {
    /// A tape of which a label says volts, watts a metre and the distance between cuts.
    #[must_use]
    pub fn new(volts: ElectricPotential, power: LinearPower, cut: CutPitch) -> Self {
        Self {
            volts,
            power,
            cut,
            copper: Copper::Unknown,
        }
    }

    /// What was assumed to make a model of it.
    pub(super) fn assumed(&self) -> Vec<String> {
        let mut all = vec![format!(
            "strings of {} diodes of 3 V with a ballast",
            self.diodes()
        )];
        all.extend(self.assumed_copper());
        all
    }

    /// What was assumed of its copper.
    pub(super) fn assumed_copper(&self) -> Vec<String> {
        let mut all = Vec::new();
        if self.copper == Copper::Unknown {
            all.push(
                "copper between one layer of 35 µm x 3 mm and two of 70 µm x 4 mm a rail (state copper or the \
                 longest run, and the answer is one figure)"
                    .to_string(),
            );
        }
        all
    }

    /// Its model, or the two that enclose it: the thinner copper first.
    pub(super) fn models(&self) -> Result<Vec<TapeModel>, AskError> {
        let coppers = self.copper.rails().into_iter();
        coppers
            .map(|rails| Ok(self.strip(rails)?.model(&corner_set(&Limits::default()))?))
            .collect()
    }

    fn diodes(&self) -> u32 {
        StringClass::diodes(self.volts)
    }

    fn strip(&self, rails: RailSpec) -> Result<StripSpec, AskError> {
        let accepted = "above 4 V, at most 120 V";
        if !(self.volts.value > VOLTS_A_DIODE && self.volts.value <= 120.0) {
            return Err(AskError::figure(
                "the voltage of the tape",
                show(self.volts),
                accepted,
                "Give its rated voltage",
            ));
        }
        if !(self.power.value > 0.0 && self.power.value <= 1000.0) {
            return Err(AskError::figure(
                "the power of the tape",
                show(self.power),
                "above 0 W/m, at most 1000 W/m",
                "Give the power per length of its label",
            ));
        }
        let current = self.power.value * self.cut.to_length().value / self.volts.value;
        Ok(StripSpec {
            name: "tape".into(),
            rated: self.volts,
            polarity: Default::default(),
            pitch: self.cut,
            cells: 1,
            emitters: vec![EmitterSpec {
                name: "white".into(),
                flux: None,
                cell: StringClass::White.side(Side::Middle, self.volts, amps(current)),
            }],
            rails,
            highest_volts: None,
            highest_ambient: None,
            power: None,
            power_basis: PowerBasis::ShortPiece,
            longest_branch: None,
            pad_current: None,
            bend_radius: None,
            reel: ExactLength::from_millimetres(5000),
            reel_joint: None,
            splices: None,
            ingress: None,
            price: None,
        })
    }
}
