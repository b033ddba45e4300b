//! The whole job: its input file, its check, its plan.

pub mod plan;
