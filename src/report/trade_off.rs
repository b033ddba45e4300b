//! The trade-off of a run as text: what each arrangement costs more, and what is known of it.

use super::cautions::CAUTIONS;
use super::wrap::{clean, paragraph, width};
use crate::choose::feeding::{Arrangement, Standing, TradeOff, TradeOffEnd};
use crate::job::Job;
use crate::quantity::Money;
use std::collections::BTreeMap;

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
    if answer.arrangements.is_empty() {
        page.paragraph(nothing(answer));
    } else {
        page.table(&rows, &answer.arrangements);
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
    fn table(&mut self, rows: &[[String; 8]], arrangements: &[Arrangement]) {
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
                self.out
                    .push_str(&paragraph(&clean(&made_of(a)), self.most, lead, lead));
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

/// `2 feeds through 2 x 1.5 mm2 (one point inside); 1 …`.
fn made_of(a: &Arrangement) -> String {
    let mut all: BTreeMap<(&str, &str), usize> = BTreeMap::new();
    for segment in &a.plan.segments {
        for feed in &segment.feeds {
            *all.entry((segment.pattern.words(), &feed.cable))
                .or_default() += 1;
        }
    }
    let told = all.into_iter().map(|((way, cable), count)| {
        let feeds = if count == 1 { "feed" } else { "feeds" };
        format!("{count} {feeds} through {cable} ({way})")
    });
    told.collect::<Vec<_>>().join("; ")
}
