//! The answers first: what fails, what was not evaluated, the runs in a line each, what to buy.

use super::tables;
use crate::design::Run;
use crate::draw::index::Index;
use crate::finding::Verdict;
use crate::report::Opening;
use crate::report::wrap::{clean, reading_order, wrap};
use crate::rules::{self, Merged, merged};
use maud::{Markup, html};

/// Letters of a reason.
const LONGEST_REASON: usize = 160;

pub(super) fn answers(index: &Index<'_>, opening: &Opening) -> Markup {
    let design = index.design;
    let because = &opening.because;
    let mut fails = merged(&design.findings);
    fails.retain(|finding| finding.verdict == Verdict::Fail);
    fails.sort_by(|a, b| {
        a.rule
            .cmp(b.rule)
            .then_with(|| reading_order(&a.place, &b.place))
    });
    let named = |key: &str| {
        opening
            .schedules
            .iter()
            .find(|s| s.key == key && !s.rows.is_empty())
    };
    html! {
        section id="answers" {
            h2 { "Answers" }
            @if because.is_empty() {
                p class="state" { "The plan answers everything the job asks for." }
            } @else {
                p class="state" { "Not complete: " (because.join(", ")) "." }
            }
            p {
                "This is calculation, not an approval: read the " a href="#cautions" { "cautions" }
                " and what was not evaluated; local codes govern, and licensed people design and connect."
            }
            @if !fails.is_empty() {
                h3 { "What fails" }
                ul class="fails" { @for finding in &fails { (fail(finding)) } }
            }
            @if !design.runs.is_empty() {
                h3 { "The runs" }
                (runs(index))
            }
            @if !opening.outside.is_empty() {
                h3 { "Outside this calculation" }
                p { (opening.outside) "." }
            }
            (not_evaluated(index))
            @if let Some(materials) = named("materials") { (tables::titled("To buy", materials)) }
        }
    }
}

fn fail(finding: &Merged<'_>) -> Markup {
    html! {
        li {
            strong { (clean(&finding.place)) } ": " (clean(finding.says.trim_end_matches('.'))) "."
            @if !finding.figure.is_empty() && !finding.limit.is_empty() {
                " Found " (clean(&finding.figure)) ", required " (clean(&finding.limit)) "."
            }
            @if !finding.remedy.is_empty() { " Remedy: " (clean(&finding.remedy)) "." }
        }
    }
}

/// The opening of a long reason, whole words; the schedule has it in full.
fn first_words(text: &str) -> String {
    let lines = wrap(text, LONGEST_REASON);
    match lines.as_slice() {
        [only] => format!("{}.", only.trim_end_matches('.')),
        [first, ..] => format!("{first} …"),
        [] => String::new(),
    }
}

/// A line each question and reason, those of most places first.
fn not_evaluated(index: &Index<'_>) -> Markup {
    let mut groups: Vec<(&str, String, u64)> = Vec::new();
    let all = merged(&index.design.findings);
    let open = all.iter().filter(|finding| finding.is_not_evaluated());
    for finding in open.filter(|finding| !finding.is_outside()) {
        let rule = finding.rule.as_str();
        let asks = rules::find(rule).map_or(rule, |rule| rule.title);
        let because = finding.because();
        match groups.iter_mut().find(|g| g.0 == asks && g.1 == because) {
            Some(group) => group.2 += finding.places,
            None => groups.push((asks, because.to_string(), finding.places)),
        }
    }
    groups.sort_by(|a, b| b.2.cmp(&a.2).then_with(|| reading_order(a.0, b.0)));
    html! {
        @if !groups.is_empty() {
            h3 { "What was not evaluated" }
            ul {
                @for (asks, because, places) in &groups {
                    li {
                        strong { (clean(asks)) }
                        @if *places > 1 { " (" (places) " places)" }
                        ": " (first_words(&clean(because)))
                    }
                }
            }
        }
    }
}

/// A line a run, which leads to its sheet.
fn runs(index: &Index<'_>) -> Markup {
    html! {
        div class="scroll" tabindex="0" role="region" aria-label="The runs" {
            table {
                thead {
                    tr {
                        @for heading in ["Run", "Room", "Lit", "Tape", "Cut", "Feeds", "Weakest cell, of nominal", "Limits"] {
                            th scope="col" { (heading) }
                        }
                    }
                }
                tbody {
                    @for (number, run) in (1..).zip(&index.design.runs) { (line(index, number, run)) }
                }
            }
        }
    }
}

fn line(index: &Index<'_>, number: usize, run: &Run) -> Markup {
    let segments = index.segments(run);
    let cut = match segments {
        [] => "not planned".to_string(),
        [_] => "in one piece".to_string(),
        several => {
            let each = several.iter().map(|own| index.lengths.words(own.length));
            each.collect::<Vec<_>>().join(" + ")
        }
    };
    let feeds: usize = segments.iter().map(|own| index.feeds(own).len()).sum();
    let weakest = run.weakest.figures();
    html! {
        tr {
            th scope="row" { a href={ "#run-" (number) } { (clean(run.id.as_str())) } }
            td class="words" { (clean(run.room.as_str())) }
            td class="figure" { (index.lengths.words(run.lit)) }
            td class="words" { (clean(run.strip.as_str())) }
            td class="words" { (cut) }
            td class="figure" { (feeds) }
            td class="figure" {
                @match weakest {
                    Some(own) => { (format!("{:.1} %", own.current.si() * 100.0)) }
                    None => { "-" }
                }
            }
            td { @if run.fed { "kept" } @else { "not all kept" } }
        }
    }
}
