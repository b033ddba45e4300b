//! The line from a port through devices to a terminator, and what the rules say of it.
//!
//! ```text
//!  port (driver)      device      device           splitter               device, far end
//!   ──┤▷├───────●──────●───────────●────────────────┤▷├──── output 1 ──────●──[120 Ω]
//!      └bias    in/out on its own terminals          │└──── output 2 ── …   a link of its own
//!   ──────────────────────── data common ───────────┘ isolated
//! ```
//!
//! A chain is a tree of parts. Each part names the part its cable comes from;
//! the first cable comes from the port, [`SOURCE`]. A daisy chain is a tree in
//! which every part has one successor. A splitter begins new links, each with
//! unit loads, length and terminator of its own.
//!
//! Published rules and good practice are judged separately: a chain of 25
//! devices keeps the 32 unit loads of the standard and exceeds the 20 devices of
//! good practice, and both are said.
//!
//! | input | accepted |
//! | --- | --- |
//! | parts | 1 to 10 000, each with a name of its own |
//! | cable | 10 Ω to 1000 Ω, velocity 0.1 to 1, at most 100 Ω/m, 0 m to 10 000 m each |
//! | terminator | 1 Ω to 1 MΩ |
//! | bias | 0.1 V to 100 V, 1 Ω to 1 MΩ |
//!
//! | result | equation | limit |
//! | --- | --- | --- |
//! | unit loads of a link | sum over its receivers | 32 |
//! | reflection at the end | `(Rt − Z)/(Rt + Z)` | 9.1 %, as of 120 Ω on 100 Ω |
//! | resistance of a core | `R' · length` | 200 Ω |
//! | idle voltage | [`bias`](crate::dmx::bias) | 200 mV, 245 mV with RDM |
//! | offset between supply minus terminals | from the solve | 6 V |
//!
//! **Traps.** A joint in a box is a branch. A splitter that does not pass RDM hides the devices behind it. A port that is not
//! isolated returns load current through the data cable when a supply minus opens. On a short line a missing terminator is not noticed.
//!
//! With [`ChainSpec::rdm`] devices answer on the same pair: splitters have to pass that, the near
//! end is terminated too, and [`ChainSpec::bias`] has to hold the idle line. Connectors are judged
//! where any is stated.
//!
//! ```
//! use evenrun::dmx::chain::{ChainSpec, LineCable, Part};
//! use evenrun::quantity::{metres, ohms};
//! let mut chain = ChainSpec::new("north", LineCable::data_pair(24));
//! for n in 1..=12 {
//!     chain.next(Part::device(format!("D{n}"), metres(8.0)));
//! }
//! chain.terminate(ohms(120.0));
//! let chain = chain.check().unwrap();
//! assert!(chain.judge().iter().all(|finding| !finding.is_fail()));
//! ```

pub(in crate::dmx) mod answers;
pub(in crate::dmx) mod branches;
mod cable;
pub(in crate::dmx) mod ends;
pub(in crate::dmx) mod ground;
pub(in crate::dmx) mod habits;
pub(in crate::dmx) mod idle;
pub(in crate::dmx) mod isolation;
mod judge;
pub(in crate::dmx) mod length;
mod link;
pub(in crate::dmx) mod load;
mod model;
mod part;
pub(in crate::dmx) mod plugs;
mod splitters;

pub(in crate::dmx) use cable::NEPER_DECIBELS;
pub use cable::{CableKind, LineCable};
pub use ground::Ground;
pub use habits::Habits;
pub use link::Link;
pub use model::{Chain, ChainError, ChainSpec, SOURCE};
pub use part::{Part, PartKind};
pub use splitters::Proposal;
