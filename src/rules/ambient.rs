//! Ambients against what tape and cables are rated for.

use super::View;
use crate::finding::{Case, Finding, Rule, Subject};
use crate::id::ProductId;
use crate::quantity::{Temperature, celsius};
use crate::source::{Source, documents};
use std::collections::BTreeMap;

/// The ambient that is not marked, °C.
const USUAL_AMBIENT: f64 = 25.0;

const RATED: Case = Case::judged("rated", "ambient of the run against that of the tape")
    .remedy("use a tape for this ambient, or keep the run cooler");
const NOT_STATED: Case = Case::open(
    "not-stated",
    "ambient of the run against that of the tape",
    "the highest ambient that the tape is rated for is not stated",
)
.figure("{figure}")
.remedy("state highest_ambient of the strip");

pub(super) static STRIP: Rule = Rule {
    id: "strip-ambient",
    title: "Ambient of a tape",
    asks: "Is the ambient of each run within that which its tape is rated for?",
    source: documents::IEC_60598_1
        .at("rated ambient ta, marked where it is not 25 °C")
        .from_memory(),
    needs: &["highest_ambient of the strip, where a run is hotter than usual"],
    cases: &[&RATED, &NOT_STATED],
};

pub(super) fn strips(view: &View<'_>) -> Vec<Finding> {
    let runs = view.design.runs.iter();
    runs.filter_map(|run| {
        let about = Subject::Run(run.id.clone());
        match view.strip(&run.strip)?.highest_ambient {
            Some(highest) => Some(
                STRIP
                    .at_most(&RATED, about, run.ambient, highest)
                    .source(Source::job("the job: highest_ambient of the strip")),
            ),
            None => (!(run.ambient.si() <= celsius(USUAL_AMBIENT).value))
                .then(|| STRIP.not_evaluated(&NOT_STATED, about).figure(run.ambient)),
        }
    })
    .collect()
}

const WITHIN: Case = Case::judged(
    "ambient",
    "highest ambient on its ways against the rating of its insulation",
)
.remedy("use a cable of a higher insulation rating, or another way");

pub(super) static CABLE: Rule = Rule {
    id: "cable-ambient",
    title: "Ambient of a cable",
    asks: "Is the ambient along each cable within the rating of its insulation?",
    source: Source::job("the job: insulation of the cable, ambients of places and runs"),
    needs: &[],
    cases: &[&WITHIN],
};

pub(super) fn cables(view: &View<'_>) -> Vec<Finding> {
    let mut hottest: BTreeMap<&ProductId, Temperature> = BTreeMap::new();
    for cable in &view.design.cables {
        let held = hottest.entry(&cable.kind).or_insert(cable.ambient);
        if !(cable.ambient.si() <= held.si()) {
            *held = cable.ambient;
        }
    }
    hottest
        .into_iter()
        .filter_map(|(kind, ambient)| {
            let rated = view.cable_kind(kind)?.insulation;
            let about = Subject::Cable(kind.clone());
            Some(CABLE.at_most(&WITHIN, about, ambient, rated))
        })
        .collect()
}
