//! Drop from the terminals of the supply to the farthest cell, against the supply voltage.

use super::{SOLVE, View};
use crate::cable::tables::voltage_drop;
use crate::finding::{Case, Finding, Limit, Rule, Subject};
use crate::quantity::{Share, percent};

const STATED: Case = Case::judged(
    "stated",
    "greatest drop from the supply terminals to the farthest cell, against the limit of the job",
)
.remedy("feed at more points, permit a larger wire, put the supply nearer, or take tape of a higher voltage");
const KEPT: Case = Case::judged(
    "kept",
    "greatest drop from the supply terminals to the farthest cell",
);
const OPEN: Case = Case::open(
    "open",
    "greatest drop from the supply terminals to the farthest cell",
    "the job does not say whether 5 % is to be kept (IEC 60364-7-715, where it is adopted); brightness decided here",
)
.figure("{figure}")
.limit("{limit}")
.remedy("state voltage_drop: \"5 %\", another limit, or \"none\" where brightness alone decides");

pub(super) static RULE: Rule = Rule {
    id: "voltage-drop",
    title: "Voltage drop",
    asks: "Is the drop from the terminals of the supply to the farthest cell within its share of the rated voltage?",
    source: voltage_drop::EXTRA_LOW_VOLTAGE_SOURCE,
    needs: &["voltage_drop, where the drop exceeds 5 %"],
    cases: &[&STATED, &KEPT, &OPEN],
};

pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let limits = &view.design.limits;
    let stated = limits.voltage_drop;
    if stated.is_none() && limits.voltage_drop_stated {
        return Vec::new();
    }
    let code = Share::from(percent(voltage_drop::EXTRA_LOW_VOLTAGE.percent));
    view.solved_segments()
        .filter_map(|(segment, figures)| {
            let rated = view.strip(&segment.strip)?.rated;
            let drop = Share::finite(figures.drop?.si() / rated.si())?;
            let about = Subject::Segment(segment.id.clone());
            Some(match stated {
                Some(limit) => RULE.at_most(&STATED, about, drop, limit).source(SOLVE),
                None if drop.si() <= code.si() => RULE.at_most(&KEPT, about, drop, code),
                None => RULE
                    .not_evaluated(&OPEN, about)
                    .figure(drop)
                    .limit(Limit::AtMost(code.into())),
            })
        })
        .collect()
}
