//! Where devices go, and what dims together.

use crate::exact::ExactLength;
use crate::layout::spec::RouteBasis;
use crate::quantity::ThermodynamicTemperature;
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// Surroundings of a device or a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Environment {
    /// Dry, indoors.
    #[default]
    Dry,
    /// Damp: condensation, splashes now and then.
    Damp,
    /// Wet.
    Wet,
    /// Outdoors.
    Outdoor,
}

impl Environment {
    /// The word printed for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::Damp => "damp",
            Self::Wet => "wet",
            Self::Outdoor => "outdoor",
        }
    }
}

/// Whether a circuit serves normal lighting, emergency lighting, or both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Service {
    /// Normal lighting.
    #[default]
    Normal,
    /// Emergency lighting only.
    Emergency,
    /// Both.
    Both,
}

impl Service {
    /// The word printed for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Normal => "normal",
            Self::Emergency => "emergency",
            Self::Both => "both",
        }
    }
}

/// Degrees of protection of an enclosure: first digit solids, second water (IEC 60529).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct IngressCode {
    solids: u8,
    water: u8,
}

/// A text is no ingress code.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "`{found}` is no ingress code: write one like \"IP20\" or \"IP65\", first digit 0 to 6, second 0 to 9"
)]
pub struct IngressCodeError {
    /// The text.
    pub found: String,
}

impl IngressCode {
    /// No protection at all.
    pub const NONE: Self = Self {
        solids: 0,
        water: 0,
    };

    /// First digit: 0 to 6.
    #[must_use]
    pub fn solids(self) -> u8 {
        self.solids
    }

    /// Second digit: 0 to 9.
    #[must_use]
    pub fn water(self) -> u8 {
        self.water
    }

    /// Whether both digits are at least those of `needed`.
    #[must_use]
    pub fn covers(self, needed: Self) -> bool {
        self.solids >= needed.solids && self.water >= needed.water
    }
}

impl FromStr for IngressCode {
    type Err = IngressCodeError;

    /// Reads `"IP65"`, `"IP 65"`.
    fn from_str(text: &str) -> Result<Self, IngressCodeError> {
        let found = text.trim();
        let digits = found.strip_prefix("IP").unwrap_or("").trim_start();
        match digits.as_bytes() {
            [solids @ b'0'..=b'6', water @ b'0'..=b'9'] => Ok(Self {
                solids: solids - b'0',
                water: water - b'0',
            }),
            _ => Err(IngressCodeError {
                found: crate::quantity::shorten(found),
            }),
        }
    }
}

impl fmt::Display for IngressCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("IP{}{}", self.solids, self.water))
    }
}

/// Where supplies and decoders may be put.
#[derive(Debug, Clone, PartialEq)]
pub struct PlaceSpec {
    /// Name.
    pub name: String,
    /// Room it is in.
    pub room: String,
    /// How it is reached, for whoever replaces a supply; may be empty.
    pub access: String,
    /// Surroundings.
    pub environment: Environment,
    /// Ambient inside it.
    pub ambient: ThermodynamicTemperature,
    /// Mains circuit it is on, as its panel names it; may be empty.
    pub circuit: String,
    /// Which service that circuit has.
    pub service: Service,
    /// Kinds of supply that may be put here; empty: any of the job.
    pub supplies: Vec<String>,
    /// Kinds of decoder that may be put here; empty: any of the job.
    pub decoders: Vec<String>,
    /// Most supplies it holds; none: not limited.
    pub most_supplies: Option<u32>,
    /// Most decoders it holds; none: not limited.
    pub most_decoders: Option<u32>,
    /// Length of the lead between a supply and a decoder that are both here.
    pub lead: ExactLength,
    /// Cables that lead may be made of; empty: any of the job.
    pub lead_cables: Vec<String>,
    /// Cable ways to other places.
    pub ways: Vec<WaySpec>,
}

/// A cable way from one place to another; it may be used in both directions.
#[derive(Debug, Clone, PartialEq)]
pub struct WaySpec {
    /// The other place.
    pub to: String,
    /// Length along the cable, one way.
    pub length: ExactLength,
    /// How the length is known.
    pub basis: RouteBasis,
    /// Cables it may be made of; empty: any of the job.
    pub cables: Vec<String>,
}

/// What dims together.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneSpec {
    /// Name.
    pub name: String,
    /// Its tape.
    pub strip: String,
    /// How it is controlled.
    pub control: Control,
    /// Which emitters are lit together.
    pub together: Together,
    /// Places its supplies and decoders may be put in, in order of preference.
    pub places: Vec<String>,
    /// Kinds of supply it may use; empty: any of the job.
    pub supplies: Vec<String>,
    /// Kinds of decoder it may use; empty: any of the job. Not used by a switched zone.
    pub decoders: Vec<String>,
    /// Cables its feeders may be made of; a run may state its own.
    pub cables: Vec<String>,
    /// Which service it is part of.
    pub service: Service,
    /// Universe its decoders listen to; none: the only one of the job.
    pub universe: Option<String>,
}

/// How a zone is controlled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Control {
    /// On and off at the supply; no decoder.
    Switched,
    /// Over DMX512 by decoders.
    Dmx {
        /// Bits of each emitter's level.
        bits: LevelBits,
        /// Dimming curve it is set to.
        curve: LevelCurve,
    },
}

/// Bits of a level on the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum LevelBits {
    /// One slot an emitter.
    #[default]
    Eight,
    /// Two slots an emitter, coarse and fine.
    Sixteen,
}

impl LevelBits {
    /// Slots of one emitter.
    #[must_use]
    pub fn slots(self) -> u16 {
        match self {
            Self::Eight => 1,
            Self::Sixteen => 2,
        }
    }
}

/// Relation between level and light that a zone asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum LevelCurve {
    /// Light in proportion to level.
    #[default]
    Linear,
    /// Light as the square of the level.
    Square,
    /// Light as the cube of the level.
    Cubic,
}

impl LevelCurve {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Linear => "linear",
            Self::Square => "square law",
            Self::Cubic => "cube law",
        }
    }
}

/// Which emitters of a zone are lit together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Together {
    /// All of them, and each alone.
    #[default]
    AllAndEachAlone,
    /// These sets of emitters, by name; at least one.
    Listed(Vec<Vec<String>>),
}
