//! Pass, at limit, fail, not evaluated.

use serde::{Deserialize, Serialize};
use std::fmt;

/// What a rule concludes about one place, worst first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The limit is broken.
    Fail,
    /// The rule could not be applied.
    NotEvaluated,
    /// The figure equals the limit to within the accuracy of the computation.
    AtLimit,
    /// The limit is kept.
    Pass,
}

impl Verdict {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Fail => "fail",
            Self::NotEvaluated => "not evaluated",
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
