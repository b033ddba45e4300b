//! Findings put together, assumptions and sources.

use super::model::{Assumption, Plan};
use crate::finding::plain::{Finding, Verdict};
use crate::job::Job;
use crate::job::spec::Limits;
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
    let (own, silent) = (job.limits(), Limits::default());
    let mut out = Vec::new();
    let mut taken = |same: bool, key: &str, value: String| {
        if same && let Some((_, source)) = Limits::sources().into_iter().find(|s| s.0 == key) {
            out.push(Assumption {
                what: format!("{key}: {value}"),
                source,
            });
        }
    };
    taken(
        own.least_current == silent.least_current,
        "least current",
        show(own.least_current),
    );
    if let Some(step) = own.visible_step {
        taken(
            own.visible_step == silent.visible_step,
            "visible step",
            show(step),
        );
    }
    taken(
        own.load_factor == silent.load_factor,
        "load factor",
        show(own.load_factor),
    );
    taken(
        own.conductor.low == silent.conductor.low,
        "conductor hot",
        show(own.conductor.low),
    );
    taken(
        own.conductor.nominal == silent.conductor.nominal,
        "conductor nominal",
        show(own.conductor.nominal),
    );
    taken(
        own.conductor.high == silent.conductor.high,
        "conductor cold",
        show(own.conductor.high),
    );
    taken(
        own.cell == silent.cell,
        "cell cold, nominal, hot",
        format!(
            "{}, {}, {}",
            show(own.cell.low),
            show(own.cell.nominal),
            show(own.cell.high)
        ),
    );
    taken(
        own.rail_tolerance == silent.rail_tolerance,
        "rail tolerance",
        show(own.rail_tolerance),
    );
    taken(
        own.current_tolerance == silent.current_tolerance,
        "current tolerance",
        show(own.current_tolerance),
    );
    taken(own.slack == silent.slack, "slack", own.slack.to_string());
    if let Some(length) = own.chopped_feeder {
        taken(
            own.chopped_feeder == silent.chopped_feeder,
            "chopped feeder",
            length.to_string(),
        );
    }
    taken(
        own.chain_devices == silent.chain_devices,
        "chain devices",
        own.chain_devices.to_string(),
    );
    taken(
        own.chain_length == silent.chain_length,
        "chain length",
        own.chain_length.to_string(),
    );
    taken(
        own.spare_tape == silent.spare_tape,
        "spare tape",
        show(own.spare_tape),
    );
    out.push(Assumption {
        what: "diodes: the curve through the one point that a strip states".to_string(),
        source: diode_source(),
    });
    if job.supplies().iter().any(|s| s.price.is_none())
        || job.decoders().iter().any(|d| d.price.is_none())
    {
        out.push(Assumption {
            what: "supplies and decoders where a kind states no price: fewest bodies, then the least rated size".to_string(),
            source: Source::computed("assignment of loads to devices"),
        });
    }
    if job.cables().iter().any(|c| c.price_per_metre.is_none()) {
        out.push(Assumption {
            what: "cables without a price: 10 minor units a square millimetre of all cores, so that the thinnest that holds is taken".to_string(),
            source: Source::computed("break and feed search"),
        });
    }
    out
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
