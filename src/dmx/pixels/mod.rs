//! Strings of pixels: how long a frame lasts, how long a string may be, and where its power enters.
//!
//! ```text
//! frame  = pixels · bits · bit time + latch          rate = 1 / frame
//! pixels = ⌊(1/rate − latch) / (bits · bit time)⌋
//! ```
//!
//! Power is a question of copper, as for any tape: [`PixelString`] hands the string, with its own cut increments and
//! the load of its pixels at full level, to [`crate::choose::feeding`] and says before which pixels copper has to enter.
//! Data edges on the wire from pixel to pixel are not part of it.
//!
//! ```
//! use evenrun::dmx::pixels::PixelLine;
//! use evenrun::quantity::{hertz, seconds};
//! let line = PixelLine::one_wire(24, seconds(300e-6)).unwrap();
//! assert!((line.rate(170).value - 185.185).abs() < 1e-3);
//! assert_eq!(line.most_pixels(hertz(60.0)), 545);
//! ```

mod line;
pub(super) mod one_wire;
#[cfg(feature = "choose")]
mod power;

pub use line::{PixelError, PixelLine, universes};
pub use one_wire::OneWireTiming;
#[cfg(feature = "choose")]
pub use power::{Injection, InjectionError, InjectionPoint, PixelString};
