//! Connectors along a line, judged where any is stated.

use super::super::connector::Connector;
use super::super::sources as from;
use super::judge::LinkContext;
use super::part::PartKind;
use crate::finding::{Case, Finding, Rule, Value};

/// Words of two connectors that no cable joins.
const fn apart(key: &'static str, remedy: &'static str) -> Case {
    Case::plain(
        key,
        "{from_plug} at {from} and {to_plug} at {to}: no cable of one kind fits",
    )
    .limit("the same connector at both ends of a cable")
    .remedy(remedy)
}
const ADAPTER: Case = apart(
    "adapter",
    "make up an adapter, contact by contact: {contacts} ({from_plug} to {to_plug})",
);
const NO_ADAPTER: Case = apart("no_adapter", "use devices with one kind of connector");
const NOT_STATED: Case = Case::open(
    "not_stated",
    "connectors at both ends of every cable",
    "connectors not stated at an end of the cable into {parts:5}",
)
.remedy("state them");
const FITS: Case = Case::plain(
    "fits",
    "every cable has one kind of plug, or terminals, at its ends",
);

pub(in crate::dmx) const CONNECTOR: Rule = Rule {
    id: "chain-connector",
    title: "Plugs of one cable",
    asks: "Has every cable the same kind of plug, or terminals, at its ends?",
    source: from::E1_11_CONNECTOR,
    needs: &["connectors at both ends of every cable"],
    cases: &[&ADAPTER, &NO_ADAPTER, &NOT_STATED, &FITS],
};

/// Whether the chain states any connector.
fn is_stated(on: &LinkContext<'_>) -> bool {
    let spec = &on.chain.spec;
    let parts = spec.parts.iter().map(|part| part.connector);
    parts.chain([spec.connector]).any(|one| one.is_some())
}

pub(super) fn connectors(on: &LinkContext<'_>) -> Vec<Finding> {
    if !is_stated(on) {
        return Vec::new();
    }
    let mut findings = Vec::new();
    let mut open = Vec::new();
    let cables = on.parts().filter(|(_, part)| part.kind != PartKind::Joint);
    for (index, part) in cables {
        let (from_name, from_plug) = plug_before(on, index);
        match (from_plug, part.connector) {
            (Some(a), Some(b)) if a != b && a.is_plug() && b.is_plug() => {
                findings.push(mismatch(on, (from_name, a), (&part.name, b)));
            }
            (Some(_), Some(_)) => {}
            _ => open.push(part.name.as_str()),
        }
    }
    if !open.is_empty() {
        let finding = CONNECTOR.not_evaluated(&NOT_STATED, on.subject());
        findings.push(finding.fact("parts", Value::names(open)));
    } else if findings.is_empty() {
        findings.push(CONNECTOR.passes(&FITS, on.subject()));
    }
    findings
}

fn mismatch(on: &LinkContext<'_>, from: (&str, Connector), to: (&str, Connector)) -> Finding {
    let contacts = from.1.joins(to.1);
    let case = if contacts.is_empty() {
        &NO_ADAPTER
    } else {
        &ADAPTER
    };
    CONNECTOR
        .fails(case, on.cable(from.0, to.0))
        .fact("from", Value::name(from.0))
        .fact("from_plug", Value::name(from.1.words()))
        .fact("to", Value::name(to.0))
        .fact("to_plug", Value::name(to.1.words()))
        .fact("contacts", Value::Contacts { contacts })
}

/// Name and connector of what the cable into a part comes from, through joints.
fn plug_before<'a>(on: &LinkContext<'a>, part: usize) -> (&'a str, Option<Connector>) {
    let chain = on.chain;
    let before = |part: usize| chain.parents.get(part).copied().flatten();
    let joint = |part: usize| on.written(part).is_some_and(|p| p.kind == PartKind::Joint);
    let mut at = before(part);
    while let Some(jointed) = at.filter(|&part| joint(part)) {
        at = before(jointed);
    }
    match at {
        Some(part) => (on.name(part), on.written(part).and_then(|p| p.connector)),
        None => (super::model::SOURCE, chain.spec.connector),
    }
}

const STANDARD: &str = "5-pin XLR or fixed wiring; 8-position under conditions";
const OTHER: Case = Case::plain("other", "another connector at {parts:5}")
    .limit(STANDARD)
    .remedy("use a device with a connector of the standard, or its terminals");
const EIGHT_POSITION: Case = Case::open(
    "eight_position",
    "8-position connectors at {parts:5}; other equipment can put a voltage on contacts 4, 5 and 7",
    "whether the conditions of clause 7 are met, such as that no user mates it",
)
.limit(STANDARD)
.remedy("keep them out of reach of users, and label them");

pub(in crate::dmx) const CONNECTOR_KIND: Rule = Rule {
    id: "chain-connector-kind",
    title: "Connectors of the standard",
    asks: "Is every connector a 5-pin XLR or fixed wiring, or 8-position where the conditions for it are kept?",
    source: from::E1_11_CONNECTOR,
    needs: &["whether the conditions of an 8-position connector are kept"],
    cases: &[&OTHER, &EIGHT_POSITION],
};

pub(super) fn kinds(on: &LinkContext<'_>) -> Vec<Finding> {
    let of = |kind: Connector| -> Option<Value> {
        let parts = on.parts().filter(|(_, part)| part.connector == Some(kind));
        let names: Vec<&str> = parts.map(|(_, part)| part.name.as_str()).collect();
        (!names.is_empty()).then(|| Value::names(names))
    };
    let other = of(Connector::Other).map(|parts| {
        CONNECTOR_KIND
            .fails(&OTHER, on.subject())
            .fact("parts", parts)
    });
    let eight = of(Connector::EightPosition).map(|parts| {
        CONNECTOR_KIND
            .not_evaluated(&EIGHT_POSITION, on.subject())
            .fact("parts", parts)
    });
    other.into_iter().chain(eight).collect()
}
