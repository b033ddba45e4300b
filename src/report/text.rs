//! The design as text for a screen or a printer with letters of one width.

use super::document::{Block, blocks};
use super::schedule::{Alignment, Column, Placing, Schedule};
use super::wrap::{longest_word, paragraph, width, wrap};
use crate::design::Design;

/// No table is set narrower than this.
const NARROWEST: usize = 60;
/// Blank columns between two columns of a table.
const GAP: usize = 2;
/// A column of words is at least as wide as its longest word, up to here.
const WORD: usize = 18;
/// A column of sentences is not squeezed below this.
const SENTENCE: usize = 16;

/// The design as text, no line wider than `width` columns.
///
/// A table too wide for the page is printed in parts, one beneath the other, the names of
/// its rows repeated; sentences (a remedy, a reason) stand beneath their row in full width.
/// A `width` below 60 counts as 60. Control characters and marks that turn text around are
/// made visible, so that no name in a job can disturb the page.
///
/// Time and memory are near-linear in the design.
///
/// ```
/// let job = evenrun::job::read(include_str!("../../examples/archive_wing.toml"), "demo.toml").map_err(|f| f.to_string())?;
/// let design = evenrun::plan::plan(&job);
/// let page = evenrun::report::text(&design, 100);
/// assert!(page.starts_with("Archive wing, reading room and foyer\n===="));
/// assert!(page.lines().all(|line| line.chars().count() <= 100));
/// # Ok::<(), String>(())
/// ```
#[must_use]
pub fn text(design: &Design, width: usize) -> String {
    let most = width.max(NARROWEST);
    let mut out = String::new();
    let mut section = 0;
    for block in blocks(design) {
        match block {
            Block::Title(title) => {
                out.push_str(&paragraph(&title, most, "", ""));
                let underline = super::wrap::width(&title).min(most);
                out.push_str(&"=".repeat(underline));
                out.push_str("\n\n");
            }
            Block::Heading(heading) => {
                out.push_str(&heading.to_uppercase());
                out.push_str("\n\n");
            }
            Block::Paragraph(words) => {
                out.push_str(&paragraph(&words, most, "", ""));
                out.push('\n');
            }
            Block::Points(points) => {
                for point in points {
                    out.push_str(&paragraph(&point, most, "  - ", "    "));
                }
                out.push('\n');
            }
            Block::Numbered(points) => {
                for (n, point) in points.iter().enumerate() {
                    let first = format!("{:>3}. ", n + 1);
                    out.push_str(&paragraph(point, most, &first, "     "));
                }
                out.push('\n');
            }
            Block::Pairs(pairs) => {
                for (word, words) in pairs {
                    let first = format!("  {word:<10}");
                    out.push_str(&paragraph(&words, most, &first, "            "));
                }
                out.push('\n');
            }
            Block::Warnings(warnings) => {
                for (title, words) in warnings {
                    out.push_str(&paragraph(
                        &format!("{}. {words}", title.to_uppercase()),
                        most,
                        "  ! ",
                        "    ",
                    ));
                }
                out.push('\n');
            }
            Block::Table(schedule) => {
                section += 1;
                let heading = format!("{section}  {}", schedule.title.to_uppercase());
                out.push_str(&heading);
                out.push('\n');
                out.push_str(&"-".repeat(self::width(&heading)));
                out.push_str("\n\n");
                out.push_str(&paragraph(&schedule.intro, most, "", ""));
                out.push('\n');
                table(&schedule, most, &mut out);
                for note in &schedule.notes {
                    out.push_str(&paragraph(note, most, "Note: ", "      "));
                }
                out.push_str(if schedule.notes.is_empty() { "" } else { "\n" });
            }
        }
    }
    out
}

/// A column of one part of a table, as wide as it is set.
struct Set<'a> {
    at: usize,
    column: &'a Column,
    heading: String,
    natural: usize,
    least: usize,
    wide: usize,
}

fn table(schedule: &Schedule, most: usize, out: &mut String) {
    if schedule.rows.is_empty() {
        out.push_str("None.\n\n");
        return;
    }
    let parts = parts(schedule, most);
    let last = parts.len().saturating_sub(1);
    for (n, part) in parts.iter().enumerate() {
        if n > 0 {
            out.push_str("The same rows, continued:\n\n");
        }
        head(part, out);
        let mut above: Option<&Vec<super::Cell>> = None;
        for row in &schedule.rows {
            let cells: Vec<Vec<String>> = part
                .iter()
                .map(|set| {
                    let repeats = set.column.placing == Placing::Name
                        && above.is_some_and(|above| same_names(schedule, above, row, set.at));
                    let printed = row.get(set.at).map_or("", super::Cell::printed);
                    wrap(if repeats { "" } else { printed }, set.wide)
                })
                .collect();
            lines(part, &cells, out);
            if n == last && beneath(schedule, row, most, out) {
                out.push('\n');
            }
            above = Some(row);
        }
        if !out.ends_with("\n\n") {
            out.push('\n');
        }
    }
}

/// Whether two rows bear the same names in every naming column up to `at`.
fn same_names(schedule: &Schedule, above: &[super::Cell], row: &[super::Cell], at: usize) -> bool {
    let names = schedule.columns.iter().enumerate().take(at + 1);
    names
        .filter(|(_, column)| column.placing == Placing::Name)
        .all(|(n, _)| above.get(n) == row.get(n))
}

/// The columns in parts that fit the page, each opened by the naming columns.
fn parts(schedule: &Schedule, most: usize) -> Vec<Vec<Set<'_>>> {
    let measured = |at: usize, column| measure(schedule, at, column, most);
    let mut names: Vec<usize> = Vec::new();
    let mut across: Vec<usize> = Vec::new();
    for (at, column) in schedule.columns.iter().enumerate() {
        match column.placing {
            Placing::Name => names.push(at),
            Placing::Across => across.push(at),
            Placing::Beneath => {}
        }
    }
    let make = |at: &usize| {
        schedule
            .columns
            .get(*at)
            .map(|column| measured(*at, column))
    };
    let opening = || names.iter().filter_map(make).collect::<Vec<_>>();
    let mut parts = vec![opening()];
    for at in &across {
        let Some(set) = make(at) else { continue };
        let Some(part) = parts.last_mut() else {
            continue;
        };
        let taken: usize = part.iter().map(|set| set.least + GAP).sum();
        if taken + set.least <= most || part.len() <= names.len() {
            part.push(set);
        } else {
            let mut next = opening();
            next.push(set);
            parts.push(next);
        }
    }
    for part in &mut parts {
        spread(part, most);
    }
    parts
}

fn measure<'a>(schedule: &Schedule, at: usize, column: &'a Column, most: usize) -> Set<'a> {
    let heading = column.printed();
    let cells = || {
        let column = schedule.rows.iter().filter_map(move |row| row.get(at));
        column.map(super::Cell::printed)
    };
    let widest = cells().map(width).max().unwrap_or(0);
    let words = cells().map(longest_word).max().unwrap_or(0);
    let (natural, least) = match column.alignment {
        // A figure is never broken; its heading is, between words.
        Alignment::Right => {
            let least = widest.max(longest_word(&heading)).min(most / 4);
            (least, least)
        }
        Alignment::Left => {
            let natural = widest.max(longest_word(&heading));
            let least = words.max(longest_word(&heading)).min(WORD);
            (natural, least.max(natural.min(SENTENCE)))
        }
    };
    Set {
        at,
        column,
        heading,
        natural: natural.max(4),
        least: least.max(4),
        wide: least.max(4),
    }
}

/// Gives the room left to the columns that want more, evenly.
fn spread(part: &mut [Set<'_>], most: usize) {
    let taken: usize = part.iter().map(|set| set.least + GAP).sum();
    let mut left = (most + GAP).saturating_sub(taken);
    while left > 0 {
        let wanting = part.iter().filter(|set| set.wide < set.natural).count();
        if wanting == 0 {
            break;
        }
        let each = (left / wanting).max(1);
        for set in part.iter_mut() {
            let more = each.min(set.natural - set.wide).min(left);
            set.wide += more;
            left -= more;
        }
    }
}

fn head(part: &[Set<'_>], out: &mut String) {
    let mut cells: Vec<Vec<String>> = part
        .iter()
        .map(|set| wrap(&set.heading, set.wide))
        .collect();
    // Headings stand on the rule.
    let tallest = cells.iter().map(Vec::len).max().unwrap_or(1);
    for cell in &mut cells {
        let missing = tallest - cell.len();
        cell.splice(0..0, std::iter::repeat_n(String::new(), missing));
    }
    lines(part, &cells, out);
    let rule: Vec<String> = part.iter().map(|set| "-".repeat(set.wide)).collect();
    out.push_str(&rule.join(&" ".repeat(GAP)));
    out.push('\n');
}

fn lines(part: &[Set<'_>], cells: &[Vec<String>], out: &mut String) {
    let tallest = cells.iter().map(Vec::len).max().unwrap_or(0);
    for n in 0..tallest {
        let mut line = String::new();
        for (set, cell) in part.iter().zip(cells) {
            let words = cell.get(n).map_or("", String::as_str);
            let blank = " ".repeat(set.wide.saturating_sub(width(words)));
            if !line.is_empty() {
                line.push_str(&" ".repeat(GAP));
            }
            match set.column.alignment {
                Alignment::Left => line.extend([words, &blank]),
                Alignment::Right => line.extend([&blank, words]),
            }
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

/// Prints the sentences beneath a row; says whether there were any.
fn beneath(schedule: &Schedule, row: &[super::Cell], most: usize, out: &mut String) -> bool {
    let mut any = false;
    for (column, cell) in schedule.columns.iter().zip(row) {
        if column.placing == Placing::Beneath && !cell.printed().trim().is_empty() {
            let words = format!("{}: {}", column.heading, cell.printed());
            out.push_str(&paragraph(&words, most, "     ", "       "));
            any = true;
        }
    }
    any
}
