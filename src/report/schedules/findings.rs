//! What the rules say.

use crate::finding::Verdict;
use crate::report::merged::Tally;
use crate::report::references::References;
use crate::report::schedule::{Draft, Schedule};
use crate::rules::Merged;

/// A finding with its number.
type Row<'a> = (usize, &'a Merged<'a>);

pub(in crate::report) fn findings(
    ordered: &[Merged<'_>],
    tally: Tally,
    references: &References<'_>,
) -> Schedule {
    Draft::<Row<'_>>::new(
        "findings",
        "Findings",
        &format!(
            "What the rules say: {}. A number in brackets is that of the source.",
            tally.words()
        ),
    )
    .number("number", "No.", |r| r.0)
    .words("verdict", "Verdict", |r| r.1.verdict)
    .words("rule", "Rule", |r| r.1.rule)
    .words("place", "Place", |r| &r.1.place)
    .words("figure", "Figure", |r| &r.1.figure)
    .words("limit", "Limit", |r| &r.1.limit)
    .words("source", "Source", |r| references.mark(r.1.source))
    .beneath("found", "Found", |r| &r.1.says)
    .beneath("why_not_evaluated", "Not evaluated because", |r| {
        r.1.because()
    })
    .beneath("remedy", "Remedy", |r| &r.1.remedy)
    .quiet("that pass, or stand under Not evaluated,", |r| {
        matches!(r.1.verdict, Verdict::Pass | Verdict::NotEvaluated)
    })
    .fill((1..).zip(ordered))
}
