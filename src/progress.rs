//! Progress and cancellation of long work: one callback that the embedding
//! program gives.
//!
//! Long searches call [`Progress::step`] at points that depend on the work done,
//! never on a clock, so a callback cannot change a result other than by
//! cancelling it. The callback sees few of them: a phase as it begins, every
//! fiftieth part of it, and, where the work does not come on, a step as soon as a
//! quarter more have been made than at the last call. Within a phase `done` never
//! goes back, however often the search begins again.
//!
//! ```
//! use evenrun::progress::{Go, Progress, Step};
//! let mut seen = 0;
//! let mut callback = |step: Step| {
//!     seen += 1;
//!     if step.done >= 2 { Go::Cancel } else { Go::On }
//! };
//! let mut progress = Progress::new(&mut callback);
//! assert_eq!(progress.step("search", 1, 10), Go::On);
//! assert_eq!(progress.step("search", 2, 10), Go::Cancel);
//! assert_eq!(progress.step("search", 0, 10), Go::Cancel); // stays cancelled
//! assert_eq!(seen, 2);
//! ```

/// How far one phase of the work has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step {
    /// What is being done, in a few plain words.
    pub phase: &'static str,
    /// Units of work done in this phase.
    pub done: u64,
    /// Units of work this phase has at most; 0 where that is not known.
    pub of: u64,
}

/// Whether to go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Go {
    /// Go on.
    On,
    /// Stop as soon as may be.
    Cancel,
}

/// Parts of a phase that the callback sees.
const PARTS: u128 = 50;

/// When the callback is called.
#[derive(Debug, Clone, Copy)]
enum Pace {
    /// At every step: it is ours, and passes the step on to a callback that has a pace.
    Every,
    /// As the page says: parts seen, steps made in this phase, and at how many the next is shown.
    Parts { seen: u128, made: u64, next: u64 },
}

/// An optional callback, called as the [page](self) says; remembers a cancellation.
pub struct Progress<'a> {
    callback: Option<&'a mut dyn FnMut(Step) -> Go>,
    cancelled: bool,
    last: Option<Step>,
    pace: Pace,
}

impl Default for Progress<'_> {
    fn default() -> Self {
        Self::silent()
    }
}

impl Pace {
    const BEGIN: Self = Self::Parts {
        seen: 0,
        made: 0,
        next: 1,
    };

    /// Whether this step is shown.
    fn shows(&mut self, step: Step) -> bool {
        let Self::Parts { seen, made, next } = self else {
            return true;
        };
        let whole = u128::from(step.of.max(1));
        let part = u128::from(step.done).saturating_mul(PARTS) / whole;
        *made += 1;
        let shows = part > *seen || *made >= *next;
        if shows {
            *seen = part.max(*seen);
            *next = *made + 1 + *made / 4;
        }
        shows
    }
}

impl<'a> Progress<'a> {
    /// Calls `callback` as the [page](self) says.
    pub fn new(callback: &'a mut dyn FnMut(Step) -> Go) -> Self {
        Self {
            callback: Some(callback),
            cancelled: false,
            last: None,
            pace: Pace::BEGIN,
        }
    }

    /// Calls `callback` at every step.
    #[cfg(feature = "choose")]
    pub(crate) fn every(callback: &'a mut dyn FnMut(Step) -> Go) -> Self {
        Self {
            pace: Pace::Every,
            ..Self::new(callback)
        }
    }

    /// Calls nobody and is never cancelled.
    #[must_use]
    pub const fn silent() -> Self {
        Self {
            callback: None,
            cancelled: false,
            last: None,
            pace: Pace::Every,
        }
    }

    /// Makes a step, of which the callback sees what the [page](self) says. After one [`Go::Cancel`] the answer stays `Cancel` and the
    /// callback is not called again.
    pub fn step(&mut self, phase: &'static str, done: u64, of: u64) -> Go {
        if self.cancelled {
            return Go::Cancel;
        }
        let Some(callback) = self.callback.as_mut() else {
            return Go::On;
        };
        let mut step = Step { phase, done, of };
        if !matches!(self.pace, Pace::Every) {
            match self.last {
                Some(last) if last.phase == phase && last.of == of => {
                    step.done = done.max(last.done);
                }
                Some(last) if last.phase == phase => {}
                _ => self.pace = Pace::BEGIN,
            }
            if !self.pace.shows(step) {
                return Go::On;
            }
        }
        let go = callback(step);
        self.last = Some(step);
        self.cancelled = go == Go::Cancel;
        go
    }

    /// The last step that the callback saw.
    #[must_use]
    pub const fn last(&self) -> Option<Step> {
        self.last
    }

    /// Whether the callback has cancelled.
    #[must_use]
    pub const fn is_cancelled(&self) -> bool {
        self.cancelled
    }
}

impl std::fmt::Debug for Progress<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Progress")
            .field("callback", &self.callback.is_some())
            .field("cancelled", &self.cancelled)
            .finish()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn silent_progress_never_cancels() {
        let mut progress = Progress::silent();
        for done in 0..5 {
            assert_eq!(progress.step("search", done, 5), Go::On);
        }
        assert!(!progress.is_cancelled());
    }

    #[test]
    fn a_long_phase_is_shown_in_few_steps_that_never_go_back() {
        let mut seen: Vec<u64> = Vec::new();
        let mut callback = |step: Step| {
            seen.push(step.done);
            Go::On
        };
        let mut progress = Progress::new(&mut callback);
        for _ in 0..100 {
            for done in 0..1000 {
                progress.step("search", done, 1000);
            }
        }
        progress.step("search", 1000, 1000);
        assert!(seen.is_sorted() && seen.last() == Some(&1000));
        assert!((50..120).contains(&seen.len()), "{}", seen.len());
    }

    #[test]
    fn a_short_phase_is_shown_step_by_step_until_it_is_cancelled() {
        let mut steps = Vec::new();
        let mut callback = |step: Step| {
            steps.push(step);
            if step.done == 1 { Go::Cancel } else { Go::On }
        };
        let mut progress = Progress::new(&mut callback);
        for done in 0..4 {
            progress.step("cut stock", done, 4);
        }
        assert!(progress.is_cancelled());
        assert_eq!(progress.last().map(|step| step.done), Some(1));
        let expected = [0, 1].map(|done| Step {
            phase: "cut stock",
            done,
            of: 4,
        });
        assert_eq!(steps, expected);
    }
}
