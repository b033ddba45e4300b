//! Schedules as CSV.

use super::schedule::Schedule;

/// A schedule as CSV: a line of headings, then a line a row; every figure in a column of its
/// own, the unit in the heading, a point for the decimals.
///
/// Words are quoted, figures are not. A cell that a spreadsheet could take for a formula
/// (it opens with `=`, `+`, `-`, `@`, a tab or a line end, and is no plain number) is led by
/// an apostrophe. Format: RFC 4180, with line feeds.
#[must_use]
pub fn csv(schedule: &Schedule) -> String {
    sheet(schedule, None)
}

/// The same with a last row that says which design it is of: `fingerprint` and its digits in the first cell, the others empty.
pub(super) fn sealed(schedule: &Schedule, fingerprint: &str) -> String {
    sheet(schedule, Some(&format!("fingerprint {fingerprint}")))
}

fn sheet(schedule: &Schedule, last: Option<&str>) -> String {
    let mut writer = ::csv::WriterBuilder::new()
        .quote_style(::csv::QuoteStyle::NonNumeric)
        .from_writer(Vec::new());
    let headings = schedule.columns.iter().map(|column| column.key.as_str());
    let mut written = writer.write_record(headings).is_ok();
    for row in &schedule.rows {
        // A row is as long as the headings, whatever was given.
        let fields =
            (0..schedule.columns.len()).map(|n| guard(row.get(n).map_or("", super::Cell::written)));
        written &= writer.write_record(fields).is_ok();
    }
    if let Some(last) = last {
        let fields = (0..schedule.columns.len()).map(|n| if n == 0 { last } else { "" });
        written &= writer.write_record(fields).is_ok();
    }
    match writer.into_inner() {
        Ok(bytes) if written => String::from_utf8_lossy(&bytes).into_owned(),
        // Writing to memory does not fail; if it did, half a schedule would be worse than none.
        _ => String::new(),
    }
}

/// The cell, with an apostrophe before what a spreadsheet would run.
fn guard(cell: &str) -> String {
    let opens = |c: char| {
        matches!(
            c,
            '=' | '+' | '-' | '@' | '\t' | '\r' | '\n' | '＝' | '＋' | '－' | '＠'
        )
    };
    let first = cell.chars().next();
    let shown = cell.trim_start().chars().next();
    let risky = first.is_some_and(opens) || shown.is_some_and(opens);
    if risky && !is_plain_number(cell) {
        format!("'{cell}")
    } else {
        cell.to_string()
    }
}

/// `-12.5`, `+3`, `1e-9`: a sign, digits, a point, an exponent, and nothing else.
fn is_plain_number(text: &str) -> bool {
    text.bytes()
        .all(|b| b.is_ascii_digit() || matches!(b, b'.' | b'-' | b'+' | b'e' | b'E'))
        && text.parse::<f64>().is_ok()
}

#[cfg(test)]
mod tests {
    use super::guard;

    #[test]
    fn formulas_are_disarmed_and_numbers_are_not() {
        for (cell, written) in [
            ("=cmd()", "'=cmd()"),
            ("  =cmd()", "'  =cmd()"),
            ("+1+1", "'+1+1"),
            ("-12.5", "-12.5"),
            ("+3", "+3"),
            ("1e-9", "1e-9"),
            ("-inf", "'-inf"),
            ("-", "'-"),
            ("@SUM(A1)", "'@SUM(A1)"),
            ("\t=1", "'\t=1"),
            ("\rx", "'\rx"),
            ("＝1", "'＝1"),
            ("plain", "plain"),
            ("", ""),
        ] {
            assert_eq!(guard(cell), written);
        }
    }
}
