//! Whether one candidate segment keeps every limit, and by how much it misses.

pub(crate) mod currents;
pub(crate) mod judge;
pub(crate) mod measure;
pub(crate) mod oracle;
pub(crate) mod seen_ends;
pub(crate) mod spans;
