//! What was chosen, and what was proven about it.

/// A choice of the plan: the feeding of a run, the decoders or supplies of a place, or all together.
#[derive(Debug, Clone, PartialEq)]
pub struct ChoiceRow {
    /// What was chosen for: `run S1`, `supplies at riser cupboard`, `whole job`.
    pub what: String,
    /// What was chosen, in short.
    pub chosen: String,
    /// What it costs, in minor units or bodies.
    pub cost: i64,
    /// Nothing that solves the named problem costs less.
    pub lower_bound: i64,
    /// What amounts are printed in: a currency, `minor units`, or `bodies` where a kind states no price.
    pub counted: String,
    /// With so many decimals: a currency in hundredths has two.
    pub decimals: usize,
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
    pub fn gap(&self) -> i64 {
        self.cost.saturating_sub(self.lower_bound)
    }
}
