//! What a printed sheet is made of: numbered sources, remarks gathered by wire, aligned columns.
use evenrun::cable::{Ampacity, ConductorSize, Installation, NoTable};
use evenrun::quantity::show;
use evenrun::report::wrap;
use evenrun::source::Source;

/// Sources in the order they are first used, by number.
#[derive(Default)]
pub struct Sources(pub Vec<String>);

impl Sources {
    /// The number of a source, in brackets.
    pub fn number(&mut self, source: &Source) -> String {
        let line = source.to_string();
        let at = self.0.iter().position(|known| *known == line);
        let at = at.unwrap_or_else(|| {
            self.0.push(line);
            self.0.len() - 1
        });
        format!("[{}]", at + 1)
    }
}

/// Lines about ampacities, each with the wires that it is about.
#[derive(Default)]
pub struct Said {
    /// What was applied and assumed.
    pub notes: Vec<(String, Vec<String>)>,
    /// Where no table covers a wire, and what the table covers.
    pub refusals: Vec<(String, Vec<String>)>,
}

impl Said {
    /// Takes up what one ampacity, or its refusal, has to say.
    pub fn hear(
        &mut self,
        size: ConductorSize,
        way: Installation,
        ampacity: &Result<Ampacity, NoTable>,
        sources: &mut Sources,
    ) {
        let note = |list: &mut Vec<(String, Vec<String>)>, line: String| {
            let wire = size.to_string();
            match list.iter_mut().find(|(known, _)| *known == line) {
                Some((_, wires)) => wires.push(wire),
                None => list.push((line, vec![wire])),
            }
        };
        match ampacity {
            Ok(found) => {
                for c in &found.corrections {
                    let number = sources.number(&c.source);
                    note(
                        &mut self.notes,
                        format!("{way}, {} {number}: times {}", c.what, c.factor),
                    );
                }
                for line in &found.notes {
                    note(&mut self.notes, format!("{way}, {line}"));
                }
                if let Some(device) = &found.largest_device {
                    let number = sources.number(&device.source);
                    let most = show(device.rating);
                    note(
                        &mut self.notes,
                        format!("{way}, device at most {most} {number}"),
                    );
                }
            }
            Err(none) => note(
                &mut self.refusals,
                format!(
                    "{}\n      {}\n      covers {}",
                    none.because, none.table, none.covers
                ),
            ),
        }
    }
}

/// Columns of a page.
const PAGE: usize = 100;

/// Words broken into lines that fit the page; those after the first stand in by two more.
pub fn wrapped(text: &str, indent: usize) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let own = indent + line.len() - line.trim_start().len();
        for (k, part) in wrap(line.trim_start(), PAGE - own - 2).iter().enumerate() {
            let blanks = if k == 0 { own } else { own + 2 };
            out += &format!("{:blanks$}{part}\n", "");
        }
    }
    out
}

/// Columns padded to their widest cell, the first to the left and the others to the right; a cell may have two lines.
pub fn aligned(rows: &[Vec<String>]) -> String {
    let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
    let lines = |cell: &String| -> Vec<String> { cell.lines().map(String::from).collect() };
    let widest = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells
            .flat_map(lines)
            .map(|line| line.chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(widest).collect();
    let mut out = String::new();
    for (k, row) in rows.iter().enumerate() {
        let cells: Vec<Vec<String>> = row.iter().map(lines).collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or(0);
        for line in 0..height {
            for (column, (cell, width)) in cells.iter().zip(&widths).enumerate() {
                let text = cell.get(line).map_or("", String::as_str);
                out += &if column == 0 {
                    format!("{text:<width$}")
                } else {
                    format!("  {text:>width$}")
                };
            }
            out.push('\n');
        }
        if k == 0 {
            let whole = widths.iter().sum::<usize>() + 2 * columns.saturating_sub(1);
            out += &"-".repeat(whole);
            out.push('\n');
        }
    }
    out
}
