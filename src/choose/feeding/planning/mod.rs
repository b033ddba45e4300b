//! From a checked run to its plan: the search, the full solve of what it chose, proof, alternatives, and what to say where nothing holds.

pub(crate) mod fallback;
pub(crate) mod many;
pub(crate) mod rules;
#[cfg(feature = "job")]
pub(crate) mod segment_list;
pub(crate) mod solve;
pub(crate) mod steps;
pub(crate) mod trade_off;
pub(crate) mod words;
