//! Which facts would narrow the answer most, recomputed by stating them in the file.

use crate::{changed, good, holds, readme};
use evenrun::design::{Assumed, Narrowing};
use evenrun::job::spec::TakenFact;
use evenrun::plan::plan;

fn of(all: &[Narrowing], fact: TakenFact) -> Option<&Narrowing> {
    all.iter().find(|one| one.what == Assumed::Fact(fact))
}

/// A file that says what its power was measured on has the supplies that the plan foretold.
#[test]
fn a_fact_that_is_stated_gives_the_plan_that_was_foretold() {
    let text = changed(&readme(), "copper = \"2 oz\"\n", "");
    let design = holds(&text);
    let found = of(&design.narrowing, TakenFact::PowerBasis).expect("the power of the label");
    for (end, word) in found.ends.iter().zip(["short piece", "full reel"]) {
        let stated = format!("{text}power_measured_on = \"{word}\"\n");
        let plan = plan(&good(&stated));
        assert_eq!(plan.supplies.len() as u64, end.plan.supplies, "{word}");
        let gone = of(&plan.narrowing, TakenFact::PowerBasis);
        assert!(gone.is_none(), "{gone:?}");
    }
}

#[test]
fn they_stand_by_what_they_change() {
    let design = holds(include_str!("atrium.toml"));
    let apart: Vec<u64> = design
        .narrowing
        .iter()
        .map(|one| one.ends[0].plan.apart(&one.ends[1].plan))
        .collect();
    assert_eq!(apart.len(), 3);
    assert!(apart.windows(2).all(|pair| pair[0] >= pair[1]), "{apart:?}");
}

/// Nothing is asked of a job that states everything, nor of one that breaks a limit.
#[test]
fn nothing_to_narrow() {
    let full = plan(&good(include_str!("../jobs/one_run.toml")));
    assert!(full.narrowing.is_empty());
    let broken = changed(&readme(), ", limit_current = \"6 A\"", "");
    assert!(plan(&good(&broken)).narrowing.is_empty());
}
