//! One job planned with each of its candidates, side by side: "12 V or 24 V?" answered per project.
//!
//! ```text
//! job ─┬─ candidate "12 V" ─► exchange ─► check ─► plan ─► figures ─┐
//!      ├─ candidate "24 V" ─►                    …                  ├─► what decides
//!      └─ candidate "48 V" ─► check: faults ─► why not              ┘
//! ```
//!
//! Every candidate is checked and planned as a job of its own, with the same runs, routes, places and
//! limits. The figures are read from the plans; what decides is computed from the figures, in an
//! order that [`Criterion`] states, and said in one sentence.
//!
//! **Leaves out**: whatever a plan leaves out; spare parts; labour beyond the prices of segments, feeds
//! and breaks that the job states; products that no candidate names. A comparison is no advice to buy.

mod bill;
mod decide;
mod exchange;
mod figures;

pub use bill::{Bill, Part};
pub use decide::{Criterion, Decision};
pub use figures::{Figures, Worst};

use crate::design::Design;
use crate::job::Job;
use crate::job::spec::CandidateSpec;
use crate::plan::{phases, plan_watched};
use crate::progress::{Progress, Step};
use crate::quantity::Currency;
use crate::quantity::ElectricPotential;

/// Steps of the callback for each candidate.
const STEPS: u64 = 100;

/// The candidates of a job beside each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Title of the job.
    pub title: String,
    /// What its data are.
    pub note: String,
    /// Currency of the prices.
    pub currency: Currency,
    /// The candidates, by name.
    pub candidates: Vec<Compared>,
    /// What decides between them.
    pub decision: Decision,
}

/// One candidate.
#[derive(Debug, Clone, PartialEq)]
pub struct Compared {
    /// Its name.
    pub name: String,
    /// What it exchanges, such as `strip "a" for "b"`; empty for the job as it is written.
    pub exchanged: Vec<String>,
    /// Rated voltages of the tapes that its zones use, lowest first.
    pub volts: Vec<ElectricPotential>,
    /// Its plan and figures, or why there are none.
    pub outcome: Outcome,
}

/// Whether a candidate could be planned.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// Every run has a plan; its findings say which limits it breaks.
    Planned {
        /// The plan.
        plan: Box<Design>,
        /// What is compared.
        figures: Box<Figures>,
    },
    /// Some run has none, or the exchange makes no job.
    NotPlanned {
        /// Every reason.
        why: Vec<String>,
    },
    /// The caller stopped the comparison before this candidate was planned.
    Stopped,
}

impl Compared {
    /// Its figures, where it was planned.
    #[must_use]
    pub fn figures(&self) -> Option<&Figures> {
        match &self.outcome {
            Outcome::Planned { figures, .. } => Some(figures),
            _ => None,
        }
    }
}

/// Plans a job with each of its candidates and says what decides between them.
///
/// A job without candidates is compared with nothing: it is the only candidate, under its title.
///
/// The callback sees the phase `comparing candidates`. When it cancels, candidates planned until then keep
/// their figures, the others are [`Outcome::Stopped`], and nothing is decided.
///
/// # Example
/// ```
/// use evenrun::{job, plan::compare, progress::Progress};
/// let text = include_str!("../../../tests/compare/shelf.toml");
/// let job = job::read(text, "shelf.toml").map_err(|f| f.to_string())?;
/// let answer = compare::compare(&job, &mut Progress::silent());
/// assert_eq!(answer.candidates.len(), 3);
/// println!("{}", answer.decision.sentence);
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn compare(job: &Job, progress: &mut Progress<'_>) -> Comparison {
    let as_written = [CandidateSpec {
        name: job.title().to_string(),
        ..CandidateSpec::default()
    }];
    let list = if job.candidates().is_empty() {
        &as_written
    } else {
        job.candidates()
    };
    let all = list.len() as u64;
    let candidates: Vec<Compared> = list
        .iter()
        .enumerate()
        .map(|(number, spec)| {
            let before = number as u64 * STEPS;
            let mut most = 0;
            let mut step = |inner: Step| {
                most = most.max(phases::behind(inner, STEPS - 1));
                progress.step("comparing candidates", before + most, all * STEPS)
            };
            one(job, spec, &mut Progress::every(&mut step))
        })
        .collect();
    progress.step("comparing candidates", all * STEPS, all * STEPS);
    let decision = decide::decide(&candidates, job.currency());
    Comparison {
        title: job.title().to_string(),
        note: job.note().to_string(),
        currency: job.currency().clone(),
        candidates,
        decision,
    }
}

fn one(job: &Job, spec: &CandidateSpec, progress: &mut Progress<'_>) -> Compared {
    let exchanged = exchange::exchange(job, spec);
    let mut compared = Compared {
        name: spec.name.clone(),
        exchanged: exchange::words(spec),
        volts: exchange::volts(&exchanged),
        outcome: Outcome::Stopped,
    };
    if progress.is_cancelled() {
        return compared;
    }
    let why = |faults: &crate::job::JobFaults| {
        let all = faults.faults().iter().map(ToString::to_string);
        all.collect()
    };
    let own = match crate::job::check(exchanged) {
        Ok(own) => own,
        Err(faults) => {
            compared.outcome = Outcome::NotPlanned { why: why(&faults) };
            return compared;
        }
    };
    let Ok(plan) = plan_watched(&own, progress) else {
        return compared;
    };
    let why = figures::unplanned(&own, &plan);
    compared.outcome = if why.is_empty() {
        Outcome::Planned {
            figures: Box::new(Figures::of(&own, &plan)),
            plan: Box::new(plan),
        }
    } else {
        Outcome::NotPlanned { why }
    };
    compared
}
