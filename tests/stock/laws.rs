//! What must hold for every job.

use crate::build::{mm, plan, spec};
use evenrun::choose::stock::{Objective, Offcut, StockLength};
use proptest::prelude::*;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Another stock length, an offcut, a thinner kerf or a shorter piece never costs more.
    /// What holds without a proof: no bound of the richer job lies above a cost of the poorer.
    #[test]
    fn relaxing_never_costs_more(
        kerf in 1i64..10,
        pieces in prop::collection::vec(100i64..900, 1..16),
        more in (900i64..2500, 1i64..300),
        offcut in 100i64..2000,
        which in any::<prop::sample::Index>(),
    ) {
        let mut job = spec(kerf, &[(2000, 200), (1200, 130)], &pieces);
        job.objective = Objective::LeastCost;
        job.effort = 300_000;
        let before = plan(&job);
        let mut richer = job.clone();
        richer.stock.push(StockLength::new("more", mm(more.0), more.1));
        let mut rack = job.clone();
        rack.offcuts.push(Offcut { name: "rack".into(), length: mm(offcut), batch: None });
        let mut thinner = job.clone();
        thinner.kerf = mm(kerf - 1);
        let mut shorter = job.clone();
        let at = which.index(pieces.len());
        shorter.pieces[at].length = mm(pieces[at] - 50);
        for relaxed in [richer, rack, thinner, shorter] {
            let after = plan(&relaxed);
            prop_assert!(after.lower_bound <= before.cost, "{} > {}", after.lower_bound, before.cost);
            if after.proven && before.proven {
                prop_assert!(after.cost <= before.cost, "{} > {}", after.cost, before.cost);
            }
        }
    }

    /// The order in which pieces and stock are listed leaves no trace.
    #[test]
    fn order_of_declaration_leaves_no_trace(
        pieces in prop::collection::vec(100i64..900, 1..25),
        seed in any::<u64>(),
    ) {
        let job = spec(3, &[(2000, 200), (1200, 130), (2000, 190)], &pieces);
        let mut shuffled = job.clone();
        let mut state = seed | 1;
        for at in (1..shuffled.pieces.len()).rev() {
            state = state.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            shuffled.pieces.swap(at, (state >> 33) as usize % (at + 1));
        }
        shuffled.stock.reverse();
        prop_assert_eq!(format!("{:?}", plan(&job)), format!("{:?}", plan(&shuffled)));
    }

    /// Lengths scaled by a whole number give the same bars.
    #[test]
    fn scale_changes_nothing(pieces in prop::collection::vec(10i64..90, 1..20), k in 2i64..30) {
        let small = plan(&spec(1, &[(200, 7)], &pieces));
        let scaled: Vec<i64> = pieces.iter().map(|p| p * k).collect();
        let large = plan(&spec(k, &[(200 * k, 7)], &scaled));
        prop_assert_eq!(small.value, large.value);
        prop_assert_eq!(small.lower_bound, large.lower_bound);
    }
}

/// A small work limit leaves a valid plan, a valid bound and an open gap: no bound at any
/// limit lies above a cost at any other.
#[test]
fn the_work_limit_only_widens_the_gap() {
    let pieces: Vec<i64> = (0..60).map(|n| 281 + (n * n * 37 + n * 11) % 640).collect();
    let mut job = spec(4, &[(2000, 1999), (1500, 1511), (1100, 1123)], &pieces);
    job.objective = Objective::LeastCost;
    let mut plans = Vec::new();
    for effort in [1, 1_000, 30_000, 300_000, 1_000_000] {
        job.effort = effort;
        match crate::build::try_plan(&job) {
            Ok(found) => {
                assert!(found.proven || found.gap() > 0);
                plans.push(found);
            }
            Err(error) => assert!(error.to_string().contains("allow more work"), "{error}"),
        }
    }
    assert!(plans.len() >= 2, "the larger limits must find a plan");
    let highest = plans.iter().map(|p| p.lower_bound).max().expect("plans");
    let cheapest = plans.iter().map(|p| p.cost).min().expect("plans");
    assert!(highest <= cheapest, "bound {highest} above cost {cheapest}");
    let last = plans.last().expect("plans");
    assert!(
        last.gap() * 100 <= last.cost,
        "a gap of {} on {}",
        last.gap(),
        last.cost
    );
}
