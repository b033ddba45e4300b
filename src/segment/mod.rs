//! A piece of tape with its feeders behind a source.

mod build;
mod check;
mod circuit;
mod error;
mod figures;
mod read;
mod solve;

pub use check::{CheckedCircuit, MOST_FAULTS};
pub use circuit::{Branch, Circuit, Conductor, Feeder, Joint, Segment, State};
pub use error::{CircuitError, CircuitErrors, NoSolution, Unsolved};
pub use figures::{
    BranchFigures, Cell, CircuitFigures, FeedFigures, JointStep, SegmentFigures, step,
};
pub use read::{OperatingPoint, SegmentPoint};
