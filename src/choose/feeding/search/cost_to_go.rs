//! The cheapest way on from every break mark, and the least of them over ranges of marks.

use super::feeders::NO_WAY;
use super::ranges::RangeMinima;
use crate::choose::feeding::circuit::candidate::{Rank, square};
use crate::choose::feeding::problem::checked::CheckedRun;
use std::ops::Range;

/// Break marks in order, and what the rest of the run costs from each.
#[derive(Debug, Default)]
pub(crate) struct CostToGo {
    /// Marks where a segment may end, ascending.
    breaks: Vec<usize>,
    /// How many of them lie at or before each mark.
    upto: Vec<usize>,
    /// From each of them on: key of the rest with the break's own price and the joints before it.
    keys: Vec<Option<Rank>>,
    /// Costs of the rest from each of them on.
    costs: RangeMinima,
}

impl CostToGo {
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
            costs: RangeMinima::new(breaks.len(), breaks.len()),
            breaks,
            upto,
        }
    }

    /// States what the rest costs from a break mark; those after it are stated before.
    pub fn state(&mut self, m: &CheckedRun, mark: usize, rest: Option<Rank>) {
        let at = self.upto[mark] - 1;
        let with_break = Rank {
            cost: m.break_cost[mark] + m.joint_price_before[mark],
            feeds: 0,
            uneven: 0,
        };
        self.keys[at] = rest.map(|rest| rest + with_break);
        self.costs
            .state(at, self.keys[at].map_or(NO_WAY, |key| key.cost));
    }

    /// Places among the break marks of those after `from` up to `to`.
    #[inline]
    pub fn between(&self, from: usize, to: usize) -> Range<usize> {
        self.upto[from]..self.upto[to]
    }

    /// The break mark at a place.
    pub fn mark(&self, place: usize) -> Option<usize> {
        self.breaks.get(place).copied()
    }

    /// Break mark and key of the rest at a place.
    #[inline]
    pub fn at(&self, place: usize) -> (usize, Option<Rank>) {
        (self.breaks[place], self.keys[place])
    }

    /// Key of the rest from a break mark on.
    pub fn from(&self, mark: usize) -> Option<Rank> {
        self.keys[self.upto[mark] - 1]
    }

    /// Least cost of the rest over some places; [`NO_WAY`] where there is none.
    #[inline]
    pub fn least_cost(&self, places: Range<usize>) -> i64 {
        self.costs.least(places)
    }

    /// Some places from the first on whose rest costs at most `left`.
    pub fn cheap(&self, places: Range<usize>, left: i64) -> Range<usize> {
        self.costs.cheap(places, left)
    }

    /// Least rest for a branch to the right of `feed` over some places, with its place.
    pub fn least(&self, feed: usize, places: Range<usize>) -> Option<(Rank, usize)> {
        let cost = self.least_cost(places.clone());
        let mut least: Option<(Rank, usize)> = None;
        let mut equal = self.cheap(places, cost);
        while let Some(place) = equal.next() {
            let branch = Rank {
                cost: 0,
                feeds: 1,
                uneven: square(self.breaks[place] - feed),
            };
            let here = self.keys[place].map(|key| (key + branch, place));
            least = match (least, here) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
            equal = self.cheap(equal, cost);
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    proptest::proptest! {
        #[test]
        fn ranges_say_what_their_places_say(
            costs in proptest::collection::vec(proptest::option::of(0..40_i64), 1..70),
            from in 0..70_usize,
            count in 0..70_usize,
            left in -1..41_i64,
        ) {
            let mut rests = CostToGo::new(costs.len(), |_| true);
            let m = plain(costs.len());
            for (place, cost) in costs.iter().enumerate().rev() {
                let key = cost.map(|cost| Rank { cost, ..Rank::default() });
                rests.state(&m, place + 1, key);
            }
            let from = from.min(costs.len());
            let places = from..(from + count).min(costs.len());
            let own = |place: usize| costs[place].unwrap_or(NO_WAY);
            let least = places.clone().map(own).min().unwrap_or(NO_WAY);
            proptest::prop_assert_eq!(rests.least_cost(places.clone()), least);
            let cheap = rests.cheap(places.clone(), left);
            let first = places.clone().find(|place| own(*place) <= left);
            proptest::prop_assert_eq!(cheap, first.unwrap_or(places.end)..places.end);
            let found = rests.least(0, places.clone()).map(|(key, place)| (key.cost, place));
            let wanted = places.filter(|p| costs[*p].is_some()).min_by_key(|p| own(*p));
            proptest::prop_assert_eq!(found, wanted.map(|place| (own(place), place)));
        }
    }

    /// A run on which breaks and joints cost nothing.
    fn plain(n: usize) -> CheckedRun {
        let mut problem = crate::choose::feeding::tests::exhaustive::problem(1, 0.5, false, 0);
        problem.increments = n as u64;
        problem.costs.per_break = 0;
        problem.check().expect("a sound run")
    }
}
