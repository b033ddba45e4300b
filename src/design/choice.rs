//! What was chosen, and what was proven about it.

use super::Note;
use crate::choose::feeding::Pattern;
use crate::finding::{Figure, Limit, Subject};
use crate::id::{PlaceId, ProductId, RunId};
use crate::quantity::Share;
use serde::{Deserialize, Serialize};
use std::fmt;

pub use crate::choose::feeding::LimitKind;

/// A choice: the feeding of a run, the decoders or supplies of a place, or all together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Choice {
    /// What was chosen for.
    pub about: Subject,
    /// What distinguishes it from another choice for the same, in words.
    pub called: Note,
    /// What was chosen.
    pub chosen: Chosen,
    /// What it costs.
    pub cost: i64,
    /// Nothing that solves the named problem costs less.
    pub lower_bound: i64,
    /// What both are counted in.
    pub counted: Counted,
    /// What was proven.
    pub proof: Proof,
    /// The limits that bind.
    pub binding: Vec<Binding>,
    /// The next best, where one was found.
    pub runner_up: Option<Alternative>,
    /// The cheapest that a limit refuses, where one was found.
    pub refused: Option<Alternative>,
    /// The problem that bound and proof are about.
    pub problem: Problem,
    /// What the bound rests on, or why there is no proof.
    pub reason: Note,
}

impl Choice {
    /// How far the cost may be above the least.
    #[must_use]
    pub fn gap(&self) -> i64 {
        self.cost.saturating_sub(self.lower_bound)
    }
}

/// What costs are counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Counted {
    /// Minor units of the job's currency.
    Money,
    /// Bodies, where a kind states no price.
    Bodies,
}

/// An amount, with what it counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Amount {
    /// Minor units, or bodies.
    pub amount: i64,
    /// Which.
    pub counted: Counted,
}

/// What was proven about a choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Proof {
    /// Nothing cheaper solves the named problem.
    Cheapest,
    /// Chosen with the whole job: something cheaper by itself makes the whole dearer.
    WithTheWhole,
    /// Not proven: the gap is what a better answer could save at most.
    Gap,
}

/// What was chosen.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Chosen {
    /// Segments and feeds of a run.
    Feeding {
        /// Segments.
        segments: u64,
        /// Feeds.
        feeds: u64,
    },
    /// Devices by kind, with how many of each.
    Devices(Vec<(ProductId, u64)>),
    /// Everything.
    Whole {
        /// Feeding of all runs, minor units.
        feeding: i64,
        /// Devices, minor units.
        devices: i64,
    },
}

/// A limit that binds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Binding {
    /// The limit of a run that comes nearest to being broken.
    Nearest {
        /// Which.
        limit: LimitKind,
        /// Figure.
        figure: Figure,
        /// Limit.
        permitted: Limit,
        /// Where.
        at: Subject,
        /// Used share: 1 is at the limit.
        used: Share,
    },
    /// A limit of devices that costs something, with the cost found without it.
    Costs {
        /// Which, in words.
        limit: Note,
        /// Cost without it.
        without: i64,
    },
}

/// Another arrangement, and why it was not taken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Alternative {
    /// What it is, in words.
    pub what: Note,
    /// Its cost.
    pub cost: i64,
    /// Why not, beside its cost.
    pub why_not: Note,
}

/// The problem that a proof is about.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Problem {
    /// Break and feed one run.
    Feeding(FeedProblem),
    /// In words.
    Stated(Note),
}

/// Break and feed one run: what was permitted.
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
}

/// As a person reads it.
impl fmt::Display for FeedProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let marks = |marks: Marks, what: &str| match marks {
            Marks::Ends => format!("no {what} but at the ends"),
            Marks::Every => format!("{what}s at every cut mark"),
            Marks::Listed(count) => format!("{what}s at {count} listed marks"),
        };
        let ways: Vec<&str> = self.patterns.iter().map(|p| p.words()).collect();
        let cables: Vec<&str> = self.cables.iter().map(ProductId::as_str).collect();
        let places: Vec<&str> = self.places.iter().map(PlaceId::as_str).collect();
        let inside = if self.even_places_only {
            "; two and three feeds inside at even places only"
        } else {
            ""
        };
        let reel = self.reel.map_or(String::new(), |reel| {
            format!(", tape from reels of {reel} increments, each piece joined at whole reels from its start")
        });
        write!(
            f,
            "run {}: {} increments{reel}, {}, {}; fed at {}{inside}; wires {}; from {}; lit states {}; source with the copper shared between segments as a reserve",
            self.run,
            self.increments,
            marks(self.breaks, "break"),
            marks(self.feeds, "feed"),
            ways.join(", "),
            cables.join(", "),
            places.join(", "),
            self.states
        )
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
