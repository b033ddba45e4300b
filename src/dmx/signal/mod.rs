//! The signal on the line, in the time domain.
//!
//! Rules keep most chains out of trouble; where one is broken, or a fault is
//! already there, the question is which device shows it. [`Chain::simulate`]
//! sends a packet down the tree of cables and gives for every device the least
//! voltage it sees while it samples, [`Chain::what_if`] does so again with one
//! thing wrong at a time.
//!
//! [`Chain::simulate`]: crate::dmx::chain::Chain::simulate
//! [`Chain::what_if`]: crate::dmx::chain::Chain::what_if
//!
//! The line is linear, so one mark is carried through the net step by step and a packet is the sum of such
//! marks, up or down (`superpose`); [`SignalPlan::step_by_step`] carries every bit instead and gives the same to 10 µV.
//!
//! Cable is an ideal line with its loop resistance in lumps at most 20 m apart
//! ([`LineNet`]); the loss is that of a constant resistance, which understates
//! the loss of an edge and is near it at the bit rate. Receivers are a
//! resistance (24 kΩ a unit load, differential) beside a capacitance.
//! Common-mode volts, bias and crosstalk are not part of it.
//!
//! A plan simulates each of its chains with the driver, receivers and packet of [`SignalSpec::default`]; the rule
//! `signal-margin` judges every device of them.

mod judge;
mod line_net;
mod packet;
pub(super) mod result;
mod run;
mod steady;
mod superpose;
mod what_if;
mod what_if_text;

pub use line_net::{LineNet, NetError, Node};
pub use packet::Levels;
pub use result::{DeviceSignal, LinkSignal, Signal};
#[cfg(feature = "job")]
pub(crate) use result::{judge, not_simulated};
pub use run::{SignalError, SignalPlan, SignalSpec};
pub use what_if::{Change, WhatIf};
