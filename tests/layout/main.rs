//! Runs onto cut increments: counts by exact arithmetic, corners, bends, gaps, the mirror, the sum of lit and dark.
mod build;
mod corners;
mod counts;
mod marks;
mod sums;
