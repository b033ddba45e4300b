//! What must hold for every job.

use crate::build::{assign, kind, problem};
use evenrun::choose::devices::SupplyProblem;
use proptest::prelude::*;

fn job(sizes: &[u32], prices: (u64, u64)) -> SupplyProblem {
    let kinds = [
        kind("96 W", 96.0, 2, 2.5, prices.0),
        kind("150 W", 150.0, 3, 3.0, prices.1),
    ];
    let mut job = problem(&kinds, sizes);
    for (n, load) in job.loads.iter_mut().enumerate() {
        load.zone = ["a", "b", "c"][n % 3].into();
    }
    job.rules.separate.push(("a".into(), "b".into()));
    job.rules.effort = 400_000;
    job
}

/// Least price by dynamic programming over subsets: independent of the search.
fn brute_force(job: &SupplyProblem) -> u64 {
    let n = job.loads.len();
    let full = (1usize << n) - 1;
    let members = |set: usize| (0..n).filter(move |i| set >> i & 1 == 1);
    let fits = |set: usize, k: usize| {
        let kind = &job.kinds[k];
        let power: f64 = members(set).map(|i| job.loads[i].power.value).sum();
        let zone = |z: &str| members(set).any(|i| job.loads[i].zone == z);
        if power > kind.power.value * job.load_factor.value + 1e-7 || (zone("a") && zone("b")) {
            return false;
        }
        // Outputs one after the other: whether a set needs at most so many.
        let limit = kind.output_current.value + 1e-7;
        let one = |set: usize| {
            members(set)
                .map(|i| job.loads[i].current.value)
                .sum::<f64>()
                <= limit
        };
        let mut reach = vec![0usize];
        for _ in 0..kind.outputs {
            let mut next = Vec::new();
            for &done in &reach {
                let left = set & !done;
                let mut part = left;
                while part > 0 {
                    if one(part) {
                        next.push(done | part);
                    }
                    part = (part - 1) & left;
                }
                next.push(done);
            }
            next.sort_unstable();
            next.dedup();
            reach = next;
        }
        reach.contains(&set)
    };
    let cost: Vec<u64> = (0..=full)
        .map(|set| {
            let cheapest = (0..job.kinds.len())
                .filter(|&k| fits(set, k))
                .map(|k| job.kinds[k].price);
            cheapest.min().unwrap_or(u64::MAX / 64)
        })
        .collect();
    let mut best = vec![u64::MAX / 4; full + 1];
    best[0] = 0;
    for set in 1..=full {
        let mut part = set;
        while part > 0 {
            best[set] = best[set].min(best[set & !part] + cost[part]);
            part = (part - 1) & set;
        }
    }
    best[full]
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(60) })]

    /// Up to seven loads: the answer is proven and equals going through all partitions.
    #[test]
    fn equals_brute_force(
        sizes in prop::collection::vec(5_000u32..58_000, 1..8),
        prices in (10u64..90, 10u64..150),
    ) {
        let job = job(&sizes, prices);
        let found = assign(&job).expect("a plan");
        prop_assert!(found.proven);
        prop_assert_eq!(found.cost, brute_force(&job));
    }

    /// A smaller load, no separation or another kind never costs more (by bound, and by
    /// cost where both are proven).
    #[test]
    fn relaxing_never_costs_more(
        sizes in prop::collection::vec(5_000u32..58_000, 1..14),
        prices in (10u64..90, 10u64..150),
        which in any::<prop::sample::Index>(),
    ) {
        let job = job(&sizes, prices);
        let before = assign(&job).expect("a plan");
        let mut smaller = job.clone();
        let at = which.index(sizes.len());
        smaller.loads[at].power *= 0.5;
        smaller.loads[at].current *= 0.5;
        let mut together = job.clone();
        together.rules.separate.clear();
        let mut richer = job.clone();
        richer.kinds.push(kind("240 W", 240.0, 4, 4.0, 60));
        for relaxed in [smaller, together, richer] {
            let after = assign(&relaxed).expect("a plan");
            prop_assert!(after.lower_bound <= before.cost);
            if after.proven && before.proven {
                prop_assert!(after.cost <= before.cost);
            }
        }
    }

    /// The order in which loads, kinds and separations are listed leaves no trace.
    #[test]
    fn order_of_declaration_leaves_no_trace(
        sizes in prop::collection::vec(5_000u32..58_000, 1..20),
        prices in (10u64..90, 10u64..150),
    ) {
        let job = job(&sizes, prices);
        let mut turned = job.clone();
        turned.loads.reverse();
        turned.kinds.reverse();
        for pair in &mut turned.rules.separate {
            std::mem::swap(&mut pair.0, &mut pair.1);
        }
        let (one, other) = (assign(&job).expect("a plan"), assign(&turned).expect("a plan"));
        prop_assert_eq!(format!("{one:?}"), format!("{other:?}"));
    }
}
