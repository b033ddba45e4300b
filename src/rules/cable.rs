//! Conductors and insulation of the cables in use.

use super::View;
use crate::design::{Assumed, CableKind};
use crate::finding::{Case, Finding, Limit, Rule, Subject, Value};
use crate::id::ProductId;
use crate::job::spec::LimitKey;
use crate::quantity::Temperature;
use crate::source::Source;
use std::collections::{BTreeMap, BTreeSet};

/// Kinds of cable in use, by name.
fn used<'d>(view: &View<'d>) -> Vec<&'d CableKind> {
    let names: BTreeSet<&ProductId> = view.design.cables.iter().map(|one| &one.kind).collect();
    names
        .into_iter()
        .filter_map(|name| view.cable_kind(name))
        .collect()
}

const REACHED: Case = Case::judged(
    "reached",
    "hottest conductor by its own load in its ambient, worst case, high",
)
.remedy("use larger cores, less load, a cooler way, or a cable of a higher insulation rating");
const TOO_HOT: Case = Case::judged(
    "too-hot",
    "the job states a conductor temperature above the insulation rating",
)
.remedy("lower conductor_hot, or use a cable of a higher insulation rating");

pub(super) static INSULATION: Rule = Rule {
    id: "cable-insulation",
    title: "Insulation rating",
    asks: "Is the temperature that each cable reaches within its insulation rating?",
    source: Source::computed(
        "heat balance of the ampacity table, T = ambient + (T_rated - T_reference) (I / I_table)²",
    ),
    needs: &["an ampacity with the temperatures that it is made for, or conductor_hot"],
    cases: &[&REACHED, &TOO_HOT],
};

pub(super) fn insulation(view: &View<'_>) -> Vec<Finding> {
    let mut hottest: BTreeMap<&ProductId, Temperature> = BTreeMap::new();
    for cable in &view.design.cables {
        if let Some(hot) = cable.hot {
            let most = hottest.entry(&cable.kind).or_insert(hot);
            if hot.si() > most.si() {
                *most = hot;
            }
        }
    }
    let reached = hottest.into_iter().filter_map(|(kind, hot)| {
        let limit = view.cable_kind(kind)?.insulation;
        Some(INSULATION.at_most(&REACHED, Subject::Cable(kind.clone()), hot, limit))
    });
    let mut out: Vec<Finding> = reached.collect();
    let key = Assumed::Limit(LimitKey::ConductorHot);
    let hot = view.design.limits.conductor.low;
    if view.design.assumed.iter().any(|a| a.what == key) {
        return out;
    }
    // Where no table says how hot a cable gets, the job does.
    let no_table: BTreeSet<&ProductId> = view
        .design
        .cables
        .iter()
        .filter(|cable| cable.hot.is_none())
        .map(|cable| &cable.kind)
        .collect();
    let kinds = no_table.into_iter().filter_map(|id| view.cable_kind(id));
    out.extend(
        kinds
            .filter(|kind| !(hot.si() <= kind.insulation.si()))
            .map(|kind| {
                INSULATION
                    .fails(&TOO_HOT, Subject::Cable(kind.id.clone()))
                    .figure(hot)
                    .limit(Limit::AtMost(kind.insulation.into()))
            }),
    );
    out
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
