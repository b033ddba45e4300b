//! One candidate segment as copper: where it lies, where conductors enter, and the drops along its rails.

pub(crate) mod candidate;
pub(crate) mod placements;
pub(crate) mod rails;
pub(crate) mod shape;
