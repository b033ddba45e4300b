//! What is compared, read from a plan.

use super::bill::Bill;
use crate::exact::ExactLength;
use crate::finding::plain::Verdict;
use crate::job::Job;
use crate::plan::model::Plan;
use crate::quantity::{
    Length, LuminousFlux, Mass, Power, Ratio, fraction, kilograms, lumens, metres, watts,
};
use std::collections::BTreeSet;

/// The worst of a figure, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Worst {
    /// The figure.
    pub figure: Ratio,
    /// Segment.
    pub at: String,
}

/// The figures of one candidate.
#[derive(Debug, Clone, PartialEq)]
pub struct Figures {
    /// Lit length of all runs.
    pub lit: ExactLength,
    /// Dark ends of all runs together.
    pub dark: ExactLength,
    /// The longest of them, with its run.
    pub longest_dark: (ExactLength, String),
    /// Light of bare tape at rated voltage, all emitters, where every tape in use states it.
    pub light: Option<LuminousFlux>,
    /// Segments.
    pub segments: usize,
    /// Feeds.
    pub feeds: usize,
    /// Supplies.
    pub supplies: usize,
    /// Decoders.
    pub decoders: usize,
    /// Cable of all feeders and leads.
    pub cable: Length,
    /// Copper in it.
    pub copper: Mass,
    /// Power into the tape, nominal, every emitter lit.
    pub tape: Power,
    /// Lost between supplies and tape, nominal.
    pub lost: Power,
    /// From the mains, nominal, where every supply states its efficiency.
    pub mains: Option<Power>,
    /// How far the least cell current of any segment lies below nominal, low corner.
    pub fall_off: Worst,
    /// Greatest departure from even balance of emitters lit together, low corner; 0 with one emitter.
    pub shift: Worst,
    /// What it costs.
    pub bill: Bill,
    /// Rules of which some limit is broken, by their ids.
    pub broken: BTreeSet<&'static str>,
    /// Findings that fail: one rule may fail at several places with several figures.
    pub fails: usize,
    /// Findings that were not evaluated.
    pub not_evaluated: usize,
    /// Findings at their limit.
    pub at_limit: usize,
    /// Findings that pass.
    pub passes: usize,
}

impl Figures {
    pub(super) fn of(job: &Job, plan: &Plan) -> Self {
        let count =
            |of: fn(&Verdict) -> bool| plan.findings.iter().filter(|f| of(&f.verdict)).count();
        let longest = plan
            .runs
            .iter()
            .flat_map(|run| [(run.dark_start, &run.id), (run.dark_end, &run.id)])
            .max_by(|a, b| a.0.cmp(&b.0).then(b.1.cmp(a.1)));
        let worst = |of: &dyn Fn(usize) -> f64| {
            (0..plan.segments.len())
                .map(|at| (of(at), &plan.segments[at].id))
                .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(a.1)))
                .map_or_else(
                    || Worst {
                        figure: fraction(f64::NAN),
                        at: String::new(),
                    },
                    |(figure, at)| Worst {
                        figure: fraction(figure),
                        at: at.clone(),
                    },
                )
        };
        Self {
            lit: plan.runs.iter().map(|run| run.lit).sum(),
            dark: plan
                .runs
                .iter()
                .flat_map(|run| [run.dark_start, run.dark_end])
                .sum(),
            longest_dark: longest.map_or((ExactLength::ZERO, String::new()), |(length, run)| {
                (length, run.clone())
            }),
            light: light(job, plan),
            segments: plan.segments.len(),
            feeds: plan.feeds.len(),
            supplies: plan.supplies.len(),
            decoders: plan.decoders.len(),
            cable: metres(plan.cables.iter().map(|c| c.route.length().value).sum()),
            copper: kilograms(plan.cables.iter().map(|c| c.copper.value).sum()),
            tape: watts(plan.energy.iter().map(|e| e.tape.value).sum()),
            lost: watts(plan.energy.iter().map(|e| e.wiring.value).sum()),
            mains: plan
                .energy
                .iter()
                .map(|e| e.mains.map(|m| m.value))
                .sum::<Option<f64>>()
                .map(watts),
            fall_off: worst(&|at| 1.0 - plan.segments[at].least_current.low.value),
            shift: worst(&|at| plan.segments[at].balance.value),
            bill: Bill::of(job, plan),
            broken: plan
                .findings
                .iter()
                .filter(|f| f.is_fail())
                .map(|f| f.id)
                .collect(),
            fails: count(|v| *v == Verdict::Fail),
            not_evaluated: count(|v| matches!(v, Verdict::NotEvaluated { .. })),
            at_limit: count(|v| *v == Verdict::AtLimit),
            passes: count(|v| *v == Verdict::Pass),
        }
    }
}

/// Light of bare tape over the lit lengths.
fn light(job: &Job, plan: &Plan) -> Option<LuminousFlux> {
    let mut sum = 0.0;
    for run in &plan.runs {
        let per_metre: f64 = job
            .strip(&run.strip)?
            .emitters
            .iter()
            .map(|e| e.flux.map(|f| f.value))
            .sum::<Option<f64>>()?;
        sum += per_metre * run.lit.to_length().value;
    }
    Some(lumens(sum))
}

/// Rules that say why a run has no plan at all.
const NO_PLAN: [&str; 4] = ["strip-model", "layout-none", "feed-problem", "feed-none"];

/// Why some run has no plan; empty where every one has.
pub(super) fn unplanned(job: &Job, plan: &Plan) -> Vec<String> {
    let without: Vec<&str> = job
        .runs()
        .iter()
        .filter(|run| !plan.segments.iter().any(|s| s.run == run.name))
        .map(|run| run.name.as_str())
        .collect();
    if without.is_empty() {
        return Vec::new();
    }
    let told = plan
        .findings
        .iter()
        .filter(|f| f.is_fail() && NO_PLAN.contains(&f.id))
        .map(|f| format!("{}: {}", f.place, f.says));
    std::iter::once(format!(
        "{} of {} runs have no plan: {}",
        without.len(),
        job.runs().len(),
        without.join(", ")
    ))
    .chain(told)
    .collect()
}
