//! Who listens to which slots.
//!
//! A footprint is the slots a device takes: one an emitter at 8 bits, two at 16,
//! times the pixels of a pixel device. A device lies whole in one universe; only
//! a device of many pixels that no universe can hold is cut, between pixels.
//!
//! ```
//! use evenrun::device::LevelBits;
//! use evenrun::dmx::address::{AddressProblem, Footprint};
//! let devices = (1..=171).map(|n| Footprint::new(format!("D{n}"), 3, LevelBits::Eight)).collect();
//! let patch = AddressProblem { devices, reserved: vec![], first_universe: 1 }.check().unwrap().assign();
//! let last = patch.rows.last().unwrap();
//! assert_eq!((last.universe, last.first, last.last), (2, 1, 3));
//! assert_eq!(last.display(), "001");
//! ```
//!
//! Slots count from 1 and universes from 1 (ANSI E1.11 clause 1.2, ANSI E1.31-2018 clause 6.2.7).

mod assign;
pub(super) mod judge;
mod model;
mod network;
mod slots;

pub use assign::Changed;
pub use model::{
    AddressError, AddressProblem, AddressedProblem, Footprint, Patch, PatchRow, Reserved, Start,
};
pub use network::{MULTICAST_PORT, UniverseError, multicast, multicast_v6, universe};
