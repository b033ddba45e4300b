//! What was chosen, and what was proven about it.

use crate::quantity::{Cost, Currency};

/// A choice of the plan: the feeding of a run, the decoders or supplies of a place, or all together.
#[derive(Debug, Clone, PartialEq)]
pub struct ChoiceRow {
    /// What was chosen for: `run S1`, `supplies at riser cupboard`, `whole job`.
    pub what: String,
    /// What was chosen, in short.
    pub chosen: String,
    /// What it costs.
    pub cost: Cost,
    /// Nothing that solves the named problem costs less.
    pub lower_bound: Cost,
    /// What money is printed in.
    pub currency: Currency,
    /// Whether nothing cheaper solves the named problem.
    pub proven: bool,
    /// Chosen with the whole job: something cheaper by itself makes the whole dearer.
    pub with_the_whole: bool,
    /// The limit that binds.
    pub binding: String,
    /// The next best, and why it was not taken; empty: none was found.
    pub runner_up: String,
    /// The problem that bound and proof are about.
    pub problem: String,
    /// What the bound rests on, or why there is no proof.
    pub reason: String,
}

impl ChoiceRow {
    /// How far the cost may be above the least.
    #[must_use]
    pub fn gap(&self) -> Cost {
        self.cost.minus(self.lower_bound).unwrap_or(self.cost)
    }
}
