//! Everything about one run on one sheet.
//!
//! ```text
//!  run, zone, room, drawing; tape, lengths
//!  the run to scale: cuts, feeds and joints under their marks
//!  each segment          how it is fed, the volts and the light at its worst place, its far ends
//!  limits left           figure, limit and what is left, the nearest first
//!  what fails, what was not evaluated about it
//!  the rows of every schedule that speak of it
//! ```

mod facts;
mod limits;
mod ruler;

use super::cautions::{CAUTION, CAUTIONS};
use super::document::{schedules, title};
use super::page::Page;
use super::printed::Printed;
use super::schedule::Schedule;
use super::table::{notes, table};
use super::wrap::clean;
use crate::design::{Cable, Decoder, Design, Feed, Piece, Run, Segment, Terminals};
use crate::finding::Finding;
use crate::id::{CableId, DecoderId, RunId, SupplyId};
use std::collections::{BTreeMap, BTreeSet};

/// Schedules whose rows are said on the sheet in another form: findings as what fails, what is open and the limits left.
const SAID_ELSEWHERE: [&str; 2] = ["findings", "not-evaluated"];

/// Columns that the sheet leaves to the plan: what is said of every run alike, what the sheet says above in other words.
const LEFT_TO_THE_PLAN: &[(&str, &str)] = &[
    ("readings", "instrument"),
    ("readings", "likely"),
    ("choices", "problem"),
    ("choices", "reason"),
    ("cables", "functions"),
    ("cables", "basis"),
    ("protection", "answer"),
    ("protection", "not_evaluated"),
    ("supplies", "why"),
    ("supplies", "feeds"),
    ("bars", "order"),
    ("reels", "order"),
];

/// What is known of one run.
struct Own<'a> {
    run: &'a Run,
    segments: Vec<&'a Segment>,
    feeds: Vec<&'a Feed>,
    pieces: Vec<&'a Piece>,
    findings: Vec<&'a Finding>,
    /// Rows of each schedule that speak of it.
    rows: Vec<Vec<usize>>,
}

/// The sheet of one run, no line wider than `width` columns (60 at least); none where the design has no such run.
///
/// The run to scale with its cuts, feeds and joints; how each segment is fed, its volts and light at the worst place; each
/// limit with what is left of it; what fails and what was not evaluated; and every row of every schedule that speaks of the
/// run. Findings about the whole job, a place or a product stand in the plan. Nothing is computed here.
///
/// ```
/// let job = evenrun::job::read(include_str!("../../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
/// let design = evenrun::plan::plan(&job);
/// let sheet = evenrun::report::run_sheet(&design, &design.runs[0].id, 100).expect("a run of the design");
/// assert!(sheet.contains("LIMITS LEFT"));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn run_sheet(design: &Design, run: &RunId, width: usize) -> Option<String> {
    let at = design.runs.iter().position(|own| own.id == *run)?;
    Sheets::of(design, width).sheet(at)
}

/// The sheets of all runs, in the order of the job, a blank line and a rule between them.
#[must_use]
pub fn run_sheets(design: &Design, width: usize) -> String {
    let sheets = Sheets::of(design, width);
    let each = (0..design.runs.len()).filter_map(|at| sheets.sheet(at));
    each.collect::<Vec<_>>()
        .join(&format!("\n{}\n\n", "=".repeat(width.max(60))))
}

/// What all sheets of a design share.
struct Sheets<'a> {
    design: &'a Design,
    width: usize,
    schedules: Vec<Schedule>,
    cables: BTreeMap<&'a CableId, &'a Cable>,
    decoders: BTreeMap<&'a DecoderId, &'a Decoder>,
    runs: Vec<Own<'a>>,
}

impl<'a> Sheets<'a> {
    fn of(design: &'a Design, width: usize) -> Self {
        let printed = Printed::of(design);
        let all = schedules(&printed);
        let places: BTreeMap<&RunId, usize> = design
            .runs
            .iter()
            .enumerate()
            .map(|(at, run)| (&run.id, at))
            .collect();
        let none = || vec![Vec::new(); all.len()];
        let own = design.runs.iter().map(|run| Own {
            run,
            segments: Vec::new(),
            feeds: Vec::new(),
            pieces: Vec::new(),
            findings: Vec::new(),
            rows: none(),
        });
        let mut runs: Vec<Own<'a>> = own.collect();
        for (number, schedule) in all.iter().enumerate() {
            for (row, about) in schedule.about.iter().enumerate() {
                for run in &about.runs {
                    if let Some(own) = places.get(run).and_then(|at| runs.get_mut(*at))
                        && let Some(rows) = own.rows.get_mut(number)
                        && rows.last() != Some(&row)
                    {
                        rows.push(row);
                    }
                }
            }
        }
        let mut to = |run: &RunId, put: &mut dyn FnMut(&mut Own<'a>)| {
            if let Some(own) = places.get(run).and_then(|at| runs.get_mut(*at)) {
                put(own);
            }
        };
        for segment in &design.segments {
            to(&segment.run, &mut |own| own.segments.push(segment));
        }
        for feed in &design.feeds {
            for run in printed.runs.feed(&feed.id) {
                to(&run, &mut |own| own.feeds.push(feed));
            }
        }
        for piece in &design.pieces {
            to(&piece.run, &mut |own| own.pieces.push(piece));
        }
        for finding in &design.findings {
            for run in printed.runs.subject(&finding.about) {
                to(&run, &mut |own| own.findings.push(finding));
            }
        }
        Self {
            design,
            width,
            schedules: all,
            cables: design
                .cables
                .iter()
                .map(|cable| (&cable.id, cable))
                .collect(),
            decoders: design.decoders.iter().map(|d| (&d.id, d)).collect(),
            runs,
        }
    }

    fn sheet(&self, at: usize) -> Option<String> {
        let own = self.runs.get(at)?;
        let run = own.run;
        let mut page = Page::new(self.width);
        let place = [run.zone.as_str(), run.room.as_str(), run.drawing.as_str()];
        let place: Vec<&str> = place
            .into_iter()
            .filter(|part| !part.trim().is_empty())
            .collect();
        page.line("", &clean(&format!("RUN {}: {}", run.id, place.join(", "))));
        page.line("", &title(self.design));
        page.line(
            "",
            &format!("Fingerprint {}", self.design.job.fingerprint.0),
        );
        page.line("", CAUTION);
        page.text.push('\n');
        facts::lengths(self.design, own, &mut page);
        ruler::ruler(self.design, own, &mut page);
        facts::segments(self, own, &mut page);
        self.live(own, &mut page);
        limits::broken(self.design, own, &mut page);
        limits::left(self.design, own, &mut page);
        limits::open(self.design, own, &mut page);
        for (schedule, rows) in self.schedules.iter().zip(&own.rows) {
            if SAID_ELSEWHERE.contains(&schedule.key) {
                continue;
            }
            let Some(mut schedule) = schedule.at(rows).in_full(LEFT_TO_THE_PLAN) else {
                continue;
            };
            // How a schedule is read stands with it in the plan.
            schedule.bare();
            page.text
                .push_str(&format!("\n{}\n\n", schedule.title.to_uppercase()));
            table(&schedule, page.width, &mut page.text);
            notes(&schedule, page.width, &mut page.text);
            page.text.truncate(page.text.trim_end().len());
            page.text.push('\n');
        }
        Some(page.text)
    }

    /// A run that more than one supply feeds stays live while either is on.
    fn live(&self, own: &Own<'_>, page: &mut Page) {
        let supplies: BTreeSet<&SupplyId> = own
            .feeds
            .iter()
            .filter_map(|feed| match &feed.from {
                Terminals::Supply { supply, .. } => Some(supply),
                Terminals::Decoder { decoder, .. } | Terminals::DecoderSupply(decoder) => {
                    Some(&self.decoders.get(decoder)?.supply.as_ref()?.0)
                }
                _ => None,
            })
            .collect();
        let two = CAUTIONS
            .iter()
            .find(|caution| caution.title.starts_with("Two supplies"));
        if let (2.., Some(two)) = (supplies.len(), two) {
            page.line("", &format!("{}. {}", two.title, two.text));
        }
    }
}
