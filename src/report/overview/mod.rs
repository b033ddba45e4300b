//! The answers first: what fails, what each run is, what feeds it, what to buy, on two pages at most.
//!
//! ```text
//!  title, whether it is complete
//!  what fails            each with its remedy
//!  not evaluated         a line each reason
//!  what would narrow     three facts that were taken, with the plan at both ends
//!  runs                  drawn to one scale; cuts, feeds, wire, source
//!  devices               a supply a line with the decoders and addresses behind it
//!  data chains           a line each
//!  to buy                in total
//! ```

mod devices;
mod narrowing;
mod runs;

use super::cautions::CAUTION;
use super::document::{outside, title};
use super::lengths::figures;
use super::page::Page;
use super::printed::Printed;
use super::schedules::{ordered, total};
use super::words::joined;
use super::wrap::{reading_order, wrap};
use crate::design::Design;
use crate::order::Order as _;
use crate::rules;

/// Lines of one part before the rest is left to the full set.
const MOST_FAILS: usize = 6;
const MOST_OPEN: usize = 12;
const MOST_RUNS: usize = 12;
const MOST_SUPPLIES: usize = 12;
const MOST_CHAINS: usize = 4;
const MOST_ITEMS: usize = 32;
/// Columns of a reason.
const LONGEST_REASON: usize = 160;

/// The answers of a design on two pages at most, no line wider than `width` columns (60 at least): what fails, what was
/// not evaluated, each run to scale with its cuts, feeds, wires and sources, supplies, decoders and addresses, what to
/// buy in total. What does not fit is counted, and stands in [`text`](super::text) and in the schedules.
///
/// ```
/// let job = evenrun::job::read(include_str!("../../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
/// let page = evenrun::report::overview(&evenrun::plan::plan(&job), 100);
/// assert!(page.lines().count() < 120);
/// assert!(page.lines().all(|line| line.chars().count() <= 100));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn overview(design: &Design, width: usize) -> String {
    let printed = Printed::of(design);
    let mut page = Page::new(width);
    page.line("", &title(design));
    let because = printed.tally.first_words();
    page.line(
        "",
        &if because.is_empty() {
            "The plan answers everything the job asks for.".to_string()
        } else {
            format!("NOT COMPLETE: {}.", joined(because, ", "))
        },
    );
    page.line("", CAUTION);
    fails(&printed, &mut page);
    open(&printed, &mut page);
    let outside = outside(&printed);
    page.part(
        "Outside this calculation",
        outside.len(),
        usize::MAX,
        |page| {
            page.line("  ", &outside);
        },
    );
    narrowing::narrowing(design, &mut page);
    runs::runs(design, &mut page);
    devices::supplies(design, &mut page);
    devices::chains(design, &mut page);
    let items: Vec<String> = ordered(design)
        .map(|item| figures(design.job.units, &item))
        .collect();
    page.part("To buy", items.len(), MOST_ITEMS, |page| {
        for item in items.iter().take(MOST_ITEMS) {
            page.line("  ", item);
        }
        let total = total(design);
        page.line("  ", &format!("{}.", total.trim_end_matches('.')));
    });
    page.text
}

fn fails(printed: &Printed<'_>, page: &mut Page) {
    let all = || printed.findings.iter().filter(|finding| finding.is_fail());
    page.part("What fails", all().count(), MOST_FAILS, |page| {
        for finding in all().take(MOST_FAILS) {
            let mut text = format!("{}: {}", finding.place, finding.says.trim_end_matches('.'));
            if !finding.figure.is_empty() && !finding.limit.is_empty() {
                text.push_str(&format!(
                    ". Found {}, required {}",
                    finding.figure, finding.limit
                ));
            }
            if !finding.remedy.is_empty() {
                text.push_str(&format!(". Remedy: {}", finding.remedy));
            }
            page.line("  ", &text);
        }
    });
}

/// The opening of a long reason, whole words.
fn opening(text: &str) -> String {
    let lines = wrap(text, LONGEST_REASON);
    match lines.as_slice() {
        [only] => only.clone(),
        [first, ..] => format!("{first} …"),
        [] => String::new(),
    }
}

/// One line a rule and reason, those that concern most places first.
fn open(printed: &Printed<'_>, page: &mut Page) {
    let mut groups: Vec<(&str, &str, u64)> = Vec::new();
    for finding in printed.findings.iter() {
        if !finding.is_not_evaluated() || finding.is_outside() {
            continue;
        }
        let asks = rules::find(finding.rule.as_str()).map_or("", |rule| rule.title);
        let because = finding.because();
        match groups.iter_mut().find(|g| g.0 == asks && g.1 == because) {
            Some(group) => group.2 += finding.places,
            None => groups.push((asks, because, finding.places)),
        }
    }
    groups.order_by(|a, b| b.2.cmp(&a.2).then_with(|| reading_order(a.0, b.0)));
    page.part("Not evaluated", groups.len(), MOST_OPEN, |page| {
        for (asks, because, places) in groups.iter().take(MOST_OPEN) {
            let places = match places {
                1 => String::new(),
                several => format!(" ({several} places)"),
            };
            page.line("  ", &format!("{asks}{places}: {}", opening(because)));
        }
    });
}
