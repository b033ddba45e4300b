//! From a checked job to its plan: a pure function.
//!
//! ```text
//! job ─► lay out each run ─► break and feed each run ─► decoders and supplies
//!           ▲ more reserve    └── a small job: all of it together ──┘  │
//!           └──────── solve every supply output as one network ◄───────┘
//!                                                            ▼
//!                       schedules, findings, readings, sources ([`model::Plan`])
//! ```
//!
//! A run is broken and fed by itself first, with a *reserve* for what it will lose in copper
//! that it shares. Then every supply output is solved with all its decoders, feeders and tape, at three
//! corners of tolerance, in every state of its emitters; where a run that held by itself no
//! longer does, its reserve is raised and it is fed again, at most [`ROUNDS`] times.
//! In a small job (`together`) feeding, decoders and supplies are chosen together, with proof.
//! What the schedules show are the figures of the last joint solve.

mod bound;
mod choices;
mod circuit;
pub mod compare;
mod control;
mod devices;
mod facts;
mod feeding;
mod findings;
mod fixed;
mod joined;
mod judged;
mod kinds;
mod laid;
mod longest;
pub mod model;
mod one_run;
mod power_rows;
mod protection;
mod reels;
mod silences;
mod site_rows;
mod solved;
mod stock_rows;
mod tape_rows;
mod together;
mod worst;

pub use one_run::{NoRunProblem, run_problem};

use crate::finding::plain::{Finding, Verdict};
use crate::job::Job;
use crate::network::Workspace;
use crate::progress::{Progress, Step};
use crate::strip::TapeModel;
use joined::Joint;
use laid::RunWork;
use model::Plan;
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
struct Worked<'j> {
    job: &'j Job,
    models: &'j [TapeModel],
    runs: Vec<RunWork<'j>>,
    joint: Joint<'j>,
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
pub fn plan(job: &Job) -> Plan {
    plan_watched(job, &mut Progress::silent()).unwrap_or_default()
}

/// As [`plan`], with progress and cancellation.
///
/// # Errors
/// [`Cancelled`] when the callback says so.
pub fn plan_watched(job: &Job, progress: &mut Progress<'_>) -> Result<Plan, Cancelled> {
    let mut on_the_way = Vec::new();
    let tapes = facts::tapes(job, &mut on_the_way);
    let mut runs = laid::lay_out(job, &tapes, &mut on_the_way);
    // The circuits refer to models by the place of the strip in the job: one that has none is never used.
    let models: Vec<TapeModel> = match tapes.iter().flatten().next() {
        Some(any) => tapes
            .iter()
            .map(|t| t.clone().unwrap_or_else(|| any.clone()))
            .collect(),
        None => Vec::new(),
    };
    let mut work = Workspace::new();
    let all: Vec<usize> = (0..runs.len()).collect();
    feeding::feed(job, &mut runs, &all, &tapes, progress)?;
    let mut whole = together::choose(job, &mut runs, &tapes, &models, None, progress)?;
    let mut joint = joined::join(job, &runs, &models, decoders(&whole), &mut work);
    for _ in 0..ROUNDS {
        let raised = joined::reserves(job, &runs, &joint);
        let drawn = joined::overloads(job, &runs, &joint);
        if raised.is_empty() && drawn.is_empty() {
            break;
        }
        for (run, marks, draw) in drawn {
            runs[run].drawn.insert(marks, draw);
        }
        for (run, reserve) in &raised {
            runs[*run].reserve = *reserve;
        }
        let raised: Vec<usize> = raised.into_iter().map(|(run, _)| run).collect();
        feeding::feed(job, &mut runs, &raised, &tapes, progress)?;
        if whole.is_some() {
            whole = together::choose(job, &mut runs, &tapes, &models, whole, progress)?;
        }
        joint = joined::join(job, &runs, &models, decoders(&whole), &mut work);
    }
    let worked = Worked {
        job,
        models: &models,
        runs,
        joint,
        whole,
    };
    let mut plan = Plan {
        title: job.title().to_string(),
        note: job.note().to_string(),
        fingerprint: fingerprint(job),
        rule_set: RULE_SET.to_string(),
        crate_version: env!("CARGO_PKG_VERSION").to_string(),
        ..Plan::default()
    };
    worked.tape_rows(&mut plan);
    worked.power_rows(&mut plan, progress);
    worked.choice_rows(&mut plan);
    worked.stock_rows(&mut plan, &mut on_the_way, progress);
    if progress.is_cancelled() {
        return Err(Cancelled::at(progress));
    }
    worked.control_rows(&mut plan, &mut on_the_way);
    worked.site_rows(&mut plan);
    let mut findings = on_the_way.iter().map(crate::rules::plain).collect();
    worked.judge(&mut findings);
    worked.protect(&mut plan, &mut findings);
    plan.findings = findings::together(findings);
    plan.incomplete_because = incomplete(&plan.findings);
    plan.assumptions = findings::assumptions(job);
    plan.sources = findings::sources(&plan);
    Ok(plan)
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

fn incomplete(findings: &[Finding]) -> Vec<String> {
    let count = |of: &dyn Fn(&Finding) -> bool| findings.iter().filter(|f| of(f)).count();
    let fails = count(&|f| f.is_fail());
    let open = count(&|f| matches!(f.verdict, Verdict::NotEvaluated { .. }));
    let mut out = Vec::new();
    if fails > 0 {
        out.push(counted(fails, "limit is broken", "limits are broken"));
    }
    if open > 0 {
        out.push(counted(
            open,
            "question was not evaluated",
            "questions were not evaluated",
        ));
    }
    out
}

fn counted(count: usize, one: &str, more: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { more })
}
