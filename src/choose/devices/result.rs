//! The assignment and what it rests on.

use super::check::Limit;

/// Which load on which unit and output.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assignment {
    /// What is supplied.
    pub what: String,
    /// The problem that the bound and the proof are about, in words.
    pub problem: String,
    /// Units in use: by place, emergency, voltage, installed ones first.
    pub units: Vec<LoadedUnit>,
    /// Spares standing by.
    pub spares: Vec<Spare>,
    /// What is made least: the price of what is bought, in minor units; the number of units
    /// bought where every price is zero.
    pub cost: u64,
    /// No answer to the problem costs less.
    pub lower_bound: u64,
    /// Whether the answer is proven least.
    pub proven: bool,
    /// What the bound rests on, in words.
    pub reason: String,
    /// Limits that cost something: a cheaper answer was found with this limit alone left
    /// out. Empty: none was found.
    pub binding: Vec<Binding>,
    /// The next best kind: the best answer found without one of the kinds bought.
    pub runner_up: Option<RunnerUp>,
    /// Steps of work spent.
    pub steps: u64,
    /// Whether the caller cancelled: the answer is then the best found until that moment.
    pub cancelled: bool,
}

impl Assignment {
    /// How far the cost may be above the least.
    #[must_use]
    pub const fn gap(&self) -> u64 {
        self.cost.saturating_sub(self.lower_bound)
    }
}

/// A supply or decoder in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LoadedUnit {
    /// Name of an installed one; none for one to buy.
    pub installed: Option<String>,
    /// Kind.
    pub kind: String,
    /// Place.
    pub place: String,
    /// Whether it carries emergency loads.
    pub emergency: bool,
    /// Outputs in use.
    pub outputs: Vec<Output>,
    /// Load in millionths of a watt (supplies) or of an ampere (decoders).
    pub used: u64,
    /// What it may carry, in the same unit, derating and load factor taken off.
    pub allowed: u64,
}

/// An output in use.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Output {
    /// Loads on it, by id; for a decoder all of one zone.
    pub loads: Vec<String>,
    /// Zone and emitter that it drives; none for a supply.
    pub signal: Option<(String, String)>,
    /// Current, in microamperes.
    pub microamps: u64,
}

/// A spare standing by.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Spare {
    /// Kind.
    pub kind: String,
    /// Place.
    pub place: String,
    /// Whether it stands by for emergency loads.
    pub emergency: bool,
}

/// A limit that costs something.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Binding {
    /// The limit.
    pub limit: Limit,
    /// Cost found without it.
    pub cost_without: u64,
}

/// The next best answer and how it differs.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct RunnerUp {
    /// Its cost.
    pub cost: u64,
    /// How it differs, in words.
    pub differs: String,
}
