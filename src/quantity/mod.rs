//! Typed quantities, and their text with units.
//!
//! Every figure that crosses the boundary of this crate is a quantity with a
//! dimension, never a bare number. The types come from [`uom`] (SI base units
//! inside, `f64`); what it lacks for this trade (resistance, power and luminous
//! flux per length) is added in [`kinds`]. Where two figures share a dimension
//! and must not be confused, they are types of their own: [`RouteLength`] is the
//! way of a cable, [`LoopLength`] is out and back.
//!
//! ```
//! use evenrun::quantity::{self, ElectricPotential, parse, show};
//! let volts = parse::<ElectricPotential>("24 V")?;
//! assert_eq!(volts, quantity::volts(24.0));
//! assert_eq!(show(quantity::volts(23.874)), "23.87 V");
//! // A bare number is refused, and the message says what to write.
//! let error = parse::<ElectricPotential>("24").unwrap_err();
//! assert!(error.to_string().contains("no unit"));
//! # Ok::<(), quantity::QuantityError>(())
//! ```
//!
//! Text is read through a closed list of spellings per quantity: no prefix
//! arithmetic on free text, so `"1 mil"` or `"24 VA"` for volts is an error and
//! not a guess. The value of any quantity in SI base units is its public field
//! `value`.

pub mod build;
mod corners;
pub mod kinds;
mod lengths;
mod measured;
mod money;
mod number;
mod plain;
pub mod text;
mod units;
pub mod valued;

pub use build::*;
pub use corners::{Corner, Corners};
pub use kinds::*;
pub use lengths::{LoopLength, RouteLength};
#[cfg(feature = "job")]
pub(crate) use measured::example;
pub(crate) use measured::in_unit;
pub use measured::{Measured, QuantityError, Unit, parse, show, show_in, show_to};
pub use money::{Cost, Currency, DeviceCount, MOST_PRICE, Money};
pub use number::{Number, NumberError, read_number};
pub use plain::printable;
pub(crate) use plain::shorten;
pub use valued::{
    Amps, Hertz, Kilograms, Metres, Ohms, Seconds, Share, SquareMetres, Temperature, Valued, Volts,
    Watts, WattsPerMetre,
};
