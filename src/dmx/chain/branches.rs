//! Passive branches and stubs of a link.

use super::super::sources as from;
use super::judge::LinkContext;
use super::model::SOURCE;
use crate::finding::{Case, Figure, Finding, Limit, Rule, Value};
use crate::order::Order as _;
use crate::quantity::metres;

/// Longest stub, m.
const STUB_METRES: f64 = 0.3;

const SPLITS: Case = Case::judged(
    "splits",
    "the line branches {figure} ways at {at} without a powered splitter",
)
.figure("{figure} ways")
.limit("no branch")
.remedy("daisy-chain from device to device, or fit a powered splitter there");
const DAISY_CHAIN: Case = Case::plain("daisy_chain", "a daisy chain, without a branch");

pub(in crate::dmx) const SPLIT: Rule = Rule {
    id: "chain-split",
    title: "Daisy chain",
    asks: "Does the line run from device to device, with powered splitters alone where it divides?",
    source: from::E1_11_TOPOLOGY,
    needs: &[],
    cases: &[&SPLITS, &DAISY_CHAIN],
};

const JOINED: Case = Case::plain("joined", "cables are joined at {at}")
    .remedy("loop the cable in and out of every device");

pub(in crate::dmx) const SPLIT_HABIT: Rule = Rule {
    id: "chain-split-habit",
    title: "No joints in boxes, good practice",
    asks: "Is every cable brought in and out on a device's own terminals?",
    source: from::OWN_TERMINALS,
    needs: &[],
    cases: &[&JOINED],
};

/// Both rules at every branch without power, or that there is none.
pub(super) fn splits(on: &LinkContext<'_>) -> Vec<Finding> {
    let from_port = on.is_at_port().then(|| (SOURCE, roots(on).len()));
    let parts = on.link.parts.iter();
    let inside = parts.filter(|&&part| !on.chain.is_splitter(part));
    let forks = from_port
        .into_iter()
        .chain(inside.map(|&part| (on.name(part), on.ways(part).len())));
    let findings: Vec<Finding> = forks
        .filter(|&(_, ways)| ways > 1)
        .flat_map(|(at, ways)| [split(on, at, ways), split_habit(on, at)])
        .collect();
    if findings.is_empty() {
        return vec![SPLIT.passes(&DAISY_CHAIN, on.subject())];
    }
    findings
}

fn split(on: &LinkContext<'_>, at: &str, ways: usize) -> Finding {
    SPLIT
        .fails(&SPLITS, on.point(at))
        .figure(Figure::count(ways as u64))
        .limit(Limit::AtMost(Figure::count(1)))
        .fact("at", Value::name(at))
}

fn split_habit(on: &LinkContext<'_>, at: &str) -> Finding {
    SPLIT_HABIT
        .fails(&JOINED, on.point(at))
        .fact("at", Value::name(at))
}

const STUB_TO: Case = Case::judged("stub", "a stub of {figure:.2 m} to {part}")
    .figure("{figure:.2 m}")
    .limit("at most {limit:.1 m}")
    .remedy("loop the line in and out of the device");

pub(in crate::dmx) const STUB: Rule = Rule {
    id: "chain-stub",
    title: "Length of a stub",
    asks: "Is every stub of the line 0.3 m long at most?",
    source: from::STUB,
    needs: &[],
    cases: &[&STUB_TO],
};

pub(super) fn stubs(on: &LinkContext<'_>) -> Vec<Finding> {
    let judged = |(end, length): (usize, f64)| {
        STUB.at_most(&STUB_TO, on.part(end), metres(length), metres(STUB_METRES))
            .fact("part", Value::name(on.name(end)))
    };
    side_ways(on).into_iter().map(judged).collect()
}

/// Parts of the link whose cable comes from the port.
fn roots(on: &LinkContext<'_>) -> Vec<usize> {
    let parts = on.link.parts.iter().copied();
    parts
        .filter(|&part| on.chain.parents.get(part) == Some(&None))
        .collect()
}

/// Short side ways of the link: at every branch all but the longest way, with the length each adds.
fn side_ways(on: &LinkContext<'_>) -> Vec<(usize, f64)> {
    let count = on.chain.spec.parts.len();
    let mut reach = vec![0.0_f64; count];
    let mut far = (0..count).collect::<Vec<_>>();
    for &part in on.link.parts.iter().rev() {
        let own = on.written(part).map_or(0.0, |part| part.length.value);
        let (mut longest, mut end) = (0.0, part);
        if !on.chain.is_splitter(part) {
            for &next in on.ways(part) {
                let length = reach.get(next).copied().unwrap_or(0.0);
                if length > longest {
                    (longest, end) = (length, far.get(next).copied().unwrap_or(next));
                }
            }
        }
        if let (Some(reach), Some(far)) = (reach.get_mut(part), far.get_mut(part)) {
            (*reach, *far) = (own + longest, end);
        }
    }
    let reach = |part: usize| reach.get(part).copied().unwrap_or(0.0);
    let roots = roots(on);
    let inside = on.link.parts.iter().filter(|&&p| !on.chain.is_splitter(p));
    let forks = inside.map(|&part| on.ways(part)).chain([roots.as_slice()]);
    let mut stubs = Vec::new();
    for ways in forks.filter(|ways| ways.len() > 1) {
        let mut ways = ways.to_vec();
        ways.order_by(|&a, &b| reach(b).total_cmp(&reach(a)).then(a.cmp(&b)));
        for &way in ways.iter().skip(1) {
            stubs.push((far.get(way).copied().unwrap_or(way), reach(way)));
        }
    }
    stubs
}
