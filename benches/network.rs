//! Solver benchmarks.
fn main() {}
