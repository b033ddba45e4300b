//! What was chosen, and what was proven about it.

use super::Note;
use crate::finding::{Figure, Limit, Subject};
use crate::id::ProductId;
use crate::quantity::{Cost, Money, Share};
use serde::{Deserialize, Serialize};

pub use crate::choose::feeding::{FeedProblem, LimitKind, Marks};

/// A choice: the feeding of a run, the decoders or supplies of a place, or all together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Choice {
    /// What was chosen for.
    pub about: Subject,
    /// What was chosen.
    pub chosen: Chosen,
    /// What it costs.
    pub cost: Cost,
    /// Nothing that solves the named problem costs less.
    pub lower_bound: Cost,
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
    pub fn gap(&self) -> Cost {
        self.cost.minus(self.lower_bound).unwrap_or(self.cost)
    }
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
        /// Feeding of all runs.
        feeding: Money,
        /// Devices.
        devices: Money,
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
        without: Cost,
    },
}

/// Another arrangement, and why it was not taken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Alternative {
    /// What it is, in words.
    pub what: Note,
    /// Its cost; none: `what` says it.
    pub cost: Option<Cost>,
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
