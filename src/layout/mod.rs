//! From a run as drawn to cut increments.

pub mod spec;
