//! Progress and cancellation of long work: one callback that the embedding
//! program gives.
//!
//! Long searches call [`Progress::step`] at points that depend on the work done,
//! never on a clock, so a callback cannot change a result other than by
//! cancelling it.
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

/// An optional callback, called with each [`Step`]; remembers a cancellation.
#[derive(Default)]
pub struct Progress<'a> {
    callback: Option<&'a mut dyn FnMut(Step) -> Go>,
    cancelled: bool,
    last: Option<Step>,
}

impl<'a> Progress<'a> {
    /// Calls `callback` at each step.
    pub fn new(callback: &'a mut dyn FnMut(Step) -> Go) -> Self {
        Self {
            callback: Some(callback),
            cancelled: false,
            last: None,
        }
    }

    /// Calls nobody and is never cancelled.
    #[must_use]
    pub const fn silent() -> Self {
        Self {
            callback: None,
            cancelled: false,
            last: None,
        }
    }

    /// Reports a step. After one [`Go::Cancel`] the answer stays `Cancel` and the
    /// callback is not called again.
    pub fn step(&mut self, phase: &'static str, done: u64, of: u64) -> Go {
        if self.cancelled {
            return Go::Cancel;
        }
        let Some(callback) = self.callback.as_mut() else {
            return Go::On;
        };
        let step = Step { phase, done, of };
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
    fn the_callback_sees_every_step_until_it_cancels() {
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
