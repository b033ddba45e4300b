//! What may be wrong with a problem.

#[cfg(doc)]
use super::{DecoderProblem, SupplyProblem};
use thiserror::Error;

/// A fault of a [`SupplyProblem`] or [`DecoderProblem`].
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SupplyFault {
    /// A figure out of range.
    #[error("{what}: {place} is {found}; it must be {accepted}")]
    Figure {
        /// What is supplied.
        what: String,
        /// Which figure.
        place: String,
        /// Its value in the base unit.
        found: String,
        /// What is accepted.
        accepted: &'static str,
    },
    /// A name used twice.
    #[error("{what}: the name `{name}` is used twice among the {among}; give each its own")]
    Twice {
        /// What is supplied.
        what: String,
        /// Loads, kinds or installed.
        among: &'static str,
        /// The name.
        name: String,
    },
    /// A name that means nothing.
    #[error("{what}: `{by}` names {of} `{name}`, which is not listed; list it or correct the name")]
    Unknown {
        /// What is supplied.
        what: String,
        /// Who names it.
        by: String,
        /// Load or kind.
        of: &'static str,
        /// The name.
        name: String,
    },
    /// A load that no unit may carry.
    #[error(
        "{what}: load `{load}` at `{place}` fits no kind even alone, by voltage, power, current or \
         outputs; list a larger type or split the load"
    )]
    NoKind {
        /// What is supplied.
        what: String,
        /// The load.
        load: String,
        /// Its place.
        place: String,
    },
    /// Loads fixed to a unit that cannot carry them.
    #[error("{what}: the loads fixed to `{name}` break its limit of {limit}; move one of them")]
    Overloaded {
        /// What is supplied.
        what: String,
        /// The installed unit.
        name: String,
        /// Which limit, in words.
        limit: &'static str,
    },
    /// A zone separate from itself.
    #[error("{what}: zone `{zone}` is listed as separate from itself; name two zones")]
    SelfSeparate {
        /// What is supplied.
        what: String,
        /// The zone.
        zone: String,
    },
    /// Too many entries.
    #[error("{what}: {found} {of}, and at most {most} are taken; plan in parts")]
    TooMany {
        /// What is supplied.
        what: String,
        /// Of what.
        of: &'static str,
        /// How many.
        found: usize,
        /// Limit.
        most: usize,
    },
}
