//! Break and feed one run: where to cut it, where copper enters, through which wire.

mod bound;
mod build;
mod candidate;
mod check;
mod each;
mod ends;
mod error;
mod every;
#[cfg(test)]
mod exhaustive;
mod fallback;
mod figures;
mod full;
mod judge;
mod least;
mod march;
mod measure;
mod model;
mod most;
mod oracle;
mod outline;
mod placements;
mod plan;
mod rails;
mod rests;
mod search;
mod shape;
mod solve;
mod spans;
mod spec;
mod trade_off;
mod ways;
mod words;

pub use check::{MOST_CANDIDATES, MOST_INCREMENTS, MOST_PRICE};
pub use each::plan_each;
pub use error::{FeedError, FeedErrors};
pub(crate) use every::{Every, Small};
pub use model::CheckedRun;
pub use plan::{
    Alternative, Binding, Conductor, ConductorFeed, FeedPoint, Infeasible, Proof, RunFeedPlan,
    RunOutcome, Segment, SegmentFigures,
};
pub use spec::{
    CandidateWire, CostModel, EnergyCost, FeedLimits, Fixed, FixedFeed, FixedSegment, Joint,
    JointCut, LitStates, Pattern, PlaceRoutes, Positions, RunProblem, SourceModel,
};
pub use trade_off::{
    Arrangement, MOST_ARRANGEMENTS, Standing, TradeOff, TradeOffEnd, TradeOffSpec,
};
