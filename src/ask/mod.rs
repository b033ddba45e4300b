//! Quick answers, each from a data sheet's few facts: one call, one question.
//!
//! ```text
//!  facts of a sheet ──▶ question ──▶ answer (data) ──▶ Sheet: the answer first, how it was found, what was assumed
//!
//!  Reach      how long may this tape run, fed at one end, in the middle, at both ends?
//!  Voltage    12, 24 or 48 V for this length?
//!  FeedPoints where do I feed a run of this length, and what does one more feed bring?
//!  FarEnd     what will be read at the far end?
//!  Wire       which wire for this length, current, voltage, drop?
//!  Distance   how far may the decoder be?
//!  Supplies   how many supplies of which size?
//!  DataChain  how many devices on a chain, and how long?
//! ```
//!
//! A question is a plain struct; `answer()` gives an answer or says which figure cannot be. Every answer is data
//! (`serde`) and prints as a [`Sheet`] of fewer than 15 lines.
//!
//! # What is computed
//! Questions about tape solve the tape by [`segment`](crate::segment), every cell of it, fed stiffly at its rated
//! voltage: *nominal* as the sheet says on warm tape, *worst case* with copper, cells and tolerances of
//! [`Limits::default`](crate::job::spec::Limits) where they make most fall-off. Tape whose copper is not stated is solved twice, between the
//! thinnest and the thickest copper of [`CopperClass`](crate::strip::CopperClass); the answer is then a span, and the sheet says what
//! would narrow it. Questions about wire are `ΔV = 2 · R′ · L · I` with the conductor at its stated temperature.
//!
//! # Traps
//! - *Longest run* on a label means four things ([`Falls`](crate::strip::Falls), [`FedFrom`](crate::strip::FedFrom)); which one has to be said.
//! - Light follows current, and current falls faster than voltage: of the strings assumed here 23 V of 24 V leave about 85 % of the light.
//! - A feeder takes volts as well: ask [`Distance`] beside [`Reach`], or plan the job.
//!
//! Leaves out: feeders in front of the tape, several emitters at once, dimming, heat. A [plan](crate::plan) has them.
//!
//! ```
//! use evenrun::ask::{Copper, Reach, TapeFacts};
//! use evenrun::quantity::*;
//! let tape = TapeFacts {
//!     copper: Copper::Loop(ohms_per_metre(0.164)),
//!     ..TapeFacts::new(volts(24.0), watts_per_metre(14.4), "50 mm".parse()?)
//! };
//! let answer = Reach { tape, light: percent(90.0) }.answer()?;
//! assert_eq!(answer.one_end.nominal.to_string(), "3.55 m (11.6 ft)");
//! assert!(answer.sheet().to_string().starts_with("3.55 m (11.6 ft) fed at one end"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod chain;
mod distance;
mod error;
mod far_end;
mod feed_points;
mod reach;
mod sheet;
mod solved;
mod supplies;
mod tape;
mod voltage;
mod wire;

pub use chain::{DataChain, DataChainAnswer};
pub use distance::{Distance, DistanceAnswer, WireRoute};
pub use error::AskError;
pub use far_end::{FarEnd, FarEndAnswer};
pub use feed_points::{FedAt, FeedPoints, FeedPointsAnswer};
pub use reach::{Reach, ReachAnswer, Span};
pub use sheet::Sheet;
pub use solved::Fed;
pub use supplies::{Supplies, SuppliesAnswer, SupplyCount};
pub use tape::{Copper, TapeFacts};
pub use voltage::{AtVoltage, Voltage, VoltageAnswer};
pub use wire::{Wire, WireAnswer, WireChoice};
