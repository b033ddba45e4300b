//! What is answered: the plan of one run, what was proven about it, and why not another.

use crate::choose::feeding::problem::spec::Pattern;
use crate::exact::ExactLength;
use crate::finding::Finding;
use crate::quantity::Corners;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio};

/// Answer for one run.
#[derive(Debug, Clone, PartialEq)]
pub enum RunOutcome {
    /// Every limit holds.
    Planned(Box<RunFeedPlan>),
    /// No candidate keeps every limit, or none was found within the effort: a finding, not an error.
    Infeasible(Box<Infeasible>),
}

/// Where one run is broken, where it is fed, through which wire.
#[derive(Debug, Clone, PartialEq)]
pub struct RunFeedPlan {
    /// Segments from the start of the run to its end.
    pub segments: Vec<Segment>,
    /// Cost, minor units.
    pub cost: i64,
    /// No arrangement of the named candidates costs less than this.
    pub lower_bound: i64,
    /// What was proven.
    pub proof: Proof,
    /// The limit that comes nearest to being broken, with its figure.
    pub binding: Binding,
    /// The cheapest arrangement that starts with another kind of segment and holds.
    pub runner_up: Option<Alternative>,
    /// The cheapest arrangement of all if no limit counted, where that is cheaper, and the
    /// limit it breaks.
    pub refused: Option<Alternative>,
    /// Candidate segments solved in full.
    pub evaluated: u64,
}

/// One segment.
#[derive(Debug, Clone, PartialEq)]
pub struct Segment {
    /// First mark.
    pub from: u64,
    /// Last mark.
    pub to: u64,
    /// How it is fed.
    pub pattern: Pattern,
    /// Place of its source.
    pub place: String,
    /// Its feeds, in the order of their marks.
    pub feeds: Vec<FeedPoint>,
    /// Share of the cost, minor units, breaks not counted.
    pub cost: i64,
    /// Volts, currents and light, as re-solved in full.
    pub figures: SegmentFigures,
}

/// Where conductors enter a segment.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedPoint {
    /// Mark.
    pub at: u64,
    /// Cable.
    pub cable: String,
    /// Route one way, slack included.
    pub route_length: ExactLength,
    /// What enters here.
    pub conductors: Vec<ConductorFeed>,
}

/// One conductor of a feed.
#[derive(Debug, Clone, PartialEq)]
pub struct ConductorFeed {
    /// What it is: the common, or the return of an emitter by its place in the strip.
    pub conductor: Conductor,
    /// Core resistance, conductor hot.
    pub resistance: ElectricalResistance,
    /// Greatest current over the lit states at the low and the high corner.
    pub current: ElectricCurrent,
}

/// A conductor of the tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Conductor {
    /// The common rail.
    Common,
    /// The return of an emitter, by its place in the strip.
    Return(usize),
}

/// Volts, currents and light of one segment.
#[derive(Debug, Clone, PartialEq)]
pub struct SegmentFigures {
    /// Least relative current of any lit cell over all states.
    pub least_current: Corners<Ratio>,
    /// Emitter, by its place in the strip, that has it at the low corner.
    pub weakest: usize,
    /// Increment, from the start of the run, that has it at the low corner.
    pub weakest_increment: u64,
    /// Least cell voltage over all states.
    pub least_volts: Corners<ElectricPotential>,
    /// Greatest current of the segment over all states.
    pub current: Corners<ElectricCurrent>,
    /// Power into feeders and tape with every emitter of the strongest state lit.
    pub power: Corners<Power>,
    /// Power lost in feeders and rails in the same state, nominal.
    pub lost: Power,
    /// Greatest rail current at the low and the high corner.
    pub rail_current: ElectricCurrent,
    /// Greatest departure from even balance, low corner.
    pub balance: Ratio,
    /// Relative current of the first and last increment, emitter by emitter, in the first
    /// state in which it is lit, low corner.
    pub edges: [Vec<Ratio>; 2],
}

/// What was proven about a plan.
#[derive(Debug, Clone, PartialEq)]
pub enum Proof {
    /// No candidate arrangement costs less; `problem` says which candidates were meant.
    Cheapest {
        /// The problem that was solved, in words.
        problem: String,
    },
    /// The search was stopped; nothing cheaper than the lower bound exists.
    Gap {
        /// The problem that was solved, in words.
        problem: String,
        /// Why it stopped.
        reason: String,
    },
}

/// A limit and how near to it a plan comes.
#[derive(Debug, Clone, PartialEq)]
pub struct Binding {
    /// The limit in words, such as `least relative current, low corner`.
    pub limit: String,
    /// Figure, with unit.
    pub figure: String,
    /// Permitted, with unit.
    pub permitted: String,
    /// Where: `increments 0 to 96, white, increment 95`.
    pub place: String,
    /// Used share of the limit: 1 is at the limit, above 1 is broken.
    pub used: f64,
    /// Within a relative 1e-9 of the limit.
    pub at_limit: bool,
}

/// Another arrangement, and why it was not taken.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// What it is, in words.
    pub what: String,
    /// Its cost, minor units.
    pub cost: i64,
    /// Why not: dearer, or which limit it breaks.
    pub why_not: String,
}

/// No candidate keeps every limit; or none was found before the permitted effort was spent.
#[derive(Debug, Clone, PartialEq)]
pub struct Infeasible {
    /// The limit that stands in the way of the best effort, and by how much.
    pub nearest: Binding,
    /// The arrangement that breaks the limits least, where there is any arrangement at all.
    pub best_effort: Option<RunFeedPlan>,
    /// One failing finding for each broken limit; and one that says so where the search was cut short.
    pub findings: Vec<Finding>,
    /// The permitted effort was spent first: an arrangement that keeps every limit may exist.
    pub cut_short: bool,
}
