//! The most volts that a supply can be set to, against what the tape on it bears.

use super::View;
use crate::design::{Fed, Output, Strip, SupplyKind};
use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject, Value};
use crate::id::ProductId;
use crate::job::spec::{StripSpec, SupplySpec};
use crate::quantity::volts;
use crate::source::{Source, documents};
use std::collections::BTreeSet;

/// Highest voltage of a tape whose sheet states none, as a share of its rated voltage.
const UNSTATED_SHARE: f64 = 1.06;

/// Whether a tape bears a supply, as this rule judges it: nothing fails, however the trimmer is turned where the tape
/// states its highest voltage, as it is set where it does not.
pub(crate) fn bears(strip: &StripSpec, supply: &SupplySpec) -> bool {
    match strip.highest_volts {
        Some(highest) => supply.highest_settable() <= highest,
        None => supply.volts * (1.0 + supply.tolerance.value) <= strip.rated * UNSTATED_SHARE,
    }
}

const STATED: Case = Case::judged(
    "stated",
    "highest voltage that it can be set to, tolerance included and no load, for {strip}",
)
.remedy("take a supply whose trimmer does not reach so far, or fix its set point; a tape for more volts");
const AS_SET: Case = Case::judged(
    "as-set",
    "highest voltage as it is set, tolerance included and no load, for {strip}; the sheet states no highest voltage, and {share} of {rated} is taken",
)
.remedy("lower the set point, or state highest_volts of the strip as its maker does");
const TRIMMED: Case = Case::open(
    "trimmed",
    "highest voltage that it can be set to, tolerance included and no load, for {strip}",
    "the trimmer reaches more than {share} of the rated {rated}, and the highest voltage of the tape is not stated",
)
.figure("{figure}")
.remedy("state highest_volts of the strip; or take a supply whose trimmer does not reach so far");

pub(super) static RULE: Rule = Rule {
    id: "strip-overvoltage",
    title: "Over-voltage of a tape",
    asks: "Does each tape bear the highest voltage that its supply can be set to, with no load on it?",
    source: documents::IEC_62717.at(
        "92 % to 106 % of rated for a module with its gear; taken for tape that states nothing, an assumption of this library",
    ),
    needs: &[
        "highest_volts of the strip, where the trimmer of its supply reaches far above its rated voltage",
    ],
    cases: &[&STATED, &AS_SET, &TRIMMED],
};

pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let outputs = view.design.outputs.iter();
    outputs
        .flat_map(|output| {
            let kind = view.supply_kind(&output.supply);
            let strips = strips(view, output).into_iter();
            strips.filter_map(move |strip| Some(one(output, kind?, view.strip(strip)?)))
        })
        .collect()
}

/// Tapes on an output.
fn strips<'d>(view: &View<'d>, output: &'d Output) -> BTreeSet<&'d ProductId> {
    let fed = output.feeds.iter().filter_map(|fed| {
        let zone = match fed {
            Fed::Decoder(decoder) => &view.decoder(decoder)?.zone,
            Fed::Switched { zone, .. } => zone,
        };
        Some(&view.zone(zone)?.strip)
    });
    fed.collect()
}

fn one(output: &Output, kind: &SupplyKind, strip: &Strip) -> Finding {
    let about = Subject::Output {
        supply: output.supply.clone(),
        output: output.output,
    };
    let settable = kind.highest_settable();
    let as_set = volts(kind.set_point.si() * (1.0 + kind.tolerance.si()));
    let usual = volts(strip.rated.si() * UNSTATED_SHARE);
    let finding = match strip.highest_volts {
        Some(highest) => RULE
            .at_most(&STATED, about, settable, highest)
            .source(Source::job("the job: highest_volts of the strip")),
        None if settable.0 > usual && as_set <= usual => RULE
            .not_evaluated(&TRIMMED, about)
            .figure(settable)
            .limit(Limit::AtMost(Figure::from(usual))),
        None => RULE.at_most(&AS_SET, about, as_set, usual),
    };
    finding
        .fact("strip", Value::name(strip.id.to_string()))
        .fact("rated", strip.rated)
        .fact("share", crate::quantity::fraction(UNSTATED_SHARE))
}
