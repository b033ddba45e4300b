//! What is asked: one run, what it may be cut, fed and wired with, and what must hold.
//!
//! Positions are cut marks counted in increments from the start of the run: mark 0 is the
//! start, mark `increments` the end. Money is whole minor units (cents), never a fraction.

mod cost;
mod fixed;
mod limits;

pub use cost::{CostModel, EnergyCost};
pub use fixed::{Fixed, FixedFeed, FixedSegment};
pub use limits::{FeedLimits, LitStates};

use crate::exact::ExactLength;
use crate::quantity::{
    Corners, ElectricCurrent, ElectricPotential, ElectricalResistance, LinearResistance, ohms,
    volts,
};
use crate::strip::TapeModel;

/// One run to be broken, fed and wired. Plain data: [`RunProblem::check`] makes it solvable.
#[derive(Debug, Clone)]
pub struct RunProblem {
    /// Name of the run, for messages.
    pub run: String,
    /// Its tape, as the search sees it.
    pub tape: TapeModel,
    /// Lit cut increments of the run.
    pub increments: u64,
    /// Corners, jumpers, splices between pieces: what lies at a cut mark beside plain tape.
    pub joints: Vec<Joint>,
    /// Marks at which the run may be cut into segments.
    pub breaks: Positions,
    /// Marks at which copper may enter. The two ends of the run count only if listed, or with `Ends` or `Any`.
    pub feed_points: Positions,
    /// Reels that the tape comes on; none: in any length.
    pub reel: Option<Reel>,
    /// Ways of feeding a segment that are candidates.
    pub patterns: Vec<Pattern>,
    /// Places that feeders may start from, with their routes.
    pub places: Vec<PlaceRoutes>,
    /// Wires that a feeder may be made of.
    pub wires: Vec<CandidateWire>,
    /// What every feeder starts from, where the place does not say otherwise.
    pub source: SourceModel,
    /// What must hold.
    pub limits: FeedLimits,
    /// Which emitters are lit together.
    pub states: LitStates,
    /// What things cost.
    pub costs: CostModel,
    /// What is already there or chosen by hand.
    pub fixed: Fixed,
    /// Most candidate segments that are solved in full before the search gives up its proof.
    pub effort: u64,
}

impl RunProblem {
    /// A run of `increments` cut increments of `tape`, fed from `places` through `wires`: broken and fed at any mark in
    /// every way, nothing fixed, nothing that costs but copper, and at most a million segments solved in full.
    #[must_use]
    pub fn new(
        run: impl Into<String>,
        tape: TapeModel,
        increments: u64,
        places: Vec<PlaceRoutes>,
        wires: Vec<CandidateWire>,
        source: SourceModel,
        limits: FeedLimits,
    ) -> Self {
        Self {
            run: run.into(),
            tape,
            increments,
            joints: Vec::new(),
            breaks: Positions::Any,
            feed_points: Positions::Any,
            reel: None,
            patterns: Pattern::ALL.to_vec(),
            places,
            wires,
            source,
            limits,
            states: LitStates::default(),
            costs: CostModel::default(),
            fixed: Fixed::default(),
            effort: 1_000_000,
        }
    }
}

/// A set of cut marks.
#[derive(Debug, Clone, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Positions {
    /// Only the two ends of the run.
    Ends,
    /// Every mark.
    #[default]
    Any,
    /// These marks, in any order.
    At(Vec<u64>),
}

/// What lies at a cut mark besides plain tape.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// Mark, from 1 to `increments − 1`.
    pub at: u64,
    /// Resistance it adds to the common rail while the run is not broken here.
    #[serde(default, with = "crate::quantity::valued")]
    pub common: ElectricalResistance,
    /// Resistance it adds to each emitter's return rail.
    #[serde(default, with = "crate::quantity::valued")]
    pub returns: ElectricalResistance,
    /// Whether the two sides are seen side by side, so that a step between them shows.
    #[serde(default)]
    pub visible: bool,
    /// Whether a break here is free, forced or forbidden.
    #[serde(default)]
    pub cut: JointCut,
    /// Whether the tape ends here and another piece begins, as at a jumper: reels are counted anew.
    #[serde(default)]
    pub parts_tape: bool,
    /// Price of making the joint; not spent where the run is broken here. Minor units.
    #[serde(default)]
    pub price: i64,
}

impl Joint {
    /// A joint at a mark that adds `resistance` to every rail: not seen, broken as listed, free.
    #[must_use]
    pub fn new(at: u64, resistance: ElectricalResistance) -> Self {
        Self {
            at,
            common: resistance,
            returns: resistance,
            visible: false,
            cut: JointCut::AsListed,
            parts_tape: false,
            price: 0,
        }
    }
}

/// Tape on reels: a piece of tape that is longer than one is joined. It is laid whole reels first, from its start, so
/// joints lie at every whole reel from there. A piece ends with its segment, or where a joint parts the tape.
///
/// ```text
///  start ├─ reel ─┼─ reel ─┼─ rest ┤ jumper ├─ reel ─┼─ rest ┤ end      ┼ joint: its resistance in every rail
/// ```
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reel {
    /// Cut increments on a reel.
    pub increments: u64,
    /// Resistance that a joint adds to the common rail and to each return rail.
    #[serde(with = "crate::quantity::valued")]
    pub resistance: ElectricalResistance,
    /// Price of making a joint, minor units.
    #[serde(default)]
    pub price: i64,
}

impl Reel {
    /// Reels of `increments`; each joint adds `resistance` to every rail and costs `price` minor units.
    #[must_use]
    pub fn new(increments: u64, resistance: ElectricalResistance, price: i64) -> Self {
        Self {
            increments,
            resistance,
            price,
        }
    }

    /// Marks of the joints in a piece of tape.
    pub fn joints(&self, from: u64, to: u64) -> impl Iterator<Item = u64> + use<> {
        let each = usize::try_from(self.increments)
            .unwrap_or(usize::MAX)
            .max(1);
        (from..to).step_by(each).skip(1)
    }
}

/// Whether the run may be broken at a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum JointCut {
    /// As [`RunProblem::breaks`] says.
    #[default]
    AsListed,
    /// The run is broken here.
    Forced,
    /// The run is not broken here.
    Forbidden,
}

/// How copper reaches one segment.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Pattern {
    /// All conductors at the start.
    Start,
    /// All conductors at the end.
    End,
    /// All conductors at one mark inside: two branches, not always equal.
    Inside,
    /// Common at the start, returns at the end: every cell has about the same copper in its loop.
    CommonAtStart,
    /// Common at the end, returns at the start.
    CommonAtEnd,
    /// All conductors at both ends; each end may have its own cable.
    BothEnds,
    /// At two marks inside, one cable for both.
    TwoInside,
    /// At both ends and one mark inside, one cable for all.
    BothEndsAndInside,
    /// At three marks inside, one cable for all.
    ThreeInside,
}

impl Pattern {
    /// Every pattern, in the order used for ties.
    pub const ALL: [Self; 9] = [
        Self::Start,
        Self::End,
        Self::Inside,
        Self::CommonAtStart,
        Self::CommonAtEnd,
        Self::BothEnds,
        Self::TwoInside,
        Self::BothEndsAndInside,
        Self::ThreeInside,
    ];

    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::End => "end",
            Self::Inside => "one point inside",
            Self::CommonAtStart => "common at start, returns at end",
            Self::CommonAtEnd => "common at end, returns at start",
            Self::BothEnds => "both ends",
            Self::TwoInside => "two points inside",
            Self::BothEndsAndInside => "both ends and one point inside",
            Self::ThreeInside => "three points inside",
        }
    }

    /// How a segment of this pattern is fed, as the trade says it: `mid-fed`.
    #[must_use]
    pub fn fed(self) -> &'static str {
        match self {
            Self::Start => "fed at the start",
            Self::End => "fed at the end",
            Self::Inside => "mid-fed",
            Self::CommonAtStart => "common fed at the start, returns at the end",
            Self::CommonAtEnd => "common fed at the end, returns at the start",
            Self::BothEnds => "fed at both ends",
            Self::TwoInside => "mid-fed at two points",
            Self::BothEndsAndInside => "fed at both ends and mid-fed",
            Self::ThreeInside => "mid-fed at three points",
        }
    }
}

/// A place that feeders may start from, and how far it is from the run.
///
/// A mark between the named points is reached along the run from whichever named point makes
/// the whole route shortest.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlaceRoutes {
    /// Name of the place.
    pub place: String,
    /// Route to the start of the run, one way.
    pub to_start: Option<ExactLength>,
    /// Route to the end of the run, one way.
    pub to_end: Option<ExactLength>,
    /// Routes to other marks, one way.
    #[serde(default)]
    pub to_marks: Vec<(u64, ExactLength)>,
    /// Added to every route: tails in the boxes, sag, working length.
    #[serde(default)]
    pub slack: ExactLength,
    /// Source at this place, where it differs.
    pub source: Option<SourceModel>,
}

impl PlaceRoutes {
    /// A place `to_start` from the start of the run, without slack, with the source of the run.
    #[must_use]
    pub fn new(place: impl Into<String>, to_start: ExactLength) -> Self {
        Self {
            place: place.into(),
            to_start: Some(to_start),
            to_end: None,
            to_marks: Vec::new(),
            slack: ExactLength::ZERO,
            source: None,
        }
    }
}

/// A wire that a feeder may be made of.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CandidateWire {
    /// Name of the cable.
    pub cable: String,
    /// Cores of equal size: one for the common and one for each emitter's return at least.
    pub cores: usize,
    /// Resistance of one core: conductor hot at the low corner, cold at the high one.
    #[serde(with = "crate::quantity::valued::corners")]
    pub core: Corners<LinearResistance>,
    /// Ampacity of one core in this place, where a table covers it.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub ampacity: Option<ElectricCurrent>,
    /// Price of one metre of cable, minor units.
    #[serde(default)]
    pub price_per_metre: i64,
}

impl CandidateWire {
    /// A cable of `cores` whose cores have the resistance `core`, at a price a metre in minor units; no ampacity stated.
    #[must_use]
    pub fn new(
        cable: impl Into<String>,
        cores: usize,
        core: Corners<LinearResistance>,
        price_per_metre: i64,
    ) -> Self {
        Self {
            cable: cable.into(),
            cores,
            core,
            ampacity: None,
            price_per_metre,
        }
    }
}

/// What a feeder starts from.
///
/// One segment, one source: all feeds of a segment come from the same output set, because
/// tape that joins two sources parallels them. The resistances that other segments load as
/// well are not solved here: `reserve` is taken off instead.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SourceModel {
    /// Set point at the three corners.
    #[serde(with = "crate::quantity::valued::corners")]
    pub set_point: Corners<ElectricPotential>,
    /// Output resistance of the supply; carries all conductors' sum.
    #[serde(default, with = "crate::quantity::valued")]
    pub output_resistance: ElectricalResistance,
    /// Loop resistance of the lead between supply and feeders; carries the sum.
    #[serde(default, with = "crate::quantity::valued")]
    pub lead_resistance: ElectricalResistance,
    /// Resistance of the switch in each emitter's return.
    #[serde(default, with = "crate::quantity::valued")]
    pub switch_resistance: ElectricalResistance,
    /// Volts taken by copper shared with other segments.
    #[serde(default, with = "crate::quantity::valued")]
    pub reserve: ElectricPotential,
}

impl SourceModel {
    /// A source that keeps its set point whatever it carries, with nothing shared on the way to the feeders.
    #[must_use]
    pub fn stiff(set_point: Corners<ElectricPotential>) -> Self {
        let none = ohms(0.0);
        Self {
            set_point,
            output_resistance: none,
            lead_resistance: none,
            switch_resistance: none,
            reserve: volts(0.0),
        }
    }
}
