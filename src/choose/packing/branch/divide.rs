//! How a part is divided in two.

use super::cut::Row;
use super::{Branch, WHOLE};
use crate::choose::packing::Work;
use crate::choose::packing::pool::{Column, Of};
use std::collections::BTreeMap;

/// Divisions tried out before one is chosen.
const TRIED: usize = 4;
/// Pivots in each half that is tried out.
const PIVOTS: usize = 20;
impl Branch<'_, '_, '_> {
    /// Columns whose sum is divided, and the whole number below it: setups and numbers of bins of a
    /// kind first, then pairs of items that lie together, then single columns.
    pub(super) fn choose(&mut self, work: &mut Work) -> Option<(Vec<bool>, i64)> {
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        enum By {
            Column(usize),
            Kind(usize),
            In(usize, usize),
            Pair(usize, usize),
        }
        let mut sums: BTreeMap<(u8, By), f64> = BTreeMap::new();
        for (at, x) in self.lp.used() {
            let Of::Pattern(pattern) = &self.columns[at].of else {
                *sums.entry((0, By::Column(at))).or_insert(0.0) += x;
                continue;
            };
            *sums.entry((1, By::Kind(pattern.bin))).or_insert(0.0) += x;
            *sums.entry((3, By::Column(at))).or_insert(0.0) += x;
            for (n, &(i, count)) in pattern.take.iter().enumerate() {
                *sums.entry((2, By::In(pattern.bin, i))).or_insert(0.0) += x;
                if count > 1 {
                    *sums.entry((2, By::Pair(i, i))).or_insert(0.0) += x;
                }
                for &(j, _) in &pattern.take[n + 1..] {
                    *sums.entry((2, By::Pair(i, j))).or_insert(0.0) += x;
                }
            }
        }
        let mut broken: Vec<(u8, f64, By, f64)> = sums
            .into_iter()
            .map(|((rank, by), x)| (rank, (x - libm::floor(x) - 0.5).abs(), by, x))
            .filter(|&(_, off, _, _)| off < 0.5 - WHOLE)
            .collect();
        broken.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.cmp(&b.2)));
        let rank = broken.first()?.0;
        broken.retain(|b| b.0 == rank);
        let set = |by: By| -> Vec<bool> {
            let has = |column: &Column, at: usize| match (&column.of, by) {
                (_, By::Column(own)) => own == at,
                (Of::Setup, _) => false,
                (Of::Pattern(p), By::Kind(bin)) => p.bin == bin,
                (Of::Pattern(p), By::In(bin, item)) => {
                    p.bin == bin && p.take.iter().any(|&(i, _)| i == item)
                }
                (Of::Pattern(p), By::Pair(i, j)) if i == j => {
                    p.take.iter().any(|&(item, n)| item == i && n > 1)
                }
                (Of::Pattern(p), By::Pair(i, j)) => {
                    p.take
                        .iter()
                        .filter(|&&(item, _)| item == i || item == j)
                        .count()
                        == 2
                }
            };
            self.columns
                .iter()
                .enumerate()
                .map(|(at, c)| has(c, at))
                .collect()
        };
        let candidates: Vec<(Vec<bool>, i64)> = broken
            .iter()
            .take(TRIED)
            .map(|&(_, _, by, x)| (set(by), libm::floor(x) as i64))
            .collect();
        if candidates.len() == 1 {
            return candidates.into_iter().next();
        }
        // Tried out: the one whose worse half rises most.
        let here = self.lp.objective();
        let mut best: Option<(f64, usize)> = None;
        for (at, (set, floor)) in candidates.iter().enumerate() {
            let (few, more) = halves(set, *floor);
            let mut rise = [0.0; 2];
            for (rise, row) in rise.iter_mut().zip([few, more]) {
                let rows = self.right.len();
                let state = self.lp.state.clone();
                self.add(row);
                self.solve(PIVOTS, work);
                *rise = (self.lp.objective() - here).max(1e-7);
                self.back(rows, state);
            }
            let score = rise[0].min(1.0) * rise[1].min(1.0);
            if best.is_none_or(|(most, _)| score > most * (1.0 + 1e-9)) {
                best = Some((score, at));
            }
        }
        candidates.into_iter().nth(best?.1)
    }
}

/// At most `floor` of the columns, or at least one more.
pub fn halves(set: &[bool], floor: i64) -> (Row, Row) {
    let row = |sign: i64, right: i64| Row {
        coefficients: set.iter().map(|&s| sign * i64::from(s)).collect(),
        right,
    };
    (row(-1, -floor), row(1, floor + 1))
}
