//! The design as Markdown.

use super::document::{Block, blocks};
use super::printed::Printed;
use super::schedule::{Alignment, Schedule};
use super::wrap::clean;
use crate::design::Design;

/// The design as Markdown: the same words and tables as [`text`](super::text()), a table a schedule.
///
/// Everything that comes from the job is escaped: no name can open a cell, a link, a heading,
/// code or HTML.
#[must_use]
pub fn markdown(design: &Design) -> String {
    let mut out = String::new();
    for block in blocks(&Printed::of(design)) {
        match block {
            Block::Title(title) => out.push_str(&format!("# {}\n", escape(&title))),
            Block::Heading(heading) => out.push_str(&format!("## {}\n", escape(&heading))),
            Block::Paragraph(words) => out.push_str(&format!("{}\n", escape(&words))),
            Block::Points(points) => {
                for point in points {
                    out.push_str(&format!("- {}\n", escape(&point)));
                }
            }
            Block::Numbered(points) => {
                for (n, point) in points.iter().enumerate() {
                    out.push_str(&format!("{}. {}\n", n + 1, escape(point)));
                }
            }
            Block::Pairs(pairs) => {
                for (word, words) in pairs {
                    out.push_str(&format!("- **{}**: {}\n", escape(word), escape(&words)));
                }
            }
            Block::Warnings(warnings) => {
                for (title, words) in warnings {
                    out.push_str(&format!("- **{}.** {}\n", escape(title), escape(&words)));
                }
            }
            Block::Table(schedule) => table(&schedule, &mut out),
        }
        out.push('\n');
    }
    // One line end closes the file.
    out.truncate(out.trim_end().len());
    out.push('\n');
    out
}

fn table(schedule: &Schedule, out: &mut String) {
    out.push_str(&format!(
        "## {}\n\n{}\n\n",
        escape(schedule.title),
        escape(&schedule.intro)
    ));
    if !schedule.rows.is_empty() {
        let headings = schedule.columns.iter().map(|c| escape(&c.printed()));
        line(headings, out);
        let sides = schedule.columns.iter().map(|c| match c.alignment {
            Alignment::Left => "---".to_string(),
            Alignment::Right => "---:".to_string(),
        });
        line(sides, out);
        for row in &schedule.rows {
            let cells = (0..schedule.columns.len())
                .map(|n| row.get(n).map_or_else(String::new, |c| escape(c.printed())));
            line(cells, out);
        }
    }
    for note in &schedule.notes {
        out.push_str(&format!("\n{}\n", escape(note)));
    }
}

fn line(cells: impl Iterator<Item = String>, out: &mut String) {
    for cell in cells {
        out.push_str("| ");
        out.push_str(&cell);
        out.push(' ');
    }
    out.push_str("|\n");
}

/// Text that Markdown shows as it stands.
fn escape(text: &str) -> String {
    let text = clean(text);
    let text = text.trim();
    let mut out = String::with_capacity(text.len());
    for (n, c) in text.chars().enumerate() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '\\' | '|' | '`' | '*' | '_' | '[' | ']' | '~' | '$' => {
                out.push('\\');
                out.push(c);
            }
            '#' | '-' | '+' | '=' | ':' if n == 0 => {
                out.push('\\');
                out.push(c);
            }
            // `1.` and `1)` open a list.
            '.' | ')' if n > 0 && text.chars().take(n).all(|d| d.is_ascii_digit()) => {
                out.push('\\');
                out.push(c);
            }
            c => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::escape;

    #[test]
    fn nothing_opens_markup() {
        for (text, shown) in [
            ("a|b", "a\\|b"),
            ("`x`", "\\`x\\`"),
            ("<b>&", "&lt;b&gt;&amp;"),
            ("# h", "\\# h"),
            ("1. x", "1\\. x"),
            ("a\nb", "a␊b"),
            ("[a](b)", "\\[a\\](b)"),
            ("-", "\\-"),
            ("23.45", "23\\.45"),
        ] {
            assert_eq!(escape(text), shown);
        }
    }
}
