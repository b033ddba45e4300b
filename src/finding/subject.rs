//! What a finding speaks of.

use super::{Conductor, LeadSide, Name, Service};
use crate::exact::ExactLength;
use crate::id::{
    CableId, ChainId, DecoderId, DeviceId, EmitterId, FeedId, PartId, PlaceId, ProductId, RunId,
    SegmentId, SupplyId, UniverseId, ZoneId,
};
use serde::{Deserialize, Serialize};
use std::fmt;

/// The thing that a finding speaks of, by its id.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Subject {
    /// The whole job.
    Job,
    /// A run.
    Run(RunId),
    /// A corner of a run, from 1.
    Corner {
        /// Run.
        run: RunId,
        /// Which, from 1.
        number: u64,
    },
    /// A straight leg of a run, from 1.
    Leg {
        /// Run.
        run: RunId,
        /// Which, from 1.
        number: u64,
    },
    /// A cut increment of a run, or a mark between two, for one emitter or for all.
    Mark {
        /// Run.
        run: RunId,
        /// Emitter, where it is one.
        emitter: Option<EmitterId>,
        /// Whether an increment is meant, not the mark.
        increment: bool,
        /// Which, from 0.
        number: u64,
        /// How far that is from the start of the tape, which is what is printed; older designs do not hold it.
        #[serde(default)]
        position: Option<ExactLength>,
    },
    /// A segment.
    Segment(SegmentId),
    /// The break between two segments.
    Break {
        /// The segment before.
        before: SegmentId,
        /// The segment behind.
        behind: SegmentId,
    },
    /// A feed.
    Feed(FeedId),
    /// One conductor of the feeder of a feed.
    Feeder {
        /// Feed.
        feed: FeedId,
        /// Conductor.
        conductor: Conductor,
    },
    /// One conductor of the lead to a decoder.
    Lead {
        /// Decoder.
        decoder: DecoderId,
        /// Which of its two sides.
        #[serde(alias = "conductor")]
        side: LeadSide,
    },
    /// One conductor of a jumper from one piece of tape to the next.
    Jumper {
        /// Jumper.
        jumper: CableId,
        /// Conductor.
        conductor: Conductor,
    },
    /// The busiest rail of the tape of a segment.
    Rail(SegmentId),
    /// A tape of the job's list.
    Strip(ProductId),
    /// A cable of the job's list.
    Cable(ProductId),
    /// A stock length that is cut, by its name: a profile, a cover, a tape.
    Stock(Name),
    /// A supply.
    Supply(SupplyId),
    /// An output of a supply, from 1.
    Output {
        /// Supply.
        supply: SupplyId,
        /// Which, from 1.
        output: u64,
    },
    /// The pole that the outputs of a unit share inside it.
    SharedPole(DeviceId),
    /// A decoder.
    Decoder(DecoderId),
    /// The decoders of a zone at a place, while none is chosen yet.
    Decoders {
        /// Place.
        place: PlaceId,
        /// Zone.
        zone: ZoneId,
    },
    /// The supplies of a place, while none is chosen yet.
    Supplies {
        /// Place.
        place: PlaceId,
        /// Service, where it is not the normal one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        service: Option<Service>,
    },
    /// A device that is there already.
    Installed(DeviceId),
    /// A place.
    Place(PlaceId),
    /// A universe.
    Universe(UniverseId),
    /// A chain.
    Chain(ChainId),
    /// What one driver of a chain drives.
    Link(DataLink),
    /// A part of a link: a device, a splitter, a joint.
    Part {
        /// Link.
        link: DataLink,
        /// Part.
        part: PartId,
    },
    /// A point of a link: the connections of a part, or of the port.
    Point {
        /// Link.
        link: DataLink,
        /// Part, or `source`.
        at: PartId,
    },
    /// The cable between two parts of a link.
    DataCable {
        /// Link.
        link: DataLink,
        /// Part, or `source`.
        from: PartId,
        /// Part.
        to: PartId,
    },
    /// A splitter of a chain.
    Splitter {
        /// Chain.
        chain: ChainId,
        /// Splitter.
        splitter: PartId,
    },
    /// A start address of a device.
    Address {
        /// Device.
        device: DeviceId,
        /// Universe.
        universe: u16,
        /// Slot, 1 to 512.
        slot: u16,
    },
    /// Anything else, by the name that its maker gave it.
    Named(Name),
}

/// By its name.
impl From<&str> for Subject {
    fn from(name: &str) -> Self {
        Self::Named(name.into())
    }
}

impl From<String> for Subject {
    fn from(name: String) -> Self {
        Self::Named(name.into())
    }
}

/// What one driver of a chain drives: the cable behind its port, or behind one output of a splitter.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DataLink {
    /// Chain.
    pub chain: ChainId,
    /// The output that drives it; none: the port of the chain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub output: Option<SplitterOutput>,
}

/// One output of a splitter.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SplitterOutput {
    /// Splitter.
    pub splitter: PartId,
    /// Which, from 1.
    pub number: u64,
}

/// As a person calls it: `chain north, S1 output 2`.
impl fmt::Display for DataLink {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "chain {}", self.chain)?;
        match &self.output {
            Some(output) => write!(f, ", {} output {}", output.splitter, output.number),
            None => Ok(()),
        }
    }
}

/// As a person calls it: `segment S1.2`.
impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Job => write!(f, "whole job"),
            Self::Run(run) => write!(f, "run {run}"),
            Self::Corner { run, number } => write!(f, "run {run}, corner {number}"),
            Self::Leg { run, number } => write!(f, "run {run}, leg {number}"),
            Self::Mark {
                run,
                emitter,
                increment,
                number,
                position,
            } => {
                let emitter = emitter.as_ref().map_or(String::new(), |e| format!(", {e}"));
                if let Some(position) = position {
                    return write!(
                        f,
                        "run {run}{emitter}, {position} from the start of its tape"
                    );
                }
                let what = if *increment { "cut" } else { "cut mark" };
                write!(f, "run {run}{emitter}, {what} {number}")
            }
            Self::Segment(segment) => write!(f, "segment {segment}"),
            Self::Break { before, behind } => {
                write!(f, "between segments {before} and {behind}")
            }
            Self::Feed(feed) => write!(f, "feed {feed}"),
            Self::Feeder { feed, conductor } => write!(f, "feeder {feed}, {conductor}"),
            Self::Lead { decoder, side } => {
                let own = decoder.as_str().trim_start_matches("D-");
                write!(f, "lead L-{own}, {side}")
            }
            Self::Jumper { jumper, conductor } => write!(f, "jumper {jumper}, {conductor}"),
            Self::Rail(segment) => write!(f, "tape {segment}, busiest rail"),
            Self::Strip(strip) => write!(f, "strip {strip}"),
            Self::Cable(cable) => write!(f, "cable {cable}"),
            Self::Stock(what) => write!(f, "stock {what}"),
            Self::Supply(supply) => write!(f, "supply {supply}"),
            Self::Output { supply, output } => write!(f, "supply {supply}, output {output}"),
            Self::SharedPole(unit) => write!(f, "inside {unit}"),
            Self::Decoder(decoder) => write!(f, "decoder {decoder}"),
            Self::Decoders { place, zone } => write!(f, "decoders of {zone} at {place}"),
            Self::Supplies { place, service } => match service {
                Some(service) => write!(f, "supplies at {place}, {} service", service.word()),
                None => write!(f, "supplies at {place}"),
            },
            Self::Installed(device) => write!(f, "installed {device}"),
            Self::Place(place) => write!(f, "place {place}"),
            Self::Universe(universe) => write!(f, "universe {universe}"),
            Self::Chain(chain) => write!(f, "chain {chain}"),
            Self::Link(link) => write!(f, "{link}"),
            Self::Part { link, part } => write!(f, "{link}, {part}"),
            Self::Point { link, at } => write!(f, "{link}, at {at}"),
            Self::DataCable { link, from, to } => write!(f, "{link}, {from} to {to}"),
            Self::Splitter { splitter, .. } => write!(f, "{splitter}"),
            Self::Address {
                device,
                universe,
                slot,
            } => write!(f, "{device} at {universe}.{slot:03}"),
            Self::Named(name) => write!(f, "{name}"),
        }
    }
}
