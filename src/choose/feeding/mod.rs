//! Break and feed one run: where to cut it, where copper enters, through which wire.
//!
//! ```text
//!  place ═══════╦══════════════════════╦══════════════╗
//!               ║                      ║              ║  feeders: a core for the common, one a return
//!  mark 0       ║          break       ║              ║     mark n
//!   ├──○──○──○──╨──○──○──○──┤ ├──○──○──╨──○──○──○──○──╨──○──○──┤
//!   └─── segment: ○ cut increments, fed at one mark; the next one at two
//! ```
//!
//! A [`RunProblem`] names the tape, the marks that may be cut or fed, the places and wires, what must hold and what
//! things cost. [`CheckedRun::plan`] gives the cheapest chain of segments in which every segment keeps every limit:
//!
//! ```text
//!  best[x] = min over j, pattern, wires, place of  price(x, j, …) + price of the break at j + best[j]
//! ```
//!
//! - **Limits of light** (least current, drop, balance, step at a visible joint) hold at the low corner: low set point,
//!   warm copper. **Limits of current** hold at the low and the high corner.
//! - **Price** in whole minor units: feeders by metre and wire, each feed, break, segment and joint, and the watts
//!   lost over stated hours.
//! - **Reels**: a piece of tape longer than a [`Reel`] is joined at every whole reel from its start (that of its segment,
//!   or where a joint of the path parts the tape); the joints add their resistance and their price.
//! - **Ties**: less money, then fewer feeds, then more even branches, then the order of marks, places and wires.
//! - **Proof**: [`Proof::Cheapest`] names the problem that was proven; where the permitted effort was spent first, or too many
//!   arrangements with a step of light across a break were followed, the plan carries a lower bound
//!   and the reason. The next best and the cheapest arrangement that a limit refuses stand beside it.
//! - **Leaves out**: copper that runs share beyond their feeders (the planner solves all of it together and plans again
//!   where it must), dimming, protection.
//!
//! The search is checked against trying everything on small runs and judging every candidate of longer ones; the
//! segments it chose are solved again by [`network`](crate::network), which is checked against ngspice.
//!
//! ```
//! use evenrun::choose::feeding::RunOutcome;
//! use evenrun::{job, plan};
//! # let text = include_str!("../../../examples/archive_wing.toml");
//! let job = job::read(text, "archive_wing.toml")?;
//! let run = plan::run_problem(&job, "S1").expect("a run of the job").check()?;
//! if let RunOutcome::Planned(plan) = run.plan()? {
//!     assert_eq!(plan.cost, plan.lower_bound);
//!     let first = &plan.segments[0];
//!     assert!(first.figures.low.least_current >= run.problem().limits.least_current);
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bound;
mod circuit;
mod figures;
mod full;
mod planning;
mod problem;
mod result;
mod search;
#[cfg(test)]
mod tests;
mod verdict;

pub use planning::many::plan_each;
pub(crate) use planning::segment_list::{ListLimits, SegmentList};
pub use planning::trade_off::{
    Arrangement, MOST_ARRANGEMENTS, Standing, TradeOff, TradeOffEnd, TradeOffSpec,
};
#[doc(hidden)]
pub use problem::accelerations::Acceleration;
pub use problem::check::{MOST_CANDIDATES, MOST_INCREMENTS, MOST_PRICE};
pub use problem::checked::CheckedRun;
pub use problem::error::{FeedError, FeedErrors};
pub use problem::spec::{
    CandidateWire, CostModel, EnergyCost, FeedLimits, Fixed, FixedFeed, FixedSegment, Joint,
    JointCut, LitStates, Pattern, PlaceRoutes, Positions, Reel, RunProblem, SourceModel,
};
pub use result::plan::{
    Alternative, Binding, Conductor, ConductorFeed, FeedPoint, FeedProblem, Infeasible, Marks,
    Proof, RunFeedPlan, RunOutcome, Segment, SegmentFigures,
};
pub use verdict::measured::LimitKind;
