//! Whether one candidate segment keeps every limit, and by how much it misses.

pub(crate) mod currents;
pub(crate) mod measured;
pub(crate) mod seen_ends;
pub(crate) mod solver;
pub(crate) mod span;
pub(crate) mod verdicts;
