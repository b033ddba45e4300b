//! Splitters of a chain whose devices answer.

use super::super::rdm::MOST_IN_LINE;
use super::super::sources as from;
use super::judge::LinkContext;
use super::part::PartKind;
use crate::finding::{Case, Figure, Finding, Rule, Value};

const IN_LINE: Case = Case::judged(
    "in_line",
    "{figure} splitters between controller and this link",
)
.limit("at most {limit}")
.remedy("split nearer to the controller");

pub(in crate::dmx) const RDM_SPLITTERS: Rule = Rule {
    id: "chain-rdm-splitters",
    title: "Splitters between controller and device",
    asks: "Do RDM answers come through four splitters at most?",
    source: from::E1_20,
    needs: &[],
    cases: &[&IN_LINE],
};

pub(super) fn splitters_in_line(on: &LinkContext<'_>) -> Option<Finding> {
    on.chain.spec.rdm.then(|| {
        let passed = Figure::count(on.link.splitters as u64);
        let limit = Figure::count(u64::from(MOST_IN_LINE));
        RDM_SPLITTERS.at_most(&IN_LINE, on.subject(), passed, limit)
    })
}

const STOPS: Case = Case::plain(
    "stops",
    "{part} does not pass RDM: devices behind it do not answer",
)
.remedy("use a splitter that passes RDM both ways");

pub(in crate::dmx) const RDM_PASS: Rule = Rule {
    id: "chain-rdm-pass",
    title: "Splitters that pass RDM",
    asks: "Does every splitter of a chain that answers pass RDM both ways?",
    source: from::E1_20,
    needs: &[],
    cases: &[&STOPS],
};

pub(super) fn splitters_that_pass(on: &LinkContext<'_>) -> Vec<Finding> {
    let deaf = on.parts().filter(|(_, part)| {
        on.chain.spec.rdm && matches!(part.kind, PartKind::Splitter { rdm: false, .. })
    });
    deaf.map(|(_, part)| {
        RDM_PASS
            .fails(&STOPS, on.point(&part.name))
            .fact("part", Value::name(&*part.name))
    })
    .collect()
}
