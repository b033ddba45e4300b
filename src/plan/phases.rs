//! The phases of planning that a caller sees, in their order.
//!
//! ```text
//!  feeding runs ─► choosing together ─► solving outputs ─► finding levers ─► longest routes ─► signal on chains ─► cutting stock ─► narrowing facts
//!    run by run      small jobs           round by round     output by output                    chain by chain                   short jobs
//! ```
//! Each is gone through once, in this order; one that has nothing to do is not shown. What is done again within a phase
//! (runs that are fed again in a round of solving) is part of it.

use crate::progress::{Progress, Step};

/// Every run by itself; `done` counts runs.
pub(super) const FEEDING: &str = "feeding runs";
/// Feeding, decoders and supplies of a small job.
pub(super) const TOGETHER: &str = "choosing together";
/// Every output of a supply with all it shares copper with; runs that need more are fed again.
pub(super) const SOLVING: &str = "solving outputs";
/// What limits each run and what would help it; `done` counts outputs.
pub(super) const LEVERS: &str = "finding levers";
/// How much longer a cable may be; `done` counts outputs.
pub(super) const LONGEST: &str = "longest routes";
/// A packet on every chain; `done` counts chains.
pub(super) const SIGNAL: &str = "signal on chains";
/// Bars, covers and reels.
pub(super) const CUTTING: &str = "cutting stock";
/// The job again, with each fact that was taken at its two ends.
pub(super) const NARROWING: &str = "narrowing facts";

/// The phases that a caller of [`plan_watched`](super::plan_watched) sees, in this order.
pub const PHASES: [&str; 8] = [
    FEEDING, TOGETHER, SOLVING, LEVERS, LONGEST, SIGNAL, CUTTING, NARROWING,
];

/// Steps of one part.
const STEPS: u64 = 100;

/// A phase of so many equal parts, one after the other; what a part reports is shown as a part of the phase.
pub(super) struct Phase<'p, 'c> {
    progress: &'p mut Progress<'c>,
    phase: &'static str,
    done: u64,
    of: u64,
}

impl<'p, 'c> Phase<'p, 'c> {
    pub fn new(progress: &'p mut Progress<'c>, phase: &'static str, of: usize) -> Self {
        Self {
            progress,
            phase,
            done: 0,
            of: of as u64,
        }
    }

    /// The next part.
    pub fn part<R>(&mut self, work: impl FnOnce(&mut Progress<'_>) -> R) -> R {
        let before = self.done.min(self.of) * STEPS;
        self.done += 1;
        let most = (self.done.min(self.of) * STEPS).saturating_sub(before);
        let (progress, phase, of) = (&mut *self.progress, self.phase, self.of * STEPS);
        let mut step = |inner: Step| {
            let share = u128::from(inner.done.min(inner.of)) * u128::from(most);
            let own = share / u128::from(inner.of.max(1));
            progress.step(phase, before + own as u64, of)
        };
        let mut inner = Progress::every(&mut step);
        work(&mut inner)
    }

    /// Whether the caller has stopped it.
    pub fn is_cancelled(&self) -> bool {
        self.progress.is_cancelled()
    }

    /// The phase is over, also where parts were left out.
    pub fn end(self) {
        let of = self.of * STEPS;
        if of > 0 {
            self.progress.step(self.phase, of, of);
        }
    }
}

/// How much of planning is behind a step, of so many parts.
pub(super) fn behind(step: Step, parts: u64) -> u64 {
    let phases = PHASES.len() as u128;
    let at = PHASES.iter().position(|phase| *phase == step.phase);
    let (done, of) = (u128::from(step.done), u128::from(step.of.max(1)));
    let own = (at.unwrap_or(0) as u128 * of + done.min(of)) * u128::from(parts);
    (own / (phases * of)) as u64
}
