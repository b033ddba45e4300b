//! Conductors and what protects them.

use crate::design::{Design, Protection};
use crate::finding::{Finding, Subject, Verdict};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{AMPERE, Draft, Schedule};
use crate::report::words::joined;
use crate::rules;
use std::collections::BTreeMap;

pub(in crate::report) fn protection(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let mut against: BTreeMap<&Subject, Vec<&Finding>> = BTreeMap::new();
    for row in &design.protection {
        against.insert(&row.conductor, Vec::new());
    }
    for finding in &design.findings {
        if let Some(own) = against.get_mut(&finding.about) {
            own.push(finding);
        }
    }
    Draft::<&Protection>::new(
        "protection",
        "Protection",
        "Every conductor, the rails of the tape among them: what it carries, what it may carry, what the source can push, \
         and the current of a short at its near end (worst case, high) and far end (worst case, low).",
    )
    .name("conductor", "Conductor", |r| &r.conductor)
    .figure("load", "Load", AMPERE, 2, |r| r.load)
    .words("device", "Device", |r| {
        let own = r.device.as_ref();
        own.map_or("none but the supply itself", |device| device.as_str())
    })
    .figure_or("ampacity", "Ampacity", AMPERE, 2, "none", |r| r.ampacity)
    .words("source_limit", "Source limit", |r| {
        r.source_limit
            .map_or_else(|| "not known".to_string(), |limit| limit.to_string())
    })
    .figure_or("fault_near", "Fault near", AMPERE, 1, "unknown", |r| {
        r.fault_near
    })
    .figure_or("fault_far", "Fault far", AMPERE, 1, "unknown", |r| {
        r.fault_far
    })
    .words("answer", "Answer", move |r| {
        let own = against.get(&r.conductor).map_or(&[][..], Vec::as_slice);
        answer(r, own)
    })
    .beneath("not_evaluated", "Not evaluated", |r| {
        let missing = [
            (r.ampacity.is_none(), "ampacity: no table covers it"),
            (r.source_limit.is_none(), "what the source can push"),
            (r.fault_near.is_none(), "fault at the near end"),
            (r.fault_far.is_none(), "fault at the far end"),
        ];
        let missing = missing.iter().filter(|(is_missing, _)| *is_missing);
        joined(missing.map(|(_, what)| what), "; ")
    })
    .of(|r| runs.subject(&r.conductor))
    .quiet("without an exception", |r| match &r.worst {
        None => true,
        Some((_, verdict)) => *verdict == Verdict::Pass,
    })
    .fill(&design.protection)
    .note(
        "Final choice of breakers and fuses is for the licensed person. A joint that heats or arcs draws no fault \
         current and is invisible here.",
    )
}

/// The worst that a rule says of the conductor, with its sentence.
fn answer(row: &Protection, findings: &[&Finding]) -> String {
    let Some((rule, verdict)) = &row.worst else {
        return "no exception".to_string();
    };
    let finding = findings
        .iter()
        .find(|finding| finding.rule == *rule && finding.verdict == *verdict);
    let says = finding.map_or_else(
        || rule.to_string(),
        |finding| {
            let words = rules::words(finding);
            if words.says.is_empty() {
                words.reason
            } else {
                words.says
            }
        },
    );
    format!("{verdict}: {says}")
}
