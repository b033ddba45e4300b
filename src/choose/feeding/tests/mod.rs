//! The search beside judging every candidate.

pub(crate) mod exhaustive;
pub(crate) mod judged;
pub(crate) mod random;
pub(crate) mod traps;
