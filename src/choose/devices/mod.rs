//! Loads to supplies, and emitters to the outputs of decoders, at least cost.
//!
//! ```text
//!   place ┌──────── unit: a supply or a decoder ────────┐
//!         │ Σ power   <= rated · derating · load factor │   (decoder: Σ current <= unit)
//!         │ output 1: load, load      Σ current <= output's
//!         │ output 2: load            zones that never share are on other units
//!         └──────────────────────────────────────────────┘
//! ```
//!
//! A load lies whole on one output of a supply; the emitters of a decoder's load lie on
//! outputs of one decoder, and an output drives equal emitters of one zone only. Loads of
//! different places, voltages or emergency tags never share a unit. Powers and currents
//! count in whole millionths, voltages in millivolts. Ties: the order of prices, then of
//! names, then of ids; nothing depends on the order of the lists, on time or on threads.
//!
//! **Leaves out**: inrush and breakers (`protect`), the copper between places (`feed`),
//! moving a load to another place. A load factor of 0.8 is common practice.
//!
//! ```
//! use evenrun::progress::Progress;
//! use evenrun::quantity::{amps, fraction, volts, watts};
//! use evenrun::choose::devices::{self, SupplyKind, SupplyLoad, SupplyProblem};
//! let mut problem = SupplyProblem::new("gallery");
//! for n in 0..4 {
//!     problem.loads.push(SupplyLoad {
//!         id: format!("run {n}"), volts: volts(24.0), current: amps(1.5), power: watts(36.0),
//!         zone: "cove".into(), place: "cupboard".into(), emergency: false,
//!     });
//! }
//! problem.kinds.push(SupplyKind {
//!     name: "96 W".into(), volts: volts(24.0), power: watts(96.0), outputs: 1,
//!     output_current: amps(4.0), derating: fraction(1.0), price: 4_000,
//! });
//! let checked = problem.check().expect("no faults");
//! let plan = devices::assign(&checked, &mut Progress::silent())?;
//! assert_eq!((plan.units.len(), plan.cost, plan.proven), (2, 8_000, true));
//! # Ok::<(), devices::SupplyError>(())
//! ```

mod assign;
mod check;
mod cluster;
mod draft;
mod explain;
mod fault;
mod fit;
mod outputs;
mod result;
mod solve;
mod spec;

pub use assign::assign;
pub use check::{CheckedSupply, Limit, MOST_ENTRIES, MOST_LOADS, MOST_OUTPUTS, MOST_PRICE};
pub use fault::SupplyFault;
pub use result::{Assignment, Binding, LoadedUnit, Output, RunnerUp, Spare};
pub use spec::{
    DEFAULT_EFFORT, DEFAULT_LOAD_FACTOR, DecoderKind, DecoderLoad, DecoderProblem, Installed, Room,
    Rules, Spares, SupplyKind, SupplyLoad, SupplyProblem,
};

use thiserror::Error;

/// Why there is no assignment.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum SupplyError {
    /// Proven: the place cannot hold what its loads need.
    #[error("{what}: the room at `{place}` is not enough for its loads; allow more units there")]
    NotEnough {
        /// What is supplied.
        what: String,
        /// The place.
        place: String,
    },
    /// Nothing found within the work limit.
    #[error(
        "{what}: no assignment at `{place}` was found within {steps} steps, and none was excluded; \
         allow more work or more units there"
    )]
    NotFound {
        /// What is supplied.
        what: String,
        /// The place.
        place: String,
        /// Steps spent.
        steps: u64,
    },
    /// Cancelled before any assignment was found.
    #[error("{what}: cancelled before an assignment was found")]
    Cancelled {
        /// What is supplied.
        what: String,
    },
}

impl SupplyError {
    fn not_enough(problem: &CheckedSupply, place: &str) -> Self {
        Self::NotEnough {
            what: problem.what.clone(),
            place: place.to_owned(),
        }
    }
}
