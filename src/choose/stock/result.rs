//! The cutting plan.

use crate::exact::ExactLength;
use crate::quantity::ElectricalResistance;

/// Which piece from which bar.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct CuttingPlan {
    /// What is cut.
    pub what: String,
    /// The problem that the bound and the proof are about, in words.
    pub problem: String,
    /// Bars in the order of cutting.
    pub bars: Vec<Bar>,
    /// Bars bought (those on hand not counted).
    pub bars_bought: u64,
    /// Price of bars, joints and changes of batch, minor units.
    pub cost: u64,
    /// Joints.
    pub joints: u64,
    /// Pieces that are joined from parts, in the order of their ids.
    pub joined: Vec<Joined>,
    /// Batches beyond the first, summed over the sight lines.
    pub batch_changes: u64,
    /// Stock length that is neither piece nor kept offcut, dust included.
    pub waste: ExactLength,
    /// Offcuts long enough to keep.
    pub kept: ExactLength,
    /// What was made least: bars bought or cost.
    pub value: u64,
    /// No answer to the problem has a smaller value.
    pub lower_bound: u64,
    /// Whether the answer is proven least in value (and, for bars, in joints after that).
    pub proven: bool,
    /// Whether the waste, too, is proven least among answers of the same value.
    pub least_waste: bool,
    /// What the bound rests on, in words.
    pub reason: String,
    /// Limits that cost something: a smaller value was found with this limit alone left
    /// out. Empty: none was found, the lengths themselves bind.
    pub binding: Vec<Binding>,
    /// The next best answer, where one was looked for.
    pub runner_up: Option<RunnerUp>,
    /// Steps of work spent.
    pub steps: u64,
    /// Whether the caller cancelled: the plan is then the best found until that moment.
    pub cancelled: bool,
}

impl CuttingPlan {
    /// How far the value may be above the least: `value − lower_bound`.
    #[must_use]
    pub const fn gap(&self) -> u64 {
        self.value.saturating_sub(self.lower_bound)
    }
}

/// A bar, cover or reel and what is cut from it.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Bar {
    /// Name of the stock length or offcut.
    pub stock: String,
    /// Whether it was on hand.
    pub on_hand: bool,
    /// Colour batch.
    pub batch: Option<String>,
    /// Length before cutting.
    pub length: ExactLength,
    /// Parts in cutting order.
    pub parts: Vec<Part>,
    /// Lost to the cuts.
    pub dust: ExactLength,
    /// Left over.
    pub offcut: ExactLength,
    /// Whether the offcut is kept.
    pub kept: bool,
}

/// A piece, or a part of one, on a bar.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Part {
    /// Id of the piece.
    pub piece: String,
    /// Which part of it, from 1.
    pub part: u32,
    /// Of how many.
    pub of: u32,
    /// Length to cut, allowances included.
    pub length: ExactLength,
    /// Distance from the start of the bar.
    pub at: ExactLength,
}

/// A piece that is joined from parts.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Joined {
    /// Id of the piece.
    pub piece: String,
    /// Joints in it.
    pub joints: u32,
    /// What they add to its conductors: joints times the resistance of one.
    #[serde(with = "crate::quantity::valued")]
    pub resistance: ElectricalResistance,
}

/// A limit of a cutting plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Limit {
    /// Width of the cuts.
    Kerf,
    /// Numbers of bars, offcuts and reels that there are.
    Count,
    /// No joint within a piece that one bar or reel holds.
    Joints,
    /// One batch per sight line, or its price.
    Batches,
}

/// A limit that costs something.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Binding {
    /// The limit.
    pub limit: Limit,
    /// Value found without it.
    pub value_without: u64,
}

/// The next best answer and how it differs.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct RunnerUp {
    /// Its value; none where it does not exist.
    pub value: Option<u64>,
    /// How it differs, in words.
    pub differs: String,
}
