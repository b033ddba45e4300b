//! From rows of reels to bars with parts at their places, and what is better at no cost.

use super::check::CheckedStock;
use super::rack::{Row, Slice};
use super::result::{Bar, Part};
use crate::exact::ExactLength;
use crate::order::Order as _;

/// A bar in whole units.
#[derive(Debug, Clone)]
pub struct Cut {
    /// Kind of stock.
    pub kind: usize,
    /// What is cut: slice and its length on this bar (shorter where it is parted).
    pub parts: Vec<(Slice, u64)>,
    /// Whether a part goes on in another bar of its row: then nothing may move.
    pub tied: bool,
}

impl Cut {
    /// Units used, cuts between the parts included.
    pub fn used(&self, kerf: u64) -> u64 {
        let parts: u64 = self.parts.iter().map(|(_, units)| units).sum();
        parts + kerf * (self.parts.len() as u64).saturating_sub(1)
    }

    /// What is left when the last part has been parted from it.
    fn offcut(&self, stock: &CheckedStock) -> u64 {
        let length = stock.kinds.get(self.kind).map_or(0, |k| k.units);
        length
            .saturating_sub(self.used(stock.kerf))
            .saturating_sub(stock.kerf)
    }
}

/// Lays each row, larger pieces first; a piece that crosses the end of a reel is parted there.
pub fn lay(stock: &CheckedStock, rows: &[Row]) -> Vec<Cut> {
    let mut cuts = Vec::new();
    for row in rows {
        let reel = stock.kinds.get(row.kind).map_or(1, |k| k.units.max(1));
        let tied = row.reels > 1;
        let mut bars: Vec<Cut> = (0..row.reels)
            .map(|_| Cut {
                kind: row.kind,
                parts: Vec::new(),
                tied,
            })
            .collect();
        let mut at = 0u64;
        for &slice in &row.slices {
            let mut left = slice.units;
            while left > 0 {
                let end = (at / reel + 1) * reel;
                let here = left.min(end - at);
                if let Some(bar) = bars.get_mut((at / reel) as usize) {
                    bar.parts.push((slice, here));
                }
                left -= here;
                at += here;
            }
            // A cut at the end of a reel is none.
            let end = at.div_ceil(reel) * reel;
            at = (at + stock.kerf).min(end.max(at));
        }
        cuts.extend(bars.into_iter().filter(|bar| !bar.parts.is_empty()));
    }
    cuts
}

/// The same content from a cheaper or shorter stock length of the same batch, where
/// there is one left.
pub fn shorten(stock: &CheckedStock, cuts: &mut [Cut], left: &mut [Option<u32>]) {
    for cut in cuts.iter_mut().filter(|c| !c.tied) {
        let Some(own) = stock.kinds.get(cut.kind) else {
            continue;
        };
        let used = cut.used(stock.kerf);
        let better = stock
            .kinds
            .iter()
            .enumerate()
            .filter(|(k, kind)| {
                kind.units >= used
                    && kind.batch == own.batch
                    && kind.on_hand == own.on_hand
                    && left.get(*k).copied().flatten() != Some(0)
                    && (kind.price, kind.units) < (own.price, own.units)
            })
            .min_by_key(|(k, kind)| (kind.price, kind.units, *k));
        if let Some((kind, _)) = better {
            if let Some(Some(n)) = left.get_mut(kind) {
                *n -= 1;
            }
            if let Some(Some(n)) = left.get_mut(cut.kind) {
                *n += 1;
            }
            cut.kind = kind;
        }
    }
}

/// Moves pieces from the bar with the longest offcut into the gaps of others, as long
/// as that leaves less waste beside the kept offcuts.
pub fn concentrate(stock: &CheckedStock, cuts: &mut [Cut], keep: u64) {
    let wasted = |cut: &Cut| {
        let offcut = cut.offcut(stock);
        if offcut >= keep { 0 } else { offcut }
    };
    // Quadratic in the bars: only where that is quick.
    if cuts.len() > 400 {
        return;
    }
    for from in 0..cuts.len() {
        for to in 0..cuts.len() {
            if from == to || cuts[from].tied || cuts[to].tied {
                continue;
            }
            let same = stock.kinds.get(cuts[from].kind).map(|k| &k.batch)
                == stock.kinds.get(cuts[to].kind).map(|k| &k.batch);
            if !same || cuts[from].parts.len() < 2 {
                continue;
            }
            let length = stock.kinds.get(cuts[to].kind).map_or(0, |k| k.units);
            let room = length.saturating_sub(cuts[to].used(stock.kerf));
            let before = wasted(&cuts[from]) + wasted(&cuts[to]);
            for at in 0..cuts[from].parts.len() {
                if cuts[from].parts[at].1 + stock.kerf > room || cuts[from].parts.len() < 2 {
                    continue;
                }
                let mut donor = cuts[from].clone();
                let mut taker = cuts[to].clone();
                taker.parts.push(donor.parts.remove(at));
                if wasted(&donor) + wasted(&taker) < before {
                    cuts[from] = donor;
                    cuts[to] = taker;
                    break;
                }
            }
        }
    }
}

/// Bars as they are printed, longest and fullest first.
pub fn bars(stock: &CheckedStock, mut cuts: Vec<Cut>) -> Vec<Bar> {
    let length = |units: u64| match stock.spec.increment {
        Some(pitch) => pitch.length_of(units),
        None => ExactLength::from_nanometres(i64::try_from(units).unwrap_or(i64::MAX)),
    };
    for cut in cuts.iter_mut().filter(|c| !c.tied) {
        cut.parts
            .order_by(|a, b| b.1.cmp(&a.1).then_with(|| a.0.piece.cmp(&b.0.piece)));
    }
    cuts.order_by(|a, b| {
        let lead = |c: &Cut| {
            c.parts
                .iter()
                .map(|(s, u)| (std::cmp::Reverse(*u), s.piece))
                .collect::<Vec<_>>()
        };
        a.kind.cmp(&b.kind).then_with(|| lead(a).cmp(&lead(b)))
    });
    let mut of = vec![0u32; stock.pieces.len()];
    for (slice, _) in cuts.iter().flat_map(|c| &c.parts) {
        of[slice.piece] += 1;
    }
    let mut next = vec![0u32; stock.pieces.len()];
    cuts.iter()
        .filter_map(|cut| {
            let kind = stock.kinds.get(cut.kind)?;
            let mut at = 0u64;
            let mut parts = Vec::with_capacity(cut.parts.len());
            for (slice, units) in &cut.parts {
                next[slice.piece] += 1;
                parts.push(Part {
                    piece: stock.pieces.get(slice.piece)?.id.clone(),
                    part: next[slice.piece],
                    of: of[slice.piece],
                    length: length(*units),
                    at: length(at),
                });
                at += units + stock.kerf;
            }
            let used = cut.used(stock.kerf);
            let left = kind.length.saturating_sub(length(used));
            let kerf = length(stock.kerf);
            let kerf = if stock.spec.increment.is_some() {
                ExactLength::ZERO
            } else {
                kerf
            };
            let cuts_between = (cut.parts.len() as u64).saturating_sub(1) * stock.kerf;
            let last = left.min(kerf);
            let offcut = left.saturating_sub(last);
            let dust = match stock.spec.increment {
                Some(_) => ExactLength::ZERO,
                None => length(cuts_between).saturating_add(last),
            };
            Some(Bar {
                stock: kind.name.clone(),
                on_hand: kind.on_hand,
                batch: kind.batch.clone(),
                length: kind.length,
                parts,
                dust,
                offcut,
                kept: stock
                    .spec
                    .keep_from
                    .is_some_and(|keep| offcut >= keep && offcut > ExactLength::ZERO),
            })
        })
        .collect()
}
