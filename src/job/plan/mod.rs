//! From a checked job to its plan.

pub mod model;
