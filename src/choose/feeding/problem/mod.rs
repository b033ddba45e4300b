//! What is asked: one run with its tape, places, wires, limits and prices, checked and turned into plain numbers.

pub(crate) mod accelerations;
pub(crate) mod build;
pub(crate) mod cell_limits;
pub(crate) mod check;
pub(crate) mod checked;
pub(crate) mod error;
pub(crate) mod places;
pub(crate) mod reels;
pub(crate) mod spec;
