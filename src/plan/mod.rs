//! From a checked job to its plan: a pure function.
//!
//! ```text
//! job ─► lay out each run ─► break and feed each run ─► decoders and supplies
//!           ▲ more reserve    └── a small job: all of it together ──┘  │
//!           └──────── solve every supply output as one network ◄───────┘
//!                                                            ▼
//!                       [`Design`](crate::design::Design): rules, schedules, JSON
//! ```
//!
//! A run is broken and fed by itself first, with a *reserve* for what it will lose in copper
//! that it shares. Then every supply output is solved with all its decoders, feeders and tape, at three
//! corners of tolerance, in every state of its emitters; where a run that held by itself no
//! longer does, its reserve is raised or its limit tightened and it is fed again, at most [`ROUNDS`] times
//! (`mending`, which also says what is tried after that).
//! In a small job (`together`) feeding, decoders and supplies are chosen together, with proof.
//! What the schedules show are the figures of the last joint solve; from it follow the levers of each run (`levers`) and the
//! longest route of each cable (`longest`). A packet is sent down each chain (`signal`). Of what was taken as the job is silent,
//! `narrowing` finds which facts would narrow the answer most.

mod aim;
mod assumed;
mod bound;
mod circuit;
pub mod compare;
mod costing;
mod devices;
mod facts;
mod feeding;
mod fixed;
mod into_design;
mod joined;
mod kept;
mod kinds;
mod lacks;
mod laid;
mod levers;
mod longest;
mod mending;
mod narrowing;
mod one_run;
mod phases;
#[cfg(test)]
mod sampled;
mod served;
mod signal;
mod together;

pub(crate) use facts::corner_set;
pub use one_run::{NoRunProblem, run_problem};
pub use phases::PHASES;

use crate::design::{Design, Fingerprint, Header};
use crate::finding::Finding;
use crate::job::Job;
use crate::network::Workspace;
use crate::progress::{Progress, Step};
use crate::rules;
use facts::TapeModels;
use joined::Joint;
use laid::RunWork;
use mending::Mending;
use sha2::{Digest, Sha256};

/// Most rounds in which reserves are raised.
pub const ROUNDS: usize = 6;
/// Name and number of the rules that are encoded here.
pub const RULE_SET: &str = "evenrun rules, 1";

/// The caller stopped the planning: no part of a plan is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error(
    "planning was stopped by the caller at {} of {}, {}; no plan is given",
    .last.done, .last.of, .last.phase
)]
pub struct Cancelled {
    /// How far it had come.
    pub last: Step,
}

impl Cancelled {
    fn at(progress: &Progress<'_>) -> Self {
        let none = Step {
            phase: "planning",
            done: 0,
            of: 0,
        };
        Self {
            last: progress.last().unwrap_or(none),
        }
    }
}

/// Everything the rows are made from.
struct SolvedJob<'j> {
    job: &'j Job,
    models: &'j TapeModels,
    runs: Vec<RunWork<'j>>,
    joint: Joint<'j>,
    readings: joined::Readings,
    /// What was proven of everything together, where the job is small enough to choose it so.
    whole: Option<together::Whole<'j>>,
}

/// Plans a job. The same job gives the same plan, to the byte when printed.
///
/// ```
/// let job = evenrun::job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
/// let plan = evenrun::plan::plan(&job);
/// assert!(plan.runs.len() >= 8);
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn plan(job: &Job) -> Design {
    planned(job, &mut Progress::silent())
}

/// As [`plan`], with progress and cancellation. The callback sees the phases [`PHASES`] in their order, each from its
/// beginning to its end and never back, in a few hundred calls at most; after one that cancels, it is not called again.
///
/// # Errors
/// [`Cancelled`] when the callback says so.
pub fn plan_watched(job: &Job, progress: &mut Progress<'_>) -> Result<Design, Cancelled> {
    let plan = planned(job, progress);
    if progress.is_cancelled() {
        return Err(Cancelled::at(progress));
    }
    Ok(plan)
}

/// The design of a job. Nothing ends it but a cancellation, which `progress` remembers; what it gives then is none.
fn planned(job: &Job, progress: &mut Progress<'_>) -> Design {
    let header = Header {
        title: job.title().into(),
        note: job.note().into(),
        currency: job.currency().clone(),
        units: job.units(),
        fingerprint: Fingerprint(fingerprint(job)),
        rule_set: RULE_SET.into(),
        crate_version: env!("CARGO_PKG_VERSION").into(),
    };
    let mut design = Design::new(header, into_design::limits(job));
    let mut findings = Vec::new();
    let tapes = facts::tapes(job, &mut findings);
    let mut runs = laid::lay_out(job, &tapes, &mut findings);
    let all: Vec<usize> = (0..runs.len()).collect();
    feeding::feed(job, &mut runs, &all, &tapes, progress);
    let mut whole = together::choose(job, &mut runs, &tapes, None, progress);
    if progress.is_cancelled() {
        return design;
    }
    let mut mending = Mending {
        job,
        tapes: &tapes,
        work: Workspace::new(),
        same_up_to: 1.0,
    };
    let Some(mut joint) = mending.settle(&mut runs, &mut whole, progress) else {
        return design;
    };
    for run in &mut runs {
        findings.append(&mut run.findings);
    }
    findings.append(&mut joint.findings);
    if progress.is_cancelled() {
        return design;
    }
    let readings = joint.readings(job, &runs, &tapes, &mut mending.work);
    let worked = SolvedJob {
        job,
        models: &tapes,
        runs,
        joint,
        readings,
        whole,
    };
    worked.put_into(&mut design, &mut findings, progress);
    design.assumed = assumed::assumptions(job);
    rules::judge_into(&mut design, findings);
    if !design.findings.iter().any(Finding::is_fail) {
        design.narrowing = narrowing::narrowing(job, progress);
    }
    design
}

/// Decoders that were chosen with the whole job.
fn decoders<'w, 'j>(whole: &'w Option<together::Whole<'j>>) -> Option<&'w [devices::Driven<'j>]> {
    whole.as_ref()?.decoders.as_deref()
}

/// Hash of the checked input, the rule set and the version of this crate with its tables.
fn fingerprint(job: &Job) -> String {
    let mut hash = Sha256::new();
    hash.update(job.canonical());
    hash.update(RULE_SET);
    hash.update(env!("CARGO_PKG_VERSION"));
    hash.finalize()
        .iter()
        .take(16)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
