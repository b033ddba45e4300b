//! Conductors and insulation of the cables in use.

use super::View;
use crate::design::CableKind;
use crate::finding::{Case, Finding, Limit, Rule, Subject, Value};
use crate::id::ProductId;
use crate::source::Source;
use std::collections::BTreeSet;

/// Kinds of cable in use, by name.
fn used<'d>(view: &View<'d>) -> Vec<&'d CableKind> {
    let names: BTreeSet<&ProductId> = view.design.cables.iter().map(|one| &one.kind).collect();
    names
        .into_iter()
        .filter_map(|name| view.cable_kind(name))
        .collect()
}

const TOO_HOT: Case = Case::judged(
    "too-hot",
    "the conductor temperature, worst case, low, exceeds the insulation rating",
)
.remedy("lower conductor_hot, or use a cable of a higher insulation rating");

pub(super) static INSULATION: Rule = Rule {
    id: "cable-insulation",
    title: "Insulation rating",
    asks: "Is the conductor temperature assumed within the insulation rating of each cable?",
    source: Source::job("the job: conductor_hot and insulation"),
    needs: &[],
    cases: &[&TOO_HOT],
};

pub(super) fn insulation(view: &View<'_>) -> Vec<Finding> {
    let hot = view.design.limits.conductor.low;
    used(view)
        .into_iter()
        .filter(|kind| !(hot.si() <= kind.insulation.si()))
        .map(|kind| {
            INSULATION
                .fails(&TOO_HOT, Subject::Cable(kind.id.clone()))
                .figure(hot)
                .limit(Limit::AtMost(kind.insulation.into()))
        })
        .collect()
}

const ASSUMED: Case = Case::open("assumed", "resistance of its conductors", "{why}")
    .remedy("state a conductor that the tables list");

pub(super) static RESISTANCE: Rule = Rule {
    id: "cable-resistance",
    title: "Resistance of a cable",
    asks: "Is the resistance of each cable in a table, with nothing assumed?",
    source: Source::computed("resistance tables of this crate"),
    needs: &["a conductor that a table lists"],
    cases: &[&ASSUMED],
};

pub(super) fn resistance(view: &View<'_>) -> Vec<Finding> {
    let kinds = used(view).into_iter();
    kinds
        .flat_map(|kind| {
            kind.resistance_assumed.iter().map(|what| {
                RESISTANCE
                    .not_evaluated(&ASSUMED, Subject::Cable(kind.id.clone()))
                    .fact("why", Value::note(what.as_str()))
                    .source(kind.resistance_source.clone())
            })
        })
        .collect()
}
