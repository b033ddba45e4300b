//! Supplies that start together on one mains circuit.

use super::designs::design;
use evenrun::design::{Design, PerBreaker};
use evenrun::finding::{Finding, Verdict};
use evenrun::rules;

fn said(design: &Design) -> Vec<Finding> {
    let all = rules::judge(design).into_iter();
    all.filter(|finding| finding.rule.as_str() == "supply-breaker")
        .collect()
}

/// The demo, both of its circuits with the same kind of breaker, so many supplies of a kind on one.
fn demo(count: u32) -> Design {
    let mut design = design("examples/archive_wing.toml").clone();
    for kind in &mut design.supply_kinds {
        kind.per_breaker = Some(PerBreaker {
            count,
            breaker: "16 A, curve B".into(),
        });
    }
    design
}

#[test]
fn what_a_circuit_starts_is_judged() {
    // As many as the fullest circuit holds are at its limit, one fewer breaks it.
    let mut on = std::collections::BTreeMap::new();
    let design = demo(1);
    for supply in &design.supplies {
        let place = design.place(&supply.place).expect("a place");
        *on.entry(place.circuit.as_str()).or_insert(0_u32) += 1;
    }
    assert!(on.len() >= 2 && !on.contains_key(""), "{on:?}");
    let most = on.values().copied().max().expect("a circuit");
    assert!(most >= 2, "{on:?}");
    let kept = said(&demo(most));
    assert_eq!(kept.len(), on.len());
    assert!(kept.iter().all(|finding| !finding.is_fail()), "{kept:#?}");
    let broken: Vec<Finding> = said(&demo(most - 1))
        .into_iter()
        .filter(Finding::is_fail)
        .collect();
    assert!(!broken.is_empty());
    let line = rules::line(&broken[0]);
    for words in ["on circuit DB", "one breaker (16 A, curve B) start"] {
        assert!(line.contains(words), "{words}: {line}");
    }
}

#[test]
fn what_is_not_stated_is_not_evaluated() {
    let mut design = demo(10);
    let silent = design.supplies[0].kind.clone();
    for kind in design
        .supply_kinds
        .iter_mut()
        .filter(|kind| kind.id == silent)
    {
        kind.per_breaker = None;
    }
    let open: Vec<Finding> = said(&design)
        .into_iter()
        .filter(Finding::is_not_evaluated)
        .collect();
    assert!(open.iter().all(|finding| finding.case == "not-stated") && !open.is_empty());
    assert!(
        rules::line(&open[0]).contains(silent.as_str()),
        "{}",
        rules::line(&open[0])
    );
    // Where the job names no circuit, each place with supplies is asked for its own.
    for place in &mut design.places {
        place.circuit = String::new().into();
    }
    let places: std::collections::BTreeSet<&str> =
        design.supplies.iter().map(|s| s.place.as_str()).collect();
    let open = said(&design);
    assert_eq!(open.len(), places.len());
    for (finding, place) in open.iter().zip(places) {
        assert!(finding.is_not_evaluated() && finding.case == "not-named");
        let line = rules::line(finding);
        let words = format!("the mains circuit of {place} is not named");
        assert!(line.contains(&words), "{line}");
    }
}

#[test]
fn numbers_for_different_breakers_are_not_added() {
    let mut design = demo(10);
    let place = design.supplies[0].place.clone();
    // Two kinds on one circuit, each with its own breaker.
    let first = design.supplies[0].kind.clone();
    let mut kind = design
        .supply_kinds
        .iter()
        .find(|kind| kind.id == first)
        .expect("its kind")
        .clone();
    let other = evenrun::id::ProductId::new("another kind");
    kind.id = other.clone();
    design.supply_kinds.push(kind);
    for supply in design
        .supplies
        .iter_mut()
        .filter(|supply| supply.place == place)
        .skip(1)
    {
        supply.kind = other.clone();
    }
    for kind in design
        .supply_kinds
        .iter_mut()
        .filter(|kind| kind.id == other)
    {
        kind.per_breaker = Some(PerBreaker {
            count: 10,
            breaker: "10 A, curve C".into(),
        });
    }
    let open = said(&design)
        .into_iter()
        .filter(|finding| finding.verdict == Verdict::NotEvaluated);
    assert!(
        open.map(|finding| finding.case)
            .any(|case| case == "several-breakers")
    );
}
