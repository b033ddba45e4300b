//! What is answered: the plan of one run, what was proven about it, and why not another.

use crate::choose::feeding::problem::spec::Pattern;
use crate::choose::feeding::result::limit::LimitKind;
use crate::exact::ExactLength;
use crate::finding::{Figure, Finding, Limit, Subject};
use crate::id::{PlaceId, ProductId, RunId};
use crate::quantity::{Corners, ElectricCurrent, ElectricalResistance, Power, Share};
pub use crate::segment::{Conductor, SegmentFigures};
use serde::{Deserialize, Serialize};
use std::fmt;

/// Answer for one run.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum RunOutcome {
    /// Every limit holds.
    Planned(Box<RunFeedPlan>),
    /// No candidate keeps every limit, or none was found within the effort: a finding, not an error.
    Infeasible(Box<Infeasible>),
}

/// Where one run is broken, where it is fed, through which wire.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct RunFeedPlan {
    /// Segments from the start of the run to its end.
    pub segments: Vec<Segment>,
    /// Cost, minor units.
    pub cost: i64,
    /// No arrangement of the named candidates costs less than this.
    pub lower_bound: i64,
    /// What was proven.
    pub proof: Proof,
    /// The limit that comes nearest to being broken, with its figure; none where nothing limits.
    pub binding: Option<Binding>,
    /// The cheapest arrangement that starts with another kind of segment and holds.
    pub runner_up: Option<Alternative>,
    /// The cheapest arrangement of all if no limit counted, where that is cheaper, and the
    /// limit it breaks.
    pub refused: Option<Alternative>,
    /// Candidate segments solved in full.
    pub evaluated: u64,
}

/// One segment.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
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
    /// Volts, currents and light at the three corners, as solved in full by itself.
    pub figures: Corners<SegmentFigures>,
    /// What its source gives at most.
    #[serde(with = "crate::quantity::valued::corners")]
    pub source_power: Corners<Power>,
    /// Lost in source, lead, switches, feeders and rails when it gives the most, nominal.
    #[serde(with = "crate::quantity::valued")]
    pub lost: Power,
}

/// Where conductors enter a segment.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
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
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct ConductorFeed {
    /// What it is: the common, or the return of an emitter by its place in the strip.
    pub conductor: Conductor,
    /// Core resistance, conductor hot.
    #[serde(with = "crate::quantity::valued")]
    pub resistance: ElectricalResistance,
    /// Greatest current over the lit states at the low and the high corner.
    #[serde(with = "crate::quantity::valued")]
    pub current: ElectricCurrent,
}

/// What was proven about a plan.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Proof {
    /// No candidate arrangement costs less; `problem` says which candidates were meant.
    Cheapest {
        /// The problem that was solved.
        problem: FeedProblem,
    },
    /// The search was stopped; nothing cheaper than the lower bound exists.
    Gap {
        /// The problem that was solved.
        problem: FeedProblem,
        /// Why it stopped.
        reason: String,
    },
}

/// A limit and how near to it a plan comes.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Binding {
    /// The limit.
    pub limit: LimitKind,
    /// Figure.
    pub figure: Figure,
    /// Permitted.
    pub permitted: Limit,
    /// Where: an increment or a mark of the run.
    pub at: Subject,
    /// Used share of the limit: 1 is at the limit, above 1 is broken.
    pub used: f64,
    /// Within a relative 1e-9 of the limit.
    pub at_limit: bool,
}

/// Break and feed one run: what was permitted, the problem that a proof is about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FeedProblem {
    /// Run.
    pub run: RunId,
    /// Increments.
    pub increments: u64,
    /// Increments of a reel, where pieces are joined.
    pub reel: Option<u64>,
    /// Where it may be broken.
    pub breaks: Marks,
    /// Where it may be fed.
    pub feeds: Marks,
    /// Patterns of feeding.
    pub patterns: Vec<Pattern>,
    /// Whether two and three feeds inside are tried at even places only.
    pub even_places_only: bool,
    /// Kinds of cable.
    pub cables: Vec<ProductId>,
    /// Places.
    pub places: Vec<PlaceId>,
    /// Lit states.
    pub states: u64,
    /// Least share of its nominal current that every lit cell had to keep, where that was raised for a trade-off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub light: Option<Share>,
}

/// As a person reads it.
impl fmt::Display for FeedProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let marks = |marks: Marks, what: &str| match marks {
            Marks::Ends => format!("no {what} but at the ends"),
            Marks::Every => format!("{what}s at every cut mark"),
            Marks::Listed(count) => format!("{what}s at {count} listed marks"),
        };
        let names = |all: &[String]| all.join(", ");
        let patterns: Vec<&str> = self.patterns.iter().map(|p| p.fed()).collect();
        write!(f, "run {}: {} increments", self.run, self.increments)?;
        if let Some(reel) = self.reel {
            write!(
                f,
                ", tape from reels of {reel} increments, each piece joined at whole reels from its start"
            )?;
        }
        write!(
            f,
            ", {}, {}; {}",
            marks(self.breaks, "break"),
            marks(self.feeds, "feed"),
            patterns.join(", ")
        )?;
        if self.even_places_only {
            write!(f, "; two and three feeds inside at even places only")?;
        }
        let cables: Vec<String> = self.cables.iter().map(ToString::to_string).collect();
        let places: Vec<String> = self.places.iter().map(ToString::to_string).collect();
        write!(
            f,
            "; wires {}; from {}; lit states {}; source with the copper shared between segments as a reserve",
            names(&cables),
            names(&places),
            self.states
        )?;
        if let Some(light) = self.light {
            write!(
                f,
                "; every lit cell at {light} of its nominal current or more"
            )?;
        }
        Ok(())
    }
}

/// Marks that are permitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Marks {
    /// The ends only.
    Ends,
    /// Every mark.
    Every,
    /// So many listed marks.
    Listed(u64),
}

/// Another arrangement, and why it was not taken.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Alternative {
    /// What it is, in words.
    pub what: String,
    /// Its cost, minor units.
    pub cost: i64,
    /// Why not: dearer, or which limit it breaks.
    pub why_not: String,
}

/// No candidate keeps every limit; or none was found before the permitted effort was spent.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Infeasible {
    /// The limit that stands in the way of the best effort, and by how much.
    pub nearest: Option<Binding>,
    /// The arrangement that breaks the limits least, where there is any arrangement at all.
    pub best_effort: Option<RunFeedPlan>,
    /// One failing finding for each broken limit; and one that says so where the search was cut short.
    pub findings: Vec<Finding>,
    /// The permitted effort was spent first: an arrangement that keeps every limit may exist.
    pub cut_short: bool,
}
