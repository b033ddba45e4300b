//! What is to be cut, and from what.

use crate::exact::{CutPitch, ExactLength};
use crate::quantity::{ElectricalResistance, ohms};

/// Steps of work unless the spec says otherwise: about half a second on a small machine.
pub const DEFAULT_EFFORT: u64 = 20_000_000;

/// Reels in one row of [`Joints::ByChoice`].
pub const LONGEST_ROW: u32 = 24;

/// A job for the saw or the scissors: one profile, cover or tape.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockSpec {
    /// What is cut, for messages.
    pub what: String,
    /// Width of a cut.
    #[serde(default)]
    pub kerf: ExactLength,
    /// Permitted cuts, for tape: lengths then count in whole increments.
    pub increment: Option<CutPitch>,
    /// What can be bought.
    #[serde(default)]
    pub stock: Vec<StockLength>,
    /// What is on hand.
    #[serde(default)]
    pub offcuts: Vec<Offcut>,
    /// What is needed.
    #[serde(default)]
    pub pieces: Vec<Piece>,
    /// An offcut at least this long goes back to the rack and is no waste.
    pub keep_from: Option<ExactLength>,
    /// Whether pieces may be joined from parts.
    #[serde(default)]
    pub joints: Joints,
    /// What each joint adds to the conductors of its piece; listed, not searched for.
    #[serde(default, with = "crate::quantity::valued")]
    pub joint_resistance: ElectricalResistance,
    /// Whether pieces of one sight line must come from one batch.
    #[serde(default)]
    pub batches: Batches,
    /// What is made least.
    #[serde(default)]
    pub objective: Objective,
    /// Work limit in steps; the same everywhere, unlike seconds.
    #[serde(default = "default_effort")]
    pub effort: u64,
}

/// A stock length.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StockLength {
    /// Name, unlike every other.
    pub name: String,
    /// Usable length.
    pub length: ExactLength,
    /// Price of one, in minor units of the currency.
    pub price: i64,
    /// How many there are; none for as many as needed.
    pub count: Option<u32>,
    /// Colour batch; stock without one counts as one delivery, one batch.
    pub batch: Option<String>,
}

/// A piece left over from earlier work, free of charge.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Offcut {
    /// Name, unlike every other.
    pub name: String,
    /// Usable length.
    pub length: ExactLength,
    /// Colour batch.
    pub batch: Option<String>,
}

/// A piece that is needed.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Piece {
    /// Id, unlike every other.
    pub id: String,
    /// Length as fitted.
    pub length: ExactLength,
    /// Extra length for the mitre at the start.
    #[serde(default)]
    pub start_allowance: ExactLength,
    /// Extra length for the mitre at the end.
    #[serde(default)]
    pub end_allowance: ExactLength,
    /// Sight line: pieces seen together.
    pub line: Option<String>,
}

/// Whether a piece may be made of parts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Joints {
    /// Never: a piece longer than all stock is an error.
    #[default]
    Never,
    /// Only a piece that is longer than all stock.
    WhenLonger {
        /// Price of one joint, minor units.
        price: i64,
    },
    /// Any piece, at the end of a reel.
    ByChoice {
        /// Price of one joint, minor units.
        price: i64,
    },
}

/// What holds for the batches of one sight line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Batches {
    /// Nothing.
    #[default]
    Any,
    /// All pieces of a line from one batch.
    OnePerLine,
    /// Each batch beyond the first of a line costs so much, minor units.
    Priced(i64),
}

/// What is made least.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Objective {
    /// Bars bought, then joints.
    #[default]
    LeastBars,
    /// Money.
    LeastCost,
}

const fn default_effort() -> u64 {
    DEFAULT_EFFORT
}

impl StockSpec {
    /// Nothing to cut yet, no kerf, least bars.
    pub fn new(what: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            kerf: ExactLength::ZERO,
            increment: None,
            stock: Vec::new(),
            offcuts: Vec::new(),
            pieces: Vec::new(),
            keep_from: None,
            joints: Joints::Never,
            joint_resistance: ohms(0.0),
            batches: Batches::Any,
            objective: Objective::LeastBars,
            effort: DEFAULT_EFFORT,
        }
    }
}

impl StockLength {
    /// As many as needed, of no named batch. `price` in minor units.
    pub fn new(name: impl Into<String>, length: ExactLength, price: i64) -> Self {
        Self {
            name: name.into(),
            length,
            price,
            count: None,
            batch: None,
        }
    }
}

impl Piece {
    /// Square ends, no sight line.
    pub fn new(id: impl Into<String>, length: ExactLength) -> Self {
        Self {
            id: id.into(),
            length,
            start_allowance: ExactLength::ZERO,
            end_allowance: ExactLength::ZERO,
            line: None,
        }
    }
}
