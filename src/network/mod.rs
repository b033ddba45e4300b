//! The network: what each cell of every tape receives through the copper it shares.
mod balance;
mod bound;
mod check;
mod coarse;
mod conflict;
mod damped;
mod dimming;
mod error;
mod falling;
mod flat;
mod islands;
mod linear;
mod loop_ladder;
mod loop_levels;
mod order;
mod plan;
mod section;
mod sensitivity;
mod solution;
mod solve;
mod spec;
mod spread;
mod sweep;
mod tape;
mod workspace;

pub use check::{MOST_FAULTS, MOST_PARTS, MOST_RAIL_CELLS};
pub use dimming::{
    Chop, ChoppedGroup, DimmingError, DimmingMeans, DimmingState, MOST_CHOPPED, average,
    dimming_means, dimming_states, shortest_state,
};
pub use error::{NetworkError, SolveError};
pub use loop_ladder::{LoopError, LoopFeed, LoopLadder, LoopLinks, LoopSolution, MOST_LOOP_CELLS};
pub use loop_levels::LoopWork;
pub use plan::Network;
pub use sensitivity::{Figure, Sensitivity};
pub use solution::{Rail, Solution, SourceState, TapeSolution};
pub use solve::{SolveOptions, Start};
pub use spec::{
    Corner, LawId, Limit, LinkId, LinkSpec, LoadId, LoadSpec, NetworkSpec, NodeId, NodeSpec,
    SourceId, SourceSpec, TapeId,
};
pub use spread::{Grounds, Sampling, Spread, SpreadError, Tolerances, figure_value, spread};
pub use tape::{Along, Attachment, EmitterSpec, MOST_EMITTERS, Polarity, RailSpec, TapeSpec};
pub use workspace::Workspace;
