//! The trade-off of a run as text: what each arrangement costs more, and what is known of it.

use super::cautions::CAUTIONS;
use super::lengths::length;
use super::wrap::{clean, paragraph, width};
use crate::choose::feeding::{Arrangement, Standing, TradeOff, TradeOffEnd};
use crate::exact::CutPitch;
use crate::job::Job;
use crate::quantity::Money;
use std::collections::BTreeSet;

/// No page is set narrower than this.
const NARROWEST: usize = 90;

/// The trade-off of a run of a job as text, no line wider than `width` columns; a `width` below 90
/// counts as 90.
#[must_use]
pub fn trade_off(job: &Job, run: &str, answer: &TradeOff, width: usize) -> String {
    let most = width.max(NARROWEST);
    let mut page = Page {
        out: String::new(),
        most,
    };
    let title = clean(&format!(
        "{}: what more money buys on run {run}",
        job.title()
    ));
    page.say(&title, "");
    page.out
        .push_str(&"=".repeat(super::wrap::width(&title).min(most)));
    page.out.push_str("\n\n");
    if !job.note().trim().is_empty() {
        page.paragraph(&clean(job.note()));
    }
    page.paragraph(&format!(
        "Every arrangement found that no other beats. Cost: cable, segments, feeds, breaks and joints of this run. Fall-off: how \
         far the current of its dimmest cell lies below nominal, worst case, low; a difference under {} % of nominal counts as \
         none. Lost: in feeders, rails and source, nominal.",
        answer.resolution.value * 100.0
    ));
    let amount = |minor: i64| job.currency().words(Money::from_minor_units(minor));
    let cheapest = answer.arrangements.first().map_or(0, |a| a.bought);
    let mut rows = vec![
        [
            "No.", "Cost", "More", "Fall-off", "Lost", "Segments", "Feeds", "Standing",
        ]
        .map(String::from),
    ];
    for (number, a) in answer.arrangements.iter().enumerate() {
        rows.push([
            (number + 1).to_string(),
            amount(a.bought),
            match a.bought - cheapest {
                0 => "-".to_string(),
                more => amount(more),
            },
            format!("{:.1} %", a.fall_off.value * 100.0),
            format!("{:.2} W", a.lost.value),
            a.plan.segments.len().to_string(),
            a.plan
                .segments
                .iter()
                .map(|s| s.feeds.len())
                .sum::<usize>()
                .to_string(),
            match a.standing {
                Standing::NotBeaten => "not beaten: proven".to_string(),
                Standing::Unproven { .. } => format!("none found beats it [{}]", number + 1),
            },
        ]);
    }
    let at = |mark: u64| {
        let pitch = pitch(job, run);
        let at = pitch.map(|pitch| length(job.units(), pitch.length_of(mark)));
        at.unwrap_or_else(|| format!("mark {mark}"))
    };
    if answer.arrangements.is_empty() {
        page.paragraph(nothing(answer));
    } else {
        page.table(&rows, &answer.arrangements, &at);
    }
    for (number, a) in answer.arrangements.iter().enumerate() {
        if let Standing::Unproven { reason } = &a.standing {
            page.say(&format!("[{}] no proof: {reason}.", number + 1), "    ");
        }
    }
    for (price, end) in &answer.ends {
        let priced = match price {
            0 => "Watts lost not weighed".to_string(),
            price => format!("At {} for a watt lost", amount(*price)),
        };
        page.say(&format!("{priced}: {}.", end.words()), "    ");
    }
    page.out.push_str("\nCAUTIONS\n\n");
    let own = "The run is fed here by itself. What it shares with others, what protects it and what was not evaluated \
               stands in the plan of the job: read that before an arrangement is chosen.";
    page.bullet(own);
    for caution in CAUTIONS {
        page.bullet(&format!(
            "{}. {}",
            caution.title.to_uppercase(),
            caution.text
        ));
    }
    page.out
}

/// Distance between permitted cuts of the run's tape.
fn pitch(job: &Job, run: &str) -> Option<CutPitch> {
    let run = job.runs().iter().find(|own| own.name == run)?;
    let zone = job.zones().iter().find(|zone| zone.name == run.zone)?;
    Some(job.strip(&zone.strip)?.pitch)
}

/// Why there is no arrangement: only a walk that ran its course says that none exists.
fn nothing(answer: &TradeOff) -> &'static str {
    let full = |end: &(i64, TradeOffEnd)| matches!(end.1, TradeOffEnd::NothingBrighter);
    if answer.ends.iter().any(full) {
        "No permitted feed and cable was found that keeps every limit: the plan of the job names the limits that prevent it."
    } else {
        "The search ended before it found any arrangement. Nothing is said about whether there is one."
    }
}

struct Page {
    out: String,
    most: usize,
}

impl Page {
    fn say(&mut self, text: &str, then: &str) {
        self.out.push_str(&paragraph(text, self.most, "", then));
    }

    fn paragraph(&mut self, text: &str) {
        self.say(text, "");
        self.out.push('\n');
    }

    fn bullet(&mut self, text: &str) {
        self.out
            .push_str(&paragraph(text, self.most, "  ! ", "    "));
    }

    /// The rows, each with what it is made of beneath; figures to the right.
    fn table(
        &mut self,
        rows: &[[String; 8]],
        arrangements: &[Arrangement],
        at: &dyn Fn(u64) -> String,
    ) {
        let mut above: Option<Made> = None;
        let room = |column: usize| rows.iter().map(|r| width(&r[column])).max().unwrap_or(0);
        for (number, row) in rows.iter().enumerate() {
            let mut line = String::new();
            for (column, cell) in row.iter().enumerate() {
                let blank = " ".repeat(room(column) - width(cell));
                if column == 7 {
                    line.push_str(cell);
                } else {
                    line.push_str(&format!("{blank}{cell}  "));
                }
            }
            self.out.push_str(&paragraph_or(&line, self.most));
            if let Some(a) = number.checked_sub(1).and_then(|n| arrangements.get(n)) {
                let lead = "     ";
                let made = Made::of(a, at);
                let differs = above
                    .as_ref()
                    .map_or(String::new(), |above| format!(" ({})", made.differs(above)));
                let words = clean(&format!("{}{differs}", made.words()));
                self.out.push_str(&paragraph(&words, self.most, lead, lead));
                above = Some(made);
            }
        }
        self.out.push('\n');
    }
}

/// A line as it stands, or broken where the page ends.
fn paragraph_or(line: &str, most: usize) -> String {
    if width(line) <= most {
        format!("{}\n", line.trim_end())
    } else {
        paragraph(line, most, "", "     ")
    }
}

/// What an arrangement is made of: where it is cut, where it is fed and through what.
#[derive(PartialEq)]
struct Made {
    cuts: Vec<String>,
    feeds: Vec<String>,
    wires: Vec<String>,
}

impl Made {
    fn of(a: &Arrangement, at: &dyn Fn(u64) -> String) -> Self {
        let segments = &a.plan.segments;
        let feeds = || segments.iter().flat_map(|segment| &segment.feeds);
        Self {
            cuts: segments
                .iter()
                .skip(1)
                .map(|segment| at(segment.from))
                .collect(),
            feeds: feeds().map(|feed| at(feed.at)).collect(),
            wires: feeds().map(|feed| feed.cable.clone()).collect(),
        }
    }

    /// `cut at 5.95 m; fed at 1.00 m, 8.30 m, each through 2 x 1.5 mm2`.
    fn words(&self) -> String {
        let cuts = match self.cuts.is_empty() {
            true => "in one piece".to_string(),
            false => format!("cut at {}", self.cuts.join(", ")),
        };
        let first = self.wires.first();
        let feeds = match first {
            Some(wire) if self.wires.iter().all(|other| other == wire) => {
                let each = if self.wires.len() > 1 { ", each" } else { "" };
                format!("{}{each} through {wire}", self.feeds.join(", "))
            }
            _ => {
                let each = self.feeds.iter().zip(&self.wires);
                let each = each.map(|(at, wire)| format!("{at} through {wire}"));
                each.collect::<Vec<_>>().join(", ")
            }
        };
        format!("{cuts}; fed at {feeds}")
    }

    /// Each wire once.
    fn kinds(&self) -> BTreeSet<&str> {
        self.wires.iter().map(String::as_str).collect()
    }

    /// In what it differs from the row above: `cuts and wires`; empty where that shows in nothing that is printed.
    fn differs(&self, above: &Self) -> String {
        let parts = [
            (self.cuts != above.cuts, "cuts"),
            (self.feeds != above.feeds, "feeds"),
            (self.kinds() != above.kinds(), "wires"),
        ];
        let parts: Vec<&str> = parts
            .iter()
            .filter(|(differ, _)| *differ)
            .map(|(_, what)| *what)
            .collect();
        match parts.as_slice() {
            [] => "another place or way of feeding than the row above".to_string(),
            [one] => format!("other {one} than the row above"),
            [first @ .., last] => {
                format!("other {} and {last} than the row above", first.join(", "))
            }
        }
    }
}
