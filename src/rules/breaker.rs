//! Supplies that start together on one mains circuit, against what the maker says one breaker stands.

use super::View;
use crate::design::{PerBreaker, Supply};
use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::id::PlaceId;
use crate::quantity::fraction;
use crate::source::Source;
use std::collections::{BTreeMap, BTreeSet};

const STARTED: Case = Case::judged(
    "started",
    "supplies on circuit {circuit}, as a share of those that its maker lets one breaker ({breaker}) start",
)
.remedy("spread the supplies over more circuits; licensed people design the mains side");
const NOT_STATED: Case = Case::open(
    "not-stated",
    "supplies that start together on circuit {circuit}",
    "no number for a breaker is stated of {kinds:3+}",
)
.remedy("state `per_breaker` of the supply, from its data sheet");
const NOT_NAMED: Case = Case::open(
    "not-named",
    "supplies at {place} that start together on one breaker",
    "the mains circuit of {place} is not named",
)
.remedy("name the circuit of the place, as its panel names it: supplies on one breaker are then counted together");
const SEVERAL: Case = Case::open(
    "several-breakers",
    "supplies that start together on circuit {circuit}",
    "their numbers are for different breakers",
)
.remedy("take the numbers of all kinds for the breaker that is there");

pub(super) static RULE: Rule = Rule {
    id: "supply-breaker",
    title: "Supplies on one breaker",
    asks: "Does the breaker of each mains circuit stand the inrush of the supplies that start on it together?",
    source: Source::job("the job: the maker's count of supplies on one breaker"),
    needs: &[
        "the mains circuit of each place",
        "the maker's count of supplies on one breaker",
    ],
    cases: &[&STARTED, &NOT_STATED, &NOT_NAMED, &SEVERAL],
};

/// Supplies of one circuit, with the first place on it.
struct Circuit<'d> {
    place: &'d PlaceId,
    supplies: Vec<&'d Supply>,
}

/// One answer a circuit, and one a place with supplies whose circuit is not named.
pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let mut circuits: BTreeMap<&str, Circuit<'_>> = BTreeMap::new();
    let mut not_named: BTreeSet<&PlaceId> = BTreeSet::new();
    for supply in &view.design.supplies {
        let Some(place) = view.place(&supply.place) else {
            continue;
        };
        if place.circuit.as_str().is_empty() {
            not_named.insert(&place.id);
            continue;
        }
        let circuit = circuits.entry(place.circuit.as_str()).or_insert(Circuit {
            place: &place.id,
            supplies: Vec::new(),
        });
        circuit.supplies.push(supply);
    }
    let named = circuits.iter().map(|(name, on)| answer(view, name, on));
    let not_named = not_named.into_iter().map(|place| {
        RULE.not_evaluated(&NOT_NAMED, Subject::Place(place.clone()))
            .fact("place", Value::name(place.as_str()))
    });
    named.chain(not_named).collect()
}

fn answer(view: &View<'_>, circuit: &str, on: &Circuit<'_>) -> Finding {
    let about = || Subject::Place(on.place.clone());
    let mut stated: Vec<&PerBreaker> = Vec::new();
    let mut silent: Vec<&str> = Vec::new();
    for supply in &on.supplies {
        match view
            .supply_kind(&supply.id)
            .and_then(|kind| kind.per_breaker.as_ref())
        {
            Some(limit) => stated.push(limit),
            None if !silent.contains(&supply.kind.as_str()) => silent.push(supply.kind.as_str()),
            None => {}
        }
    }
    let named = |finding: Finding| finding.fact("circuit", Value::name(circuit));
    if !silent.is_empty() {
        return named(RULE.not_evaluated(&NOT_STATED, about())).fact("kinds", Value::names(silent));
    }
    let breaker = stated.first().map_or("", |limit| limit.breaker.as_str());
    if stated.iter().any(|limit| limit.breaker.as_str() != breaker) {
        return named(RULE.not_evaluated(&SEVERAL, about()));
    }
    let share: f64 = stated
        .iter()
        .map(|limit| 1.0 / f64::from(limit.count))
        .sum();
    // Ten of one in ten are one, whatever the sum of tenths is.
    let share = libm::round(share * 1e9) / 1e9;
    named(RULE.at_most(&STARTED, about(), fraction(share), fraction(1.0)))
        .fact("breaker", Value::name(breaker))
}
