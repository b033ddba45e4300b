//! The highest voltage of each output where people may touch what it feeds.

use super::View;
use crate::design::{Fed, Output};
use crate::device::{EnergyLimit, Environment, IngressCode};
use crate::finding::{Finding, Subject};
use crate::protect::{
    EXTRA_LOW, LIGHTING_BRANCH, LIGHTING_OUTPUT, LIGHTING_VOLTAGE, LiveParts, LowVoltageLighting,
    TOUCHABLE, judge_extra_low_voltage,
};
use std::collections::BTreeSet;

/// First numeral from which on a finger does not reach what is inside.
const FINGER_PROOF: u8 = 2;

/// Upper limit of SELV and PELV.
pub(super) fn upper_limit(view: &View<'_>) -> Vec<Finding> {
    of_rule(view, EXTRA_LOW.id)
}

/// Parts of the tape that can be touched.
pub(super) fn touchable(view: &View<'_>) -> Vec<Finding> {
    of_rule(view, TOUCHABLE.id)
}

/// Voltage of low-voltage lighting by the US code.
pub(super) fn lighting_voltage(view: &View<'_>) -> Vec<Finding> {
    lighting(view, LIGHTING_VOLTAGE.id)
}

/// Rating of its output circuits.
pub(super) fn lighting_output(view: &View<'_>) -> Vec<Finding> {
    lighting(view, LIGHTING_OUTPUT.id)
}

/// Rating of the branch circuits that feed it.
pub(super) fn lighting_branch(view: &View<'_>) -> Vec<Finding> {
    lighting(view, LIGHTING_BRANCH.id)
}

/// Outputs that are not Class 2, where cables are installed by the US code.
fn lighting(view: &View<'_>, rule: &str) -> Vec<Finding> {
    if !view.design.cable_kinds.iter().any(|kind| kind.us_tables) {
        return Vec::new();
    }
    let outputs = view.design.outputs.iter();
    let all = outputs.flat_map(|output| {
        let kind = view.supply_kind(&output.supply);
        let kind = kind.filter(|kind| kind.energy != EnergyLimit::Class2);
        kind.map_or_else(Vec::new, |kind| {
            LowVoltageLighting {
                highest: kind.highest_settable().0,
                wet: conditions(view, output).iter().any(|(wet, _, _)| *wet),
                output: kind.output_current.0,
                branch: None,
            }
            .judge(about(output))
        })
    });
    all.filter(|finding| finding.rule.as_str() == rule)
        .collect()
}

fn about(output: &Output) -> Subject {
    Subject::Output {
        supply: output.supply.clone(),
        output: output.output,
    }
}

fn of_rule(view: &View<'_>, rule: &str) -> Vec<Finding> {
    let outputs = view.design.outputs.iter();
    let all = outputs.flat_map(|output| judge(view, output));
    all.filter(|finding| finding.rule.as_str() == rule)
        .collect()
}

/// One output: each answer once, whatever how many runs ask for it.
fn judge(view: &View<'_>, output: &Output) -> Vec<Finding> {
    let Some(kind) = view.supply_kind(&output.supply) else {
        return Vec::new();
    };
    let about = about(output);
    let mut out: Vec<Finding> = Vec::new();
    for (wet, chopped, parts) in conditions(view, output) {
        let highest = kind.highest_settable().0;
        for finding in judge_extra_low_voltage(about.clone(), highest, wet, chopped, parts) {
            if !out.contains(&finding) {
                out.push(finding);
            }
        }
    }
    out
}

/// Wet or not, chopped or not, and what lies bare, over all that hangs on an output.
fn conditions(view: &View<'_>, output: &Output) -> BTreeSet<(bool, bool, LiveParts)> {
    let mut met = BTreeSet::new();
    for fed in &output.feeds {
        let (segments, chopped) = match fed {
            Fed::Decoder(decoder) => (view.segments_of(decoder), true),
            Fed::Switched { segments, .. } => {
                let own = segments.iter().filter_map(|id| view.segment(id));
                (own.collect(), false)
            }
        };
        for segment in segments {
            let (Some(run), Some(strip)) = (view.run(&segment.run), view.strip(&segment.strip))
            else {
                continue;
            };
            let wet = run.environment != Environment::Dry;
            met.insert((wet, chopped, live_parts(wet, strip.ingress)));
        }
    }
    met
}

/// Live parts of a tape as delivered.
fn live_parts(wet: bool, code: Option<IngressCode>) -> LiveParts {
    match code {
        None => LiveParts::Unknown,
        Some(code) if code.solids() >= FINGER_PROOF && (!wet || code.water() > 0) => {
            LiveParts::Closed
        }
        Some(_) => LiveParts::Bare,
    }
}
