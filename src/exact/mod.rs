//! Exact lengths and cut counts: integers and ratios, never a rounded decimal.
//!
//! A tape may be cut only at its cut marks, so a plan counts in whole
//! increments. Floating point gets those counts wrong (4.35 / 0.05 is
//! 86.99999999999999 in `f64`), and a tolerant rounding hides true shortfalls.
//! Here a length is an integer number of nanometres and a pitch is a ratio of
//! integers, so that a count is a floor of integers.
//!
//! ```
//! use evenrun::exact::{CutPitch, ExactLength};
//! let pitch: CutPitch = "50 mm".parse()?;
//! assert_eq!(pitch.count_in("4.35 m".parse()?), 87);
//! assert_eq!(pitch.count_in("5 m".parse()?), 100);
//! // 24 cuts a metre is 1000/24 mm: 41.67 mm would lose one increment.
//! let pitch: CutPitch = "24 per m".parse()?;
//! assert_eq!(pitch.count_in("5 m".parse()?), 120);
//! # Ok::<(), evenrun::exact::ExactError>(())
//! ```
//!
//! One inch is 25 400 000 nm and 1/64 in is 396 875 nm, both exact; a finer
//! fraction of an inch that is no whole number of nanometres is rounded to the
//! nearest and [`ExactLength::was_rounded`] says so.

mod length;
mod pitch;
mod text;

pub use length::{ExactError, ExactLength};
pub use pitch::CutPitch;
