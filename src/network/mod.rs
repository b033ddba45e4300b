//! The network: what each cell of every tape receives through the copper it shares.
mod balance;
mod bound;
mod check;
mod conflict;
mod error;
mod falling;
mod islands;
mod linear;
mod order;
mod plan;
mod section;
mod solution;
mod solve;
mod spec;
mod tape;
mod workspace;

pub use check::{MOST_FAULTS, MOST_PARTS, MOST_RAIL_CELLS};
pub use error::{NetworkError, SolveError};
pub use plan::Network;
pub use solution::{Rail, Solution, SourceState, TapeSolution};
pub use solve::{SolveOptions, Start};
pub use spec::{
    Corner, LawId, Limit, LinkId, LinkSpec, LoadId, LoadSpec, NetworkSpec, NodeId, NodeSpec,
    SourceId, SourceSpec, TapeId,
};
pub use tape::{Along, Attachment, EmitterSpec, MOST_EMITTERS, Polarity, RailSpec, TapeSpec};
pub use workspace::Workspace;
