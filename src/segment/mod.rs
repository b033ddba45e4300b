//! A piece of tape with its feeders behind a source: one electrical model for the search, the joint solve and the rules.
//!
//! ```text
//!  supply output                 branch (a decoder)              segment, from mark 0 to mark 4
//!
//!             lead                                     feeder, core         ●  a mark: copper enters
//!   (+) ──┬───/\/\─── common bus ─────────┬───────────────/\/\──────● r/2 ┬ r ┬ r ┬ r ┬ r/2 ●─ … common rail
//!    R_o  │                               └───────────────/\/\─ … other feeders and segments
//!         │ lead                                                          │   │   │   │  cells of an emitter
//!   (−) ──┼───/\/\─── terminal ─┬─/\/\─ output 1 ─────────/\/\──────● r/2 ┴ r ┴ r ┴ r ┴ r/2 ●─ … its return rail
//!         │                     └─/\/\─ output 2 ─ … another emitter
//!         └─ lead ─ … the next branch   switch
//! ```
//! Drawn for a common plus; with a common minus the two terminals of the supply change places.
//!
//! # What is solved
//! | part | law | unit |
//! | --- | --- | --- |
//! | output | `V = E − R_o · I`, one-way, with its [`Limit`](crate::network::Limit) | V, ohm, A |
//! | lead, switch, core, joint | `V = R · I`, each its own | ohm |
//! | rail | one increment `r` from cell to cell; `r + joint` across a joint | ohm |
//! | beside a fed mark | `(r + joint) / 2` to the cell on either side | ohm |
//! | cell | `I = law(V)` of the [tape model](crate::strip::TapeModel) | A, V |
//!
//! Kirchhoff's laws over all of it, by [`network`](crate::network). A feeder inside a segment divides the tape at its
//! mark into two that meet in one node for each conductor; a conductor that does not enter there runs on through that node.
//!
//! **States.** Emitters are lit together in [`State`]s; each state is a network of its own, without the rails and
//! switches of what is dark. **Corners.** Set point, copper and cells each have three figures
//! ([`Corners`](crate::quantity::Corners)). At each corner the *worst over the states* is kept, figure by figure: a rule
//! about light reads the low corner, one about currents the high one. Volts that are read on site are those of the first state.
//!
//! # Inputs
//! Set points above 0 V; resistances 0 Ω or more, infinite where a conductor is open; marks that rise along the run; every
//! emitter lit in some state; the common and each return brought by at least one feeder. [`Circuit::check`] names every fault.
//!
//! # Traps
//! - A conductor that enters twice at one mark is refused: halve the core resistance instead.
//! - Fed at both ends, either feeder comes to carry the whole load when the other is lost.
//! - Branches with a common plus and with a common minus cannot share an output.
//! - The low corner is that of light. It bounds no voltage: volts that are read lie in the [`Bands`] of builds whose parts
//!   stand at corners of their own.
//!
//! # What it leaves out
//! What chopping does to the wire (`L di/dt`); heating of the copper by its own current (the corner states its
//! temperature); tape that joins two outputs; joints that age. A segment that is solved by itself sees other
//! segments' currents in nothing but a lower set point, which is how the search reserves volts for them.
//!
//! # One segment, fed at both ends
//! Four increments with 0.1 ohm in each rail, cells of 0.5 A, two feeders with 0.2 ohm in each core, on a stiff 24 V. By
//! symmetry each feeder carries 1 A and drops 2 · 0.2 ohm · 1 A = 0.4 V: 23.6 V at the tape. The half increments to the first
//! cell take 2 · 0.05 ohm · 1 A = 0.1 V, the next increment 2 · 0.1 ohm · 0.5 A = 0.1 V: 23.4 V at the second cell.
//!
//! ```
//! use evenrun::exact::{CutPitch, ExactLength};
//! use evenrun::load::{Load, StraightLine};
//! use evenrun::network::{Polarity, Workspace};
//! use evenrun::quantity::{Corners, amps, celsius, ohms, volts};
//! use evenrun::segment::{Circuit, Feeder, Segment};
//! use evenrun::strip::{TapeEmitter, TapeModel};
//!
//! // Straight from 19 V, flat at 0.5 A from 20 V.
//! let cell = Load::Straight(StraightLine {
//!     knee: volts(19.0),
//!     resistance: ohms(2.0),
//!     limit: Some(amps(0.5)),
//!     volts_per_kelvin: 0.0,
//! });
//! let tape = TapeModel {
//!     strip: "example".into(),
//!     pitch: CutPitch::new(ExactLength::parse("50 mm")?, 1)?,
//!     rated: volts(24.0),
//!     polarity: Polarity::CommonPlus,
//!     common: Corners::same(ohms(0.1)),
//!     emitters: vec![TapeEmitter {
//!         name: "white".into(),
//!         rail: Corners::same(ohms(0.1)),
//!         law: Corners::same(cell.law(celsius(25.0))?),
//!     }],
//!     branch: None,
//! };
//! let core = Corners::same(ohms(0.2));
//! let feeders = vec![Feeder::full(&tape, 0, core), Feeder::full(&tape, 4, core)];
//! let circuit = Circuit::of(Corners::same(volts(24.0)), Segment::plain(&tape, 0, 4, feeders)).check()?;
//! let figures = circuit.solve(&mut Workspace::new())?;
//!
//! let segment = &figures.low.branches[0].segments[0];
//! let near = |found: f64, by_hand: f64| assert!((found - by_hand).abs() < 1e-9, "{found} for {by_hand}");
//! near(figures.nominal.power.value, 48.0);                         // 24 V · 2 A
//! near(segment.current.value, 2.0);
//! near(segment.feeders[0].volts.map_or(0.0, |v| v.value), 23.6);
//! near(segment.feeders[0].drop.value, 0.4);
//! near(segment.least_volts.value, 23.4);
//! near(segment.entry_current.value, 1.0);
//! near(segment.rail_current.value, 0.5);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # Where to look
//! ```text
//! circuit   plain data     check   its faults     build   -> network     read   one operating point
//! figures   worst over the states, at a corner    solve   states and corners    sensitivity   slopes of one cell
//! bands     what is read on site, of any build within the tolerances
//! ```

mod bands;
mod build;
mod check;
mod circuit;
mod data;
mod error;
mod figures;
mod read;
mod sensitivity;
mod solve;

pub use bands::{Bands, BranchBands, CELLS, CellBand, FeedBand, SegmentBands};
pub use build::Build;
pub use check::{CheckedCircuit, MOST_FAULTS};
pub use circuit::{Branch, Circuit, Conductor, Feeder, Joint, Segment, State};
pub use error::{CircuitError, CircuitErrors, NoSolution, Unsolved};
pub use figures::{
    BranchFigures, Cell, CircuitFigures, FeedFigures, JointStep, SegmentFigures, step,
};
pub use read::{OperatingPoint, SegmentPoint};
pub use sensitivity::{BranchSensitivity, CellSensitivity, SegmentSensitivity};
