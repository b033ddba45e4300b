//! What one cell of a tape draws: current against voltage, as a typed choice.
//!
//! A [`Load`] is plain data from a data sheet; [`Load::law`] checks it, at the
//! temperature of its junctions, into a [`Law`]: current and slope at a voltage,
//! voltage for a current.
//!
//! ```text
//!  I │            ______ constant current (flat above drop-out)
//!    │          ,´   ,
//!    │         /   ,´   ballasted string
//!    │        /  ,´              *.    constant power: I = P/V, *falls*
//!    │_______/_,´                   ` * . _
//!    └────────────────────────────────────── V
//! ```
//!
//! | load | law |
//! | --- | --- |
//! | [`SeriesString`] | `I = (a/R)·W0((Is·R/a)·exp((V + Is·R)/a)) − Is`, `a = N·n·VT`, `R = N·Rs + Rb` |
//! | [`StraightLine`] | `I = clamp((V − V0)/R, 0, limit)` |
//! | [`ConstantCurrent`] | `I = min(I0, string with Rb = Vdo/I0)` |
//! | [`Pixel`] | an idle part and a regulated part, each a straight line up to its plateau |
//! | [`Resistive`] | `I = V/R` |
//! | [`ConstantPower`] | `I = P/V`: the only one whose current falls as the voltage rises |
//! | [`Readings`] | monotone cubic through readings |
//! | [`Characteristic`] | your own |
//!
//! **Monotone or falling** is a fact of the type ([`Law::trend`]): networks of
//! monotone loads have one solution; a falling load makes two solutions or none,
//! and the solver says which it found ([`crate::network`]).
//!
//! Below 0 V every law draws nothing (a diode string blocks), and all arithmetic
//! is in the log domain, so no voltage overflows.
//!
//! **Inputs.** Junction temperature 200 K to 500 K; forward voltage 0.1 V to 100 V; ideality 0.5 to 20; 1 to 1000 diodes in
//! series; current of the data point 1 nA to 1 kA. [`Diode::from_saturation`] takes `Is` and its temperature instead of a point.
//!
//! **Traps.** A data sheet states one point; the slope is that of the ideality assumed. At 25 °C junction a tape draws less than
//! warm (`−2 mV/K` a diode). A converter cell *raises* its current as the voltage falls: a longer wire makes it worse.
//!
//! Leaves out: self-heating (give the junction temperature), spread between cells,
//! flux (see [`flux`]).
//!
//! ```
//! use evenrun::load::{Diode, Load, SeriesString};
//! use evenrun::quantity::*;
//! // An invented white diode: 3.0 V at 20 mA; three of them and 150 ohm take 20 mA at 12 V.
//! let white = Diode {
//!     forward_voltage: volts(3.0), at_current: milliamps(20.0),
//!     ideality: 2.0, series_resistance: ohms(3.0), volts_per_kelvin: -0.002,
//! };
//! let cell = Load::Series(SeriesString { diode: white, count: 3, ballast: ohms(150.0) });
//! let law = cell.law(celsius(25.0))?;
//! assert!((law.current(volts(12.0)).value - 0.020).abs() < 1e-9);
//! assert!((law.current(volts(11.5)).value - 0.017_012_216_62).abs() < 1e-11);
//! # Ok::<(), evenrun::load::LoadError>(())
//! ```

mod custom;
mod error;
pub mod flux;
mod form;
mod judge;
mod kinds;
mod law;
mod omega;
mod omega_table;
mod readings;
mod string;

pub use custom::Characteristic;
pub use error::LoadError;
pub(crate) use form::Form;
pub use kinds::{
    ConstantCurrent, ConstantPower, Diode, Load, Pixel, Readings, Resistive, SeriesString,
    StraightLine,
};
pub use law::{Law, Trend};
pub use omega::wright_omega;
pub(crate) use omega_table::{OmegaTable, omega_table};
pub(crate) use string::StringLaw;
