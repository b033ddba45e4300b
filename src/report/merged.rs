//! The order in which findings are printed, and how many there are of each verdict.

use super::wrap::reading_order;
use crate::finding::Verdict;
use crate::order::Order as _;
use crate::rules::Merged;

/// Puts the findings in the order in which they are printed and numbered: failures, what was not evaluated, at limit,
/// pass; within these by rule and place. The order in which they were found does not matter.
pub(super) fn in_order(findings: &mut [Merged<'_>]) {
    findings.order_by(|a, b| {
        a.verdict
            .cmp(&b.verdict)
            .then_with(|| a.rule.cmp(b.rule))
            .then_with(|| reading_order(&a.place, &b.place))
            .then_with(|| a.says.cmp(&b.says))
            .then_with(|| a.figure.cmp(&b.figure))
            .then_with(|| a.limit.cmp(&b.limit))
            .then_with(|| a.remedy.cmp(&b.remedy))
            .then_with(|| a.source.cmp(b.source))
            .then_with(|| a.reason.cmp(&b.reason))
    });
}

/// How many findings, as they are printed, gave each verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Tally {
    pub(super) fail: usize,
    /// Of the job: what is outside of the calculation is counted apart.
    pub(super) not_evaluated: usize,
    pub(super) outside: usize,
    pub(super) at_limit: usize,
    pub(super) pass: usize,
}

impl Tally {
    pub(super) fn of(findings: &[Merged<'_>]) -> Self {
        let mut tally = Self::default();
        for finding in findings {
            match finding.verdict {
                Verdict::Fail => tally.fail += 1,
                Verdict::NotEvaluated if finding.is_outside() => tally.outside += 1,
                Verdict::NotEvaluated => tally.not_evaluated += 1,
                Verdict::AtLimit => tally.at_limit += 1,
                Verdict::Pass => tally.pass += 1,
            }
        }
        tally
    }

    pub(super) fn words(self) -> String {
        format!(
            "{} fail, {} not evaluated, {} at limit, {} pass",
            self.fail, self.not_evaluated, self.at_limit, self.pass
        )
    }

    /// The same for the first line of an answer: that no limit is broken is said too.
    pub(super) fn first_words(self) -> Vec<String> {
        let mut out = self.incomplete_because();
        if !out.is_empty() && self.fail == 0 {
            out.insert(0, "no limit is broken".to_string());
        }
        out
    }

    /// What keeps a design from calling itself complete; empty when nothing does.
    pub(super) fn incomplete_because(self) -> Vec<String> {
        let mut out = Vec::new();
        let mut add = |count: usize, one: &str, more: &str| {
            if count > 0 {
                out.push(super::words::many(count, one, more));
            }
        };
        add(self.fail, "limit is broken", "limits are broken");
        add(
            self.not_evaluated,
            "question was not evaluated",
            "questions were not evaluated",
        );
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Finding;
    use crate::finding::{Figure, Limit, Subject};
    use crate::id::RuleId;
    use crate::quantity::{Amps, amps};
    use crate::rules::merged;
    use crate::source::Source;

    fn finding(rule: &str, verdict: Verdict, place: &str, figure: f64) -> Finding {
        const CASE: crate::finding::Case = crate::finding::Case::judged("judged", "");
        const RULE: crate::finding::Rule = crate::finding::Rule {
            id: "test",
            title: "",
            asks: "",
            source: Source::computed("the test"),
            needs: &[],
            cases: &[&CASE],
        };
        let mut finding = RULE
            .finds(&CASE, verdict, Subject::from(place))
            .figure(Amps::from(amps(figure)))
            .limit(Limit::AtMost(Figure::from(amps(5.0))));
        finding.rule = RuleId::new(rule);
        finding
    }

    #[test]
    fn the_same_words_at_several_places_are_one_finding() {
        let places = ["A10", "A2", "B", "C", "D", "A2"];
        let mut all: Vec<Finding> = places
            .iter()
            .zip([1.0, 2.0, 1.0, 1.0, 1.0, 1.0])
            .map(|(place, figure)| finding("load", Verdict::Pass, place, figure))
            .collect();
        all.extend([3.0, 4.0, 4.0].map(|f| finding("load", Verdict::Fail, "E", f)));
        let mut all_in_one = merged(&all);
        in_order(&mut all_in_one);
        let told: Vec<(&str, &str, u64)> = all_in_one
            .iter()
            .map(|f| (f.place.as_str(), f.figure.as_str(), f.places))
            .collect();
        assert_eq!(
            told,
            [
                ("E", "3 A", 1),
                ("E", "4 A", 1),
                ("A10; A2; B; C; and 1 more", "each within", 5)
            ]
        );
        let tally = Tally::of(&all_in_one);
        assert_eq!(tally.words(), "2 fail, 0 not evaluated, 0 at limit, 1 pass");
        assert_eq!(tally.incomplete_because(), ["2 limits are broken"]);
    }
}
