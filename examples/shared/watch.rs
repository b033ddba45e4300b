//! What an embedding program does with the callback: show a bar, and stop the work when it wants to.

use evenrun::progress::{Go, Step};
use indicatif::{ProgressBar, ProgressStyle};

/// A progress bar on the screen, and a count of steps after which the work is stopped.
pub struct Watch {
    bar: ProgressBar,
    steps: u64,
    stop_after: Option<u64>,
}

impl Watch {
    /// A bar on standard error; nothing is drawn where that is no screen, nor in a test.
    pub fn new(stop_after: Option<u64>) -> Self {
        let bar = if cfg!(test) {
            ProgressBar::hidden()
        } else {
            ProgressBar::new(0)
        };
        if let Ok(style) = ProgressStyle::with_template("{msg} [{bar:40}] {pos} of {len}") {
            bar.set_style(style.progress_chars("=> "));
        }
        Self {
            bar,
            steps: 0,
            stop_after,
        }
    }

    /// The callback.
    pub fn step(&mut self, step: Step) -> Go {
        self.steps += 1;
        if self.stop_after.is_some_and(|most| self.steps > most) {
            return Go::Cancel;
        }
        self.bar.set_length(step.of);
        self.bar.set_position(step.done);
        self.bar.set_message(step.phase);
        Go::On
    }

    /// Takes the bar off the screen.
    pub fn done(self) {
        self.bar.finish_and_clear();
    }
}
