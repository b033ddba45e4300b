//! The design as one document: what is said, in which order. How it looks is for
//! [`text`](super::text) and [`markdown`](super::markdown).

use super::cautions::CAUTIONS;
use super::printed::Printed;
use super::schedule::Schedule;
use super::schedules::SCHEDULES;
use super::summary::summary;
use super::words::{many, stated};
use super::wrap::clean;
use crate::design::Design;
use crate::source::{SourceKind, Standing};

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
    SCHEDULES.iter().map(|make| make(printed)).collect()
}

/// The whole document.
pub(super) fn blocks(design: &Design) -> Vec<Block> {
    let printed = Printed::of(design);
    let job = &design.job;
    let mut out = Vec::new();

    let title = if job.title.as_str().trim().is_empty() {
        "Plan without a title"
    } else {
        job.title.as_str()
    };
    out.push(Block::Title(clean(title)));
    if !job.note.as_str().trim().is_empty() {
        out.push(Block::Paragraph(clean(job.note.as_str())));
    }
    out.push(Block::Paragraph(clean(&format!(
        "Fingerprint {} (of the job, the tables and the rules; rule set {}, evenrun {}).",
        stated(&job.fingerprint.0),
        stated(job.rule_set.as_str()),
        stated(job.crate_version.as_str())
    ))));
    completeness(&printed, &mut out);

    out.push(Block::Heading("Summary".to_string()));
    out.push(Block::Pairs(summary(&printed)));
    failures(&printed, &mut out);

    out.push(Block::Heading("Cautions".to_string()));
    out.push(Block::Warnings(
        CAUTIONS
            .iter()
            .map(|caution| (caution.title, caution.text.to_string()))
            .collect(),
    ));
    out.push(Block::Paragraph(standing_of(&printed)));

    out.push(Block::Heading("How to read the schedules".to_string()));
    out.push(Block::Paragraph(
        "Low, nominal and high are three solutions of the same network. Low: sources low, copper hot, cells taking \
         least; it decides how dim the dimmest cell can be. High: sources high, copper cold, cells taking most; it \
         decides how much current and heat there can be. A dash is a figure that does not exist or was not asked for."
            .to_string(),
    ));
    out.extend(
        schedules(&printed)
            .into_iter()
            .filter(|schedule| schedule.key != "cautions")
            .map(Block::Table),
    );
    out
}

fn completeness(printed: &Printed<'_>, out: &mut Vec<Block>) {
    let because = printed.tally.incomplete_because();
    if !because.is_empty() {
        out.push(Block::Paragraph(
            "This plan is NOT COMPLETE, because:".to_string(),
        ));
        out.push(Block::Points(because.iter().map(|r| clean(r)).collect()));
        return;
    }
    let rest = match printed.tally.not_evaluated {
        0 => String::new(),
        1 => " One check was not run: see \"Not evaluated\".".to_string(),
        n => format!(" {n} checks were not run: see \"Not evaluated\"."),
    };
    out.push(Block::Paragraph(format!(
        "The plan answers everything the job asks for.{rest}"
    )));
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
