//! Small jobs against every way to put pieces into bars.

use crate::build::{plan, spec};
use evenrun::choose::stock::{Joints, Objective};
use proptest::prelude::*;

/// Least cost over all partitions of the pieces into bars, each bar from the cheapest
/// stock length that holds it.
fn least(
    kerf: i64,
    stock: &[(i64, i64)],
    pieces: &[i64],
    groups: &mut Vec<(i64, i64)>,
    at: usize,
) -> i64 {
    if at == pieces.len() {
        return groups
            .iter()
            .map(|&(length, _)| {
                stock
                    .iter()
                    .filter(|s| s.0 >= length)
                    .map(|s| s.1)
                    .min()
                    .expect("every group fits")
            })
            .sum();
    }
    let longest = stock.iter().map(|s| s.0).max().expect("stock");
    let mut best = i64::MAX;
    for group in 0..=groups.len() {
        if group == groups.len() {
            groups.push((pieces[at], 1));
            best = best.min(least(kerf, stock, pieces, groups, at + 1));
            groups.pop();
        } else {
            let (length, count) = groups[group];
            let longer = length + kerf + pieces[at];
            if longer <= longest {
                groups[group] = (longer, count + 1);
                best = best.min(least(kerf, stock, pieces, groups, at + 1));
                groups[group] = (length, count);
            }
        }
    }
    best
}

/// Least (reels, joints) with joints at the ends of reels: every partition into rows,
/// a row of length S taking ⌈S / reel⌉ reels and one joint fewer.
fn least_joined(reel: i64, pieces: &[i64], groups: &mut Vec<i64>, at: usize) -> (i64, i64) {
    if at == pieces.len() {
        let reels: i64 = groups.iter().map(|s| (s + reel - 1) / reel).sum();
        return (reels, reels - groups.len() as i64);
    }
    let mut best = (i64::MAX, 0);
    for group in 0..=groups.len() {
        if group == groups.len() {
            groups.push(0);
        }
        groups[group] += pieces[at];
        best = best.min(least_joined(reel, pieces, groups, at + 1));
        groups[group] -= pieces[at];
        if groups[group] == 0 && group + 1 == groups.len() {
            groups.pop();
        }
    }
    best
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(250))]

    /// Proven, and equal to the cheapest of all partitions.
    #[test]
    fn equals_the_cheapest_partition(
        kerf in 0i64..30,
        stock in prop::collection::vec((400i64..1000, 0i64..60), 1..4),
        pieces in prop::collection::vec(40i64..400, 1..9),
    ) {
        let mut job = spec(kerf, &stock, &pieces);
        job.objective = Objective::LeastCost;
        let found = plan(&job);
        prop_assert!(found.proven);
        prop_assert_eq!(found.cost as i64, least(kerf, &stock, &pieces, &mut Vec::new(), 0));
    }

    /// Fewest reels, then fewest joints, over all ways to join pieces into rows.
    #[test]
    fn joins_by_choice_equal_the_best_rows(
        reel in 50i64..120,
        pieces in prop::collection::vec(10i64..150, 1..8),
    ) {
        let mut job = spec(0, &[(reel, 1)], &pieces);
        job.joints = Joints::ByChoice { price: 1 };
        let found = plan(&job);
        prop_assert!(found.proven);
        let best = least_joined(reel, &pieces, &mut Vec::new(), 0);
        prop_assert_eq!((found.bars_bought as i64, found.joints as i64), best);
    }
}
