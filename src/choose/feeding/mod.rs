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
//! The search in ten sentences:
//!
//! 1. `problem` checks the run and turns it into plain numbers; a *candidate* (`circuit`) is one segment with its
//!    pattern, feeds and wires.
//! 2. `bound` refuses candidates by necessary conditions: cells that keep the light limit draw at least their least
//!    currents, so the copper takes at least so many volts, and all of it carries at least so many amperes.
//! 3. What these conditions leave gives a lower bound on the cost of what lies before each mark
//!    (`search::cost_before`), and so of the whole run.
//! 4. `best[x]` is found from the end of the run on (`search::chain`), first among chains that exceed that bound by little,
//!    then by more, and at last by as much as a chain with breaks at few marks costs.
//! 5. At a mark the ways on wait in a heap by what they cost at least (`search::next_segment`): on one feed
//!    (`search::one_feed`) the ends with a like price form one group, on several (`search::several_feeds`) each end stands alone.
//! 6. The cheapest is taken out and given a verdict, and the first that holds is `best[x]`: all others cost no less.
//! 7. A verdict (`verdict`) encloses the cell voltages from above and from below until every limit is decided, for all
//!    candidates of one shape in a stretch of marks at once where that is possible (`verdict::span`), else for one.
//! 8. Where the two sides do not close the network solver decides (`full`).
//! 9. `planning` has the chosen segments solved again by the network solver, and follows the ways around a step of light
//!    that shows across a break (`planning::steps`).
//! 10. It then asks for the cheapest chain that begins otherwise, for the cheapest if no limit counted, and, where nothing
//!     holds, for the one that keeps most light (`planning::fallback`).
//!
//! ```text
//!  planning   from a checked run to its plan: proof, alternatives, what to say where nothing holds
//!  search     the recurrence: bounds on cost, ways on, cheapest first
//!  figures    the figures of a chosen segment, from its full solve
//!  verdict    whether a candidate keeps every limit
//!  bound      necessary conditions in closed form
//!  full       a candidate as a circuit of the shared segment model
//!  circuit    a candidate as copper: rails, feeders, joints
//!  result     what is answered
//!  problem    what is asked, checked                            imports point down only
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
//! - **Accelerations**: each changes how long the search takes and nothing else. Switched off, the cases that users have take so
//!   many times as long, CPU time (`cargo bench --bench feed`, group *accelerations*; the cases are named there):
//!
//! | | demo | listed | anywhere | seen | 40 m | reels | short |
//! | --- | --- | --- | --- | --- | --- | --- | --- |
//! | `CostBefore`: no mark is looked at whose beginning and rest together cost too much | 1.7 | 1.7 | 1.5 | 1.4 | 5.4 | 1.7 | 2.3 |
//! | `CostSteps`: chains that exceed the bound by little come first | 1.0 | 0.9 | 1.1 | 1.0 | 4.6 | 1.5 | 1.2 |
//! | `FewBreaks`: a chain with few breaks says how much is enough | 1.2 | 1.8 | 1.1 | 1.2 | 1.0 | 1.0 | 0.9 |
//! | `LikeTheNeighbour`: what holds from the next mark, moved, limits the rest | 1.3 | 0.9 | 2.0 | 1.5 | 0.9 | 1.1 | 0.9 |
//! | `LengthBounds`: lengths of segments with several feeds, by stretch | 1.0 | 0.9 | 1.1 | 1.0 | 65 | 13 | 3.2 |
//! | `CurrentBounds`: what a segment draws at least, in closed form | 4.0 | 1.5 | 3.5 | 3.7 | 1.0 | 0.9 | 1.0 |
//! | `SharedVerdicts`: one verdict for a shape in a stretch | 1.8 | 1.0 | 1.7 | 4.6 | 1.3 | 0.5 | 1.0 |
//! | `KeptVerdicts`: verdicts on tape with joints are kept | 1.3 | 0.7 | 2.0 | 1.3 | 1.0 | 1.1 | 0.9 |
//!
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
pub use planning::rules::RULES;
#[cfg(feature = "job")]
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
pub use result::limit::LimitKind;
pub use result::plan::{
    Alternative, Binding, Conductor, ConductorFeed, FeedPoint, FeedProblem, Infeasible, Marks,
    Proof, RunFeedPlan, RunOutcome, Segment, SegmentFigures,
};
#[cfg(feature = "job")]
pub(crate) use verdict::measured::step;
