//! What makes the search fast and never changes what it finds: each can be switched off, for the bench that says what it is
//! worth (`benches/feed.rs`). What is worth less than 1.3 times is not here.

use super::checked::CheckedRun;

/// One way in which the search saves work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[doc(hidden)]
pub enum Acceleration {
    /// Marks whose cheapest beginning and rest together cost too much are passed over.
    CostBefore,
    /// Chains that exceed the bound by little are looked for first.
    CostSteps,
    /// A chain with breaks at few marks says how much is enough.
    FewBreaks,
    /// What holds from the next mark, moved, limits what is looked at.
    LikeTheNeighbour,
    /// Bounds on lengths of segments with several feeds, for a stretch of marks.
    LengthBounds,
    /// Bounds on what a segment draws, in closed form.
    CurrentBounds,
    /// One verdict for all segments of a shape in a stretch of marks.
    SharedVerdicts,
    /// Verdicts on candidates with joints inside are kept.
    KeptVerdicts,
}

impl Acceleration {
    /// Every one.
    pub const ALL: [Self; 8] = [
        Self::CostBefore,
        Self::CostSteps,
        Self::FewBreaks,
        Self::LikeTheNeighbour,
        Self::LengthBounds,
        Self::CurrentBounds,
        Self::SharedVerdicts,
        Self::KeptVerdicts,
    ];
}

impl CheckedRun {
    /// The same run, searched without one acceleration.
    #[doc(hidden)]
    #[must_use]
    pub fn without(mut self, acceleration: Acceleration) -> Self {
        self.switched_off = Some(acceleration);
        self
    }

    pub(crate) fn uses(&self, acceleration: Acceleration) -> bool {
        self.switched_off != Some(acceleration)
    }
}
