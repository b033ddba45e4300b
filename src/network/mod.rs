//! The network: supplies, cables, switches and tapes as one, and what each cell of every tape receives.
//!
//! ```text
//!  supply      main     junction    feeder     pad                    common rail
//!  (E)─R_out──[link]──●──[link]──────────────●──link──●──link──● … ──●
//!   │ one way         │                      │        │        │      │
//!   │ limit           ├─ other tapes       cell     cell     cell   cell    I(u), one law an emitter
//!   │                 │                      │        │        │      │
//!   │                 ●──[switch]────────────●──link──●──link──● … ──●
//!  (−)────────────────┘ decoder output      pad                     return rail of an emitter
//! ```
//!
//! [`NetworkSpec`] is plain data; [`NetworkSpec::check`] gives a [`Network`] or every fault; [`Network::solve`] gives a
//! [`Solution`]. A rail may be fed anywhere and any number of times, each conductor for itself. What feeds share couples
//! what they feed, so whatever shares copper belongs in one network.
//!
//! # Equations
//! Unknown is a potential at every node: the wiring's, and on each tape one for the common rail and one for each lit
//! return at each cell. At every node the currents balance:
//!
//! ```text
//! Σ (v_a − v_b)/R  +  Σ ±I_cell(u)  −  Σ ±I_source(v)  =  0
//! u = v_common − v_return (its negative for common minus)
//! I_source = clamp((E − v₊ + v₋)/R_out, 0, limit)
//! ```
//!
//! Every branch joins two nodes, so the Jacobian is a weighted graph Laplacian: off-diagonal `−g`, row sums zero. It is
//! never written down. Eliminating a node of neighbours `a, b, …` replaces its star of conductances by a mesh,
//! `g_ab += g_a·g_b/Σg`, and hands each neighbour its share `g_a/Σg` of the current injected: sums, products and quotients of positive numbers
//! only, so 18 decades of resistance side by side lose no digit. A tape is eliminated cell by cell towards the pads at which it is
//! attached (`O(cells·rails³)`), the wiring in order of least degree, and the potentials are put back the same way.
//!
//! Link currents are a state of their own and move with each step, `I += g·Δstep`, instead of being recomputed as a
//! small difference of large potentials: a link of a nano-ohm carries no noise. Links below 1e-15 ohm join their ends, links above
//! 1e18 ohm are open. What no closed loop can feed (a broken track, a feed on one conductor only, a reversed tape) is found before as a
//! strongly connected component of the graph in which loads and sources have a direction, and is dark.
//!
//! Links across a source (a bleeder, a short of some length) are links like others. A stiff source is one of 1e-15 ohm whose current is a state: the
//! iteration goes on until the currents balance, not only until the potentials stand still.
//!
//! # Folding
//! Where every tape has one lit emitter, the cells carry one potential instead of two, whatever the wiring: what goes out along a stretch beyond the
//! last attachment comes back along it, and between two attachments the loop and the rest come apart wherever common and return keep one proportion (a
//! joint that does not is cut out by pads of its own). This happens unasked, and costs a third of the general path.
//!
//! # One solution, and where not
//! *Monotone loads.* The balance is the gradient of the co-content `Σ ∫I du`, convex as no current falls when its voltage
//! rises; so cell voltages, currents and reported potentials are unique, and Newton's method with a line search on the co-content settles. The start
//! is a coarser network, eight cells taken as one.
//!
//! *Constant power.* `I = P/u` falls: there are two solutions or none. The solver follows the upper one from no power to
//! full power and keeps the matrix positive definite on the way; where that fails before full power there is no operating point, and
//! [`SolveError::Collapse`] says how far it came. With [`SolveOptions::find_collapse`], [`Solution::collapse_at`] is the multiple of the power
//! at which it would.
//!
//! *Overload.* A constant-current limit is solved. Fold-back, hiccup and trip are not: [`SourceState`] says that the demand exceeds the limit.
//!
//! # What does not hold
//! More copper, fewer cells or one more feed never lowers a cell **only** with one loop and one source voltage, and only when all copper changes
//! alike. One thicker link can lower the cells before it; lighting red can brighten green; with plus and return at opposite ends removing a
//! cell can dim another. Worst states are enumerated, never assumed (the tests keep a counterexample of each).
//!
//! # Error
//! [`Solution::volt_error_bound`] is proved for monotone loads: the error `d` obeys `M·d = residual` with slopes between zero and unknown,
//! so `|d| ≤ w` with `M₀·w = |residual|` and `M₀` the copper and sources alone; one more elimination. [`Solution::bound_is_rigorous`] says
//! where it is first order only (a supply at its limit, constant power). Strings are read from a table within 2e-12 of their closed form.
//! In a folded network the currents of the rails are sums of those of the cells and balance exactly; what Ohm's law then misses is a voltage in series, and
//! copper and monotone loads amplify none, so these are added up instead. [`Solution::amp_error_bound`]: the currents left over, all together.
//!
//! # Beyond one solve
//! [`Solution::sensitivity`]: one figure to every parameter, from the solution of any path. Not called by the planner yet: [`dimming_means`] (exact
//! averages over chopped states) and [`spread`] (lowest and highest under tolerance). [`Corner`]: sources low, nominal, high; copper and cell temperature are in the resistances and laws given.
//!
//! # Leaves out
//! Inductance and capacitance (a chopped state must outlast about five `L/R`: [`shortest_state`]), self-heating of cells and copper
//! (give the temperature), remote sensing, current sharing electronics.
//!
//! # Example
//! ```
//! use evenrun::load::{Load, Resistive};
//! use evenrun::network::*;
//! use evenrun::quantity::*;
//! // Three cells of 1 ohm behind links of 1 ohm: the last one sees 1/13 of the supply.
//! let mut spec = NetworkSpec::new();
//! let (plus, minus) = (spec.node("plus"), spec.node("minus"));
//! spec.stiff_source("supply", plus, minus, volts(13.0));
//! let cell = spec.law(Load::Resistive(Resistive { resistance: ohms(1.0) }).law(celsius(25.0))?);
//! let tape = spec.tape(TapeSpec {
//!     name: "tape".into(),
//!     polarity: Polarity::CommonPlus,
//!     cells: 3,
//!     common: RailSpec::uniform(ohms(1.0), vec![Attachment::through(0, plus, ohms(1.0))]),
//!     emitters: vec![EmitterSpec::lit("white", cell, RailSpec::uniform(ohms(0.0), vec![Attachment::at(0, minus)]))],
//! });
//! let network = spec.check()?;
//! let mut work = Workspace::new();
//! let solution = network.solve(&SolveOptions::default(), &mut work)?;
//! let last = solution.tape(tape).and_then(|t| t.least_cell_voltage(0)).expect("a lit emitter");
//! assert!((last.value - 1.0).abs() < 1e-9);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod balance;
mod bound;
mod check;
mod coarse;
mod conflict;
mod dimming;
mod error;
mod falling;
mod flat;
mod folded;
mod folds;
mod islands;
mod layout;
mod linear;
mod live;
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
mod tape_solution;
mod workspace;

pub use check::{MOST_FAULTS, MOST_PARTS, MOST_RAIL_CELLS};
pub use dimming::{
    Chop, ChoppedGroup, DimmingError, DimmingMeans, DimmingState, MOST_CHOPPED, average,
    dimming_means, dimming_states, shortest_state,
};
pub use error::{NetworkError, NetworkErrors, SolveError};
pub use plan::Network;
pub use sensitivity::{Figure, Sensitivity};
pub use solution::{Solution, SourceState};
pub use solve::{SolveOptions, Start};
pub use spec::{
    Corner, LawId, Limit, LinkId, LinkSpec, LoadId, LoadSpec, NetworkSpec, NodeId, NodeSpec,
    SourceId, SourceSpec, TapeId,
};
pub use spread::{Grounds, Sampling, Spread, SpreadError, Tolerances, figure_value, spread};
pub use tape::{Along, Attachment, EmitterSpec, MOST_EMITTERS, Polarity, RailSpec, TapeSpec};
pub use tape_solution::{Rail, TapeSolution};
pub use workspace::Workspace;
