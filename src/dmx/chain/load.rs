//! Load of every driver, and cables that leave a splitter.

use super::super::electrical::MOST_UNIT_LOADS;
use super::super::sources as from;
use super::judge::LinkContext;
use super::model::Chain;
use super::part::PartKind;
use crate::finding::{Case, Figure, Finding, Limit, Loads, Rule, Subject, Verdict};
use crate::id::{ChainId, PartId};

const LOADED: Case = Case::judged("loaded", "{figure:|unit load|unit loads} on one driver")
    .figure("{figure:|unit load|unit loads}")
    .limit("{limit:|unit load|unit loads}")
    .remedy("split the chain with a splitter");

pub(in crate::dmx) const UNIT_LOADS: Rule = Rule {
    id: "chain-unit-loads",
    title: "Unit loads on a driver",
    asks: "Does each driver of a chain carry 32 unit loads at most?",
    source: from::UNIT_LOADS,
    needs: &[],
    cases: &[&LOADED],
};

pub(super) fn unit_loads(on: &LinkContext<'_>) -> Finding {
    let limit = MOST_UNIT_LOADS * 10_000;
    // Whole ten-thousandths: 32 is at the limit and 32.0001 is over it.
    let verdict = match on.link.load.cmp(&limit) {
        std::cmp::Ordering::Less => Verdict::Pass,
        std::cmp::Ordering::Equal => Verdict::AtLimit,
        std::cmp::Ordering::Greater => Verdict::Fail,
    };
    let loads = |unit_loads_e4| Figure::from(Loads { unit_loads_e4 });
    UNIT_LOADS
        .finds(&LOADED, verdict, on.subject())
        .figure(loads(on.link.load))
        .limit(Limit::AtMost(loads(limit)))
}

const OUTPUTS: Case = Case::judged("outputs", "{figure} cables leave its {limit} outputs")
    .remedy("one cable an output: use a splitter with more");

pub(in crate::dmx) const SPLITTER_OUTPUTS: Rule = Rule {
    id: "splitter-outputs",
    title: "Outputs of a splitter",
    asks: "Has each cable that leaves a splitter an output of its own?",
    source: from::E1_11_TOPOLOGY,
    needs: &[],
    cases: &[&OUTPUTS],
};

pub(super) fn splitter_outputs(chain: &Chain, successors: &[Vec<usize>]) -> Vec<Finding> {
    let parts = chain.spec.parts.iter().zip(successors);
    let splitters = parts.filter_map(|(part, ways)| match part.kind {
        PartKind::Splitter { outputs, .. } => Some((part, outputs, ways.len())),
        _ => None,
    });
    splitters
        .map(|(part, outputs, ways)| {
            let about = Subject::Splitter {
                chain: ChainId::new(&*chain.spec.name),
                splitter: PartId::new(&*part.name),
            };
            let outputs = Figure::count(u64::from(outputs));
            SPLITTER_OUTPUTS.at_most(&OUTPUTS, about, Figure::count(ways as u64), outputs)
        })
        .collect()
}
