//! Whether each run can be posed as a problem of feeding, and whether its answer was proven.

use super::View;
use crate::design::{Chosen, Proof};
use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject, Value};
use crate::id::RunId;
use crate::quantity::Cost;
use crate::source::Source;

const NO_FEED: &str = "no feed";
const fn none(key: &'static str, says: &'static str, remedy: &'static str) -> Case {
    Case::plain(key, says)
        .figure(NO_FEED)
        .limit("one")
        .remedy(remedy)
}

const NO_MODEL: Case = none("no-model", "its strip has no model", "correct the strip");
const NO_PLACE: Case = none(
    "no-place",
    "no place with a route to it has a supply of its voltage and, where it is dimmed, a decoder for it",
    "state a route from a place of its zone, and a supply and decoder that may be put there",
);
const ENOUGH_CORES: &str = "name a cable with enough cores";
const NO_CABLE: Case = none(
    "no-cable",
    "none of its cables has {cores} cores and a known resistance",
    ENOUGH_CORES,
);
const CABLES_REFUSED: Case = none(
    "cables-refused",
    "none of its cables has {cores} cores and a known resistance: {why}",
    ENOUGH_CORES,
);
const FAULT: Case = none("fault", "{why}", "correct the run, its strip or its cables");

pub(super) static PROBLEM: Rule = Rule {
    id: "feed-problem",
    title: "A way to feed a run",
    asks: "Has each run a place, a supply, a decoder and a cable that it can be fed with?",
    source: Source::job("the job"),
    needs: &[],
    cases: &[&NO_MODEL, &NO_PLACE, &NO_CABLE, &CABLES_REFUSED, &FAULT],
};

fn problem(run: &str, case: &Case) -> Finding {
    PROBLEM.fails(case, Subject::Run(RunId::new(run)))
}

/// The tape of a run has no model.
pub(crate) fn no_model(run: &str) -> Finding {
    problem(run, &NO_MODEL)
}

/// No place has what a run needs.
pub(crate) fn no_place(run: &str) -> Finding {
    problem(run, &NO_PLACE)
}

/// No cable of a run has so many cores and a known resistance; `refused`: those that have the cores, and why not.
pub(crate) fn no_cable(run: &str, cores: usize, refused: &[String]) -> Finding {
    let cores = Figure::count(cores as u64);
    if refused.is_empty() {
        return problem(run, &NO_CABLE).fact("cores", cores);
    }
    problem(run, &CABLES_REFUSED)
        .fact("cores", cores)
        .fact("why", Value::note(refused.join("; ")))
}

/// A figure of a run is out of range.
pub(crate) fn fault(run: &str, why: &impl ToString) -> Finding {
    problem(run, &FAULT).fact("why", Value::note(why.to_string()))
}

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
