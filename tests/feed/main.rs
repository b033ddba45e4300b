//! Break and feed against an exhaustive search that shares no code with it.

mod brute;
#[path = "../common/dice.rs"]
mod dice;
mod effort;
mod front;
#[path = "../common/gauss.rs"]
mod gauss;
mod hostile;
mod many;
mod monotony;

use brute::{Case, cheapest};
use dice::Dice;
use evenrun::choose::feeding::{
    FixedFeed, FixedSegment, Proof, RunFeedPlan, RunOutcome, RunProblem,
};
use gauss::gauss;

impl Dice {
    /// A number from `low` to `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next(1_000_000) as f64 / 1e6)
    }
}

#[test]
fn every_small_job_costs_what_trying_everything_says() {
    let mut dice = Dice(0x9E37_79B9_7F4A_7C15);
    let (mut planned, mut infeasible, mut broken, mut several) = (0, 0, 0, 0);
    for number in 0..360 {
        let case = Case::random(&mut dice);
        let tried = cheapest(&case);
        let problem = case.problem();
        let run = problem
            .check()
            .unwrap_or_else(|e| panic!("job {number}: {e}"));
        match run.plan().unwrap_or_else(|e| panic!("job {number}: {e}")) {
            RunOutcome::Planned(plan) => {
                assert_eq!(Some(plan.cost), tried, "job {number}: {case:?}");
                assert!(matches!(plan.proof, Proof::Cheapest { .. }), "job {number}");
                assert_eq!(plan.lower_bound, plan.cost, "job {number}");
                planned += 1;
                broken += usize::from(plan.segments.len() > 1);
                several += usize::from(plan.segments.iter().any(|s| s.feeds.len() > 1));
            }
            RunOutcome::Infeasible(_) => {
                assert_eq!(tried, None, "job {number}: {case:?}");
                infeasible += 1;
            }
        }
    }
    // The cases reach every kind of answer.
    assert!(planned >= 200, "{planned}");
    assert!(infeasible >= 10, "{infeasible}");
    assert!(broken >= 30, "{broken}");
    assert!(several >= 10, "{several}");
}

#[test]
fn the_same_run_gives_the_same_plan() {
    let mut dice = Dice(7);
    for _ in 0..20 {
        let case = Case::random(&mut dice);
        let plan = || {
            case.problem()
                .check()
                .map(|run| format!("{:?}", run.plan()))
        };
        assert_eq!(plan().ok(), plan().ok());
    }
}

#[test]
fn faults_come_all_at_once_and_say_what_to_do() {
    let mut dice = Dice(3);
    let mut problem = Case::random(&mut dice).problem();
    problem.increments = 0;
    let Err(faults) = problem.check() else {
        panic!("an empty run was accepted")
    };
    assert!(
        faults
            .to_string()
            .contains("shorter than one cut increment"),
        "{faults}"
    );

    let mut problem = Case::random(&mut dice).problem();
    problem.wires[0].price_per_metre = -1;
    problem.limits.least_current = evenrun::quantity::fraction(f64::NAN);
    let Err(faults) = problem.check() else {
        panic!("NaN was accepted")
    };
    assert!(faults.0.len() >= 2, "{faults}");
    assert!(
        faults
            .to_string()
            .contains("the least relative current is NaN"),
        "{faults}"
    );
}

/// A plan given back as fixed stays as it is, and costs nothing more.
#[test]
fn a_plan_given_back_as_fixed_is_the_same_plan() {
    let mut dice = Dice(0xD1CE);
    let mut seen = 0;
    for number in 0..120 {
        let case = Case::random(&mut dice);
        let problem = case.problem();
        let plan = |problem: RunProblem| match problem.check().expect("sound").plan() {
            Ok(RunOutcome::Planned(plan)) => Some(plan),
            _ => None,
        };
        let Some(first) = plan(problem.clone()) else {
            continue;
        };
        // A feed at a break belongs to the segment that begins there; one that ends there cannot be said.
        let marks: Vec<u64> = first
            .segments
            .iter()
            .flat_map(|s| &s.feeds)
            .map(|f| f.at)
            .collect();
        let clear = first
            .segments
            .iter()
            .all(|s| s.to == problem.increments || s.feeds.iter().all(|f| f.at < s.to));
        if !clear {
            continue;
        }
        let mut fixed = problem.clone();
        fixed.fixed.segments = first
            .segments
            .iter()
            .map(|s| FixedSegment {
                from: s.from,
                to: s.to,
                pattern: Some(s.pattern),
            })
            .collect();
        fixed.fixed.feeds = first
            .segments
            .iter()
            .flat_map(|s| s.feeds.iter().map(move |f| (s, f)))
            .map(|(s, f)| FixedFeed {
                at: f.at,
                place: Some(s.place.clone()),
                cable: Some(f.cable.clone()),
            })
            .collect();
        let again = plan(fixed).unwrap_or_else(|| panic!("job {number}: {case:?} {marks:?}"));
        let shape = |p: &RunFeedPlan| -> Vec<_> {
            p.segments
                .iter()
                .map(|s| (s.from, s.to, s.pattern, s.figures.clone()))
                .collect()
        };
        assert_eq!(shape(&again), shape(&first), "job {number}");
        assert_eq!(again.cost, 0, "job {number}");
        seen += 1;
    }
    assert!(seen >= 30, "{seen}");
}
