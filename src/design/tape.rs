//! Runs, pieces, segments, feeds, stock.

use super::{Name, Solved, Weakest};
use crate::choose::feeding::Pattern;
use crate::device::{Environment, IngressCode};
use crate::exact::ExactLength;
use crate::finding::{Conductor, Service};
use crate::id::{CableId, FeedId, PieceId, ProductId, RunId, SegmentId, StockId, ZoneId};
use crate::layout::spec::Turn;
use crate::quantity::{Amps, Corners, Share, Temperature, Volts, Watts};
use serde::{Deserialize, Serialize};

/// A run as drawn and as lit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Run {
    /// Id.
    pub id: RunId,
    /// Zone it dims with.
    pub zone: ZoneId,
    /// Room.
    pub room: Name,
    /// Reference of the drawing.
    pub drawing: Name,
    /// Tape.
    pub strip: ProductId,
    /// Length drawn.
    pub drawn: ExactLength,
    /// Length that lights.
    pub lit: ExactLength,
    /// Dark at the start.
    pub dark_start: ExactLength,
    /// Dark at the end.
    pub dark_end: ExactLength,
    /// Dark between: gaps and corners.
    pub dark_between: ExactLength,
    /// Cut increments.
    pub increments: u64,
    /// What it is drawn of.
    pub path: Path,
    /// Where its tape, corners and gaps lie on the line as drawn; empty in a design that was written before it was kept.
    #[serde(default)]
    pub line: Line,
    /// Profile, where it lies in one.
    pub profile: Option<ProductId>,
    /// Whether the metal of the profile is connected to earth, where the job says so.
    #[serde(default)]
    pub profile_earthed: Option<bool>,
    /// Cover of the profile.
    pub cover: Option<Cover>,
    /// Surroundings.
    pub environment: Environment,
    /// Ambient.
    pub ambient: Temperature,
    /// Ingress code that it needs, where stated.
    pub ingress: Option<IngressCode>,
    /// Normal or emergency.
    pub service: Service,
    /// Whether its breaks are seen.
    pub seen: bool,
    /// Whether the arrangement that was chosen keeps every limit of its search.
    pub fed: bool,
    /// Its weakest cell and what would help it, or why it is not known.
    #[serde(default = "Weakest::unwritten")]
    pub weakest: Solved<Weakest>,
}

/// What a run is drawn of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Path {
    /// Straights.
    pub straights: u64,
    /// Inside corners.
    pub inside_corners: u64,
    /// Outside corners.
    pub outside_corners: u64,
    /// Gaps.
    pub gaps: u64,
}

/// A run on its drawn line: positions are distances from its start, straights and gaps in their length, corners in none.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Line {
    /// Tape, from the start.
    pub lit: Vec<Lit>,
    /// Corners.
    pub corners: Vec<Corner>,
    /// Gaps.
    pub gaps: Vec<Gap>,
}

/// Tape on a straight.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Lit {
    /// First mark, in increments from the start of the run's tape.
    pub first: u64,
    /// Last mark.
    pub last: u64,
    /// Where the first mark lies on the drawn line.
    pub from: ExactLength,
    /// Where the last one does.
    pub to: ExactLength,
}

/// A corner of the drawn line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Corner {
    /// Position.
    pub at: ExactLength,
    /// Which side of the line the tape is on.
    pub turn: Turn,
    /// How the tape gets round it.
    pub made: CornerMade,
}

/// How tape gets round a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum CornerMade {
    /// Cut, with a jumper from piece to piece.
    Jumper,
    /// Bent, uncut.
    Bend,
    /// Cut, with a moulded joint.
    MouldedJoint,
}

/// A stretch of the drawn line that bears no tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Gap {
    /// From here.
    pub from: ExactLength,
    /// To here.
    pub to: ExactLength,
    /// Whether a jumper bridges it.
    pub jumper: bool,
}

/// Cover of a profile.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Cover {
    /// In the job's words.
    pub description: Name,
}

/// A piece of tape to be cut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Piece {
    /// Id.
    pub id: PieceId,
    /// Run.
    pub run: RunId,
    /// Segment.
    pub segment: SegmentId,
    /// Number of the segment in its run, from 1.
    pub number: u64,
    /// Tape.
    pub strip: ProductId,
    /// Increments.
    pub increments: u64,
    /// Length.
    pub length: ExactLength,
    /// First cut mark, from the start of the run's tape.
    pub from: ExactLength,
    /// What is done at its start.
    pub start: EndWork,
    /// What is done at its end.
    pub end: EndWork,
    /// Reels that it is cut from.
    pub reels: Vec<StockId>,
}

/// What is done at an end of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum EndWork {
    /// A lead.
    Lead,
    /// A lead that leaves at the back.
    LeadAtBack,
    /// A jumper to the next piece.
    Jumper,
    /// An end cap.
    EndCap,
}

/// A piece of a run that is electrically on its own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Segment {
    /// Id.
    pub id: SegmentId,
    /// Run.
    pub run: RunId,
    /// Tape.
    pub strip: ProductId,
    /// First mark, in increments from the start of the run's tape.
    pub first: u64,
    /// Last mark.
    pub last: u64,
    /// Lit length.
    pub length: ExactLength,
    /// Whether the break at its end, towards the next segment of its run, is seen.
    pub end_seen: bool,
    /// How it is fed.
    pub pattern: Pattern,
    /// Its feeds.
    pub feeds: Vec<FeedId>,
    /// What the joint solve says.
    pub solved: Solved<SegmentFigures>,
}

/// Light, volts and amps of a segment, solved with everything that shares its copper.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SegmentFigures {
    /// Least voltage across a cell, over all states.
    pub least_volts: Corners<Volts>,
    /// Volts along it: of cells from its start to its end, enough of them to draw a line through. Empty in a design that
    /// was written before they were kept.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub along: Vec<VoltsAt>,
    /// Greatest drop from the terminals of the supply to a cell, of any build within the tolerances.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drop: Option<Volts>,
    /// Least current of a cell, as a share of nominal.
    pub least_current: Corners<Share>,
    /// Emitter that has it.
    pub weakest: Name,
    /// Mark before the cell that has it.
    pub weakest_at: u64,
    /// Greatest departure from even balance of emitters lit together, low corner.
    pub balance: Share,
    /// Power into the tape, most over the states.
    pub power: Corners<Watts>,
    /// Greatest current of a rail, high corner.
    pub rail_current: Amps,
    /// Bound on the error of the nominal voltages.
    pub volt_error_bound: Volts,
    /// Current of the first cell by emitter, as a share of nominal, low corner; none where it is never lit.
    pub first_cell: Vec<Option<Share>>,
    /// The same of the last cell.
    pub last_cell: Vec<Option<Share>>,
    /// Current of the first cell with its supply at the top of its tolerance, all else as at the low corner; empty where no
    /// break beside it is seen with its other side on another supply.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub first_cell_raised: Vec<Option<Share>>,
    /// The same of the last cell.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub last_cell_raised: Vec<Option<Share>>,
    /// Steps of light across joints of the path inside.
    pub steps: Vec<Step>,
}

/// Volts across the weakest cell of an increment with every emitter at full: as built nominally, and between what any
/// build within the tolerances has.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct VoltsAt {
    /// Mark before the increment, from the start of the run's tape.
    pub mark: u64,
    /// Volts.
    pub volts: Corners<Volts>,
}

/// A step of light across a joint inside a segment, low corner.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Step {
    /// Mark of the joint.
    pub at: u64,
    /// Whether the joint is seen.
    pub seen: bool,
    /// Step.
    pub step: Share,
}

/// A feed: where copper enters the tape.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Feed {
    /// Id.
    pub id: FeedId,
    /// Segment.
    pub segment: SegmentId,
    /// Mark, in increments from the start of the run's tape.
    pub mark: u64,
    /// Distance from the start of the run's tape.
    pub position: ExactLength,
    /// Conductors that enter.
    pub conductors: Vec<FeedConductor>,
    /// Its feeder.
    pub cable: CableId,
    /// Kind of the feeder.
    pub kind: ProductId,
    /// Where it comes from.
    pub from: super::Terminals,
    /// Volts between plus and the weakest return at the feed, most emitters lit.
    pub volts: Option<Corners<Volts>>,
    /// Joint to the tape.
    pub joint: Joint,
}

/// One conductor of a feed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FeedConductor {
    /// Function.
    pub conductor: Conductor,
    /// Greatest current over the lit states, high corner.
    pub current: Amps,
}

/// How a feed is joined to the tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Joint {
    /// Soldered, with strain relief.
    Soldered,
}

/// A stock length and what is cut from it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Stock {
    /// Id.
    pub id: StockId,
    /// Bar, cover or reel.
    pub kind: StockKind,
    /// What it is: profile or tape.
    pub product: ProductId,
    /// Cover, in the job's words, where it is one.
    pub cover: Option<Cover>,
    /// Stock length.
    pub length: ExactLength,
    /// Pieces in cutting order.
    pub parts: Vec<StockPart>,
    /// Lost to the saw.
    pub kerf: ExactLength,
    /// Left over.
    pub offcut: ExactLength,
}

impl Stock {
    /// What it is called: the tape, the profile, or profile and cover.
    #[must_use]
    pub fn called(&self) -> String {
        match &self.cover {
            Some(cover) => format!("{}, {}", self.product, cover.description),
            None => self.product.to_string(),
        }
    }
}

/// What a stock length is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum StockKind {
    /// A bar of profile.
    Bar,
    /// A length of cover.
    Cover,
    /// A reel of tape.
    Reel,
}

/// A piece cut from a stock length.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct StockPart {
    /// Piece: a piece of tape, or a straight of a run: `S1 straight 2`.
    pub piece: PieceId,
    /// Which part of the piece, from 1.
    pub part: u64,
    /// Of how many.
    pub of: u64,
    /// Length.
    pub length: ExactLength,
}
