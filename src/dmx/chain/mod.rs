//! The line from a port through devices to a terminator, and what the rules say of it.
//!
//! A chain is a tree of parts. Each part names the part its cable comes from;
//! the first cable comes from the port, [`SOURCE`]. A daisy chain is a tree in
//! which every part has one successor. A splitter begins new links, each with
//! unit loads, length and terminator of its own.
//!
//! Published rules and habits of the trade are judged separately: a chain of 25
//! devices keeps the 32 unit loads of the standard and breaks the habit of 20
//! devices, and both are said.
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
