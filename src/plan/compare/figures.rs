//! What is compared, read from a design.

use super::bill::Bill;
use crate::design::{Design, Energy, SegmentFigures};
use crate::exact::ExactLength;
use crate::finding::Verdict;
use crate::id::RuleId;
use crate::job::Job;
use crate::quantity::{
    Length, LuminousFlux, Mass, Power, Ratio, Watts, fraction, kilograms, lumens, metres, watts,
};
use crate::rules;
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
    pub broken: BTreeSet<RuleId>,
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
    pub(super) fn of(job: &Job, design: &Design) -> Self {
        let sum = |of: &dyn Fn(&Energy) -> Option<Watts>| -> f64 {
            let all = design.energy.iter();
            all.map(|e| of(e).map_or(f64::NAN, Watts::si)).sum()
        };
        let merged = rules::merged(&design.findings);
        let count = |of: Verdict| merged.iter().filter(|f| f.verdict == of).count();
        let longest = design
            .runs
            .iter()
            .flat_map(|run| [(run.dark_start, &run.id), (run.dark_end, &run.id)])
            .max_by(|a, b| a.0.cmp(&b.0).then(b.1.cmp(a.1)));
        let worst = |of: &dyn Fn(&SegmentFigures) -> f64| {
            design
                .segments
                .iter()
                .filter_map(|segment| Some((of(segment.solved.figures()?), &segment.id)))
                .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(a.1)))
                .map_or_else(
                    || Worst {
                        figure: fraction(f64::NAN),
                        at: String::new(),
                    },
                    |(figure, at)| Worst {
                        figure: fraction(figure),
                        at: at.to_string(),
                    },
                )
        };
        Self {
            lit: design.runs.iter().map(|run| run.lit).sum(),
            dark: design
                .runs
                .iter()
                .flat_map(|run| [run.dark_start, run.dark_end])
                .sum(),
            longest_dark: longest.map_or((ExactLength::ZERO, String::new()), |(length, run)| {
                (length, run.to_string())
            }),
            light: light(job, design),
            segments: design.segments.len(),
            feeds: design.feeds.len(),
            supplies: design.supplies.len(),
            decoders: design.decoders.len(),
            cable: metres(design.cables.iter().map(|c| c.route.metres()).sum()),
            copper: kilograms(design.cables.iter().map(|c| c.copper.si()).sum()),
            tape: watts(sum(&|e| e.tape)),
            lost: watts(sum(&|e| e.wiring)),
            mains: design
                .energy
                .iter()
                .map(|e| e.mains.map(Watts::si))
                .sum::<Option<f64>>()
                .map(watts),
            fall_off: worst(&|f| 1.0 - f.least_current.low.si()),
            shift: worst(&|f| f.balance.si()),
            bill: Bill::of(job, design),
            broken: design
                .findings
                .iter()
                .filter(|f| f.is_fail())
                .map(|f| f.rule.clone())
                .collect(),
            fails: count(Verdict::Fail),
            not_evaluated: count(Verdict::NotEvaluated),
            at_limit: count(Verdict::AtLimit),
            passes: count(Verdict::Pass),
        }
    }
}

/// Light of bare tape over the lit lengths.
fn light(job: &Job, design: &Design) -> Option<LuminousFlux> {
    let mut sum = 0.0;
    for run in &design.runs {
        let per_metre: f64 = job
            .strip(run.strip.as_str())?
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
pub(super) fn unplanned(job: &Job, design: &Design) -> Vec<String> {
    let without: Vec<&str> = job
        .runs()
        .iter()
        .filter(|run| !design.segments.iter().any(|s| s.run.as_str() == run.name))
        .map(|run| run.name.as_str())
        .collect();
    if without.is_empty() {
        return Vec::new();
    }
    let told = design
        .findings
        .iter()
        .filter(|f| f.is_fail() && NO_PLAN.contains(&f.rule.as_str()))
        .map(|f| format!("{}: {}", f.about, rules::words(f).says));
    std::iter::once(format!(
        "{} of {} runs have no plan: {}",
        without.len(),
        job.runs().len(),
        without.join(", ")
    ))
    .chain(told)
    .collect()
}
