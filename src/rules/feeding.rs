//! Whether the answer of each run was proven.

use super::View;
use crate::design::{Chosen, Proof};
use crate::finding::{Case, Figure, Finding, Limit, Rule, Value};
use crate::quantity::Cost;
use crate::source::Source;

const GAP: Case = Case::open(
    "gap",
    "whether a cheaper arrangement exists; the problem stands under Choices",
    "{why}",
)
.figure("cost {figure}")
.limit("bound {limit}")
.remedy("list fewer feed points");

pub(super) static PROOF: Rule = Rule {
    id: "feed-proof",
    title: "Proof of the feeding of a run",
    asks: "Is the arrangement of each run proven to be the cheapest of its problem?",
    source: Source::computed("break and feed search"),
    needs: &[],
    cases: &[&GAP],
};

pub(super) fn proof(view: &View<'_>) -> Vec<Finding> {
    let choices = view.design.choices.iter();
    choices
        .filter(|choice| {
            choice.proof == Proof::Gap && matches!(choice.chosen, Chosen::Feeding { .. })
        })
        .map(|choice| {
            let cost = |cost| match cost {
                Cost::Priced(money) => Figure::Cost(money),
                Cost::Counted(units) => Figure::DeviceCount(units),
            };
            PROOF
                .not_evaluated(&GAP, choice.about.clone())
                .figure(cost(choice.cost))
                .limit(Limit::AtMost(cost(choice.lower_bound)))
                .fact("why", Value::note(choice.reason.as_str()))
        })
        .collect()
}
