//! The search beside judging every candidate.

pub(crate) mod every_candidate;
pub(crate) mod exhaustive;
pub(crate) mod random;
pub(crate) mod traps;
