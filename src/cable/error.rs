//! What can be wrong with a cable, or with a question to it.

use super::resistance::ResistanceError;
use super::spec::MOST_CORES;
use thiserror::Error;

/// One thing wrong with a cable, or with a question to it.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum CableError {
    /// No name.
    #[error("a cable has no name: give it one, such as \"feeder 5 x 0.75\"")]
    NoName,
    /// Too few or too many cores.
    #[error("cable `{cable}` has {found} cores; a cable here has 1 to {MOST_CORES}")]
    Cores {
        /// The cable.
        cable: String,
        /// How many.
        found: usize,
    },
    /// Two cores of one name.
    #[error(
        "cable `{cable}` has two cores called `{core}`: an installer could not tell them apart"
    )]
    SameCore {
        /// The cable.
        cable: String,
        /// The name.
        core: String,
    },
    /// No core carries the common.
    #[error("cable `{cable}` has returns but no common core: current would have no return path")]
    NoCommon {
        /// The cable.
        cable: String,
    },
    /// The insulation rating is no rating.
    #[error(
        "cable `{cable}`: an insulation rating of {found} is outside 60 °C to 250 °C, the ratings on the market"
    )]
    Rating {
        /// The cable.
        cable: String,
        /// The rating.
        found: String,
    },
    /// A stated ampacity that is not a positive number.
    #[error(
        "cable `{cable}`: a stated ampacity of {found} is not above zero, or is for no loaded core"
    )]
    Stated {
        /// The cable.
        cable: String,
        /// The figure.
        found: String,
    },
    /// A core that the cable does not have.
    #[error("cable `{cable}` has {cores} cores, numbered from 0; there is no core {asked}")]
    NoCore {
        /// The cable.
        cable: String,
        /// How many it has.
        cores: usize,
        /// Which was asked for.
        asked: usize,
    },
    /// A core hotter than its insulation bears.
    #[error(
        "cable `{cable}`: a core at {found} exceeds its insulation rating, {rated}; lower the load or use a higher rating"
    )]
    TooHot {
        /// The cable.
        cable: String,
        /// The temperature asked for.
        found: String,
        /// The rating.
        rated: String,
    },
    /// A length that is negative or no number.
    #[error("cable `{cable}`: a route of {found} m is not a length; give zero or more")]
    Route {
        /// The cable.
        cable: String,
        /// The length, m.
        found: f64,
    },
    /// A current for an emitter that has no return core.
    #[error(
        "cable `{cable}` has no return core for emitter {emitter}, which is to carry {current}"
    )]
    NoReturn {
        /// The cable.
        cable: String,
        /// The emitter, from 0.
        emitter: usize,
        /// Its current.
        current: String,
    },
    /// No table or formula gives the resistance.
    #[error("cable `{cable}`: {error}")]
    Resistance {
        /// The cable.
        cable: String,
        /// Why.
        error: ResistanceError,
    },
}
