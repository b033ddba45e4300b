//! The cheapest chain of segments that hold: dynamic programming over the marks where the run may be broken.

pub(crate) mod branch_lengths;
pub(crate) mod chain;
pub(crate) mod cost_before;
pub(crate) mod cost_to_go;
pub(crate) mod feeders;
pub(crate) mod next_segment;
pub(crate) mod one_feed;
pub(crate) mod ranges;
pub(crate) mod several_feeds;
