//! Cutting stock: which piece from which bar, cover or reel.
//!
//! ```text
//!  |<------------------------- stock length ------------------------->|
//!  |== piece ==|k|==== piece ====|k|== piece ==|k|      offcut        |
//!               kerf: one cut between neighbours, one more to part the offcut
//! ```
//!
//! **Cut rule.** A bar holds its pieces when their cut lengths and one kerf
//! between neighbours fit: `Σ cut + kerf · (n − 1) ≤ stock`. The cut length is the
//! piece plus the mitre allowance of each end. What remains loses one more kerf when
//! it is parted; a remainder of a kerf or less is dust.
//!
//! **What is least.** By [`Objective::LeastBars`]: bars bought, then joints. By
//! [`Objective::LeastCost`]: money for bars, joints and changes of batch. Then waste,
//! improved but not proven unless [`CuttingPlan::least_waste`] says so. Remaining ties:
//! larger pieces first, stock in the order longest first, then by name; pieces of one
//! length in the order of their ids. Nothing depends on the order of the lists given,
//! on time or on threads.
//!
//! **Joints.** [`Joints::WhenLonger`] lays a piece that is longer than every stock
//! length as full lengths of the longest stock and one remainder.
//! [`Joints::ByChoice`] may part any piece at the end of a reel. Then reels form rows
//! joined end to end: `k` reels in a row need at most `k − 1` joints, and some best
//! answer is made of such rows, so a row is a longer reel at
//! `k · price + (k − 1) · joint`. Rows are of one stock length, of at most
//! [`LONGEST_ROW`] reels.
//!
//! Each joint may have a resistance; the plan lists what it adds to which piece, for the
//! caller to count in its network.
//!
//! **What binds.** [`CuttingPlan::binding`] names the limits without which a smaller value was
//! found, [`CuttingPlan::runner_up`] the next best answer, or why there is none.
//!
//! **Leaves out**: the order of cutting, direction of profiles that are not
//! symmetric, mitres that nest into each other.
//!
//! ```
//! use evenrun::{exact::ExactLength, progress::Progress, choose::stock::{self, Piece, StockLength, StockSpec}};
//! let mm = ExactLength::from_millimetres;
//! let mut spec = StockSpec::new("profile");
//! spec.kerf = mm(4);
//! spec.stock = vec![StockLength::new("2 m", mm(2000), 100)];
//! for n in 0..10 {
//!     spec.pieces.push(Piece::new(format!("long {n}"), mm(1050)));
//!     spec.pieces.push(Piece::new(format!("short {n}"), mm(950)));
//! }
//! let plan = stock::plan(&spec.check().unwrap(), &mut Progress::silent()).unwrap();
//! // 1050 + 4 + 950 is 2004: no two of different length share a bar.
//! assert_eq!((plan.bars_bought, plan.lower_bound, plan.proven), (15, 15, true));
//! ```

mod batch;
mod check;
mod compare;
mod describe;
mod fault;
mod lay;
mod plan;
mod rack;
mod result;
mod spec;

pub use check::CheckedStock;
pub use fault::StockFault;
pub use plan::{StockError, plan};
pub use result::{Bar, Binding, CuttingPlan, Joined, Limit, Part, RunnerUp};
pub use spec::{
    Batches, DEFAULT_EFFORT, Joints, LONGEST_ROW, Objective, Offcut, Piece, StockLength, StockSpec,
};
