//! The cheapest chain of segments that hold: dynamic programming over the marks where the run may be broken.

pub(crate) mod blocks;
pub(crate) mod chain;
pub(crate) mod ends;
pub(crate) mod feeders;
pub(crate) mod one_feed;
pub(crate) mod prefix;
pub(crate) mod ranges;
pub(crate) mod rests;
pub(crate) mod ways;
