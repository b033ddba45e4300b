//! Two texts, line by line: how many lines differ, and the first place where they do.

use std::fmt::Write;

/// Lines shown before and after the first that differ.
const CONTEXT: usize = 2;
/// Lines shown of one side at the first difference.
const MOST: usize = 6;
/// Columns shown of a line.
const WIDTH: usize = 140;
/// Cells of the table of common lines; above, every line between first and last difference counts.
const CELLS: usize = 25_000_000;

/// What differs between two texts.
pub struct Difference {
    /// Lines of the old text that the new one lacks.
    pub gone: usize,
    /// Lines of the new text that the old one lacks.
    pub added: usize,
    /// The first that differ, old with `-` and new with `+`, between lines that agree.
    pub first: String,
}

/// Nothing where the bytes are the same.
pub fn difference(old: &[u8], new: &[u8]) -> Option<Difference> {
    if old == new {
        return None;
    }
    let (old, new) = (String::from_utf8_lossy(old), String::from_utf8_lossy(new));
    let (old, new): (Vec<&str>, Vec<&str>) = (old.split('\n').collect(), new.split('\n').collect());
    let pairs = old.iter().zip(&new);
    let head = pairs.take_while(|(a, b)| a == b).count();
    let (old_rest, new_rest) = (&old[head..], &new[head..]);
    let pairs = old_rest.iter().rev().zip(new_rest.iter().rev());
    let tail = pairs.take_while(|(a, b)| a == b).count();
    let middle_old = &old_rest[..old_rest.len() - tail];
    let middle_new = &new_rest[..new_rest.len() - tail];
    let common = common(middle_old, middle_new);
    // The first hunk ends where both texts agree again.
    let (gone_first, added_first) = common
        .first()
        .copied()
        .unwrap_or((middle_old.len(), middle_new.len()));
    let mut first = String::new();
    let from = head.saturating_sub(CONTEXT);
    for (n, line) in old.iter().enumerate().take(head).skip(from) {
        put(&mut first, n, ' ', line, 0);
    }
    let (removed, put_in) = (&middle_old[..gone_first], &middle_new[..added_first]);
    let from_column = column(removed.first(), put_in.first());
    for (sign, lines) in [('-', removed), ('+', put_in)] {
        for (n, line) in lines.iter().enumerate().take(MOST) {
            put(&mut first, head + n, sign, line, from_column);
        }
        if lines.len() > MOST {
            let _ = writeln!(first, "         {sign} ({} more lines)", lines.len() - MOST);
        }
    }
    let after = head + added_first;
    for (n, line) in new.iter().enumerate().skip(after).take(CONTEXT) {
        put(&mut first, n, ' ', line, 0);
    }
    Some(Difference {
        gone: middle_old.len() - common.len(),
        added: middle_new.len() - common.len(),
        first,
    })
}

/// The column from which two long lines are shown, so that what differs is in sight.
fn column(old: Option<&&str>, new: Option<&&str>) -> usize {
    let (Some(old), Some(new)) = (old, new) else {
        return 0;
    };
    let pairs = old.chars().zip(new.chars());
    let same = pairs.take_while(|(a, b)| a == b).count();
    if same < WIDTH / 2 {
        0
    } else {
        same - WIDTH / 4
    }
}

fn put(page: &mut String, number: usize, sign: char, line: &str, from: usize) {
    let mut shown: String = line.chars().skip(from).take(WIDTH).collect();
    if line.chars().count() > from + WIDTH {
        shown.push('…');
    }
    let before = if from > 0 { "…" } else { "" };
    // White space at an end is as much a difference as a letter.
    let shown = shown.replace('\r', "\\r").replace('\t', "\\t");
    let kept = shown.trim_end_matches(' ');
    let blanks = "·".repeat(shown.len() - kept.len());
    let _ = writeln!(page, "  {:>6} {sign} {before}{kept}{blanks}", number + 1);
}

/// A longest common subsequence of lines, as pairs of their places.
fn common(old: &[&str], new: &[&str]) -> Vec<(usize, usize)> {
    let columns = new.len() + 1;
    if old.is_empty() || new.is_empty() || (old.len() + 1) * columns > CELLS {
        return Vec::new();
    }
    let mut longest = vec![0_u32; (old.len() + 1) * columns];
    for i in (0..old.len()).rev() {
        for j in (0..new.len()).rev() {
            longest[i * columns + j] = if old[i] == new[j] {
                longest[(i + 1) * columns + j + 1] + 1
            } else {
                longest[(i + 1) * columns + j].max(longest[i * columns + j + 1])
            };
        }
    }
    let (mut i, mut j, mut pairs) = (0, 0, Vec::new());
    while i < old.len() && j < new.len() {
        if old[i] == new[j] {
            pairs.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if longest[(i + 1) * columns + j] >= longest[i * columns + j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}

#[test]
fn the_same_bytes_do_not_differ() {
    assert!(difference(b"a\nb\n", b"a\nb\n").is_none());
}

#[test]
fn lines_put_in_and_taken_out_are_counted_once() {
    let found = difference(b"a\nb\nc\nd\ne\nf\n", b"a\nb\nc\nX\nY\ne\ng\nf\n").expect("it differs");
    assert_eq!((found.gone, found.added), (1, 3));
    let lines: Vec<&str> = found.first.lines().map(str::trim_start).collect();
    assert_eq!(
        lines,
        [
            "2   b", "3   c", "4 - d", "4 + X", "5 + Y", "6   e", "7   g"
        ]
    );
}

#[test]
fn a_missing_end_of_line_and_a_blank_are_seen() {
    let found = difference(b"a\nb\n", b"a\nb").expect("it differs");
    assert_eq!((found.gone, found.added), (1, 0));
    let found = difference(b"a \n", b"a\r\n").expect("it differs");
    assert!(found.first.contains("- a·\n") && found.first.contains("+ a\\r\n"));
}
