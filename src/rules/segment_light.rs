//! Light and current of each segment, solved with everything that shares its copper.

use super::{SOLVE, View};
use crate::finding::{Case, Finding, Rule, Subject};
use crate::quantity::amps;
use crate::source::Source;

const LEAST_CURRENT: Case = Case::judged(
    "least-current",
    "least current of a cell against its nominal, worst case, low, with everything that shares its copper",
)
.remedy("feed at more points, permit a larger wire, raise the set point within the trim range");

pub(super) static LIGHT: Rule = Rule {
    id: "segment-light",
    title: "Light of a segment",
    asks: "Does every cell get its least current, with everything that shares its copper?",
    source: SOLVE,
    needs: &[],
    cases: &[&LEAST_CURRENT],
};

pub(super) fn light(view: &View<'_>) -> Vec<Finding> {
    let least = view.design.limits.least_current;
    view.solved_segments()
        .map(|(segment, figures)| {
            let about = Subject::Segment(segment.id.clone());
            LIGHT.at_least(&LEAST_CURRENT, about, figures.least_current.low, least)
        })
        .collect()
}

const DEPARTURE: Case = Case::judged(
    "departure",
    "imbalance between emitters lit together, worst case, low",
)
.remedy("shorten the branches, or feed from both ends");

pub(super) static BALANCE: Rule = Rule {
    id: "segment-balance",
    title: "Balance of emitters lit together",
    asks: "Do emitters that are lit together fade alike along the segment, so that the colour holds?",
    source: SOLVE,
    needs: &["the greatest imbalance"],
    cases: &[&DEPARTURE],
};

pub(super) fn balance(view: &View<'_>) -> Vec<Finding> {
    let Some(limit) = view.design.limits.balance else {
        return Vec::new();
    };
    view.solved_segments()
        .map(|(segment, figures)| {
            let about = Subject::Segment(segment.id.clone());
            BALANCE.at_most(&DEPARTURE, about, figures.balance, limit)
        })
        .collect()
}

const CONNECTION: Case = Case::judged(
    "connection",
    "greatest current through one connection to the tape, worst case, high",
)
.remedy("share the current over more feeds");

pub(super) static PADS: Rule = Rule {
    id: "segment-pads",
    title: "Current of a connection to the tape",
    asks: "Does every pad that a feeder is joined to carry no more than its sheet permits?",
    source: Source::job("the job: pad_current of the strip"),
    needs: &["pad_current of the strip"],
    cases: &[&CONNECTION],
};

pub(super) fn pads(view: &View<'_>) -> Vec<Finding> {
    view.solved_segments()
        .filter_map(|(segment, _)| {
            let limit = view.strip(&segment.strip)?.pad_current?;
            let feeds = view.feeds_of(&segment.id).iter();
            let most = feeds
                .flat_map(|feed| &feed.conductors)
                .map(|conductor| conductor.current.si())
                .fold(0.0, f64::max);
            let about = Subject::Segment(segment.id.clone());
            Some(PADS.at_most(&CONNECTION, about, amps(most), limit))
        })
        .collect()
}
