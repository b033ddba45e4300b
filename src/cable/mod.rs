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
pub use resistance::{
    Basis, Conductor, Resistance, ResistanceError, TemperatureRule, area_resistance,
};
pub use size::{ConductorSize, SizeSystem};
pub use size_text::SizeError;
pub use spec::{CableSpec, CoreFunction, CoreSpec, MOST_CORES, StatedAmpacity};
