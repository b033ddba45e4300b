//! A search whose effort is spent says so, and its bound is still one.

use super::Dice;
use super::brute::{Case, cheapest};
use evenrun::choose::feeding::{Proof, RunOutcome};
use evenrun::finding::Finding;

#[test]
fn a_search_cut_short_bounds_the_cost_from_below() {
    let mut dice = Dice(0xEFF0);
    let (mut cut_short, mut dearer, mut not_found) = (0, 0, 0);
    for number in 0..300 {
        let case = Case::random(&mut dice);
        let mut problem = case.problem();
        problem.effort = dice.next(3);
        let run = problem.check().expect("sound");
        let plan = match run.plan().expect("solved") {
            RunOutcome::Planned(plan) => plan,
            RunOutcome::Infeasible(answer) => {
                // What was not looked for to the end is not called impossible.
                let says = |f: &Finding| f.rule.as_str() == "feed-effort" && f.is_not_evaluated();
                assert_eq!(answer.cut_short, answer.findings.iter().any(says));
                if cheapest(&case).is_some() {
                    assert!(answer.cut_short, "job {number}");
                    not_found += 1;
                }
                continue;
            }
        };
        let Some(least) = cheapest(&case) else {
            panic!("job {number}: planned what cannot be: {case:?}")
        };
        assert!(
            plan.lower_bound <= least,
            "job {number}: {} {least}",
            plan.lower_bound
        );
        assert!(plan.cost >= least, "job {number}");
        match plan.proof {
            Proof::Cheapest { .. } => assert_eq!(plan.cost, least, "job {number}"),
            Proof::Gap { .. } => cut_short += 1,
        }
        dearer += usize::from(plan.cost > least);
    }
    assert!(cut_short >= 10, "{cut_short}");
    assert!(dearer >= 1, "{dearer}");
    assert!(not_found >= 1, "{not_found}");
}
