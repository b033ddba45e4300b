//! The plan as one document: what is said, in which order. How it looks is for
//! [`text`](super::text) and [`markdown`](super::markdown).

use super::answers::{self, Tally};
use super::cautions::CAUTIONS;
use super::references::References;
use super::schedule::Schedule;
use super::wrap::clean;
use super::{choices, control, power, site, tape};
use crate::exact::ExactLength;
use crate::finding::plain::Finding;
use crate::plan::model::Plan;
use crate::source::{SourceKind, Standing};
use std::collections::BTreeSet;

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

/// Every schedule of the plan, in the order of the document.
pub(super) fn schedules(plan: &Plan) -> Vec<Schedule> {
    let ordered = answers::in_order(plan);
    let references = References::of(plan, &ordered);
    vec![
        answers::findings(&ordered, &references),
        answers::not_evaluated(&ordered),
        tape::runs(plan),
        choices::choices(plan),
        tape::cuts(plan),
        tape::segments(plan),
        tape::feeds(plan),
        power::cables(plan, &references),
        power::supplies(plan),
        power::protection(plan),
        control::decoders(plan),
        control::outputs(plan),
        control::addresses(plan),
        control::chains(plan),
        tape::bars(plan),
        tape::reels(plan),
        site::materials(plan),
        site::readings(plan),
        power::energy(plan),
        answers::assumptions(plan, &references),
        answers::cautions(),
        answers::sources(&references),
    ]
}

/// The whole document.
pub(super) fn blocks(plan: &Plan) -> Vec<Block> {
    let ordered = answers::in_order(plan);
    let references = References::of(plan, &ordered);
    let tally = Tally::of(&ordered);
    let mut out = Vec::new();

    let title = if plan.title.trim().is_empty() {
        "Plan without a title"
    } else {
        &plan.title
    };
    out.push(Block::Title(clean(title)));
    if !plan.note.trim().is_empty() {
        out.push(Block::Paragraph(clean(&plan.note)));
    }
    out.push(Block::Paragraph(clean(&format!(
        "Fingerprint {} (of the job, the tables and the rules; rule set {}, evenrun {}).",
        stated(&plan.fingerprint),
        stated(&plan.rule_set),
        stated(&plan.crate_version)
    ))));
    completeness(plan, tally, &mut out);

    out.push(Block::Heading("Summary".to_string()));
    out.push(Block::Pairs(summary(plan, tally)));
    failures(&ordered, tally, &references, &mut out);

    out.push(Block::Heading("Cautions".to_string()));
    out.push(Block::Warnings(
        CAUTIONS
            .iter()
            .map(|caution| (caution.title, caution.text.to_string()))
            .collect(),
    ));
    out.push(Block::Paragraph(standing_of(plan, tally, &references)));

    out.push(Block::Heading("How to read the schedules".to_string()));
    out.push(Block::Paragraph(
        "Low, nominal and high are three solutions of the same network. Low: sources low, copper hot, cells taking \
         least; it decides how dim the dimmest cell can be. High: sources high, copper cold, cells taking most; it \
         decides how much current and heat there can be. A dash is a figure that does not exist or was not asked for."
            .to_string(),
    ));
    out.extend(
        schedules(plan)
            .into_iter()
            .filter(|schedule| schedule.key != "cautions")
            .map(Block::Table),
    );
    out
}

fn stated(text: &str) -> &str {
    if text.trim().is_empty() {
        "not stated"
    } else {
        text
    }
}

fn completeness(plan: &Plan, tally: Tally, out: &mut Vec<Block>) {
    if !plan.incomplete_because.is_empty() {
        out.push(Block::Paragraph(
            "This plan is NOT COMPLETE, because:".to_string(),
        ));
        let reasons = plan.incomplete_because.iter();
        out.push(Block::Points(reasons.map(|r| clean(r)).collect()));
        return;
    }
    let rest = match tally.not_evaluated {
        0 => String::new(),
        1 => " One check was not run: see \"Not evaluated\".".to_string(),
        n => format!(" {n} checks were not run: see \"Not evaluated\"."),
    };
    out.push(Block::Paragraph(format!(
        "The plan answers everything the job asks for.{rest}"
    )));
}

/// `1 run`, `3 runs`.
fn many(n: usize, one: &str, more: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { more })
}

fn distinct<'a>(names: impl Iterator<Item = &'a str>) -> usize {
    names.collect::<BTreeSet<_>>().len()
}

fn in_metres(lengths: impl Iterator<Item = ExactLength>) -> String {
    let total: ExactLength = lengths.sum();
    format!("{:.3} m", total.to_length().value)
}

fn summary(plan: &Plan, tally: Tally) -> Vec<(&'static str, String)> {
    let zones = distinct(plan.runs.iter().map(|run| run.zone.as_str()));
    let universes: BTreeSet<u32> = plan.addresses.iter().map(|row| row.universe).collect();
    let nominal: f64 = plan.supplies.iter().map(|s| s.load.nominal.value).sum();
    let busiest = plan
        .supplies
        .iter()
        .max_by(|a, b| a.share.value.total_cmp(&b.share.value));
    let supply = busiest.map_or_else(String::new, |supply| {
        format!(
            "; {nominal:.1} W at nominal; busiest is {}, {:.1} % of what it may give where it stands",
            supply.id,
            supply.share.value * 100.0
        )
    });
    let copper: f64 = plan.cables.iter().map(|cable| cable.copper.value).sum();
    let pairs = vec![
        (
            "Runs",
            format!(
                "{} in {}; {} drawn, {} lit",
                many(plan.runs.len(), "run", "runs"),
                many(zones, "zone", "zones"),
                in_metres(plan.runs.iter().map(|run| run.drawn)),
                in_metres(plan.runs.iter().map(|run| run.lit)),
            ),
        ),
        (
            "Tape",
            format!(
                "{}, {} to cut, from {}",
                many(plan.segments.len(), "segment", "segments"),
                many(plan.cuts.len(), "piece", "pieces"),
                many(plan.reels.len(), "reel", "reels"),
            ),
        ),
        (
            "Feeding",
            format!(
                "{} through {}, {copper:.2} kg of copper",
                many(plan.feeds.len(), "feed", "feeds"),
                many(plan.cables.len(), "cable", "cables"),
            ),
        ),
        (
            "Supplies",
            format!(
                "{}{supply}",
                many(plan.supplies.len(), "supply", "supplies")
            ),
        ),
        (
            "Control",
            format!(
                "{} with {} in use; {} in {}; {}",
                many(plan.decoders.len(), "decoder", "decoders"),
                many(plan.outputs.len(), "output", "outputs"),
                many(plan.addresses.len(), "slot", "slots"),
                many(universes.len(), "universe", "universes"),
                many(
                    distinct(plan.chains.iter().map(|row| row.chain.as_str())),
                    "chain",
                    "chains"
                ),
            ),
        ),
        ("Findings", tally.words()),
    ];
    pairs
        .into_iter()
        .map(|(word, text)| (word, clean(&text)))
        .collect()
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

fn failures(ordered: &[&Finding], tally: Tally, references: &References<'_>, out: &mut Vec<Block>) {
    out.push(Block::Heading("What fails".to_string()));
    if tally.fail == 0 {
        out.push(Block::Paragraph(
            "No limit encoded here is exceeded. Read the first two cautions before drawing a conclusion from that."
                .to_string(),
        ));
        return;
    }
    let told = ordered
        .iter()
        .filter(|finding| finding.is_fail())
        .take(FAILURES_TOLD)
        .map(|finding| {
            let says = if finding.says.trim().is_empty() {
                finding.id
            } else {
                &finding.says
            };
            let mut text = format!("{}: {}", finding.place, sentence(says));
            if !finding.figure.is_empty() || !finding.limit.is_empty() {
                text.push_str(&format!(
                    " Figure {}, limit {}, source {}.",
                    stated(&finding.figure),
                    stated(&finding.limit),
                    references.mark(&finding.source)
                ));
            }
            if !finding.remedy.trim().is_empty() {
                text.push_str(&format!(" Remedy: {}", sentence(&finding.remedy)));
            }
            clean(&text)
        })
        .collect();
    out.push(Block::Numbered(told));
    if tally.fail > FAILURES_TOLD {
        out.push(Block::Paragraph(format!(
            "And {} more: see \"Findings\".",
            tally.fail - FAILURES_TOLD
        )));
    }
}

/// What the cautions come to in this plan.
fn standing_of(plan: &Plan, tally: Tally, references: &References<'_>) -> String {
    let rows = references.rows();
    let memory = rows
        .iter()
        .filter(|(_, source, _)| source.standing == Standing::FromMemory)
        .count();
    let practice = rows
        .iter()
        .filter(|(_, source, _)| source.kind == SourceKind::CommonPractice)
        .count();
    format!(
        "In this plan: {} not evaluated; {}; of {}, {memory} from memory and {practice} common practice.",
        many(tally.not_evaluated, "answer", "answers"),
        many(plan.assumptions.len(), "assumption", "assumptions"),
        many(rows.len(), "source", "sources"),
    )
}
