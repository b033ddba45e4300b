//! The cheapest way on from every break mark, and the least of them over ranges of marks.

use super::candidate::{Key, square};
use super::model::CheckedRun;

/// Break marks in order, and what the rest of the run costs from each.
#[derive(Debug, Default)]
pub(super) struct Rests {
    /// Marks where a segment may end, ascending.
    pub breaks: Vec<usize>,
    /// How many of them lie at or before each mark.
    upto: Vec<usize>,
    /// From each of them on: key of the rest with the break's own price and the joints before it.
    keys: Vec<Option<Key>>,
    /// Where the row of each feed mark begins in `rows`; its length.
    starts: Vec<(usize, usize)>,
    /// By feed mark: least key of the rest, with the branch to the right, up to each break mark.
    rows: Vec<Option<(Key, u32)>>,
}

impl Rests {
    /// For the marks at which a segment may end.
    pub fn new(n: usize, may_end: impl Fn(usize) -> bool) -> Self {
        let breaks: Vec<usize> = (1..=n).filter(|k| may_end(*k)).collect();
        let mut upto = vec![0; n + 1];
        let mut next = 0;
        for (k, upto) in upto.iter_mut().enumerate() {
            next += usize::from(breaks.get(next) == Some(&k));
            *upto = next;
        }
        Self {
            keys: vec![None; breaks.len()],
            starts: vec![(0, 0); n + 1],
            rows: Vec::new(),
            breaks,
            upto,
        }
    }

    /// States what the rest costs from a break mark.
    pub fn state(&mut self, m: &CheckedRun, mark: usize, rest: Key) {
        let at = self.upto[mark] - 1;
        self.keys[at] = Some(
            rest + Key {
                cost: m.break_cost[mark] + m.joint_price_before[mark],
                feeds: 0,
                uneven: 0,
            },
        );
    }

    /// Places among the break marks of those after `from` up to `to`.
    #[inline]
    pub fn between(&self, from: usize, to: usize) -> std::ops::Range<usize> {
        self.upto[from]..self.upto[to]
    }

    /// Break mark and key of the rest at a place.
    #[inline]
    pub fn at(&self, place: usize) -> (usize, Option<Key>) {
        (self.breaks[place], self.keys[place])
    }

    fn beyond(&self, feed: usize, place: usize) -> Option<(Key, u32)> {
        let right = self.breaks[place] - feed;
        let branch = Key {
            cost: 0,
            feeds: 1,
            uneven: square(right),
        };
        self.keys[place].map(|key| (key + branch, place as u32))
    }

    /// Prepares the least rests for a feed at `feed` with branches to the right up to `reach`.
    pub fn prepare(&mut self, feed: usize, reach: usize) {
        let range = self.between(feed, feed + reach);
        let start = self.rows.len();
        let mut least: Option<(Key, u32)> = None;
        for place in range.clone() {
            let here = self.beyond(feed, place);
            least = match (least, here) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
            self.rows.push(least);
        }
        self.starts[feed] = (start, range.len());
    }

    /// The rest of some places from the first on whose rest costs at most `left`; the places must begin right
    /// after `feed` and lie in its row.
    pub fn cheap(
        &self,
        feed: usize,
        places: std::ops::Range<usize>,
        left: i64,
    ) -> std::ops::Range<usize> {
        let (start, length) = self.starts[feed];
        let length = length.min(places.len());
        let row = &self.rows[start..start + length];
        let first = row.partition_point(|least| least.is_none_or(|(key, _)| key.cost > left));
        places.start + first..places.start + length
    }

    /// Least rest for a branch to the right over some places, with its place.
    #[inline]
    pub fn least(&self, feed: usize, places: std::ops::Range<usize>) -> Option<(Key, u32)> {
        let first = self.upto[feed];
        let (start, length) = self.starts[feed];
        let end = places.end.min(first + length);
        if places.start >= end {
            return None;
        }
        if places.start == first {
            return self.rows[start + (end - first) - 1];
        }
        (places.start..end)
            .filter_map(|place| self.beyond(feed, place))
            .min()
    }
}
