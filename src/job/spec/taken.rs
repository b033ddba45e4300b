//! What was taken for facts that a job file is silent about.

use crate::exact::ExactLength;
use crate::quantity::{
    ElectricalResistance, Ratio, ThermodynamicTemperature, celsius, milliohms, percent,
};
use crate::source::Source;

/// Tolerance of a supply of which only watts and volts are known.
#[must_use]
pub fn supply_tolerance() -> Ratio {
    percent(1.0)
}

/// Ambient of a place that states none.
#[must_use]
pub fn place_ambient() -> ThermodynamicTemperature {
    celsius(40.0)
}

/// Resistance of one switch of a decoder that is not named.
#[must_use]
pub fn decoder_switch() -> ElectricalResistance {
    milliohms(30.0)
}

/// Length of a reel of which nothing is known.
pub const REEL: ExactLength = ExactLength::from_millimetres(5000);
/// Outputs of a decoder that is not named, at least.
pub const DECODER_OUTPUTS: u32 = 4;

/// A fact that was taken for one thing of the job.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Taken {
    /// Which.
    pub fact: TakenFact,
    /// Name of the strip, cable, supply, decoder, place or run it is of; empty: of the job.
    pub of: String,
}

/// A fact that a job file may be silent about. The value stands where a stated one would, in the [`JobSpec`](super::JobSpec).
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum TakenFact {
    /// Copper of the rails of a strip: the two sides of a class.
    Copper,
    /// Forward voltage of the diodes of a strip: the two sides of a class.
    Strings,
    /// What the power of a strip was measured on: a short piece or a full reel.
    PowerBasis,
    /// Emitters of a strip share its power alike.
    PowerShares,
    /// Which side the emitters of a strip share.
    Polarity,
    /// Length of a reel.
    Reel,
    /// Cores of a cable.
    Cores,
    /// Material and strands of a cable.
    Flexible,
    /// Greatest temperature of the insulation of a cable.
    Insulation,
    /// Way of installation of a cable.
    Installed,
    /// Tolerance of a supply.
    SupplyTolerance,
    /// Current of an output of a supply.
    OutputCurrent,
    /// One place for all supplies and decoders.
    OnePlace,
    /// Ambient of a place.
    PlaceAmbient,
    /// All runs are of one zone.
    OneZone,
    /// Universe that decoders listen to.
    Universe,
    /// Resistance of a switch of a decoder that is not named.
    DecoderSwitch,
    /// Feeders reach a run at its start; on to another point they go along it.
    Feeder,
    /// A feeder may enter a run anywhere.
    FeedAnywhere,
}

impl TakenFact {
    /// The word it stands under in the canonical form of a job.
    pub(in crate::job) const fn word(self) -> &'static str {
        match self {
            Self::Copper => "copper",
            Self::Strings => "strings",
            Self::PowerBasis => "power basis",
            Self::PowerShares => "power shares",
            Self::Polarity => "polarity",
            Self::Reel => "reel",
            Self::Cores => "cores",
            Self::Flexible => "copper, flexible",
            Self::Insulation => "insulation",
            Self::Installed => "installed",
            Self::SupplyTolerance => "tolerance",
            Self::OutputCurrent => "output current",
            Self::OnePlace => "one place",
            Self::PlaceAmbient => "ambient",
            Self::OneZone => "one zone",
            Self::Universe => "universe",
            Self::DecoderSwitch => "decoder",
            Self::Feeder => "feeder",
            Self::FeedAnywhere => "fed anywhere",
        }
    }

    /// Its words, before the thing that it is of.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Copper => "copper of the rails",
            Self::Strings => "forward voltage of the diodes",
            Self::PowerBasis => "what the power was measured on, a short piece or a full reel,",
            Self::PowerShares => "equal shares of the power for the emitters",
            Self::Polarity => "common plus, polarity",
            Self::Reel => "length of a reel",
            Self::Cores => "number of cores",
            Self::Flexible => "flexible copper, cores",
            Self::Insulation => "PVC, temperature of the insulation",
            Self::Installed => "in conduit in an insulated wall, installation",
            Self::SupplyTolerance => "tolerance of the voltage",
            Self::OutputCurrent => "current of an output",
            Self::OnePlace => "one place for all supplies and decoders",
            Self::PlaceAmbient => "ambient",
            Self::OneZone => "one zone for all runs",
            Self::Universe => "universe of the decoders",
            Self::DecoderSwitch => "resistance of a switch",
            Self::Feeder => "one length of feeder, to the start",
            Self::FeedAnywhere => "a feed at any cut mark",
        }
    }

    /// Where what is taken comes from.
    #[must_use]
    pub const fn source(self) -> Source {
        match self {
            Self::Copper => super::CopperClass::SOURCE,
            Self::Strings => Source::assumption(
                "strings with a ballast, a diode for every 4 V of the rated voltage: 2.8 V to 3.2 V each, 2.0 V to 3.2 V of \
                 three or more emitters",
            ),
            Self::PowerBasis => Source::assumption(
                "a label that does not say what its power was measured on may mean a short piece or a full reel",
            ),
            Self::PowerShares => Source::assumption(
                "emitters of which no power is stated share that of the tape alike",
            ),
            Self::Polarity => Source::common_practice("tape with a common plus"),
            Self::Reel => Source::common_practice("reels of 5 m"),
            Self::Cores => Source::computed("one core for each emitter and one in common"),
            Self::Flexible => {
                Source::assumption("a cable of which only the size is known is of flexible copper")
            }
            Self::Insulation => Source::assumption(
                "insulation of PVC: 70 °C by IEC 60364-5-52 for metric sizes, 60 °C, the lowest of NFPA 70 table 310.16, for gauges",
            ),
            Self::Installed => Source::assumption(
                "the reference method of IEC 60364-5-52 in air with the least ampacity: A2, a multi-core cable in conduit in a \
                 thermally insulated wall",
            ),
            Self::SupplyTolerance => {
                Source::assumption("the voltage of a supply lies within 1 % of its label")
            }
            Self::OutputCurrent => {
                Source::computed("rated power by rated volts, shared alike by the outputs")
            }
            Self::OnePlace => Source::assumption("all supplies and decoders stand in one place"),
            Self::PlaceAmbient => Source::assumption("a cupboard or ceiling void of 40 °C"),
            Self::OneZone => Source::assumption("all runs are switched or dimmed together"),
            Self::Universe => Source::assumption("the first universe"),
            Self::DecoderSwitch => Source::assumption(
                "a decoder that is not named has switches of 30 mΩ, between 0 and 60 mΩ",
            ),
            Self::Feeder => Source::assumption(
                "a feeder is as long as stated to the start of its run, and goes on along the run from there",
            ),
            Self::FeedAnywhere => {
                Source::assumption("a run with one length of feeder may be fed at any cut mark")
            }
        }
    }
}
