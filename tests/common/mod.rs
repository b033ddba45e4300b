//! Reading the reference tables under `tests/reference`.
#![allow(dead_code, reason = "each test binary uses its own part")]

use std::collections::BTreeMap;
use std::path::Path;

/// One row of a reference table, by column name.
#[derive(Debug, Clone)]
pub struct Row {
    /// Line in the file, for messages.
    pub line: u64,
    cells: BTreeMap<String, String>,
}

impl Row {
    /// The text of a column; a missing column fails the test.
    pub fn text(&self, column: &str) -> &str {
        self.cells
            .get(column)
            .unwrap_or_else(|| panic!("line {}: no column `{column}`", self.line))
    }

    /// The number in a column; a cell that is no number fails the test.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|_| panic!("line {}: {column} is `{text}`, no number", self.line))
    }

    /// The number in a column, or none where the cell is empty.
    pub fn optional(&self, column: &str) -> Option<f64> {
        (!self.text(column).is_empty()).then(|| self.number(column))
    }

    /// Whether the row may be asserted: `seen` or `computed`, never `memory`.
    pub fn may_be_asserted(&self) -> bool {
        matches!(self.text("status"), "seen" | "computed")
    }
}

/// The rows of `tests/reference/<path>`; fails when there are fewer than `at_least`.
pub fn rows(path: &str, at_least: usize) -> Vec<Row> {
    let full = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/reference")
        .join(path);
    let mut reader =
        csv::Reader::from_path(&full).unwrap_or_else(|error| panic!("{path}: {error}"));
    let names: Vec<String> = reader
        .headers()
        .unwrap_or_else(|error| panic!("{path}: {error}"))
        .iter()
        .map(String::from)
        .collect();
    let mut rows = Vec::new();
    for record in reader.records() {
        let record = record.unwrap_or_else(|error| panic!("{path}: {error}"));
        let line = record.position().map_or(0, csv::Position::line);
        let cells = names
            .iter()
            .cloned()
            .zip(record.iter().map(String::from))
            .collect();
        rows.push(Row { line, cells });
    }
    assert!(
        rows.len() >= at_least,
        "{path}: {} rows where {at_least} are expected",
        rows.len()
    );
    rows
}

/// Fails unless two numbers agree to a relative tolerance (or both are zero).
pub fn assert_relative(what: &str, found: f64, expected: f64, tolerance: f64) {
    let scale = expected.abs().max(found.abs());
    assert!(
        (found - expected).abs() <= tolerance * scale,
        "{what}: found {found}, expected {expected}, relative tolerance {tolerance}"
    );
}

/// Fails unless two numbers agree to an absolute tolerance.
pub fn assert_within(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{what}: found {found}, expected {expected}, tolerance {tolerance}"
    );
}
