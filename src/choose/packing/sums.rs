//! Which costs an answer can have at all: sums of prices of bins that hold everything.

use super::{Bin, Problem};
use std::cmp::Reverse;

/// Costs above this are not listed.
const HIGHEST: u64 = 1 << 18;
/// Numbers of bins that are gone through one by one.
const COUNTS: usize = 1_000;
/// A limit above this counts as none here.
const COUNTED: u64 = 12;

/// Costs that answers may have, between two limits; all whole numbers where they are too
/// many to list.
#[derive(Debug, Clone, Default)]
pub struct Sums(Option<Vec<u64>>);

impl Sums {
    /// Sums from `low` to `high`, both included, whose bins have the capacity for all items.
    pub fn of(problem: &Problem<'_>, low: u64, high: u64) -> Self {
        if !problem.setups.is_empty() || high > HIGHEST || low > high {
            return Self(None);
        }
        // Wherever an item lies, it weighs at least this.
        let lightest = |item: usize| {
            let bins = problem.bins.iter().map(|bin| bin.weight[0][item]);
            bins.min().unwrap_or(0)
        };
        let weight = problem
            .demand
            .iter()
            .enumerate()
            .fold(0, |sum: u64, (i, &n)| {
                sum.saturating_add(lightest(i).saturating_mul(u64::from(n)))
            });
        let items: u64 = problem.demand.iter().map(|&n| u64::from(n)).sum();
        let weight = i64::try_from(weight)
            .unwrap_or(i64::MAX / 4)
            .min(i64::MAX / 4);
        let counted = counted(problem, items, weight as u64, low, high);
        Self(Some(counted.unwrap_or_else(|| {
            Self::listed(problem, items, weight, low, high)
        })))
    }

    /// The sums by the largest capacity that each cost buys.
    fn listed(problem: &Problem<'_>, items: u64, weight: i64, low: u64, high: u64) -> Vec<u64> {
        // Of each sum the largest capacity that it buys; below zero: no such sum.
        let mut sums = vec![-1i64; high as usize + 1];
        sums[0] = 0;
        for bin in &problem.bins {
            let most = most(problem, bin, items);
            // More than everything weighs is as good as that, so nothing overflows.
            let capacity = i64::try_from(bin.capacity[0])
                .unwrap_or(i64::MAX)
                .min(weight);
            let more = |own: i64, times: u64| {
                let sum = own.saturating_add(capacity.saturating_mul(times as i64));
                if own < 0 { -1 } else { sum.min(weight) }
            };
            let cost = bin.cost as usize;
            if cost == 0 {
                for own in &mut sums {
                    *own = more(*own, most);
                }
            } else if most > COUNTED {
                let mut from = cost;
                while from < sums.len() {
                    let (done, rest) = sums.split_at_mut(from);
                    for (own, &before) in rest.iter_mut().zip(&done[from - cost..]) {
                        *own = (*own).max(more(before, 1));
                    }
                    from += cost;
                }
            } else {
                for at in (cost..sums.len()).rev() {
                    for times in 1..=most {
                        let Some(before) = at.checked_sub(cost * times as usize) else {
                            break;
                        };
                        sums[at] = sums[at].max(more(sums[before], times));
                    }
                }
            }
        }
        let listed = (low..=high).zip(&sums[low as usize..]);
        let fitting = listed.filter(|&(_, &own)| own >= weight);
        fitting.map(|(cost, _)| cost).collect()
    }

    /// The least cost from `low` on that an answer may have; `low` itself where the list ends.
    pub fn from(&self, low: u64) -> u64 {
        let Some(list) = &self.0 else { return low };
        let at = list.partition_point(|&c| c < low);
        list.get(at).copied().unwrap_or(low)
    }

    /// The greatest cost below `high` that an answer may have; none where there is none.
    pub fn below(&self, high: u64) -> Option<u64> {
        match &self.0 {
            None => high.checked_sub(1),
            Some(list) => {
                let at = list.partition_point(|&c| c < high);
                list.get(at.checked_sub(1)?).copied()
            }
        }
    }
}

/// How many of a kind of bin there may be.
fn most(problem: &Problem<'_>, bin: &Bin, items: u64) -> u64 {
    let rows = bin.rows.iter().filter_map(|&row| {
        let times = bin.rows.iter().filter(|&&r| r == row).count() as u64;
        Some(u64::from(*problem.limits.get(row)?) / times)
    });
    rows.min().unwrap_or(items).min(items)
}

/// The sums by going through all numbers of bins; none where these are too many.
fn counted(
    problem: &Problem<'_>,
    items: u64,
    weight: u64,
    low: u64,
    high: u64,
) -> Option<Vec<u64>> {
    // Cost and capacity of so many bins of the kinds so far.
    let mut open = vec![(0u64, 0u64)];
    let mut sums = Vec::new();
    for bin in problem.bins.iter().filter(|bin| bin.cost == 0) {
        let capacity = bin.capacity[0].saturating_mul(most(problem, bin, items));
        open[0].1 = open[0].1.saturating_add(capacity);
    }
    let mut kinds: Vec<&Bin> = problem.bins.iter().filter(|bin| bin.cost > 0).collect();
    // The last kind is counted at once, so that with the most different numbers stands there.
    kinds.sort_by_key(|bin| Reverse(bin.cost));
    let last = kinds.pop();
    for bin in kinds {
        let most = most(problem, bin, items);
        for at in 0..open.len() {
            let (cost, capacity) = open[at];
            for times in 1..=most.min((high - cost) / bin.cost) {
                let more = bin.capacity[0].saturating_mul(times);
                open.push((cost + bin.cost * times, capacity.saturating_add(more)));
            }
            if open.len() > COUNTS {
                return None;
            }
        }
    }
    for (cost, capacity) in open {
        let Some(bin) = last else {
            sums.extend((capacity >= weight && cost >= low).then_some(cost));
            continue;
        };
        let most = most(problem, bin, items).min((high - cost) / bin.cost);
        let by_weight = weight
            .saturating_sub(capacity)
            .div_ceil(bin.capacity[0].max(1));
        let by_cost = low.saturating_sub(cost).div_ceil(bin.cost);
        sums.extend((by_weight.max(by_cost)..=most).map(|times| cost + bin.cost * times));
        if sums.len() > 16 * COUNTS {
            return None;
        }
    }
    sums.sort_unstable();
    sums.dedup();
    Some(sums)
}

#[cfg(test)]
mod tests {
    use super::super::Anything;
    use super::*;
    use proptest::prelude::*;

    fn bin(cost: u64, capacity: u64, rows: Vec<usize>) -> Bin {
        Bin {
            cost,
            capacity: vec![capacity],
            weight: [vec![4]].into(),
            rows,
            setup: None,
        }
    }

    /// Bins of 7 for 10 and of 5 for 6 (three at most, one kept for free), five items of 4:
    /// by hand. 6 + 0 buys 5 + 3, 10 + 10 + 0 buys 17, 10 + 6 + 6 + 0 buys 20.
    #[test]
    fn sums_are_those_that_hold_everything() {
        let problem = Problem {
            demand: vec![5],
            bins: vec![bin(10, 7, vec![]), bin(6, 5, vec![0]), bin(0, 3, vec![1])],
            limits: vec![3, 1],
            setups: Vec::new(),
            fit: &Anything,
            plain: true,
        };
        let sums = Sums::of(&problem, 0, 40);
        assert_eq!(sums.0, Some(vec![22, 26, 28, 30, 32, 36, 38, 40]));
        assert_eq!((sums.from(23), sums.below(26)), (26, Some(22)));
        assert_eq!((sums.from(41), sums.below(22)), (41, None));
    }

    proptest! {
        /// Both ways to find the sums find the same.
        #[test]
        fn counted_and_listed_sums_agree(
            kinds in prop::collection::vec((0u64..9, 1u64..9, 0usize..3), 1..5),
            demand in 1u32..7,
            limits in (1u32..3, 1u32..16),
            low in 0u64..20,
        ) {
            let bins = kinds.iter().map(|&(cost, capacity, rows)| {
                bin(cost, capacity, [vec![], vec![0], vec![1, 1]][rows].clone())
            });
            let problem = Problem {
                demand: vec![demand],
                bins: bins.collect(),
                limits: vec![limits.0, limits.1],
                setups: Vec::new(),
                fit: &Anything,
                plain: true,
            };
            let (items, weight) = (u64::from(demand), 4 * u64::from(demand));
            let listed = Sums::listed(&problem, items, weight as i64, low, 40);
            if let Some(counted) = counted(&problem, items, weight, low, 40) {
                prop_assert_eq!(counted, listed);
            }
        }
    }
}
