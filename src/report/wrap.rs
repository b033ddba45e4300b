//! Text that fits: what is safe to print, how wide it is, where a line breaks.

use unicode_width::UnicodeWidthStr;

/// Columns that a text takes on a screen or on paper with letters of one width.
pub(super) fn width(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// The text without anything that moves the pen: control characters become their visible
/// pictures (a line feed is `␊`), marks that turn or hide text become `\u{fffd}`.
pub(crate) fn clean(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '\0'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{fffd}'),
            '\u{7f}' => '\u{2421}',
            '\u{80}'..='\u{9f}'
            | '\u{ad}'
            | '\u{61c}'
            | '\u{200b}'
            | '\u{200e}'
            | '\u{200f}'
            | '\u{2028}'..='\u{202e}'
            | '\u{2060}'..='\u{206f}'
            | '\u{feff}'
            | '\u{fff9}'..='\u{fffb}' => '\u{fffd}',
            c => c,
        })
        .collect()
}

/// Breaks a text at blanks into lines of at most `most` columns; a word that is longer is
/// broken where it reaches the edge. Never empty: no text is one empty line. At least four columns are taken.
///
/// ```
/// use evenrun::report::wrap;
/// assert_eq!(wrap("read this list first", 12), ["read this", "list first"]);
/// ```
#[must_use]
pub fn wrap(text: &str, most: usize) -> Vec<String> {
    let most = most.max(4);
    if width(text) <= most {
        return vec![text.trim_end().to_string()];
    }
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        for piece in pieces(word, most) {
            let blank = usize::from(!line.is_empty());
            if !line.is_empty() && width(&line) + blank + width(&piece) > most {
                lines.push(std::mem::take(&mut line));
            } else if blank == 1 {
                line.push(' ');
            }
            line.push_str(&piece);
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// A word in pieces of at most `most` columns.
fn pieces(word: &str, most: usize) -> Vec<String> {
    if width(word) <= most {
        return vec![word.to_string()];
    }
    let mut out = Vec::new();
    let mut piece = String::new();
    let mut letters = 0;
    for c in word.chars() {
        piece.push(c);
        letters += 1;
        // Marks of no width would let a piece grow without end.
        if letters > 1 && (width(&piece) > most || letters > 4 * most) {
            piece.pop();
            out.push(std::mem::replace(&mut piece, c.to_string()));
            letters = 1;
        }
    }
    out.push(piece);
    out
}

/// Columns of the longest word.
pub(super) fn longest_word(text: &str) -> usize {
    text.split_whitespace().map(width).max().unwrap_or(0)
}

/// A paragraph of at most `most` columns: `first` before its first line, `then` before the others.
pub(super) fn paragraph(text: &str, most: usize, first: &str, then: &str) -> String {
    let room = most.saturating_sub(width(first).max(width(then)));
    let mut out = String::new();
    for (n, line) in wrap(text, room).iter().enumerate() {
        let lead = if n == 0 { first } else { then };
        out.push_str(format!("{lead}{line}").trim_end());
        out.push('\n');
    }
    out
}

/// Orders texts as a reader does: `A2` before `A10`.
pub(crate) fn reading_order(a: &str, b: &str) -> std::cmp::Ordering {
    use std::cmp::Ordering;
    let (mut left, mut right) = (a, b);
    while let (Some(l), Some(r)) = (left.chars().next(), right.chars().next()) {
        let step = if l.is_ascii_digit() && r.is_ascii_digit() {
            let (digits_l, digits_r) = (leading_digits(left), leading_digits(right));
            let (value_l, value_r) = (
                digits_l.trim_start_matches('0'),
                digits_r.trim_start_matches('0'),
            );
            left = left.get(digits_l.len()..).unwrap_or("");
            right = right.get(digits_r.len()..).unwrap_or("");
            value_l
                .len()
                .cmp(&value_r.len())
                .then_with(|| value_l.cmp(value_r))
        } else {
            left = left.get(l.len_utf8()..).unwrap_or("");
            right = right.get(r.len_utf8()..).unwrap_or("");
            l.cmp(&r)
        };
        if step != Ordering::Equal {
            return step;
        }
    }
    left.len().cmp(&right.len()).then_with(|| a.cmp(b))
}

fn leading_digits(text: &str) -> &str {
    let end = text
        .find(|c: char| !c.is_ascii_digit())
        .unwrap_or(text.len());
    text.get(..end).unwrap_or("")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cmp::Ordering;

    #[test]
    fn lines_fit_and_lose_no_letter() {
        let text =
            "the quick 東京東京東京 brown averyveryverylongword jumps e\u{301}e\u{301}e\u{301}";
        for most in 4..40 {
            let lines = wrap(text, most);
            assert!(
                lines.iter().all(|line| width(line) <= most),
                "{most}: {lines:?}"
            );
            let kept: String = lines.concat().split_whitespace().collect();
            let all: String = text.split_whitespace().collect();
            assert_eq!(kept, all);
        }
        assert_eq!(wrap("", 10), [""]);
        assert_eq!(wrap("   ", 2), [""]);
    }

    #[test]
    fn nothing_moves_the_pen() {
        assert_eq!(clean("a\nb\tc\rd\u{1b}[2J"), "a␊b␉c␍d␛[2J");
        assert_eq!(clean("a\u{202e}b\u{2028}c"), "a\u{fffd}b\u{fffd}c");
        assert_eq!(clean("東 é Ω"), "東 é Ω");
    }

    #[test]
    fn numbers_in_names_count() {
        let mut names = ["A10.2", "A2", "A10.10", "B1", "A02", "A"];
        names.sort_by(|a, b| reading_order(a, b));
        assert_eq!(names, ["A", "A02", "A2", "A10.2", "A10.10", "B1"]);
        assert_eq!(reading_order("x", "x"), Ordering::Equal);
    }
}
