//! The whole plan as one page: answers first, a sheet a run, figures, tables. No script, nothing from elsewhere.

mod answers;
mod sheets;
mod tables;

use super::{Figure, data_riser, stock, supply_riser};
use crate::design::Design;
use crate::draw::index::Index;
use crate::report::wrap::clean;
use crate::report::{self, CAUTIONS};
use maud::{DOCTYPE, Markup, PreEscaped, html};

const STYLE: &str = include_str!("style.css");

/// The whole plan as HTML: one file that needs nothing else, for a screen, a phone, A4 or Letter.
///
/// Answers come first, then a sheet for each run with its drawing, then what the supplies feed, the data chains, what is cut from which bar
/// and reel, and every schedule of [`report`] that has a row. Every name of the job is escaped.
///
/// ```
/// let job = evenrun::job::read(include_str!("../../../tests/jobs/corner.toml"), "corner.toml").map_err(|f| f.to_string())?;
/// let page = evenrun::draw::page(&evenrun::plan::plan(&job));
/// assert!(page.contains("lang=\"en\"") && !page.contains("<script"));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn page(design: &Design) -> String {
    let index = Index::of(design);
    let title = clean(design.job.title.as_str());
    let title = match title.trim() {
        "" => "Plan without a title",
        title => title,
    };
    let opening = report::opening(design);
    let schedules = &opening.schedules;
    let figures = [
        (
            "supplies",
            "Supplies and what they feed",
            supply_riser(design),
        ),
        ("data", "Data chains", data_riser(design)),
        ("stock", "Bars, covers and reels as cut", stock(design)),
    ];
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                header {
                    h1 { (title) }
                    @let note = clean(design.job.note.as_str());
                    @if !note.trim().is_empty() { p { (note) } }
                }
                nav aria-label="Contents" {
                    ul {
                        li { a href="#answers" { "Answers" } }
                        li { a href="#runs" { "Runs" } }
                        @for (id, heading, own) in &figures {
                            @if !own.is_empty() { li { a href={ "#" (id) } { (heading) } } }
                        }
                        li { a href="#schedules" { "Schedules" } }
                        li { a href="#cautions" { "Cautions" } }
                    }
                }
                main {
                    (answers::answers(&index, &opening))
                    section id="runs" {
                        h2 { "Runs" }
                        @for (number, run) in (1..).zip(&design.runs) { (sheets::sheet(&index, number, run)) }
                    }
                    @for (id, heading, own) in &figures {
                        @if !own.is_empty() {
                            section id=(id) {
                                h2 { (heading) }
                                @for figure in own { (shown(figure)) }
                            }
                        }
                    }
                    section id="schedules" {
                        h2 { "Schedules" }
                        @for schedule in schedules {
                            @if !schedule.rows.is_empty() && schedule.key != "cautions" {
                                (tables::schedule(schedule))
                            }
                        }
                    }
                    section id="cautions" {
                        h2 { "Cautions" }
                        dl {
                            @for caution in CAUTIONS {
                                dt { (caution.title) }
                                dd { (caution.text) }
                            }
                        }
                    }
                }
                footer {
                    p {
                        "Fingerprint " code { (clean(&design.job.fingerprint.0)) }
                        ", rule set " (clean(design.job.rule_set.as_str()))
                        ", evenrun " (clean(design.job.crate_version.as_str())) "."
                    }
                }
            }
        }
    };
    page.into_string()
}

/// A figure that is scrolled where the screen is narrow.
fn shown(figure: &Figure) -> Markup {
    html! {
        figure class="scroll" tabindex="0" aria-label=(figure.title) { (PreEscaped(&figure.svg)) }
    }
}
