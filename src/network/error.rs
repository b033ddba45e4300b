//! What can be wrong with a network, and why a solve may give no answer.

use thiserror::Error;

/// A fault of a [`NetworkSpec`](super::NetworkSpec). All are reported together.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum NetworkError {
    /// Too much of something.
    #[error(
        "{place}: {found} {what}; at most {most} are accepted. Split the network where it does not share copper"
    )]
    TooLarge {
        /// Where.
        place: String,
        /// What is counted.
        what: &'static str,
        /// How many.
        found: usize,
        /// The cap.
        most: usize,
    },
    /// Nothing to solve.
    #[error("{place}: {what}")]
    Missing {
        /// Where.
        place: String,
        /// What is missing, and the remedy.
        what: &'static str,
    },
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
    /// An id that points nowhere.
    #[error(
        "{place}: {what} number {found} does not exist; there are {count}. Use an id that this network gave out"
    )]
    Unknown {
        /// Where.
        place: String,
        /// What it should point to.
        what: &'static str,
        /// The index used.
        found: usize,
        /// How many there are.
        count: usize,
    },
    /// A name used twice.
    #[error("{what} `{name}` is there twice. Give each its own name")]
    DuplicateName {
        /// What carries the name.
        what: &'static str,
        /// The name.
        name: String,
    },
    /// A list with the wrong number of entries.
    #[error(
        "{place}: {found} link resistances for {expected} links. Give one for each gap between neighbouring cells, or a uniform one"
    )]
    LinkCount {
        /// Where.
        place: String,
        /// Entries given.
        found: usize,
        /// Entries needed.
        expected: usize,
    },
    /// A cell with two exceptions.
    #[error("{place}: cell {cell} has two exceptions. Keep one")]
    DuplicateCell {
        /// Where.
        place: String,
        /// The cell, counted from 0.
        cell: usize,
    },
    /// Stiff sources of different voltage joined without resistance.
    #[error(
        "sources `{first}` and `{second}` are joined by zero resistance and differ by {volts} V. Give the wires or the outputs \
         their resistance, or set both to the same voltage"
    )]
    ZeroResistanceConflict {
        /// One source.
        first: String,
        /// The other.
        second: String,
        /// The difference, V.
        volts: f64,
    },
    /// A source whose terminals are joined without resistance.
    #[error(
        "source `{source_name}` is short-circuited by zero resistance. Give the wire its resistance, or open the link"
    )]
    ZeroResistanceShort {
        /// The source.
        source_name: String,
    },
}

/// Every fault of a network, one a line.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{}", self.0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
pub struct NetworkErrors(pub Vec<NetworkError>);

impl From<NetworkError> for NetworkErrors {
    fn from(fault: NetworkError) -> Self {
        Self(vec![fault])
    }
}

/// Why a checked network gave no answer.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SolveError {
    /// The iteration did not settle.
    #[error(
        "no solution within {iterations} iterations: the best current balance misses by {residual_amps} A, worst at {worst}; the last \
         step moved {step_volts} V. Raise `most_iterations`, or look for resistances or laws that differ by more than twelve decades there"
    )]
    NoConvergence {
        /// Iterations made.
        iterations: usize,
        /// Smallest worst residual reached, A.
        residual_amps: f64,
        /// Largest move of the last step, V.
        step_volts: f64,
        /// Node with the worst residual.
        worst: String,
    },
    /// Constant-power cells ask for more than the copper can carry.
    #[error(
        "no operating point: the constant-power loads collapse at {reached:.4} of their power (lowest cell {lowest_volts:.3} V at {place}). \
         Shorten the run, thicken the copper, feed it at more points or raise the voltage"
    )]
    Collapse {
        /// Share of the loads' power up to which a solution was found.
        reached: f64,
        /// Lowest constant-power cell at that share, V.
        lowest_volts: f64,
        /// Where it is.
        place: String,
    },
    /// An option that cannot be.
    #[error("solve option {what} is {found}; it must be {accepted}")]
    Option {
        /// Which option.
        what: &'static str,
        /// Its value.
        found: f64,
        /// The accepted range.
        accepted: &'static str,
    },
    /// The work arrays do not fit in memory.
    #[error(
        "no memory for {bytes} bytes of work arrays. Split the network where it does not share copper"
    )]
    Memory {
        /// Bytes asked for.
        bytes: usize,
    },
}
