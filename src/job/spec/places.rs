//! Where devices go, and what dims together.

use super::fixed::Standby;
use crate::device::{Environment, IngressCode, LevelBits, LevelCurve};
use crate::exact::ExactLength;
use crate::finding::Service;
use crate::layout::spec::RouteBasis;
use crate::quantity::ThermodynamicTemperature;

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
    /// Ingress code that devices need here, where one is stated.
    pub ingress: Option<IngressCode>,
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
    /// Devices of which one of each kind in use stands by.
    pub standby: Standby,
    /// Length of the lead between a supply and a decoder that are both here; none: [`PlaceSpec::USUAL_LEAD`] is taken.
    pub lead: Option<ExactLength>,
    /// Cables that lead may be made of; empty: any of the job.
    pub lead_cables: Vec<String>,
    /// Cable ways to other places. Kept, and not used by the planner yet: each plan that has some says so.
    pub ways: Vec<WaySpec>,
}

impl PlaceSpec {
    /// Lead that is taken where a place states none, and stands among what the plan assumed: half a metre, which joins
    /// two devices side by side in one box.
    pub const USUAL_LEAD: ExactLength = ExactLength::from_millimetres(500);

    /// Length of the lead between a supply and a decoder that are both here.
    #[must_use]
    pub fn lead_length(&self) -> ExactLength {
        self.lead.unwrap_or(Self::USUAL_LEAD)
    }
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

/// Which emitters of a zone are lit together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub enum Together {
    /// All of them, and each alone.
    #[default]
    AllAndEachAlone,
    /// These sets of emitters, by name; at least one.
    Listed(Vec<Vec<String>>),
}
