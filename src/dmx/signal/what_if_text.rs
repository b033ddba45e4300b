//! The margins of a what-if as text.

use super::what_if::WhatIf;
use std::fmt;

/// Columns are lettered; from the 27th on they are numbered.
fn key(column: usize) -> String {
    match u8::try_from(column) {
        Ok(at @ 0..26) => char::from(b'A' + at).to_string(),
        _ => (column + 1).to_string(),
    }
}

fn cell(margin: Option<f64>) -> String {
    match margin {
        Some(volts) if volts >= 0.0 => format!("{volts:.2} "),
        Some(volts) => format!("{volts:.2}!"),
        None => "- ".to_string(),
    }
}

/// A list of the columns; then margins in volts, one line a device of the chain, the least of those that a change
/// adds, the least of all and where it is. `!` where a device does not read for certain.
impl fmt::Display for WhatIf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (column, words) in self.columns.iter().enumerate() {
            writeln!(f, "  {}  {words}", key(column))?;
        }
        let drawn = |row: &&Vec<Option<f64>>| row.first().is_some_and(Option::is_some);
        let added = self.margins.iter().filter(|row| !drawn(row)).count();
        let more = format!("{added} added, least");
        let names = self.devices.iter().map(|name| name.chars().count());
        let shown = self.signals.iter().filter_map(|signal| signal.worst());
        let cells = shown.map(|worst| worst.name.chars().count() + 2);
        let wide = names.chain([more.len()]).max().unwrap_or(0);
        let narrow = cells.max().unwrap_or(0).max(8);
        write!(f, "\n  {:wide$}", "Device")?;
        for column in 0..self.columns.len() {
            write!(f, "{:>narrow$} ", key(column))?;
        }
        writeln!(f)?;
        let mut line = |name: &str, cells: Vec<String>| {
            write!(f, "  {name:wide$}")?;
            for cell in cells {
                write!(f, "{cell:>width$}", width = narrow + 1)?;
            }
            writeln!(f)
        };
        for (name, row) in self.devices.iter().zip(&self.margins) {
            if drawn(&row) {
                line(name, row.iter().map(|margin| cell(*margin)).collect())?;
            }
        }
        let least = |of: &dyn Fn(&&Vec<Option<f64>>) -> bool, column: usize| {
            let rows = self.margins.iter().filter(|row| of(row));
            let margins = rows.filter_map(|row| row.get(column).copied().flatten());
            margins.reduce(f64::min)
        };
        let over = |of: &dyn Fn(&&Vec<Option<f64>>) -> bool| {
            let columns = 0..self.columns.len();
            columns.map(|column| cell(least(of, column))).collect()
        };
        if added > 0 {
            line(&more, over(&|row| !drawn(row)))?;
        }
        line("least of all", over(&|_| true))?;
        let places = self.signals.iter().map(|signal| {
            let worst = signal.worst();
            worst.map_or(String::new(), |worst| format!("{} ", worst.name))
        });
        line("at", places.collect())
    }
}
