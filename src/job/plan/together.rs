//! Feeding, decoders and supplies of a small job chosen together.

/// What was proven of everything together.
pub(super) struct Whole {
    /// The problem that bound and proof are about.
    pub problem: String,
    /// Nothing that solves it costs less.
    pub lower: i64,
    /// What the bound rests on.
    pub reason: String,
    /// The next best.
    pub runner_up: String,
}
