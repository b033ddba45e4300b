//! Lengths in stock and the pieces of each, a line a piece: the columns of bars and of reels.

use crate::design::{Stock, StockPart};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{Draft, Schedule};
use crate::report::words::profile;

/// A stock length with one of its pieces, from 1.
type Row<'a> = (&'a Stock, u64, Option<&'a StockPart>);

pub(in crate::report) fn stock<'a>(
    lengths: impl Iterator<Item = &'a Stock>,
    runs: &OfRuns<'_>,
    key: &'static str,
    title: &'static str,
    intro: &str,
) -> Schedule {
    let rows = lengths.flat_map(|length| {
        let whole = length.parts.is_empty().then_some((length, 0, None));
        let each = (1..).zip(&length.parts);
        let each = each.map(move |(n, part)| (length, n, Some(part)));
        whole.into_iter().chain(each)
    });
    Draft::<Row<'_>>::new(key, title, intro)
        .name("number", "Number", |r| &r.0.id)
        .name("kind", "Kind", |r| {
            profile(&r.0.product, r.0.cover.as_ref())
        })
        .count("order", "Order", |r| r.1)
        .words("piece", "Piece", |r| {
            r.2.map_or_else(|| "nothing cut".to_string(), piece)
        })
        .millimetres_or_dash("length", "Length", |r| r.2.map(|part| part.length))
        .millimetres("stock", "Stock", |r| r.0.length)
        .millimetres("kerf", "Kerf", |r| r.0.kerf)
        .millimetres("offcut", "Offcut", |r| r.0.offcut)
        .of(|r| r.2.map_or_else(Vec::new, |part| runs.piece(&part.piece)))
        .fill(rows)
}

/// `S1.1, part 1 of 3`.
fn piece(part: &StockPart) -> String {
    if part.of > 1 {
        format!("{}, part {} of {}", part.piece, part.part, part.of)
    } else {
        part.piece.to_string()
    }
}
