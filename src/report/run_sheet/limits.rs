//! What the rules say of a run: what fails, what is open, and what is left of each limit.

use super::Own;
use crate::design::Design;
use crate::finding::{Figure, Finding, Limit, Words};
use crate::order::Order as _;
use crate::report::lengths::figures;
use crate::report::marks::place;
use crate::report::page::Page;
use crate::report::schedule::Draft;
use crate::report::table::{notes, table};
use crate::report::words::many;
use crate::rules;
use std::collections::BTreeMap;

/// What fails about the run, with its remedy.
pub(super) fn broken(design: &Design, own: &Own<'_>, page: &mut Page) {
    let units = design.job.units;
    let fails: Vec<&Finding> = own
        .findings
        .iter()
        .filter(|f| f.is_fail())
        .copied()
        .collect();
    if fails.is_empty() {
        page.text
            .push_str("\nNothing that is judged here fails on this run.\n");
    }
    page.part("What fails", fails.len(), usize::MAX, |page| {
        for finding in fails {
            let Words {
                says,
                figure,
                limit,
                remedy,
                ..
            } = rules::words(finding);
            let place = place(design, &finding.about);
            let mut text = format!("{place}: {}", says.trim_end_matches('.'));
            if !figure.is_empty() && !limit.is_empty() {
                text += &format!(". Found {figure}, required {limit}");
            }
            if !remedy.is_empty() {
                text += &format!(". Remedy: {remedy}");
            }
            page.line("  ", &figures(units, &text));
        }
    });
}

/// What was not evaluated about the run: a line each rule and reason.
pub(super) fn open(design: &Design, own: &Own<'_>, page: &mut Page) {
    let mut groups: BTreeMap<(&'static str, String), Vec<String>> = BTreeMap::new();
    let open = own.findings.iter().filter(|f| f.is_not_evaluated());
    for finding in open {
        let title = rules::find(finding.rule.as_str()).map_or("", |rule| rule.title);
        let words = rules::words(finding);
        groups
            .entry((title, words.reason))
            .or_default()
            .push(place(design, &finding.about));
    }
    let units = design.job.units;
    page.part("Not evaluated", groups.len(), usize::MAX, |page| {
        for ((title, reason), mut places) in groups {
            places.dedup();
            let text = format!("{title} ({}): {reason}", places.join("; "));
            page.line("  ", &figures(units, &text));
        }
    });
}

/// Rules whose figure must be that of the limit: nothing can be left of it.
const MATCHES: [&str; 1] = ["chain-terminator"];

/// The share left from which on a limit is only counted.
const HALF: f64 = 0.5;

/// A limit with the place that comes nearest to it.
struct Row<'a> {
    title: &'static str,
    finding: &'a Finding,
    left: Option<f64>,
}

/// The nearest of each rule that has a figure and a limit, those with least left first.
pub(super) fn left(design: &Design, own: &Own<'_>, page: &mut Page) {
    let units = design.job.units;
    let mut rows: BTreeMap<&str, Row<'_>> = BTreeMap::new();
    for finding in own.findings.iter().filter(|f| !f.is_not_evaluated()) {
        if MATCHES.contains(&finding.rule.as_str()) {
            continue;
        }
        let (Some(figure), Some(limit)) = (finding.figure, finding.limit) else {
            continue;
        };
        let row = Row {
            title: rules::find(finding.rule.as_str()).map_or("", |rule| rule.title),
            finding,
            left: margin(figure, limit),
        };
        let nearer =
            |other: &Row<'_>| row.left.unwrap_or(f64::MAX) < other.left.unwrap_or(f64::MAX);
        let known = rows.get(finding.rule.as_str());
        if known.is_none_or(nearer) {
            rows.insert(finding.rule.as_str(), row);
        }
    }
    let mut rows: Vec<Row<'_>> = rows.into_values().collect();
    let of = |row: &Row<'_>| row.left.unwrap_or(f64::MAX);
    rows.order_by(|a, b| of(a).total_cmp(&of(b)));
    let (near, far): (Vec<Row<'_>>, Vec<Row<'_>>) =
        rows.into_iter().partition(|row| of(row) < HALF);
    let words = |row: &Row<'_>| rules::words(row.finding);
    let schedule = Draft::<Row<'_>>::new("limits", "Limits left", "")
        .words("limit_of", "Limit of", |r| r.title)
        .words("at", "Nearest at", move |r| place(design, &r.finding.about))
        .words("figure", "Figure", move |r| {
            figures(units, &words(r).figure)
        })
        .words("limit", "Limit", move |r| figures(units, &words(r).limit))
        .words("left", "Left", |r| match r.left {
            Some(share) if share < 0.0 => format!("over by {:.1} %", -share * 100.0),
            Some(share) => format!("{:.1} %", share * 100.0),
            None => "-".to_string(),
        })
        .fill(near)
        .in_full(&[]);
    if let Some(schedule) = schedule {
        page.text.push_str("\nLIMITS LEFT\n\n");
        table(&schedule, page.width, &mut page.text);
        notes(&schedule, page.width, &mut page.text);
        page.text.truncate(page.text.trim_end().len());
        page.text.push('\n');
    }
    if !far.is_empty() {
        let far = many(far.len(), "limit", "limits");
        page.line(
            "",
            &format!(
                "And {far} of which more than half is left, or of which a share says nothing."
            ),
        );
    }
}

/// How far the figure is from its limit, as a share of the limit, below zero beyond it; none where a share says nothing.
///
/// Temperatures have no share: zero degrees is no origin.
fn margin(figure: Figure, limit: Limit) -> Option<f64> {
    if matches!(figure, Figure::Temperature(_)) {
        return None;
    }
    let figure = figure.value();
    let share = |limit: Figure, room: f64| {
        let limit = limit.value().abs();
        let share = room / limit;
        (limit > 0.0 && share.is_finite()).then_some(share)
    };
    match limit {
        Limit::AtMost(most) | Limit::Below(most) => share(most, most.value() - figure),
        Limit::AtLeast(least) | Limit::Above(least) => share(least, figure - least.value()),
        Limit::Within(least, most) => {
            let room = (most.value() - figure).min(figure - least.value());
            share(most, room)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{amps, celsius, percent};

    #[test]
    fn what_is_left_is_a_share_of_the_limit() {
        let near = |found: Option<f64>, expected: f64| {
            assert!(
                found.is_some_and(|f| (f - expected).abs() < 1e-12),
                "{found:?}"
            );
        };
        near(
            margin(amps(3.0).into(), Limit::AtMost(amps(4.0).into())),
            0.25,
        );
        near(
            margin(amps(5.0).into(), Limit::AtMost(amps(4.0).into())),
            -0.25,
        );
        near(
            margin(percent(77.0).into(), Limit::AtLeast(percent(70.0).into())),
            0.1,
        );
        assert_eq!(
            margin(celsius(30.0).into(), Limit::AtMost(celsius(70.0).into())),
            None
        );
        assert_eq!(
            margin(amps(3.0).into(), Limit::AtMost(amps(0.0).into())),
            None
        );
    }
}
