//! Bars of profile and lengths of cover.

use super::stock::stock;
use crate::design::{Design, StockKind};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::Schedule;

pub(in crate::report) fn bars(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let bars = design.stock.iter();
    stock(
        bars.filter(|length| matches!(length.kind, StockKind::Bar | StockKind::Cover)),
        runs,
        "bars",
        "Bars and covers",
        "Stock lengths of profile and cover, and the pieces sawn from each in order. Stock, saw and left-over figures \
         are those of the whole bar.",
    )
}
