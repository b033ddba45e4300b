//! Many runs at once.

use crate::choose::feeding::problem::error::{FeedError, FeedErrors};
use crate::choose::feeding::problem::spec::RunProblem;
use crate::choose::feeding::result::plan::RunOutcome;
use crate::many;
use crate::progress::{Go, Progress};

/// Checks and plans many runs: an answer each, in the order of the problems.
///
/// With the feature `parallel` they are shared among the threads of the current pool of `rayon`
/// (its global one, or that in which this is called); the answers are the same, whatever their number.
/// The callback is only called on the calling thread, with the phase `feeding runs` and the number of runs done.
/// A checked run lives only while it is planned: memory is that of the problems and of their answers.
///
/// # Errors
/// Each run has its own: the faults of its problem; [`FeedError::Stopped`] where the callback cancelled
/// before it was planned (runs planned until then keep their answers); [`FeedError::Mismatch`].
///
/// # Example
/// ```
/// use evenrun::choose::feeding::{self, FeedError};
/// use evenrun::progress::{Go, Progress};
/// # let problems: Vec<evenrun::choose::feeding::RunProblem> = Vec::new();
/// let mut callback = |step: evenrun::progress::Step| {
///     eprintln!("{} of {} runs", step.done, step.of);
///     Go::On
/// };
/// let answers = feeding::plan_each(&problems, &mut Progress::new(&mut callback));
/// assert_eq!(answers.len(), problems.len());
/// ```
#[must_use]
pub fn plan_each(
    problems: &[RunProblem],
    progress: &mut Progress<'_>,
) -> Vec<Result<RunOutcome, FeedErrors>> {
    many::each(problems, "feeding runs", progress, |problem, progress| {
        if progress.step("break and feed", 0, problem.effort) == Go::Cancel {
            let run = problem.run.clone();
            return Err(FeedError::Stopped { run, evaluated: 0 }.into());
        }
        Ok(problem.clone().check()?.plan_watched(progress)?)
    })
}

impl FeedErrors {
    /// Whether the caller stopped the search.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.0
            .iter()
            .any(|error| matches!(error, FeedError::Stopped { .. }))
    }
}
