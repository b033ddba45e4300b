//! What each supply and each of its outputs carries.

use super::{SOLVE, View, view::why_not};
use crate::design::{Load, Supply};
use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::source::Source;

const LOADED: Case = Case::judged(
    "loaded",
    "nominal load against the load factor times the derated power",
)
.remedy("move a segment to another supply, or take a stronger kind");
const UNSOLVED: Case = Case::open(
    "unsolved",
    "nominal load against the load factor times the derated power",
    "{why}",
)
.limit("{limit}")
.remedy("correct the circuit that has no solution");

pub(super) static LOAD: Rule = Rule {
    id: "supply-load",
    title: "Load of a supply",
    asks: "Is each supply within the share of its derated power that is planned?",
    source: Source::common_practice(
        "supplies planned to a share of their rated power, as the job states",
    ),
    needs: &[],
    cases: &[&LOADED, &UNSOLVED],
};

/// Supplies that carry something, or should.
fn loaded<'d>(view: &View<'d>) -> impl Iterator<Item = &'d Supply> {
    let all = view.design.supplies.iter();
    all.filter(|supply| supply.load != Load::Standby)
}

pub(super) fn load(view: &View<'_>) -> Vec<Finding> {
    loaded(view)
        .map(|supply| {
            let about = Subject::Supply(supply.id.clone());
            match &supply.load {
                Load::Not(why) => LOAD
                    .not_evaluated(&UNSOLVED, about)
                    .limit(crate::finding::Limit::AtMost(supply.permitted.into()))
                    .fact("why", Value::note(why.as_str())),
                load => {
                    let nominal = load.power().map_or(f64::NAN, |power| power.nominal.si());
                    let watts = crate::quantity::watts(nominal);
                    LOAD.at_most(&LOADED, about, watts, supply.permitted)
                }
            }
        })
        .collect()
}

const DERATED: &str = "power of the supply at its ambient";
const STATE_POINTS: &str = "state its derating points up to the ambient of its place";
const NOT_STATED: Case = Case::open(
    "not-stated",
    DERATED,
    "the supply states no derating; full power was taken",
)
.remedy(STATE_POINTS);
const BEYOND: Case = Case::open(
    "beyond",
    DERATED,
    "its derating ends at {last}, its place has {ambient}; the share of the last point, {share}, was taken",
)
.remedy("state what it gives at that ambient, or put it in a cooler place");

pub(super) static DERATING: Rule = Rule {
    id: "supply-derating",
    title: "Power of a supply at its ambient",
    asks: "Is it known how much power each supply gives at the ambient of its place?",
    source: Source::job("the job"),
    needs: &["derating of the supply at the ambient of its place"],
    cases: &[&NOT_STATED, &BEYOND],
};

pub(super) fn derating(view: &View<'_>) -> Vec<Finding> {
    let open = loaded(view).filter(|supply| !supply.derating_stated);
    open.map(|supply| {
        let about = Subject::Supply(supply.id.clone());
        let points = view.supply_kind(&supply.id).map(|kind| &kind.derating);
        let place = view.place(&supply.place);
        match (points.and_then(|points| points.last()), place) {
            (Some(last), Some(place)) => DERATING
                .not_evaluated(&BEYOND, about)
                .fact("last", last.ambient)
                .fact("ambient", place.ambient)
                .fact("share", last.share),
            _ => DERATING.not_evaluated(&NOT_STATED, about),
        }
    })
    .collect()
}

const OUTPUT_CURRENT: Case = Case::judged(
    "current",
    "greatest current of one output, worst case, high",
)
.remedy("move a segment to another output");

pub(super) static OUTPUT: Rule = Rule {
    id: "supply-output",
    title: "Current of an output of a supply",
    asks: "Does each output carry no more than it is rated for?",
    source: Source::job("the job: output_current of the supply"),
    needs: &[],
    cases: &[&OUTPUT_CURRENT],
};

pub(super) fn output(view: &View<'_>) -> Vec<Finding> {
    let outputs = view.design.outputs.iter();
    outputs
        .filter_map(|output| {
            let current = output.current.figures()?.high;
            let limit = view.supply_kind(&output.supply)?.output_current;
            let about = Subject::Output {
                supply: output.supply.clone(),
                output: output.output,
            };
            Some(OUTPUT.at_most(&OUTPUT_CURRENT, about, current, limit))
        })
        .collect()
}

const NONE: Case = Case::plain("none", "{why}")
    .figure("no operating point")
    .limit("one")
    .remedy(
        "shorten the feeders or use larger cores, or use a tape whose cells do not draw constant power",
    );

pub(super) static CIRCUIT: Rule = Rule {
    id: "circuit-unsolved",
    title: "Operating point of a circuit",
    asks: "Has the circuit of each supply output an operating point in every state, nominal and at both worst cases?",
    source: SOLVE,
    needs: &[],
    cases: &[&NONE],
};

pub(super) fn circuit(view: &View<'_>) -> Vec<Finding> {
    let outputs = view.design.outputs.iter();
    outputs
        .filter_map(|output| {
            let why = why_not(&output.current)?;
            let about = Subject::Output {
                supply: output.supply.clone(),
                output: output.output,
            };
            Some(CIRCUIT.fails(&NONE, about).fact("why", Value::note(why)))
        })
        .collect()
}
