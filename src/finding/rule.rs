//! A rule, and the words of each of its answers.

use super::{Figure, Finding, Limit, Subject, Verdict};
use crate::id::RuleId;
use crate::source::Source;

/// A rule: what is asked, from which source, and the words of its answers. Defined once, as a constant,
/// in the file that judges it.
#[derive(Debug, PartialEq)]
pub struct Rule {
    /// Stable id, such as `chain-unit-loads`. Part of the public interface.
    pub id: &'static str,
    /// Its name in a few words.
    pub title: &'static str,
    /// The question that it answers.
    pub asks: &'static str,
    /// Where the limit comes from, unless a finding names another source.
    pub source: Source,
    /// What the job must state for it; without, the rule is not evaluated.
    pub needs: &'static [&'static str],
    /// The words of each answer.
    pub cases: &'static [&'static Case],
}

/// The words of one answer of a rule. In braces stand `figure`, `limit`, `least` and `most` of a limit that has two,
/// and the other facts of a finding by their names: `{load}` as a person reads it, `{load:.1}` the bare number in SI units with
/// one decimal, `{load:.1 mA}` in that unit, `{load:.1 (mA)}` the same without naming it; `~3` in the place of `.1` at most
/// three decimals, `*` every digit; `{ports:5}` the first five of several names, `{ports:5+}` with how many more there are.
#[derive(Debug, PartialEq, Eq)]
pub struct Case {
    /// Its key within the rule, part of the public interface.
    pub key: &'static str,
    /// One sentence that says what was found.
    pub says: &'static str,
    /// Why the rule could not be applied; empty where it was.
    pub reason: &'static str,
    /// The figure.
    pub figure: &'static str,
    /// The limit.
    pub limit: &'static str,
    /// What to do about it; empty where nothing is to be done.
    pub remedy: &'static str,
}

impl Case {
    /// Words for a figure beside its limit.
    #[must_use]
    pub const fn judged(key: &'static str, says: &'static str) -> Self {
        Self {
            key,
            says,
            reason: "",
            figure: "{figure}",
            limit: "{limit}",
            remedy: "",
        }
    }

    /// Words where there is neither figure nor limit.
    #[must_use]
    pub const fn plain(key: &'static str, says: &'static str) -> Self {
        Self {
            figure: "",
            limit: "",
            ..Self::judged(key, says)
        }
    }

    /// Words where the rule could not be applied, and why.
    #[must_use]
    pub const fn open(key: &'static str, says: &'static str, reason: &'static str) -> Self {
        Self {
            reason,
            ..Self::plain(key, says)
        }
    }

    /// Other words for the figure.
    #[must_use]
    pub const fn figure(mut self, figure: &'static str) -> Self {
        self.figure = figure;
        self
    }

    /// Other words for the limit.
    #[must_use]
    pub const fn limit(mut self, limit: &'static str) -> Self {
        self.limit = limit;
        self
    }

    /// What to do about it.
    #[must_use]
    pub const fn remedy(mut self, remedy: &'static str) -> Self {
        self.remedy = remedy;
        self
    }
}

impl Rule {
    /// An answer without a figure.
    #[must_use]
    pub fn finds(&self, case: &Case, verdict: Verdict, about: Subject) -> Finding {
        debug_assert!(
            self.cases.iter().any(|own| own.key == case.key),
            "{} has no case {}",
            self.id,
            case.key
        );
        Finding {
            rule: RuleId::new(self.id),
            case: case.key.to_string(),
            verdict,
            about,
            figure: None,
            limit: None,
            facts: Vec::new(),
            source: self.source.clone(),
        }
    }

    /// The limit is kept.
    #[must_use]
    pub fn passes(&self, case: &Case, about: Subject) -> Finding {
        self.finds(case, Verdict::Pass, about)
    }

    /// The limit is broken.
    #[must_use]
    pub fn fails(&self, case: &Case, about: Subject) -> Finding {
        self.finds(case, Verdict::Fail, about)
    }

    /// The rule could not be applied.
    #[must_use]
    pub fn not_evaluated(&self, case: &Case, about: Subject) -> Finding {
        self.finds(case, Verdict::NotEvaluated, about)
    }

    /// Judges `figure <= limit`; NaN fails.
    #[must_use]
    pub fn at_most(
        &self,
        case: &Case,
        about: Subject,
        figure: impl Into<Figure>,
        limit: impl Into<Figure>,
    ) -> Finding {
        let (figure, limit) = (figure.into(), limit.into());
        let verdict = Verdict::at_most(figure.value(), limit.value());
        self.finds(case, verdict, about)
            .figure(figure)
            .limit(Limit::AtMost(limit))
    }

    /// Judges `figure >= limit`; NaN fails.
    #[must_use]
    pub fn at_least(
        &self,
        case: &Case,
        about: Subject,
        figure: impl Into<Figure>,
        limit: impl Into<Figure>,
    ) -> Finding {
        let (figure, limit) = (figure.into(), limit.into());
        let verdict = Verdict::at_least(figure.value(), limit.value());
        self.finds(case, verdict, about)
            .figure(figure)
            .limit(Limit::AtLeast(limit))
    }

    /// Judges `least <= figure <= most`; NaN fails.
    #[must_use]
    pub fn within(
        &self,
        case: &Case,
        about: Subject,
        figure: impl Into<Figure>,
        limits: [Figure; 2],
    ) -> Finding {
        let figure = figure.into();
        let [least, most] = limits;
        let verdict = Verdict::within(figure.value(), [least.value(), most.value()]);
        self.finds(case, verdict, about)
            .figure(figure)
            .limit(Limit::Within(least, most))
    }
}
