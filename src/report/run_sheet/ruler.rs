//! The run in characters to scale, its marks beneath.

use super::Own;
use crate::design::Design;
use crate::exact::ExactLength;
use crate::report::drawing::drawing;
use crate::report::lengths::length;
use crate::report::page::Page;
use crate::report::wrap::width;
use std::collections::BTreeSet;

/// Columns before the drawing.
const INDENT: usize = 2;
/// Columns kept free behind it, for the last mark and what the marks are.
const BEHIND: usize = 32;

pub(super) fn ruler(design: &Design, own: &Own<'_>, page: &mut Page) {
    let columns = page.width.saturating_sub(INDENT + BEHIND);
    let strip = design.strip(&own.run.strip);
    let last = own.segments.iter().map(|segment| segment.last).max();
    let (Some(strip), Some(last)) = (strip, last) else {
        return;
    };
    let units = design.job.units;
    let line = drawing(&own.segments, &own.feeds, columns);
    let drawn = line.chars().count();
    page.text
        .push_str(&format!("\n{}{line}\n", " ".repeat(INDENT)));
    let whole = strip.pitch.length_of(last).nanometres().max(1) as f64;
    let column = |at: ExactLength| {
        let share = at.nanometres() as f64 / whole;
        ((share * (drawn - 1) as f64).round() as usize).min(drawn - 1)
    };
    let mut put = |what: &str, marks: BTreeSet<ExactLength>| {
        if marks.is_empty() {
            return;
        }
        let said = marks.into_iter().map(|at| (column(at), length(units, at)));
        for (number, line) in lines(said).iter().enumerate() {
            let what = if number == 0 { what } else { "" };
            let line = format!("{line}  {what}");
            page.text
                .push_str(&format!("{}{}\n", " ".repeat(INDENT), line.trim_end()));
        }
    };
    let cuts = own.segments.iter().map(|s| strip.pitch.length_of(s.last));
    let starts = own.segments.iter().map(|s| strip.pitch.length_of(s.first));
    put("ends and cuts", starts.chain(cuts).collect());
    put(
        "feeds",
        own.feeds.iter().map(|feed| feed.position).collect(),
    );
    let cuts: BTreeSet<ExactLength> = own
        .segments
        .iter()
        .map(|s| strip.pitch.length_of(s.first))
        .collect();
    let joined = own.pieces.iter().map(|piece| piece.from);
    put(
        "pieces joined",
        joined.filter(|at| !cuts.contains(at)).collect(),
    );
}

/// Words at their columns, on as few lines as hold them apart.
fn lines(marks: impl Iterator<Item = (usize, String)>) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for (at, words) in marks {
        let fits = |line: &&mut String| line.is_empty() || width(line) < at;
        let line = match out.iter_mut().find(fits) {
            Some(line) => line,
            None => {
                out.push(String::new());
                let Some(last) = out.last_mut() else { continue };
                last
            }
        };
        let blank = at.saturating_sub(width(line));
        line.push_str(&" ".repeat(blank));
        line.push_str(&words);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::lines;

    #[test]
    fn words_that_would_touch_take_another_line() {
        let marks = [(0, "0.00"), (3, "0.50"), (10, "1.00")];
        let marks = marks.map(|(at, words)| (at, words.to_string()));
        assert_eq!(lines(marks.into_iter()), ["0.00      1.00", "   0.50"]);
    }
}
