//! From a run as drawn to cut increments: what lights, what stays dark, where it may be cut.
//!
//! ```text
//!  line     0 ─────────────── straight ───────────┐ corner, offset d, turns by θ
//!           |▒▒|━━┷━━┷━━┷━━┷━━┷━━┷━━┷━━|░░|▒▒|    │
//!            cap+lead   increments    rest dark    │
//! ```
//!
//! A *leg* is tape without a cut that the path asks for. Its room is
//!
//! ```text
//! room = Σ straights − Σ site tolerances ± Σ d·tan(θ/2) + Σ r·(θ − 2·tan(θ/2)) − dark lengths
//! ```
//!
//! with − inside and + outside a corner, and the third sum over corners that the tape is
//! bent round with radius `r`. The count is an integer floor of exact lengths
//! ([`CutPitch::count_in`](crate::exact::CutPitch::count_in)); `tan` is rounded to whole
//! nanometres once, before the floor.
//!
//! A lead allowance is taken at an end of the run wherever copper *may* enter there, so that
//! the count does not depend on the feeds that are chosen later.
//!
//! ```
//! use evenrun::exact::{CutPitch, ExactLength};
//! use evenrun::layout::lay;
//! use evenrun::layout::spec::*;
//! let drawn = LayoutSpec {
//!     pieces: vec![Piece::Straight { length: ExactLength::from_millimetres(8_080) }],
//!     drawn: None,
//!     start: EndSpec { cap: ExactLength::from_millimetres(10), ..EndSpec::default() },
//!     end: EndSpec { cap: ExactLength::from_millimetres(10), ..EndSpec::default() },
//!     remainder: Remainder::End,
//!     site_tolerance: ExactLength::ZERO,
//!     uncut: vec![],
//!     breaks: vec![],
//!     feed_points: FeedPoints::Ends,
//!     sight: Sight::Seen,
//! };
//! let laid = lay(&drawn, CutPitch::new(ExactLength::from_millimetres(50), 1)?)?;
//! assert_eq!(laid.increments(), 161);
//! assert_eq!(laid.dark_end(), ExactLength::from_millimetres(20));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod corner;
mod laid;
mod lay;
mod rules;
pub mod spec;

pub use laid::{Layout, Leg, LitStretch, PathJoint, PathJointKind};
pub use lay::{LayoutError, MOST_INCREMENTS, lay};
pub use rules::{BendLimits, RULES, findings};
