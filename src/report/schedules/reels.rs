//! Reels of tape.

use super::stock::stock;
use crate::design::{Design, Stock, StockKind};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::Schedule;

/// The reels among the stock.
pub(in crate::report) fn reels_of(design: &Design) -> impl Iterator<Item = &Stock> {
    let stock = design.stock.iter();
    stock.filter(|length| length.kind == StockKind::Reel)
}

pub(in crate::report) fn reels(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    stock(
        reels_of(design),
        runs,
        "reels",
        "Reels",
        "Reels of tape, and the pieces cut from each in order. Keep the pieces of one sight line on one reel, and the reels of a joined piece of one batch.",
    )
}
