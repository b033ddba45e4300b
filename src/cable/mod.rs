//! Conductors and cables: sizes, resistance, ampacity, copper.
//!
//! ```text
//! ConductorSize  18 AWG, 4/0 AWG, 250 kcmil, 0.75 mm²      exact; ordered by area
//! Conductor      size + metal + construction               resistance at any conductor temperature
//! Cable          named, cores with functions, jacket       core resistance, ampacity or "no table", copper
//! tables         every figure with id, source, range, content hash
//! ```
//!
//! Resistance is per conductor, never per loop. Each standard keeps its own
//! temperature rule ([`resistance`]). A lookup outside a table is an error that
//! names the table and its range; an ampacity that no table covers is the
//! answer [`NoTable`].
//!
//! ```text
//!  output ●──/\/\/── core 0, common: carries the sum ─────● feed
//!         ●──/\/\/── core 1, return of emitter 1 ─────────●        R_core = R'(T) · route
//!         ●──/\/\/── core 2, return of emitter 2 ─────────●        drop = R_core · (ΣI + I_e)
//! ```
//!
//! | input | bounds |
//! | --- | --- |
//! | size | 40 AWG to 4/0 AWG, 212 to 5000 kcmil, 0.01 mm² to 2500 mm² ([`ConductorSize`]); any area: [`area_resistance`](resistance::area_resistance) |
//! | conductor temperature | −50 °C to 200 °C, and not above the insulation rating |
//! | cores | 1 to [`MOST_CORES`], at least one common core with its returns |
//! | insulation rating | 60 °C to 250 °C |
//! | way of installation | as [`Installation`] names it, by one standard |
//!
//! | result | equation |
//! | --- | --- |
//! | [`Resistance`] | `R'(T) = R'_ref (1 + α (T − T_ref))`, Ω/m |
//! | [`Ampacity`] | `Iz = I_table · Π corrections`, A, or [`NoTable`] |
//! | copper | `m = ρ · A · route`, kg |
//!
//! **Traps.** A drop is over the loop, a resistance over one core. With several emitters lit the common core carries the sum.
//! AWG and mm² sizes are not interchangeable: 18 AWG is 0.823 mm². Copper-clad aluminium has about 1.6 times the resistance of copper.
//! Bundled data cable has an ampacity of its own, far below that of the same size in air.
//!
//! Leaves out: joints and terminals (they belong to the network), price (the
//! job states it), the choice of a code edition (the job states it).

mod ampacity;
mod cores;
pub mod drop;
mod error;
pub mod foil;
mod installation;
mod metal;
mod pair;
pub mod resistance;
mod size;
mod size_text;
pub mod skin;
mod spec;
pub mod tables;

pub use ampacity::{
    Ampacity, Correction, CorrectionKind, DeviceLimit, NoTable, Reference,
    ambient_factor_by_formula, factor_for_ambient, factor_for_group,
};
pub use cores::{Cable, Core, thinnest_with_at_most};
pub use error::CableError;
pub use installation::Installation;
pub use metal::{Construction, Metal, WordError};
pub use pair::SOURCE as PAIR_SOURCE;
pub use pair::{
    EPSILON_0, LIGHT, MU_0, Pair, PairError, characteristic_impedance, effective_diameter,
};
pub use resistance::{Basis, Conductor, Resistance, ResistanceError, TemperatureRule};
pub use size::{ConductorSize, SizeSystem};
pub use size_text::SizeError;
pub use spec::{CableSpec, CoreFunction, CoreSpec, MOST_CORES, StatedAmpacity};
