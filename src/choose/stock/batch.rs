//! Which batch each sight line comes from.

use super::check::CheckedStock;
use super::rack::{Effort, Known, Packed, Slice, pack};
use std::collections::BTreeMap;

/// So many ways of giving lines to batches are tried out one by one.
const MOST_WAYS: u64 = 64;

/// Batches and lines by index.
pub struct Lines {
    /// Batch of each kind of stock.
    pub of_kind: Vec<usize>,
    /// Number of batches.
    pub batches: usize,
    /// Line of each piece.
    pub of_piece: Vec<Option<usize>>,
    /// Number of lines.
    pub lines: usize,
}

impl Lines {
    /// In the order of the names.
    pub fn of(stock: &CheckedStock) -> Self {
        let mut batches: BTreeMap<Option<&str>, usize> = stock
            .kinds
            .iter()
            .map(|k| (k.batch.as_deref(), 0))
            .collect();
        for (index, value) in batches.values_mut().enumerate() {
            *value = index;
        }
        let mut lines: BTreeMap<&str, usize> = stock
            .pieces
            .iter()
            .filter_map(|p| Some((p.line.as_deref()?, 0)))
            .collect();
        for (index, value) in lines.values_mut().enumerate() {
            *value = index;
        }
        let of_kind = stock
            .kinds
            .iter()
            .map(|k| batches.get(&k.batch.as_deref()).copied().unwrap_or(0))
            .collect();
        let of_piece = stock
            .pieces
            .iter()
            .map(|p| lines.get(p.line.as_deref()?).copied())
            .collect();
        Self {
            of_kind,
            batches: batches.len(),
            of_piece,
            lines: lines.len(),
        }
    }

    /// Batches beyond the first, summed over the lines.
    pub fn changes(&self, used: impl Iterator<Item = (usize, usize)>) -> u64 {
        let mut seen = vec![0u128; self.lines];
        let mut many = vec![std::collections::BTreeSet::new(); self.lines];
        for (piece, kind) in used {
            if let (Some(Some(line)), Some(&batch)) =
                (self.of_piece.get(piece), self.of_kind.get(kind))
            {
                seen[*line] = 1;
                many[*line].insert(batch);
            }
        }
        many.iter()
            .map(|set| (set.len() as u64).saturating_sub(1))
            .sum()
    }
}

/// The best packing in which each line has one batch: all ways where there are few,
/// else lines one after the other to the batch that is best for them. The second value
/// is a lower bound over all ways, none where not all were tried.
pub fn one_per_line(
    stock: &CheckedStock,
    lines: &Lines,
    slices: &[Slice],
    counts: &[Option<u32>],
    effort: u64,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> (Option<Packed>, Option<u64>) {
    let given = |way: &[usize]| -> Vec<Slice> {
        slices
            .iter()
            .map(|s| Slice {
                batch: lines
                    .of_piece
                    .get(s.piece)
                    .copied()
                    .flatten()
                    .and_then(|l| way.get(l).copied()),
                ..*s
            })
            .collect()
    };
    let ways = (lines.batches as u64).checked_pow(u32::try_from(lines.lines).unwrap_or(u32::MAX));
    let all = ways.is_some_and(|w| w <= MOST_WAYS);
    let mut best: Option<Packed> = None;
    let mut lower: Option<u64> = None;
    let mut try_way = |way: &[usize], effort: u64, best: &mut Option<Packed>| -> bool {
        let effort = Effort::Proof(effort);
        let packed = pack(
            stock,
            &given(way),
            counts,
            &lines.of_kind,
            effort,
            Known::NOTHING,
            tick,
        );
        let impossible = packed.outcome.best.is_none() && packed.outcome.proven;
        if !impossible {
            lower = Some(lower.map_or(packed.outcome.lower, |l| l.min(packed.outcome.lower)));
        }
        let cost = |p: &Packed| p.outcome.best.as_ref().map(|(c, _)| *c);
        let better = match (cost(&packed), best.as_ref().and_then(cost)) {
            (Some(new), Some(old)) => new < old,
            (Some(_), None) => true,
            (None, _) => best.is_none(),
        };
        if better {
            *best = Some(packed);
        }
        better
    };
    if all {
        let ways = ways.unwrap_or(1).max(1);
        let mut way = vec![0usize; lines.lines];
        for number in 0..ways {
            let mut rest = number;
            for line in way.iter_mut() {
                *line = (rest % lines.batches.max(1) as u64) as usize;
                rest /= lines.batches.max(1) as u64;
            }
            try_way(&way, effort / ways, &mut best);
        }
        return (best, lower);
    }
    // Start with every line on one batch, then move single lines while that is better.
    let rounds = (lines.batches * (lines.lines + 1)) as u64;
    let share = (effort / rounds.max(1)).max(200_000);
    let mut way = vec![0usize; lines.lines];
    for batch in 0..lines.batches {
        let trial = vec![batch; lines.lines];
        if try_way(&trial, share, &mut best) {
            way = trial;
        }
    }
    for line in 0..lines.lines.min(200) {
        for batch in 0..lines.batches {
            let mut trial = way.clone();
            trial[line] = batch;
            if trial != way && try_way(&trial, share, &mut best) {
                way = trial;
            }
        }
    }
    (best, None)
}
