//! Cables, supplies, protection, connected load.

use super::{Name, Note, Solved};
use crate::device::{EnergyLimit, Environment, IngressCode};
use crate::exact::ExactLength;
use crate::finding::{Conductor, Service};
use crate::finding::{Subject, Verdict};
use crate::id::{
    CableId, DecoderId, PlaceId, ProductId, RuleId, SegmentId, SupplyId, UniverseId, ZoneId,
};
use crate::layout::spec::RouteBasis;
use crate::quantity::{Amps, Corners, Kilograms, Metres, Ohms, Share, Temperature, Volts, Watts};
use crate::source::Source;
use serde::{Deserialize, Serialize};

/// A place for devices.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Place {
    /// Id.
    pub id: PlaceId,
    /// Surroundings.
    pub environment: Environment,
    /// Ingress code that its devices need, where stated.
    pub ingress: Option<IngressCode>,
    /// Ambient.
    pub ambient: Temperature,
    /// Normal or emergency.
    pub service: Service,
    /// Most supplies, where stated.
    pub most_supplies: Option<u32>,
    /// Most decoders, where stated.
    pub most_decoders: Option<u32>,
    /// Supplies that stand by, those that carry something not counted.
    pub standby_supplies: u64,
    /// Decoders that stand by.
    pub standby_decoders: u64,
    /// Whether the job states ways from here to other places.
    pub has_ways: bool,
    /// Mains circuit of its supplies; empty where the job names none.
    #[serde(default)]
    pub circuit: Name,
    /// How people get there; empty where the job does not say.
    #[serde(default)]
    pub access: Note,
}

/// What dims together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Zone {
    /// Id.
    pub id: ZoneId,
    /// Tape.
    pub strip: ProductId,
    /// Normal or emergency.
    pub service: Service,
    /// Whether it is dimmed, over DMX512; else it is switched.
    pub dimmed: bool,
    /// Universe, where it has one.
    pub universe: Option<UniverseId>,
}

/// Where a cable starts or ends.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Terminals {
    /// An output of a supply, from 1.
    Supply {
        /// Supply.
        supply: SupplyId,
        /// Output, from 1.
        output: u64,
    },
    /// The supply terminals of a decoder.
    DecoderSupply(DecoderId),
    /// Outputs of a decoder, from 1.
    Decoder {
        /// Decoder.
        decoder: DecoderId,
        /// Outputs, from 1.
        outputs: Vec<u64>,
    },
    /// A mark of a segment.
    Segment {
        /// Segment.
        segment: SegmentId,
        /// Distance from the start of the run's tape.
        at: ExactLength,
    },
    /// No device was found for it.
    Nothing,
}

/// A lead to a decoder, a feeder to tape, or a jumper from one piece of tape to the next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Cable {
    /// Id.
    pub id: CableId,
    /// Where it starts.
    pub from: Terminals,
    /// Where it goes.
    pub to: Terminals,
    /// Kind.
    pub kind: ProductId,
    /// Cores in use, from the first.
    pub cores: Vec<Core>,
    /// Route, one way.
    pub route: ExactLength,
    /// How the route is known.
    pub known: RouteKnown,
    /// Core that carries most.
    pub busiest: Conductor,
    /// What that core carries, high corner.
    pub current: Option<Amps>,
    /// What a core may carry in this place.
    pub ampacity: Ampacity,
    /// Resistance of one core.
    pub core_resistance: Corners<Ohms>,
    /// One core at the temperature that its insulation is rated for: what a short circuit meets at the worst.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hottest_core: Option<Ohms>,
    /// How hot its busiest core gets in its ambient, by its current at the high corner; none where no table says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hot: Option<Temperature>,
    /// Greatest drop over the loop of any build within the tolerances, worst emitter.
    pub drop: Option<Volts>,
    /// The drop as a share of the rated voltage.
    pub drop_share: Option<Share>,
    /// Longest route, up to 1 km, at which every cell still has its least current and emitters their balance, low corner,
    /// everything else as planned.
    pub longest: Option<Metres>,
    /// Energy class inherited from the source.
    pub energy: EnergyLimit,
    /// Copper in it.
    pub copper: Kilograms,
    /// Ambient along it.
    pub ambient: Temperature,
}

/// How the route of a cable is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum RouteKnown {
    /// As its place states.
    PlaceStates,
    /// As the path of its run states: a jumper.
    PathStates,
    /// Measured, scaled or guessed.
    As(RouteBasis),
}

/// A core of a cable.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Core {
    /// Number, from 1.
    pub number: u64,
    /// Function.
    pub conductor: Conductor,
    /// Greatest current, high corner.
    pub current: Option<Amps>,
}

/// What a core may carry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Ampacity {
    /// The current, or why there is none.
    pub current: Solved<Amps>,
    /// Greatest overcurrent device that a rule permits for this size, with its source.
    pub largest_device: Option<(Amps, Source)>,
    /// Where it comes from.
    pub source: Source,
    /// How the cable counts among others that lie together; none where the job states how many do, or no table is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grouping: Option<Grouping>,
}

/// What is counted where cables lie together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Grouping {
    /// Circuits, by IEC 60364-5-52, table B.52.17.
    Circuits,
    /// Conductors that carry current, by the US code, table 310.15(C)(1).
    Conductors,
}

/// A supply.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Supply {
    /// Id.
    pub id: SupplyId,
    /// Place.
    pub place: PlaceId,
    /// Kind.
    pub kind: ProductId,
    /// Rated power at the ambient assumed.
    pub derated: Watts,
    /// Most that is planned on it.
    pub permitted: Watts,
    /// Whether its kind states a derating for the ambient of its place.
    pub derating_stated: bool,
    /// What it carries.
    pub load: Load,
    /// Whether it is there already, or was chosen by hand.
    pub fixed: bool,
    /// Why this one and not another.
    pub why: Note,
}

/// What a supply carries.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Load {
    /// Nothing: it stands by.
    Standby,
    /// Power, all outputs.
    Power(Corners<Watts>),
    /// It was not solved, and why.
    Not(Note),
}

impl Load {
    /// Power at the three corners; nothing for a supply that stands by.
    #[must_use]
    pub fn power(&self) -> Option<Corners<Watts>> {
        match self {
            Self::Standby => Some(Corners::same(Watts::from(crate::quantity::watts(0.0)))),
            Self::Power(power) => Some(*power),
            Self::Not(_) => None,
        }
    }
}

/// An output of a supply with what hangs on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Output {
    /// Supply.
    pub supply: SupplyId,
    /// Output, from 1.
    pub output: u64,
    /// What it feeds: a decoder or the segments of a switched zone.
    pub feeds: Vec<Fed>,
    /// Greatest current, or why it was not solved.
    pub current: Solved<Corners<Amps>>,
}

/// What an output of a supply feeds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Fed {
    /// A decoder.
    Decoder(DecoderId),
    /// Segments of a switched zone, under one name.
    Switched {
        /// What they are called together.
        name: Name,
        /// Zone.
        zone: ZoneId,
        /// Segments.
        segments: Vec<SegmentId>,
    },
}

/// A conductor, what it carries and what protects it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Protection {
    /// Conductor.
    pub conductor: Subject,
    /// Load current, high corner.
    pub load: Option<Amps>,
    /// Protective device upstream; none but the supply itself.
    pub device: Option<Name>,
    /// Ampacity, where something states it.
    pub ampacity: Option<Amps>,
    /// What the source can keep up; none: not known.
    pub source_limit: Option<Amps>,
    /// Fault current at the near end, high corner.
    pub fault_near: Option<Amps>,
    /// Fault current at the far end, low corner.
    pub fault_far: Option<Amps>,
    /// The worst that a rule says of it; none: nothing against it.
    pub worst: Option<(RuleId, Verdict)>,
}

/// Connected load of a zone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Energy {
    /// Zone.
    pub zone: ZoneId,
    /// Lit length.
    pub length: ExactLength,
    /// Power into the tape at nominal.
    pub tape: Option<Watts>,
    /// Lost in copper and switches at nominal.
    pub wiring: Option<Watts>,
    /// From the mains at nominal, where every supply states an efficiency.
    pub mains: Option<Watts>,
}
