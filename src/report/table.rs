//! A schedule as a table of letters of one width.

use super::schedule::{Alignment, Cell, Column, Placing, Schedule};
use super::wrap::{longest_word, paragraph, width, wrap};

/// A column of sentences is not squeezed below this.
const SENTENCE: usize = 16;
/// A column of words is at least as wide as its longest word, up to here.
const WORD: usize = 18;
/// Schedules whose rows keep the words beneath them.
const OWN_WORDS: [&str; 2] = ["findings", "not-evaluated"];
/// Blank columns between two columns of a table.
const GAP: usize = 2;
/// A column of one part of a table, as wide as it is set.
struct Set<'a> {
    at: usize,
    column: &'a Column,
    heading: String,
    natural: usize,
    least: usize,
    wide: usize,
}

pub(super) fn table(schedule: &Schedule, most: usize, out: &mut String) {
    if schedule.rows.is_empty() {
        return;
    }
    let parts = parts(schedule, most);
    let last = parts.len().saturating_sub(1);
    for (n, part) in parts.iter().enumerate() {
        if n > 0 {
            out.push_str("The same rows, continued:\n\n");
        }
        head(part, out);
        let mut above: Option<&Vec<Cell>> = None;
        for row in &schedule.rows {
            let cells: Vec<Vec<String>> = part
                .iter()
                .map(|set| {
                    let repeats = set.column.placing == Placing::Name
                        && above.is_some_and(|above| same_names(schedule, above, row, set.at));
                    let printed = row.get(set.at).map_or("", Cell::printed);
                    wrap(if repeats { "" } else { printed }, set.wide)
                })
                .collect();
            lines(part, &cells, out);
            if n == last && beneath(schedule, (above, row), most, out) {
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
fn same_names(schedule: &Schedule, above: &[Cell], row: &[Cell], at: usize) -> bool {
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
            Placing::Beneath | Placing::File => {}
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
        column.map(Cell::printed)
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

/// What stands beneath a table.
pub(super) fn notes(schedule: &Schedule, most: usize, out: &mut String) {
    for note in &schedule.notes {
        out.push_str(&paragraph(note, most, "", "  "));
    }
    out.push_str(if schedule.notes.is_empty() { "" } else { "\n" });
}

/// Prints the sentences beneath a row that the row above does not have; says whether there were any.
fn beneath(
    schedule: &Schedule,
    (above, row): (Option<&Vec<Cell>>, &[Cell]),
    most: usize,
    out: &mut String,
) -> bool {
    let mut any = false;
    for (at, (column, cell)) in schedule.columns.iter().zip(row).enumerate() {
        // What stands beneath the row above is not said again; what was found and its remedy stand with their row.
        let again = !OWN_WORDS.contains(&schedule.key)
            && above.and_then(|above| above.get(at)) == Some(cell);
        if column.placing == Placing::Beneath && !again && !cell.printed().trim().is_empty() {
            let words = format!("{}: {}", column.heading, cell.printed());
            out.push_str(&paragraph(&words, most, "     ", "       "));
            any = true;
        }
    }
    any
}
