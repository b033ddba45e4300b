//! Rows of the tape: runs, pieces, segments, feeds, stock.

use crate::exact::ExactLength;
use crate::quantity::{Corners, ElectricCurrent, ElectricPotential, LinearPower, Power, Ratio};

/// A run as drawn and as lit.
#[derive(Debug, Clone, PartialEq)]
pub struct RunRow {
    /// Run id.
    pub id: String,
    /// Zone it dims with.
    pub zone: String,
    /// Room.
    pub room: String,
    /// Reference of the drawing.
    pub drawing: String,
    /// Tape.
    pub strip: String,
    /// Colour in words, such as `red, green, blue, white`.
    pub colour: String,
    /// Rated power per length.
    pub power_per_length: LinearPower,
    /// Length drawn.
    pub drawn: ExactLength,
    /// Length that lights.
    pub lit: ExactLength,
    /// Dark at the start of the run.
    pub dark_start: ExactLength,
    /// Dark at its end.
    pub dark_end: ExactLength,
    /// Dark between: gaps and corners.
    pub dark_between: ExactLength,
    /// Cut increments.
    pub increments: u64,
    /// Straight pieces and corners, such as `3 pieces, 2 inside corners`.
    pub path: String,
    /// Profile and cover; empty where there is none.
    pub profile: String,
    /// Environment, such as `dry, 25 °C`.
    pub environment: String,
    /// `normal`, `emergency` or `both`.
    pub service: String,
}

/// A piece of tape to be cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutRow {
    /// Piece id, stable when the job changes elsewhere: `A1.2`.
    pub id: String,
    /// Run.
    pub run: String,
    /// Segment of the run, from 1.
    pub segment: usize,
    /// Tape.
    pub strip: String,
    /// Increments.
    pub increments: u64,
    /// Length.
    pub length: ExactLength,
    /// First cut mark, from the start of the run's tape.
    pub from: ExactLength,
    /// What is done at the start of the piece: lead, jumper, end cap.
    pub start: String,
    /// What is done at its end.
    pub end: String,
    /// Reel it is cut from.
    pub reel: String,
    /// Text of its label.
    pub label: String,
}

/// Light and volts of one segment.
#[derive(Debug, Clone, PartialEq)]
pub struct SegmentRow {
    /// Segment id.
    pub id: String,
    /// Run.
    pub run: String,
    /// Lit length.
    pub length: ExactLength,
    /// How it is fed: `start`, `both ends`, …
    pub pattern: String,
    /// Least cell voltage, all emitters of the worst state.
    pub least_volts: Corners<ElectricPotential>,
    /// Least cell current relative to nominal.
    pub least_current: Corners<Ratio>,
    /// Emitter that has it.
    pub weakest: String,
    /// Greatest change of emitter balance along the segment; 0 with one emitter.
    pub balance: Ratio,
    /// Power into the tape, all emitters on.
    pub power: Corners<Power>,
    /// Bound on the error of the nominal voltages.
    pub volt_error_bound: ElectricPotential,
}

/// Where one conductor enters the tape, and what it carries.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedConductor {
    /// Function: `plus`, `red return`, …
    pub function: String,
    /// Node of the tape: `start`, `end`, or the distance from the start of the run's tape.
    pub node: String,
    /// Greatest current over the lit states at the high corner.
    pub current: ElectricCurrent,
}

/// A feed.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedRow {
    /// Feed id.
    pub id: String,
    /// Segment.
    pub segment: String,
    /// Distance from the start of the run's tape.
    pub position: ExactLength,
    /// Conductors.
    pub conductors: Vec<FeedConductor>,
    /// Cable.
    pub cable: String,
    /// Output it comes from: `decoder D2, outputs 1-4`.
    pub source: String,
    /// Volts between plus and the weakest return at the feed.
    pub volts: Corners<ElectricPotential>,
    /// Joint kind.
    pub joint: String,
}

/// A stock length and what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct BarRow {
    /// Number: `P1-03`.
    pub id: String,
    /// What it is.
    pub kind: String,
    /// Stock length.
    pub stock: ExactLength,
    /// Pieces in cutting order: id and length.
    pub pieces: Vec<(String, ExactLength)>,
    /// Lost to the saw.
    pub kerf: ExactLength,
    /// Left over.
    pub offcut: ExactLength,
}
