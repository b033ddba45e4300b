//! Every rule of this crate, registered once.

use crate::finding::{Finding, Rule, Words, plain};

/// Every room's rules, in the order in which they are judged and printed.
const ROOMS: &[&[&Rule]] = &[
    crate::layout::RULES,
    crate::protect::RULES,
    crate::dmx::RULES,
];

/// Every rule.
pub fn all() -> impl Iterator<Item = &'static Rule> {
    ROOMS.iter().copied().flatten().copied()
}

/// The rule with this id.
#[must_use]
pub fn find(id: &str) -> Option<&'static Rule> {
    all().find(|rule| rule.id == id)
}

/// A finding in the words of its rule.
#[must_use]
pub fn words(finding: &Finding) -> Words {
    finding.words(find(finding.rule.as_str()))
}

/// A finding as one line: verdict, place, rule, sentence, and why it was not evaluated.
#[must_use]
pub fn line(finding: &Finding) -> String {
    let words = words(finding);
    let (verdict, rule) = (finding.verdict, &finding.rule);
    let line = format!("{verdict}: {} [{rule}]: {}", words.place, words.says);
    if finding.is_not_evaluated() {
        format!("{line} ({})", words.reason)
    } else {
        line
    }
}

/// A finding as it was carried before findings were data; until the last room gives typed ones.
pub(crate) fn plain(finding: &Finding) -> plain::Finding {
    let words = words(finding);
    let verdict = match finding.verdict {
        crate::finding::Verdict::Fail => plain::Verdict::Fail,
        crate::finding::Verdict::NotEvaluated => plain::Verdict::NotEvaluated {
            reason: words.reason,
        },
        crate::finding::Verdict::AtLimit => plain::Verdict::AtLimit,
        crate::finding::Verdict::Pass => plain::Verdict::Pass,
    };
    plain::Finding {
        id: find(finding.rule.as_str()).map_or("", |rule| rule.id),
        verdict,
        place: words.place,
        places: 1,
        says: words.says,
        figure: words.figure,
        limit: words.limit,
        source: finding.source.clone(),
        remedy: words.remedy,
    }
}
