//! What a rule says about a place.
//!
//! A rule never answers "approved": it answers that a stated limit is kept, is
//! just reached, is broken, or was *not evaluated*, and why. An answer that
//! was not evaluated stands beside the others and is never dropped.
//!
//! ```
//! use evenrun::finding::plain::{Finding, Verdict};
//! use evenrun::source::Source;
//! const HABIT: Source = Source::common_practice("supplies loaded to 80 % of their rating");
//! let finding = Finding::judged_at_most("supply-load", "supply S1", 81.0, 80.0)
//!     .says("the supply carries 81 % of its rating")
//!     .figure("81 %")
//!     .limit("80 %")
//!     .source(HABIT)
//!     .remedy("move a segment to another supply");
//! assert_eq!(finding.verdict, Verdict::Fail);
//! ```

use crate::source::Source;
use serde::Serialize;
use std::fmt;

/// What a rule concludes about one place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[non_exhaustive]
pub enum Verdict {
    /// The limit is broken.
    Fail,
    /// The rule could not be applied; the reason says what is missing.
    NotEvaluated {
        /// What is missing.
        reason: String,
    },
    /// The figure equals the limit to within the accuracy of the computation.
    AtLimit,
    /// The limit is kept.
    Pass,
}

impl Verdict {
    /// The words printed for it.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match self {
            Self::Fail => "fail",
            Self::NotEvaluated { .. } => "not evaluated",
            Self::AtLimit => "at limit",
            Self::Pass => "pass",
        }
    }

    /// Judges a figure that may be at most `limit`; NaN fails.
    ///
    /// Within a relative 1e-9 of the limit the answer is [`Verdict::AtLimit`].
    #[must_use]
    pub fn at_most(figure: f64, limit: f64) -> Self {
        let band = 1e-9 * limit.abs();
        if figure < limit - band {
            Self::Pass
        } else if (figure - limit).abs() <= band {
            Self::AtLimit
        } else {
            Self::Fail
        }
    }

    /// Judges a figure that must be at least `limit`; NaN fails.
    #[must_use]
    pub fn at_least(figure: f64, limit: f64) -> Self {
        Self::at_most(-figure, -limit)
    }

    /// Judges a figure that must lie between two limits; NaN fails.
    #[must_use]
    pub fn within(figure: f64, [least, most]: [f64; 2]) -> Self {
        Self::at_least(figure, least).min(Self::at_most(figure, most))
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}

/// One answer of one rule about one place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Finding {
    /// Stable id of the rule, such as `chain-unit-loads`. Part of the public interface.
    pub id: &'static str,
    /// The answer.
    pub verdict: Verdict,
    /// Where: `run north cove, segment 2`.
    pub place: String,
    /// How many places it speaks of; more than a few are not all named.
    pub places: u64,
    /// One sentence that says what was found.
    pub says: String,
    /// The figure, with unit.
    pub figure: String,
    /// The limit, with unit.
    pub limit: String,
    /// Where the limit comes from.
    pub source: Source,
    /// What to do about it; empty where nothing is to be done.
    pub remedy: String,
}

impl Finding {
    /// A finding with a verdict, to be completed by the builder methods.
    #[must_use]
    pub fn new(id: &'static str, verdict: Verdict, place: impl Into<String>) -> Self {
        Self {
            id,
            verdict,
            place: place.into(),
            places: 1,
            says: String::new(),
            figure: String::new(),
            limit: String::new(),
            source: Source::computed(""),
            remedy: String::new(),
        }
    }

    /// The limit is kept.
    #[must_use]
    pub fn pass(id: &'static str, place: impl Into<String>) -> Self {
        Self::new(id, Verdict::Pass, place)
    }

    /// The limit is broken.
    #[must_use]
    pub fn fail(id: &'static str, place: impl Into<String>) -> Self {
        Self::new(id, Verdict::Fail, place)
    }

    /// The limit is just reached.
    #[must_use]
    pub fn at_limit(id: &'static str, place: impl Into<String>) -> Self {
        Self::new(id, Verdict::AtLimit, place)
    }

    /// The rule could not be applied.
    #[must_use]
    pub fn not_evaluated(
        id: &'static str,
        place: impl Into<String>,
        reason: impl Into<String>,
    ) -> Self {
        Self::new(
            id,
            Verdict::NotEvaluated {
                reason: reason.into(),
            },
            place,
        )
    }

    /// Judges `figure <= limit`; NaN fails.
    #[must_use]
    pub fn judged_at_most(
        id: &'static str,
        place: impl Into<String>,
        figure: f64,
        limit: f64,
    ) -> Self {
        Self::new(id, Verdict::at_most(figure, limit), place)
    }

    /// Judges `figure >= limit`; NaN fails.
    #[must_use]
    pub fn judged_at_least(
        id: &'static str,
        place: impl Into<String>,
        figure: f64,
        limit: f64,
    ) -> Self {
        Self::new(id, Verdict::at_least(figure, limit), place)
    }

    /// Judges `least <= figure <= most`; NaN fails.
    #[must_use]
    pub fn judged_within(
        id: &'static str,
        place: impl Into<String>,
        figure: f64,
        limits: [f64; 2],
    ) -> Self {
        Self::new(id, Verdict::within(figure, limits), place)
    }

    /// Sets the sentence.
    #[must_use]
    pub fn says(mut self, says: impl Into<String>) -> Self {
        self.says = says.into();
        self
    }

    /// Sets the figure, with unit.
    #[must_use]
    pub fn figure(mut self, figure: impl Into<String>) -> Self {
        self.figure = figure.into();
        self
    }

    /// Sets the limit, with unit.
    #[must_use]
    pub fn limit(mut self, limit: impl Into<String>) -> Self {
        self.limit = limit.into();
        self
    }

    /// Sets the source of the limit.
    #[must_use]
    pub fn source(mut self, source: Source) -> Self {
        self.source = source;
        self
    }

    /// Sets what to do about it.
    #[must_use]
    pub fn remedy(mut self, remedy: impl Into<String>) -> Self {
        self.remedy = remedy.into();
        self
    }

    /// Whether the limit is broken.
    #[must_use]
    pub fn is_fail(&self) -> bool {
        self.verdict == Verdict::Fail
    }

    /// Whether the rule could not be applied.
    #[must_use]
    pub fn is_not_evaluated(&self) -> bool {
        matches!(self.verdict, Verdict::NotEvaluated { .. })
    }
}

/// One line: verdict, place, sentence.
impl fmt::Display for Finding {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{}: {} [{}]: {}",
            self.verdict, self.place, self.id, self.says
        )?;
        if let Verdict::NotEvaluated { reason } = &self.verdict {
            write!(f, " ({reason})")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nan_never_passes() {
        assert_eq!(Verdict::at_most(f64::NAN, 1.0), Verdict::Fail);
        assert_eq!(Verdict::at_most(1.0, f64::NAN), Verdict::Fail);
        assert_eq!(Verdict::at_least(f64::NAN, 1.0), Verdict::Fail);
        assert_eq!(Verdict::within(f64::NAN, [0.0, 1.0]), Verdict::Fail);
    }

    #[test]
    fn the_limit_itself_is_named() {
        assert_eq!(Verdict::at_most(80.0, 80.0), Verdict::AtLimit);
        assert_eq!(Verdict::at_most(79.9, 80.0), Verdict::Pass);
        assert_eq!(Verdict::at_most(80.1, 80.0), Verdict::Fail);
        assert_eq!(Verdict::at_least(0.8, 0.8), Verdict::AtLimit);
        assert_eq!(Verdict::at_least(0.81, 0.8), Verdict::Pass);
        for (figure, verdict) in [
            (0.9, Verdict::Fail),
            (1.0, Verdict::AtLimit),
            (1.5, Verdict::Pass),
            (2.0, Verdict::AtLimit),
            (2.1, Verdict::Fail),
        ] {
            assert_eq!(Verdict::within(figure, [1.0, 2.0]), verdict);
        }
    }
}
