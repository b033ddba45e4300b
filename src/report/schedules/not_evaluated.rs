//! Checks that could not be run.

use crate::report::schedule::{Draft, Schedule};
use crate::report::words::{joined, listed};
use crate::rules::Merged;

/// Findings of one rule with one reason, by their numbers.
struct Group<'a> {
    rule: &'a str,
    because: &'a str,
    findings: Vec<(usize, &'a Merged<'a>)>,
}

/// Places named in full before the rest is left to the findings.
const PLACES_NAMED: usize = 12;

pub(in crate::report) fn not_evaluated(ordered: &[Merged<'_>]) -> Schedule {
    Draft::<Group<'_>>::new(
        "not-evaluated",
        "Not evaluated",
        "Checks that could not be run, and what is missing. None of these is a pass.",
    )
    .name("rule", "Rule", |r| r.rule)
    .count("places", "Places", |r| {
        r.findings.iter().map(|(_, finding)| finding.places).sum()
    })
    .words("findings", "Findings no.", |r| {
        let numbers: Vec<usize> = r.findings.iter().map(|(n, _)| *n).collect();
        ranges(&numbers)
    })
    .in_file()
    .words("because", "Because", |r| r.because)
    .beneath("where", "Where", |r| {
        let named = r.findings.iter().take(PLACES_NAMED);
        let named = joined(named.map(|(_, finding)| &finding.place), "; ");
        match r.findings.len().saturating_sub(PLACES_NAMED) {
            0 => named,
            more => format!("{named}; and {more} more, see the findings"),
        }
    })
    .beneath("remedy", "Remedy", |r| {
        r.findings
            .first()
            .map_or("", |(_, finding)| &finding.remedy)
    })
    .quiet("outside this calculation", |r| {
        r.findings.iter().all(|(_, finding)| finding.is_outside())
    })
    .fill(groups(ordered))
}

/// In order, equal rules stand together; equal reasons of a rule are brought together here.
fn groups<'a>(ordered: &'a [Merged<'a>]) -> Vec<Group<'a>> {
    let mut groups: Vec<Group<'a>> = Vec::new();
    let mut first_of_rule = 0;
    let open = (1..).zip(ordered);
    for (number, finding) in open.filter(|(_, finding)| finding.is_not_evaluated()) {
        let (rule, because) = (finding.rule.as_str(), finding.because());
        if groups.last().is_some_and(|last| last.rule != rule) {
            first_of_rule = groups.len();
        }
        let known = groups
            .iter_mut()
            .skip(first_of_rule)
            .rev()
            .find(|group| group.because == because);
        match known {
            Some(group) => group.findings.push((number, finding)),
            None => groups.push(Group {
                rule,
                because,
                findings: vec![(number, finding)],
            }),
        }
    }
    groups
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
    listed(spans.iter().map(|(a, b)| {
        if a == b {
            a.to_string()
        } else {
            format!("{a}-{b}")
        }
    }))
}
