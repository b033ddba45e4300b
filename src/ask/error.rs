//! Why a question has no answer.

use crate::segment::{CircuitErrors, Unsolved};
use crate::strip::StripErrors;
use thiserror::Error;

/// Why a question has no answer: the figure, what is accepted, what to do.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum AskError {
    /// A figure out of range.
    #[error("{what} is {found}; accepted: {accepted}. {remedy}")]
    Figure {
        /// Which.
        what: &'static str,
        /// As it was given.
        found: String,
        /// What is accepted.
        accepted: String,
        /// What to do.
        remedy: &'static str,
    },
    /// The figures of the tape contradict each other.
    #[error("{0}")]
    Tape(String),
    /// The tape could not be solved.
    #[error("the tape could not be solved: {0}")]
    Unsolved(String),
}

impl AskError {
    pub(super) fn figure(
        what: &'static str,
        found: impl ToString,
        accepted: impl ToString,
        remedy: &'static str,
    ) -> Self {
        let (found, accepted) = (found.to_string(), accepted.to_string());
        Self::Figure {
            what,
            found,
            accepted,
            remedy,
        }
    }
}

impl From<StripErrors> for AskError {
    fn from(all: StripErrors) -> Self {
        Self::Tape(all.to_string())
    }
}

impl From<CircuitErrors> for AskError {
    fn from(all: CircuitErrors) -> Self {
        Self::Unsolved(all.to_string())
    }
}

impl From<Unsolved> for AskError {
    fn from(error: Unsolved) -> Self {
        Self::Unsolved(error.to_string())
    }
}
