//! Schedules of answers: findings, what was not evaluated, assumptions, sources, cautions.

use super::cautions::{CAUTIONS, Caution};
use super::references::References;
use super::schedule::{Draft, Schedule};
use super::wrap::reading_order;
use crate::finding::plain::{Finding, Verdict};
use crate::plan::model::{Assumption, Plan};
use crate::source::{Source, SourceKind, Standing};

/// Rule, reason, and the findings with their places.
type Group<'a> = (&'a str, &'a str, Vec<(usize, &'a Finding)>);

/// How many findings gave each verdict.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Tally {
    pub(super) fail: usize,
    pub(super) not_evaluated: usize,
    pub(super) at_limit: usize,
    pub(super) pass: usize,
}

impl Tally {
    pub(super) fn of(findings: &[&Finding]) -> Self {
        let mut tally = Self::default();
        for finding in findings {
            match finding.verdict {
                Verdict::Fail => tally.fail += 1,
                Verdict::NotEvaluated { .. } => tally.not_evaluated += 1,
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
}

/// The findings in the order in which they are printed and numbered: failures, what was not
/// evaluated, at limit, pass; within these by rule and place. The order of the plan does not matter.
pub(super) fn in_order(plan: &Plan) -> Vec<&Finding> {
    let rank = |finding: &Finding| match finding.verdict {
        Verdict::Fail => 0,
        Verdict::NotEvaluated { .. } => 1,
        Verdict::AtLimit => 2,
        Verdict::Pass => 3,
    };
    let mut findings: Vec<&Finding> = plan.findings.iter().collect();
    findings.sort_by(|a, b| {
        rank(a)
            .cmp(&rank(b))
            .then_with(|| a.id.cmp(b.id))
            .then_with(|| reading_order(&a.place, &b.place))
            .then_with(|| a.says.cmp(&b.says))
            .then_with(|| a.figure.cmp(&b.figure))
            .then_with(|| a.limit.cmp(&b.limit))
            .then_with(|| a.remedy.cmp(&b.remedy))
            .then_with(|| a.source.cmp(&b.source))
            .then_with(|| a.verdict.cmp(&b.verdict))
    });
    findings
}

pub(super) fn reason(finding: &Finding) -> &str {
    match &finding.verdict {
        Verdict::NotEvaluated { reason } if reason.trim().is_empty() => "no reason was given",
        Verdict::NotEvaluated { reason } => reason,
        _ => "",
    }
}

pub(super) fn findings(ordered: &[&Finding], references: &References<'_>) -> Schedule {
    let rows: Vec<(usize, &Finding)> = ordered
        .iter()
        .enumerate()
        .map(|(n, finding)| (n + 1, *finding))
        .collect();
    Draft::<(usize, &Finding)>::new(
        "findings",
        "Findings",
        &format!(
            "What the rules say: {}. Failures first, then what was not evaluated, then figures that just reach their \
             limit, then all that pass. A number in brackets is that of the source.",
            Tally::of(ordered).words()
        ),
    )
    .number("number", "No.", |r| r.0)
    .words("verdict", "Verdict", |r| r.1.verdict.words().to_string())
    .words("rule", "Rule", |r| r.1.id.to_string())
    .words("place", "Place", |r| r.1.place.clone())
    .words("figure", "Figure", |r| r.1.figure.clone())
    .words("limit", "Limit", |r| r.1.limit.clone())
    .words("source", "Source", |r| references.mark(&r.1.source))
    .beneath("found", "Found", |r| r.1.says.clone())
    .beneath("why_not_evaluated", "Not evaluated because", |r| {
        reason(r.1).to_string()
    })
    .beneath("remedy", "Remedy", |r| r.1.remedy.clone())
    .fill(&rows)
}

/// Places named in full before the rest is left to the findings.
const PLACES_NAMED: usize = 12;

pub(super) fn not_evaluated(ordered: &[&Finding]) -> Schedule {
    // In order, equal rules stand together; equal reasons of a rule are brought together here.
    let mut groups: Vec<Group<'_>> = Vec::new();
    let mut first_of_rule = 0;
    for (n, finding) in ordered.iter().enumerate() {
        if !finding.is_not_evaluated() {
            continue;
        }
        let why = reason(finding);
        if groups.last().is_some_and(|(rule, ..)| *rule != finding.id) {
            first_of_rule = groups.len();
        }
        let known = groups
            .iter_mut()
            .skip(first_of_rule)
            .rev()
            .find(|(_, known, _)| *known == why);
        let place = (n + 1, *finding);
        match known {
            Some((_, _, places)) => places.push(place),
            None => groups.push((finding.id, why, vec![place])),
        }
    }
    Draft::<Group<'_>>::new(
        "not-evaluated",
        "Not evaluated",
        "Checks that could not be run, and what is missing. None of these is a pass.",
    )
    .name("rule", "Rule", |r| r.0.to_string())
    .count("places", "Places", |r| {
        r.2.iter().map(|(_, f)| f.places).sum()
    })
    .words("findings", "Findings no.", |r| {
        let numbers: Vec<usize> = r.2.iter().map(|(n, _)| *n).collect();
        ranges(&numbers)
    })
    .words("because", "Because", |r| r.1.to_string())
    .beneath("where", "Where", |r| {
        let named = r.2.iter().take(PLACES_NAMED).map(|(_, f)| f.place.as_str());
        let named: Vec<&str> = named.collect();
        let more = r.2.len().saturating_sub(PLACES_NAMED);
        if more == 0 {
            named.join("; ")
        } else {
            format!("{}; and {more} more, see the findings", named.join("; "))
        }
    })
    .fill(&groups)
}

/// `3, 5-9`.
fn ranges(numbers: &[usize]) -> String {
    let mut spans: Vec<(usize, usize)> = Vec::new();
    for &n in numbers {
        match spans.last_mut() {
            Some((_, end)) if *end + 1 == n => *end = n,
            _ => spans.push((n, n)),
        }
    }
    let text: Vec<String> = spans
        .iter()
        .map(|(a, b)| {
            if a == b {
                a.to_string()
            } else {
                format!("{a}-{b}")
            }
        })
        .collect();
    text.join(", ")
}

pub(super) fn assumptions(plan: &Plan, references: &References<'_>) -> Schedule {
    let rows: Vec<(usize, &Assumption)> = plan
        .assumptions
        .iter()
        .enumerate()
        .map(|(n, assumption)| (n + 1, assumption))
        .collect();
    Draft::<(usize, &Assumption)>::new(
        "assumptions",
        "Assumptions",
        "What was taken where the job is silent. State the value in the job to replace it.",
    )
    .number("number", "No.", |r| r.0)
    .words("assumed", "Assumed", |r| r.1.what.clone())
    .words("source", "Source", |r| references.mark(&r.1.source))
    .fill(&rows)
}

pub(super) fn sources(references: &References<'_>) -> Schedule {
    type Row<'a> = (usize, &'a Source, String);
    Draft::<Row<'_>>::new(
        "sources",
        "Sources",
        "Where the figures and limits come from. The plan refers to them by these numbers.",
    )
    .name("number", "No.", |r| format!("[{}]", r.0))
    .words("title", "Source", |r| r.1.title.to_string())
    .words("edition", "Edition", |r| r.1.edition.to_string())
    .words("clause", "Clause or table", |r| r.1.clause.to_string())
    .words("kind", "Kind", |r| kind(r.1.kind).to_string())
    .words("standing", "Standing", |r| standing(r.1).to_string())
    .words("used_by", "Used by", |r| r.2.clone())
    .fill(&references.rows())
}

/// The words for a kind of source.
pub(super) fn kind(kind: SourceKind) -> &'static str {
    match kind {
        SourceKind::Standard => "standard",
        SourceKind::Handbook => "handbook",
        SourceKind::Paper => "paper",
        SourceKind::DataSheet => "data sheet",
        SourceKind::CommonPractice => "common practice",
        SourceKind::Computed => "computed here",
        SourceKind::Stated => "stated in the job",
        SourceKind::Invented => "invented",
    }
}

/// How sure it is. Only a document can have been read.
fn standing(source: &Source) -> &'static str {
    match (source.standing, source.kind) {
        (Standing::FromMemory, _) => "from memory",
        (_, SourceKind::Standard | SourceKind::Handbook | SourceKind::Paper) => "confirmed",
        _ => "-",
    }
}

pub(super) fn cautions() -> Schedule {
    let rows: Vec<(usize, &Caution)> = CAUTIONS
        .iter()
        .enumerate()
        .map(|(n, caution)| (n + 1, caution))
        .collect();
    Draft::<(usize, &Caution)>::new(
        "cautions",
        "Cautions",
        "Read these before acting on anything in the plan.",
    )
    .number("number", "No.", |r| r.0)
    .words("caution", "Caution", |r| r.1.title.to_string())
    .words("meaning", "Meaning", |r| r.1.text.to_string())
    .fill(&rows)
}
