//! Findings in words, put together: the same words at several places become one.

use crate::finding::{Finding, Verdict, Words};
use crate::id::RuleId;
use crate::order::Order as _;
use crate::source::Source;
use std::collections::{BTreeMap, BTreeSet};

/// Places named before the rest is counted.
const NAMED: usize = 4;

/// One finding in words, about one place or several.
#[derive(Debug, Clone)]
pub struct Merged<'a> {
    /// Rule.
    pub rule: &'a RuleId,
    /// Verdict.
    pub verdict: Verdict,
    /// Why the rule could not be applied; empty where it was.
    pub reason: String,
    /// Its places, the first of them by name.
    pub place: String,
    /// How many places.
    pub places: u64,
    /// What was found.
    pub says: String,
    /// The figure, or where the figures stand.
    pub figure: String,
    /// The limit.
    pub limit: String,
    /// What to do about it.
    pub remedy: String,
    /// Where the limit comes from.
    pub source: &'a Source,
}

impl Merged<'_> {
    /// Whether the limit is broken.
    #[must_use]
    pub fn is_fail(&self) -> bool {
        self.verdict == Verdict::Fail
    }

    /// Whether the rule could not be applied.
    #[must_use]
    pub fn is_not_evaluated(&self) -> bool {
        self.verdict == Verdict::NotEvaluated
    }

    /// Whether the question is outside of what this version computes, in every job.
    #[must_use]
    pub fn is_outside(&self) -> bool {
        self.is_not_evaluated() && super::is_outside(self.rule.as_str())
    }

    /// Why the rule could not be applied, or that nobody says so; empty where it was.
    #[must_use]
    pub fn because(&self) -> &str {
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
#[must_use]
pub fn merged(findings: &[Finding]) -> Vec<Merged<'_>> {
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
        } = super::words(finding);
        // Nothing is to be done about what passes.
        let remedy = match finding.verdict {
            Verdict::Pass => String::new(),
            _ => remedy,
        };
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
    all.order_by(|a, b| {
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
