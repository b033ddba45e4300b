//! Findings as they are printed: the same words at several places become one.

use super::wrap::reading_order;
use crate::finding::{Finding, Verdict, Words};
use crate::id::RuleId;
use crate::rules;
use crate::source::Source;
use std::collections::{BTreeMap, BTreeSet};

/// Places named before the rest is counted.
const NAMED: usize = 4;

/// One finding in words, about one place or several.
pub(super) struct Merged<'a> {
    pub(super) rule: &'a RuleId,
    pub(super) verdict: Verdict,
    /// Why the rule could not be applied; empty where it was.
    pub(super) reason: String,
    /// Its places, the first of them by name.
    pub(super) place: String,
    pub(super) places: u64,
    pub(super) says: String,
    pub(super) figure: String,
    pub(super) limit: String,
    pub(super) remedy: String,
    pub(super) source: &'a Source,
}

impl Merged<'_> {
    pub(super) fn is_fail(&self) -> bool {
        self.verdict == Verdict::Fail
    }

    pub(super) fn is_not_evaluated(&self) -> bool {
        self.verdict == Verdict::NotEvaluated
    }

    /// Why the rule could not be applied, or that nobody says so; empty where it was.
    pub(super) fn because(&self) -> &str {
        if self.is_not_evaluated() && self.reason.trim().is_empty() {
            "no reason was given"
        } else {
            &self.reason
        }
    }
}

/// What must be equal for two findings to become one: rule, verdict, reason, sentence, limit, source, and the figure
/// of what fails.
type Same<'a> = (
    &'a RuleId,
    Verdict,
    String,
    String,
    String,
    &'a Source,
    Option<String>,
);

/// The findings, those in the same words put together: what fails first, then what was not evaluated by its reason,
/// then what is at its limit, then what passes; within these in the order in which they were found.
///
/// What fails stays apart where its figure differs; elsewhere the figure then says where the figures stand.
pub(super) fn merge(findings: &[Finding]) -> Vec<Merged<'_>> {
    let mut out: Vec<(Merged<'_>, Vec<String>, BTreeSet<String>)> = Vec::new();
    let mut known: BTreeMap<Same<'_>, usize> = BTreeMap::new();
    for finding in findings {
        let Words {
            place,
            says,
            reason,
            figure,
            limit,
            remedy,
        } = rules::words(finding);
        let reason = if finding.is_not_evaluated() {
            reason
        } else {
            String::new()
        };
        let same: Same<'_> = (
            &finding.rule,
            finding.verdict,
            reason.clone(),
            says.clone(),
            limit.clone(),
            &finding.source,
            finding.is_fail().then(|| figure.clone()),
        );
        let at = *known.entry(same).or_insert(out.len());
        match out.get_mut(at) {
            Some((first, places, named)) => {
                if first.figure != figure {
                    first.figure = match finding.verdict {
                        Verdict::Pass => "each within",
                        _ => "see the schedules",
                    }
                    .to_string();
                }
                if named.insert(place.clone()) {
                    places.push(place);
                }
            }
            None => out.push((
                Merged {
                    rule: &finding.rule,
                    verdict: finding.verdict,
                    reason,
                    place: String::new(),
                    places: 0,
                    says,
                    figure,
                    limit,
                    remedy,
                    source: &finding.source,
                },
                vec![place.clone()],
                BTreeSet::from([place]),
            )),
        }
    }
    let mut all: Vec<Merged<'_>> = out
        .into_iter()
        .map(|(mut one, places, _)| {
            one.places = places.len() as u64;
            one.place = named(&places);
            one
        })
        .collect();
    all.sort_by(|a, b| {
        a.verdict
            .cmp(&b.verdict)
            .then_with(|| a.reason.cmp(&b.reason))
    });
    all
}

/// The first places by name: `a; b; c; d; and 3 more`.
fn named(places: &[String]) -> String {
    let named: Vec<&str> = places.iter().take(NAMED).map(String::as_str).collect();
    let mut text = named.join("; ");
    if places.len() > NAMED {
        text += &format!("; and {} more", places.len() - NAMED);
    }
    text
}

/// Puts the findings in the order in which they are printed and numbered: failures, what was not evaluated, at limit,
/// pass; within these by rule and place. The order in which they were found does not matter.
pub(super) fn in_order(findings: &mut [Merged<'_>]) {
    findings.sort_by(|a, b| {
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
    pub(super) not_evaluated: usize,
    pub(super) at_limit: usize,
    pub(super) pass: usize,
}

impl Tally {
    pub(super) fn of(findings: &[Merged<'_>]) -> Self {
        let mut tally = Self::default();
        for finding in findings {
            match finding.verdict {
                Verdict::Fail => tally.fail += 1,
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
    use crate::finding::{Figure, Limit, Subject};
    use crate::quantity::{Amps, amps};

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
            .finds(&CASE, verdict, Subject::Named(place.to_string()))
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
        let mut merged = merge(&all);
        in_order(&mut merged);
        let told: Vec<(&str, &str, u64)> = merged
            .iter()
            .map(|one| (one.place.as_str(), one.figure.as_str(), one.places))
            .collect();
        assert_eq!(
            told,
            [
                ("E", "3 A", 1),
                ("E", "4 A", 1),
                ("A10; A2; B; C; and 1 more", "each within", 5)
            ]
        );
        let tally = Tally::of(&merged);
        assert_eq!(tally.words(), "2 fail, 0 not evaluated, 0 at limit, 1 pass");
        assert_eq!(tally.incomplete_because(), ["2 limits are broken"]);
    }
}
