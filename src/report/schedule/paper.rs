//! What of a schedule a page prints.
//!
//! ```text
//! rows that a page only counts ──► counted                columns of files only ──► left out
//! a column that says the same of every row ──► one line   no row at all ──► no schedule
//! ```

use super::{Cell, Placing, Schedule};

/// Rows from which on a column that says the same of all is told once.
const SEVERAL: usize = 2;

/// How the line begins that says what holds for all rows.
const ALL_ROWS: &str = "All rows: ";
/// How the sentence begins that stands for the only row.
const ONE_ROW: &str = "One row: ";
/// Columns up to which a row by itself stays a table.
const FEW: usize = 6;

impl Schedule {
    /// The schedule as a page prints it, without the rows that a page only counts; none where it has no row.
    pub(in crate::report) fn on_paper(&self) -> Option<Schedule> {
        if self.rows.is_empty() {
            return None;
        }
        let mut out = self.kept(|about| !about.quiet);
        let quiet = self.rows.len() - out.rows.len();
        if quiet > 0 {
            out.notes.push(format!(
                "{} {} left out here and kept in {}.csv.",
                crate::report::words::many(quiet, "row", "rows"),
                self.left_out,
                self.key
            ));
        }
        Some(out.told_once())
    }

    /// Every row as a page prints it, without some columns; none where there is no row.
    pub(in crate::report) fn in_full(&self, without: &[(&str, &str)]) -> Option<Schedule> {
        if self.rows.is_empty() {
            return None;
        }
        let mut all = self.kept(|_| true);
        for column in &mut all.columns {
            if without.contains(&(self.key, column.key.as_str())) {
                column.placing = Placing::File;
            }
        }
        Some(all.told_once())
    }

    /// Takes off every note but the line of what holds for all rows.
    pub(in crate::report) fn bare(&mut self) {
        let says = |note: &String| note.starts_with(ALL_ROWS) || note.starts_with(ONE_ROW);
        self.notes.retain(says);
    }

    /// Columns that say the same of every row become one line, a row by itself a sentence; those of files go.
    fn told_once(mut self) -> Schedule {
        let alone = self.rows.len() == 1 && self.columns.len() > FEW;
        let mut said = Vec::new();
        let mut left = Vec::new();
        for (at, column) in self.columns.iter().enumerate() {
            let cell = |row: &Vec<Cell>| {
                row.get(at)
                    .map_or(String::new(), |c| c.printed().to_string())
            };
            let first = self.rows.first().map(cell).unwrap_or_default();
            let to_fill = self
                .rows
                .iter()
                .any(|row| row.get(at) == Some(&Cell::ToFill));
            let several = self.rows.len() >= SEVERAL;
            let one = several && self.rows.iter().all(|row| cell(row) == first);
            match column.placing {
                Placing::File => {}
                _ if alone || (one && !to_fill && column.placing != Placing::Name) => {
                    let first = first.trim();
                    if !first.is_empty() && first != "-" {
                        let figure = self.rows.first().and_then(|row| row.get(at));
                        let is_figure = matches!(figure, Some(Cell::Figure { .. }));
                        let unit = if is_figure { column.unit.symbol } else { "" };
                        let blank = if unit.is_empty() { "" } else { " " };
                        said.push(format!(
                            "{} {first}{blank}{unit}",
                            said_within(column.heading)
                        ));
                    }
                }
                _ => left.push(at),
            }
        }
        if !said.is_empty() {
            let opening = if alone { ONE_ROW } else { ALL_ROWS };
            self.notes
                .insert(0, format!("{opening}{}.", said.join("; ")));
        }
        let keep = |at: &usize| left.contains(at);
        let of = |row: Vec<Cell>| {
            let cells = row.into_iter().enumerate();
            cells
                .filter(|(at, _)| keep(at))
                .map(|(_, cell)| cell)
                .collect()
        };
        let columns = self.columns.into_iter().enumerate();
        self.columns = columns
            .filter(|(at, _)| keep(at))
            .map(|(_, column)| column)
            .collect();
        self.rows = self.rows.into_iter().map(of).collect();
        if self.columns.is_empty() {
            self.rows.clear();
        }
        self
    }
}

/// A heading within a sentence: `Load nom.` becomes `load nom.`, `PWM` stays.
fn said_within(heading: &str) -> String {
    let second = heading.chars().nth(1);
    if second.is_some_and(char::is_uppercase) {
        return heading.to_string();
    }
    heading.to_lowercase()
}
