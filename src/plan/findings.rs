//! Findings put together, assumptions and sources.

use super::costing;
use super::model::{Assumption, Plan};
use crate::finding::plain::{Finding, Verdict};
use crate::job::Job;
use crate::job::spec::{LimitKey, Limits};
use crate::quantity::show;
use crate::source::Source;
use crate::strip::cells::diode_source;

/// Places named before the rest is counted.
const NAMED: usize = 4;

/// The same words at several places become one finding; what fails stays apart where its figure differs.
pub(super) fn together(findings: Vec<Finding>) -> Vec<Finding> {
    let mut out: Vec<(Finding, Vec<String>)> = Vec::new();
    for finding in findings {
        let same = |other: &Finding| {
            other.id == finding.id
                && other.verdict == finding.verdict
                && other.says == finding.says
                && other.limit == finding.limit
                && other.source == finding.source
                && (other.figure == finding.figure || finding.verdict != Verdict::Fail)
        };
        match out.iter_mut().find(|(other, _)| same(other)) {
            Some((first, places)) => {
                if first.figure != finding.figure {
                    first.figure = match finding.verdict {
                        Verdict::Pass => "each within",
                        _ => "see the schedules",
                    }
                    .to_string();
                }
                if !places.contains(&finding.place) {
                    places.push(finding.place);
                }
            }
            None => {
                let place = finding.place.clone();
                out.push((finding, vec![place]));
            }
        }
    }
    let mut all: Vec<Finding> = out
        .into_iter()
        .map(|(mut finding, places)| {
            finding.places = places.len() as u64;
            finding.place = places
                .iter()
                .take(NAMED)
                .cloned()
                .collect::<Vec<_>>()
                .join("; ");
            if places.len() > NAMED {
                finding.place += &format!("; and {} more", places.len() - NAMED);
            }
            finding
        })
        .collect();
    all.sort_by(|a, b| a.verdict.cmp(&b.verdict));
    all
}

/// What was taken where the job is silent.
pub(super) fn assumptions(job: &Job) -> Vec<Assumption> {
    let limits = job.limits();
    let assumed = |key: &LimitKey| limits.is_assumed(*key);
    let mut keys: Vec<LimitKey> = LimitKey::ALL.into_iter().filter(assumed).collect();
    let mut out = Vec::new();
    let cells = CELLS.iter().all(assumed);
    if cells {
        keys.retain(|key| !CELLS[1..].contains(key));
    }
    for key in keys {
        let (what, value) = if cells && key == CELLS[0] {
            let values = CELLS.map(|key| value(limits, key));
            ("cell cold, nominal, hot", values.join(", "))
        } else {
            (key.words(), value(limits, key))
        };
        out.push(Assumption {
            what: format!("{what}: {value}"),
            source: key.source(),
        });
    }
    out.push(Assumption {
        what: "diodes: the curve through the one point that a strip states".to_string(),
        source: diode_source(),
    });
    out.extend(costing::assumptions(job));
    out
}

/// Temperatures of cells, printed as one where the job is silent about all of them.
const CELLS: [LimitKey; 3] = [LimitKey::CellCold, LimitKey::CellNominal, LimitKey::CellHot];

/// A limit as it is printed.
fn value(limits: &Limits, key: LimitKey) -> String {
    let none = || "none".to_string();
    match key {
        LimitKey::LeastCurrent => show(limits.least_current),
        LimitKey::VisibleStep => limits.visible_step.map_or_else(none, show),
        LimitKey::LoadFactor => show(limits.load_factor),
        LimitKey::ConductorHot => show(limits.conductor.low),
        LimitKey::ConductorNominal => show(limits.conductor.nominal),
        LimitKey::ConductorCold => show(limits.conductor.high),
        LimitKey::CellCold => show(limits.cell.low),
        LimitKey::CellNominal => show(limits.cell.nominal),
        LimitKey::CellHot => show(limits.cell.high),
        LimitKey::RailTolerance => show(limits.rail_tolerance),
        LimitKey::CurrentTolerance => show(limits.current_tolerance),
        LimitKey::Slack => limits.slack.to_string(),
        LimitKey::ChoppedFeeder => limits.chopped_feeder.map_or_else(none, |l| l.to_string()),
        LimitKey::ChainDevices => limits.chain_devices.to_string(),
        LimitKey::ChainLength => limits.chain_length.to_string(),
        LimitKey::SpareTape => show(limits.spare_tape),
    }
}

/// Every source of the plan in order of first use.
pub(super) fn sources(plan: &Plan) -> Vec<Source> {
    let mut out: Vec<Source> = Vec::new();
    let mut add = |source: &Source| {
        if !out.contains(source) {
            out.push(source.clone());
        }
    };
    plan.cables.iter().for_each(|row| add(&row.ampacity_source));
    plan.findings.iter().for_each(|f| add(&f.source));
    plan.assumptions.iter().for_each(|a| add(&a.source));
    out
}
