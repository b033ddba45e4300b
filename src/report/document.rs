//! The design as one document: what is said, in which order. How it looks is for
//! [`text`](super::text) and [`markdown`](super::markdown).

use super::cautions::{CAUTION, CAUTIONS};
use super::printed::Printed;
use super::readers::Reader;
use super::schedule::Schedule;
use super::schedules::SCHEDULES;
use super::summary::summary;
use super::words::{listed, many, stated};
use super::wrap::clean;
use crate::design::Design;
use crate::finding::Verdict;
use crate::rules;
use crate::source::{SourceKind, Standing};
use std::collections::BTreeMap;

const HOW_TO_READ: &str = "Low, nominal and high are three solutions of the same network. Low: sources low, copper hot, cells taking \
         least; it decides how dim the dimmest cell can be. High: sources high, copper cold, cells taking most; it \
         decides how much current and heat there can be. A dash is a figure that does not exist or was not asked for.";

/// Schedules with a figure for each of the three.
const THREE_FIGURES: [&str; 4] = ["segments", "feeds", "supplies", "readings"];

/// One block of the document. All texts are clean.
pub(super) enum Block {
    /// The title of the whole.
    Title(String),
    /// A heading.
    Heading(String),
    /// A paragraph.
    Paragraph(String),
    /// Points, in no order.
    Points(Vec<String>),
    /// Numbered points.
    Numbered(Vec<String>),
    /// A word and what it stands for, a line each.
    Pairs(Vec<(&'static str, String)>),
    /// Points that open with a few words in bold.
    Warnings(Vec<(&'static str, String)>),
    /// A schedule.
    Table(Schedule),
}

/// Failures told in the opening before the rest is left to the findings.
const FAILURES_TOLD: usize = 8;

/// Every schedule of the design, in the order of the document.
pub(super) fn schedules(printed: &Printed<'_>) -> Vec<Schedule> {
    let units = printed.design.job.units;
    let all = SCHEDULES.iter().map(|make| make(printed));
    all.map(|schedule| schedule.shown_in(units)).collect()
}

/// Which rules passed, and at how many places, as the last words on the findings.
fn passes(printed: &Printed<'_>) -> String {
    let mut counts: BTreeMap<&str, u64> = BTreeMap::new();
    for finding in printed
        .findings
        .iter()
        .filter(|f| f.verdict == Verdict::Pass)
    {
        *counts.entry(finding.rule.as_str()).or_default() += finding.places;
    }
    let counts = counts
        .into_iter()
        .map(|(rule, count)| format!("{rule} {count}"));
    format!("Passed, with the number of places: {}.", listed(counts))
}

/// The whole document.
pub(super) fn blocks(printed: &Printed<'_>) -> Vec<Block> {
    let mut out = opening(printed, "");
    out.push(Block::Heading("Summary".to_string()));
    out.push(Block::Pairs(summary(printed)));
    failures(printed, &mut out);
    cautions(printed, &mut out);
    out.push(Block::Heading("How to read the schedules".to_string()));
    out.push(Block::Paragraph(HOW_TO_READ.to_string()));
    for schedule in schedules(printed) {
        if schedule.key != "cautions" {
            out.extend(on_paper(printed, &schedule).map(Block::Table));
        }
    }
    out
}

/// What one reader needs, opened by who that is.
pub(super) fn blocks_for(
    printed: &Printed<'_>,
    schedules: &[Schedule],
    reader: &Reader,
) -> Vec<Block> {
    let mut out = opening(printed, reader.says);
    failures(printed, &mut out);
    if reader.decides {
        cautions(printed, &mut out);
    } else {
        out.push(Block::Paragraph(CAUTION.to_string()));
    }
    if reader
        .schedules
        .iter()
        .any(|key| THREE_FIGURES.contains(key))
    {
        out.push(Block::Paragraph(HOW_TO_READ.to_string()));
    }
    for key in reader.schedules {
        let own = schedules.iter().find(|schedule| schedule.key == *key);
        out.extend(
            own.and_then(|schedule| on_paper(printed, schedule))
                .map(Block::Table),
        );
    }
    out
}

/// A schedule as a page prints it, where it has a row.
pub(super) fn on_paper(printed: &Printed<'_>, schedule: &Schedule) -> Option<Schedule> {
    let mut page = schedule.on_paper()?;
    if page.key == "findings" {
        page.notes.push(passes(printed));
    }
    Some(page)
}

/// Title, for whom, of which job, whether it is complete.
fn opening(printed: &Printed<'_>, says: &str) -> Vec<Block> {
    let job = &printed.design.job;
    let mut out = vec![Block::Title(title(printed.design))];
    if !says.is_empty() {
        out.push(Block::Paragraph(says.to_string()));
    }
    if !job.note.as_str().trim().is_empty() {
        out.push(Block::Paragraph(clean(job.note.as_str())));
    }
    out.push(Block::Paragraph(clean(&format!(
        "Fingerprint {} (of the job, the tables and the rules; rule set {}, evenrun {}).",
        stated(&job.fingerprint.0),
        stated(job.rule_set.as_str()),
        stated(job.crate_version.as_str())
    ))));
    completeness(printed, &mut out);
    out
}

/// The title of the job.
pub(super) fn title(design: &Design) -> String {
    let title = design.job.title.as_str();
    if title.trim().is_empty() {
        return "Plan without a title".to_string();
    }
    clean(title)
}

fn cautions(printed: &Printed<'_>, out: &mut Vec<Block>) {
    out.push(Block::Heading("Cautions".to_string()));
    let each = CAUTIONS.iter();
    out.push(Block::Warnings(
        each.map(|caution| (caution.title, caution.text.to_string()))
            .collect(),
    ));
    out.push(Block::Paragraph(standing_of(printed)));
}

/// What this version leaves to others: `heat, light on surfaces`; empty where no rule says so.
pub(super) fn outside(printed: &Printed<'_>) -> String {
    let own = printed
        .findings
        .iter()
        .filter(|finding| finding.is_outside());
    let titles = own.filter_map(|finding| rules::find(finding.rule.as_str()));
    listed(titles.map(|rule| rule.title.to_lowercase()))
}

fn completeness(printed: &Printed<'_>, out: &mut Vec<Block>) {
    answers(printed, out);
    let outside = outside(printed);
    if !outside.is_empty() {
        out.push(Block::Paragraph(format!(
            "Outside this calculation, whatever the job: {outside}."
        )));
    }
}

fn answers(printed: &Printed<'_>, out: &mut Vec<Block>) {
    let because = printed.tally.incomplete_because();
    if !because.is_empty() {
        out.push(Block::Paragraph(
            "This plan is NOT COMPLETE, because:".to_string(),
        ));
        out.push(Block::Points(because.iter().map(|r| clean(r)).collect()));
        return;
    }
    out.push(Block::Paragraph(
        "The plan answers everything the job asks for.".to_string(),
    ));
}

/// Ends a sentence that does not end.
fn sentence(text: &str) -> String {
    let text = text.trim();
    if text.is_empty() || text.ends_with(['.', '!', '?']) {
        text.to_string()
    } else {
        format!("{text}.")
    }
}

fn failures(printed: &Printed<'_>, out: &mut Vec<Block>) {
    let fails = printed.tally.fail;
    out.push(Block::Heading("What fails".to_string()));
    if fails == 0 {
        out.push(Block::Paragraph(
            "No limit encoded here is exceeded. Read the first two cautions before drawing a conclusion from that."
                .to_string(),
        ));
        return;
    }
    let told = printed
        .findings
        .iter()
        .filter(|finding| finding.is_fail())
        .take(FAILURES_TOLD)
        .map(|finding| {
            let says = if finding.says.trim().is_empty() {
                finding.rule.as_str()
            } else {
                &finding.says
            };
            let mut text = format!("{}: {}", finding.place, sentence(says));
            if !finding.figure.is_empty() || !finding.limit.is_empty() {
                text.push_str(&format!(
                    " Found {}, required {}; source {}.",
                    stated(&finding.figure),
                    stated(&finding.limit),
                    printed.references.mark(finding.source)
                ));
            }
            if !finding.remedy.trim().is_empty() {
                text.push_str(&format!(" Remedy: {}", sentence(&finding.remedy)));
            }
            clean(&text)
        })
        .collect();
    out.push(Block::Numbered(told));
    if fails > FAILURES_TOLD {
        out.push(Block::Paragraph(format!(
            "And {} more: see \"Findings\".",
            fails - FAILURES_TOLD
        )));
    }
}

/// What the cautions come to in this plan.
fn standing_of(printed: &Printed<'_>) -> String {
    let rows = printed.references.rows();
    let of_standing = |standing| rows.iter().filter(|row| row.1.standing == standing).count();
    let of_kind = |kind| rows.iter().filter(|row| row.1.kind == kind).count();
    let quoted = of_standing(Standing::Quoted);
    let memory = of_standing(Standing::FromMemory);
    let practice = of_kind(SourceKind::CommonPractice);
    let assumed = of_kind(SourceKind::Assumption);
    format!(
        "In this plan: {} not evaluated; {}; of {}, {quoted} quoted by other documents, {memory} from memory, {practice} common practice and {assumed} assumed by this library.",
        many(printed.tally.not_evaluated, "answer", "answers"),
        many(printed.design.assumed.len(), "assumption", "assumptions"),
        many(rows.len(), "source", "sources"),
    )
}
