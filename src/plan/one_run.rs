//! One run of a job by itself.

use super::{facts, feeding, laid};
use crate::choose::feeding::RunProblem;
use crate::finding::{Finding, Subject};
use crate::id::{ProductId, RunId};
use crate::job::Job;
use crate::rules;

/// A run of a job has no break-and-feed problem.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("run `{run}` cannot be fed by itself: {why}")]
pub struct NoRunProblem {
    /// Run.
    pub run: String,
    /// Why, and what to do.
    pub why: String,
}

/// The break-and-feed problem of one run as the planner first poses it: with the sources and wires of
/// its zone, and before any copper is shared with other runs. For what-ifs and
/// [`trade_off`](crate::choose::feeding::CheckedRun::trade_off).
///
/// # Errors
/// [`NoRunProblem`]: no such run, a tape without a model, a run that cannot be laid out, no place, supply, decoder or cable for it.
///
/// # Example
/// ```
/// use evenrun::{job, plan};
/// let job = job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
/// let problem = plan::run_problem(&job, "S1").map_err(|e| e.to_string())?;
/// assert_eq!(problem.run, "S1");
/// let none = plan::run_problem(&job, "S9").unwrap_err();
/// assert!(none.to_string().contains("the job has C1, C2, C3"));
/// # Ok::<(), String>(())
/// ```
pub fn run_problem(job: &Job, run: &str) -> Result<RunProblem, NoRunProblem> {
    let refuse = |why: String| NoRunProblem {
        run: run.to_string(),
        why,
    };
    if job.run(run).is_none() {
        let names: Vec<&str> = job.runs().iter().map(|r| r.name.as_str()).collect();
        return Err(refuse(format!("the job has {}", names.join(", "))));
    }
    let mut findings = Vec::new();
    let tapes = facts::tapes(job, &mut findings);
    let runs = laid::lay_out(job, &tapes, &mut findings);
    let Some(work) = runs.iter().find(|work| work.spec.name == run) else {
        let own = Subject::Run(RunId::new(run));
        let zone = job.run(run).and_then(|run| job.zone(&run.zone));
        let strip = zone.map(|zone| Subject::Strip(ProductId::new(&*zone.strip)));
        let told = findings
            .iter()
            .filter(|f| f.is_fail() && (f.about == own || Some(&f.about) == strip.as_ref()))
            .map(told);
        return Err(refuse(told.collect::<Vec<_>>().join("; ")));
    };
    feeding::problem(job, work, &tapes).map_err(|none| refuse(told(&none)))
}

/// What is found, and what to do.
fn told(finding: &Finding) -> String {
    let words = rules::words(finding);
    format!("{} ({})", words.says, words.remedy)
}
