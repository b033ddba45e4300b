//! Tape: from its data sheet to the electrical model of one cut increment.
//!
//! ```text
//!  cut mark        cell          cut mark
//!     ●──Rc/2──────┬──────Rc/2──────●   common rail
//!                 ─┴─ emitter e: I(V)
//!     ●──Re/2──────┬──────Re/2──────●   return rail of emitter e
//! ```
//!
//! [`StripSpec`] is what a sheet states. [`StripSpec::check`] gives a [`Strip`] or every figure that
//! cannot be; [`Strip::model`] gives the [`TapeModel`] that solvers take, [`Strip::calibrate`] also says
//! what it was made from and what a maximum run would have given in its other meanings.
//!
//! # Cells
//! Of a diode a sheet states one point; the curve through it is taken as [`cells::diode_source`] says.
//!
//! | cell | current of one | from the sheet |
//! | --- | --- | --- |
//! | series | ballasted string, [`SeriesString`](crate::load::SeriesString) | `Rb = (V − N·Vf)/I` unless stated |
//! | constant current | `min(I, string with Rb = Vdo/I)` | |
//! | straight line | `I·(v − knee)/(V − knee)`, not below 0 | |
//! | constant power | `P/v`, falling | |
//! | of a [`StringClass`] | that of a series string, another on each side of the class | current only |
//!
//! One increment draws `n·k·I(v)` per emitter, `n` cells side by side. `k` is 1, or what a stated power
//! `P'` per length asks for: `P'·pitch = V·n·k·ΣI(V)` if it was measured on a short piece; if on a full reel,
//! the `k` at which the reel fed at one end draws it, its drop included; if the sheet does not say, both
//! bound the corners. At the low corner cells are cold and draw `1 − tolerance` of that, at the high one hot
//! and `1 + tolerance`.
//!
//! # Rails
//! | known from | resistance of a rail, ohm/m |
//! | --- | --- |
//! | statement | as stated at 20 °C |
//! | a [`CopperClass`] | foil, thin at the low corner and thick at the high one |
//! | foil | `ρ/(layers·t·w)` at 20 °C, [`COPPER_RESISTIVITY`], finished thickness `t` of one layer |
//! | maximum run | the root `r` of `v(r) = (1 − by)·V`, or of `I(v(r)) = (1 − by)·I(V)` for light |
//! | reading | the root `r` of `v(r)` or `i(r)` = what was read |
//!
//! `v(r)` is the voltage of the last cell (of the weakest, fed at both ends; the least over the emitters) and
//! `i(r)` the current of the last increment when the network solver ([`crate::network`]) solves that piece with all
//! emitters lit, nominal cells, every rail alike and a stiff feed. There is no formula behind it: the root is bracketed
//! between 1e-6 and 1e3 ohm/m and found on the logarithm of `r`. Light is taken in proportion to current. What is found holds at the
//! nominal temperature of conductors; [`TemperatureRule::COPPER`](crate::cable::TemperatureRule::COPPER) carries it to
//! the other corners: `R = r·(1 + α(T − T₀))·(1 ± tolerance)·pitch`, hot and above at the low corner.
//!
//! Factory splices are spread along the tape where the rails are stated or of foil; a maximum run or a
//! reading has them within it.
//!
//! # Inputs
//! | figure | accepted |
//! | --- | --- |
//! | rated voltage | above 0 V, at most 1000 V (a job: 120 V) |
//! | emitters, cells between two cuts | 1 to 6, 1 to 1000 |
//! | forward voltage of the string | above 0 V and below the rated voltage |
//! | ballast | within 10 % of the current stated with it |
//! | voltage read at the far end | above 0 V and below that at the feed |
//!
//! # Traps
//! - A maximum run says neither at what drop nor fed from where; `notes` of the [`Calibration`] gives the other readings.
//! - Power per metre is often that of a short piece; a full reel draws less.
//! - A foil weight is that of the unplated layer, and sometimes of both faces together ([`crate::cable::foil`]).
//! - One common rail carries all emitters: white at full with colour on top drops more than either alone.
//!
//! Leaves out: heating of the tape by itself (give the corner temperatures), spread between cells.
//!
//! ```
//! use evenrun::exact::ExactLength;
//! use evenrun::quantity::*;
//! use evenrun::strip::*;
//! // An invented tape: 14.4 W/m at 24 V; 5 m of it, fed with 24 V, read 22 V at the far end.
//! let spec = StripSpec {
//!     name: "sample".into(), rated: volts(24.0), polarity: Default::default(),
//!     pitch: "50 mm".parse()?, cells: 1,
//!     emitters: vec![EmitterSpec {
//!         name: "white".into(), flux: None,
//!         cell: CellSpec::Series { diodes: 6, forward: volts(3.0), current: milliamps(30.0), ballast: None },
//!     }],
//!     rails: RailSpec::Reading {
//!         length: ExactLength::from_millimetres(5000), fed: volts(24.0), far: volts(22.0),
//!     },
//!     power: None, power_basis: PowerBasis::Unknown, longest_branch: None, pad_current: None,
//!     bend_radius: None, reel: ExactLength::from_millimetres(5000), reel_joint: None, splices: None, highest_volts: None,
//!     highest_ambient: None, ingress: None, price: None,
//! };
//! let found = spec.check()?.calibrate(&CornerSet::exact())?;
//! assert_eq!(show_to(found.common, 3), "181.195 mΩ/m");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod cells;
mod check;
mod checked;
mod class;
mod error;
mod model;
mod piece;
mod power;
mod rails;
mod root;
mod spec;

pub use checked::{Calibration, Strip};
pub use class::{ABOVE_RATED, CopperClass, Side, StringClass, VOLTS_A_DIODE};
pub use error::{SheetPart, StripError, StripErrors};
pub use model::{CornerSet, TapeEmitter, TapeModel};
pub use rails::COPPER_RESISTIVITY;
pub use spec::{
    CellSpec, EmitterSpec, Falls, FedFrom, PowerBasis, RailSpec, ReelJointSpec, SpliceSpec,
    StripSpec,
};
