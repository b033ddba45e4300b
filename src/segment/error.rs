//! What can be wrong with a circuit, and why one has no figures.

use crate::network::{NetworkErrors, SolveError};
use crate::quantity::Corner;
use thiserror::Error;

/// A fault of a [`Circuit`](super::Circuit). Branches, segments, feeders and states are counted from 1, marks and
/// emitters from 0.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum CircuitError {
    /// A figure that cannot be.
    #[error("{place}: {what} is {found}; it must be {accepted}. Correct the figure")]
    OutOfRange {
        /// Where.
        place: String,
        /// Which figure.
        what: &'static str,
        /// Its value in SI units.
        found: f64,
        /// The accepted range, in words.
        accepted: &'static str,
    },
    /// Something that must be there.
    #[error("{place}: {what}")]
    Missing {
        /// Where.
        place: String,
        /// What is missing, and the remedy.
        what: &'static str,
    },
    /// A number that points nowhere.
    #[error("{place}: {what} {found} does not exist; there are {count}, counted from 0")]
    Unknown {
        /// Where.
        place: String,
        /// What it should point to.
        what: &'static str,
        /// The number.
        found: usize,
        /// How many there are.
        count: usize,
    },
    /// A mark outside its segment.
    #[error(
        "{place}: mark {mark} does not lie {how} {from} and {to}. Count marks from the start of the run"
    )]
    OutsideSegment {
        /// Where.
        place: String,
        /// The mark.
        mark: u64,
        /// First mark of the segment.
        from: u64,
        /// Last mark of the segment.
        to: u64,
        /// `between`, or `strictly between`.
        how: &'static str,
    },
    /// More cells than are solved as one network.
    #[error(
        "{place}: {found} cells times rails; at most {most} are accepted. Split the circuit where it does not share copper"
    )]
    TooLarge {
        /// Where.
        place: String,
        /// How many.
        found: u64,
        /// The cap.
        most: usize,
    },
}

/// All faults of a circuit.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{}", self.text())]
pub struct CircuitErrors(pub Vec<CircuitError>);

impl CircuitErrors {
    fn text(&self) -> String {
        let lines: Vec<String> = self.0.iter().map(ToString::to_string).collect();
        lines.join("\n")
    }
}

/// A checked circuit without figures: the corner and the state, by its place in the list, that could not be solved.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{why}")]
pub struct Unsolved {
    /// The corner.
    pub corner: Corner,
    /// The state.
    pub state: usize,
    /// Why.
    pub why: NoSolution,
}

/// Why a state has no solution.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NoSolution {
    /// The copper makes no network that can be solved, such as an output without any resistance on a short circuit.
    #[error("{}", .0.0.first().map_or_else(String::new, ToString::to_string))]
    Network(#[from] NetworkErrors),
    /// There is no operating point, or none was found.
    #[error(transparent)]
    Solve(#[from] SolveError),
    /// No state of this number.
    #[error("there is no such state")]
    NoState,
}
