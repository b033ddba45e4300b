//! What a figure is put together from: lines, boxes and words, each in one of a few styles.
//!
//! A unit is 1/96 inch, so that a figure [`WIDTH`] wide fills the width of a sheet of A4 between its margins and its
//! words are 8 points high there. Everything is black, white or grey: a figure reads the same from a copier.

use crate::report::wrap::{clean, wrap};
use svg::node::element::{Circle, Description, Group, Path, Rectangle, Text, Title, path::Data};
use svg::{Document, Node};

/// Width of every figure.
pub(super) const WIDTH: f64 = 720.0;
/// White around a figure.
const EDGE: f64 = 3.0;
/// Height of ordinary words.
pub(super) const WORDS: f64 = 10.5;
/// Height of small words.
pub(super) const SMALL: f64 = 9.5;
/// From one line of ordinary words to the next.
pub(super) const LINE: f64 = 13.0;

const FONTS: &str = "'Liberation Sans', Arial, Helvetica, sans-serif";

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stroke {
    /// Cables, outlines.
    Solid,
    /// Leaders, dimensions, frames of charts.
    Thin,
    /// Cuts.
    Heavy,
    /// Places, what is not there.
    Dashed,
    /// Corners.
    DashDot,
    /// Lines of a scale.
    Faint,
}

impl Stroke {
    /// Width, dashes, shade.
    fn style(self) -> (f64, Option<&'static str>, &'static str) {
        match self {
            Self::Solid => (1.1, None, "#000"),
            Self::Thin => (0.6, None, "#000"),
            Self::Heavy => (2.2, None, "#000"),
            Self::Dashed => (0.8, Some("4 3"), "#000"),
            Self::DashDot => (0.8, Some("8 2.5 1.5 2.5"), "#000"),
            Self::Faint => (0.5, None, "#bbb"),
        }
    }
}

/// How an area is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Fill {
    /// Nothing.
    None,
    /// White.
    White,
    /// Lit tape, pieces that are used.
    Light,
    /// Bands of a chart.
    Band,
    /// Points.
    Black,
}

impl Fill {
    fn shade(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::White => "#fff",
            Self::Light => "#e4e4e4",
            Self::Band => "#d0d0d0",
            Self::Black => "#000",
        }
    }
}

/// To which side of its point a text stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// How words are written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Letters {
    pub size: f64,
    pub bold: bool,
    pub anchor: Anchor,
}

impl Letters {
    pub const WORDS: Self = Self::of(WORDS);
    pub const SMALL: Self = Self::of(SMALL);

    const fn of(size: f64) -> Self {
        Self {
            size,
            bold: false,
            anchor: Anchor::Start,
        }
    }

    pub const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub const fn middle(self) -> Self {
        Self {
            anchor: Anchor::Middle,
            ..self
        }
    }

    pub const fn end(self) -> Self {
        Self {
            anchor: Anchor::End,
            ..self
        }
    }

    /// How wide a text is at most.
    pub fn width(self, text: &str) -> f64 {
        let bold = if self.bold { 1.08 } else { 1.0 };
        text.chars().map(em).sum::<f64>() * self.size * bold
    }

    /// The text in lines no wider than this, at most so many; what does not fit ends in `…`.
    pub fn lines(self, text: &str, width: f64, most: usize) -> Vec<String> {
        let text = clean(text);
        let mut columns = text.chars().count().max(1);
        // Breaks by columns until every line fits by its letters.
        let mut lines = loop {
            let lines = wrap(&text, columns);
            if columns <= 4 || lines.iter().all(|line| self.width(line) <= width) {
                break lines;
            }
            columns -= 1;
        };
        let more = lines.len() > most;
        lines.truncate(most.max(1));
        if more && let Some(last) = lines.last_mut() {
            while !last.is_empty() && self.width(last) + self.width("…") > width {
                last.pop();
            }
            last.push('…');
        }
        lines
    }
}

/// Width of a character as a share of its height, no narrower than in the fonts that are asked for and in the one that
/// stands for them where none of them is there (measured in a browser by `tests/draw/check.py`).
fn em(c: char) -> f64 {
    match c {
        'i' | 'j' | 'l' | '\'' | '|' | '.' | ',' | ':' | ';' | '!' | 'I' | ' ' => 0.33,
        'f' | 't' | 'r' | '(' | ')' | '[' | ']' | '/' | '-' => 0.41,
        'm' | 'w' | 'M' | 'W' | '%' | '@' => 0.98,
        'a'..='z' | '0'..='9' => 0.63,
        'A'..='Z' => 0.77,
        _ if unicode_width::UnicodeWidthChar::width(c) == Some(0) => 0.0,
        _ if unicode_width::UnicodeWidthChar::width(c) == Some(2) => 1.05,
        _ => 0.85,
    }
}

/// A number as it stands in a file: to a hundredth.
fn number(value: f64) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_string()
}

/// A figure while it is drawn.
pub(super) struct Canvas {
    group: Group,
    words: Letters,
}

impl Canvas {
    pub fn new() -> Self {
        Self {
            group: Group::new(),
            words: Letters::WORDS,
        }
    }

    fn add(&mut self, node: impl Into<Box<dyn Node>>) {
        self.group.append(node);
    }

    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: Stroke) {
        self.path(&[from, to], stroke, Fill::None);
    }

    /// A line through these points, filled where a shade is asked for.
    pub fn path(&mut self, points: &[(f64, f64)], stroke: Stroke, fill: Fill) {
        let mut path = Path::new().set("d", through(points, fill != Fill::None));
        path = path.set("fill", fill.shade());
        let (width, dashes, shade) = stroke.style();
        path = path.set("stroke", shade).set("stroke-width", number(width));
        if let Some(dashes) = dashes {
            path = path.set("stroke-dasharray", dashes);
        }
        self.add(path);
    }

    /// An area without an outline.
    pub fn area(&mut self, points: &[(f64, f64)], fill: Fill) {
        let path = Path::new().set("d", through(points, true));
        self.add(path.set("fill", fill.shade()));
    }

    /// A bow from one point to another, so much above them.
    pub fn bow(&mut self, from: (f64, f64), to: (f64, f64), rise: f64) {
        let middle = f64::midpoint(from.0, to.0);
        let data = format!(
            "M{},{} Q{},{} {},{}",
            number(from.0),
            number(from.1),
            number(middle),
            number(from.1 - 2.0 * rise),
            number(to.0),
            number(to.1)
        );
        let (width, _, shade) = Stroke::Solid.style();
        let path = Path::new().set("d", data).set("fill", "none");
        self.add(path.set("stroke", shade).set("stroke-width", number(width)));
    }

    pub fn rectangle(&mut self, at: (f64, f64), size: (f64, f64), stroke: Stroke, fill: Fill) {
        let (width, dashes, shade) = stroke.style();
        let mut own = Rectangle::new()
            .set("x", number(at.0))
            .set("y", number(at.1))
            .set("width", number(size.0.max(0.0)))
            .set("height", number(size.1.max(0.0)))
            .set("fill", fill.shade())
            .set("stroke", shade)
            .set("stroke-width", number(width));
        if let Some(dashes) = dashes {
            own = own.set("stroke-dasharray", dashes);
        }
        self.add(own);
    }

    pub fn circle(&mut self, at: (f64, f64), radius: f64, fill: Fill) {
        let (width, _, shade) = Stroke::Solid.style();
        let own = Circle::new()
            .set("cx", number(at.0))
            .set("cy", number(at.1))
            .set("r", number(radius))
            .set("fill", fill.shade())
            .set("stroke", shade)
            .set("stroke-width", number(width));
        self.add(own);
    }

    /// Slanted lines over an area: dark, or left over.
    pub fn hatch(&mut self, at: (f64, f64), size: (f64, f64)) {
        const STEP: f64 = 5.0;
        let (x, y, width, height) = (at.0, at.1, size.0.max(0.0), size.1.max(0.0));
        let mut along = STEP / 2.0;
        while along < width + height {
            // From the upper edge or the right one, down to the left one or the lower one.
            let upper = (x + along.min(width), y + (along - width).max(0.0));
            let lower = (x + (along - height).max(0.0), y + along.min(height));
            self.line(upper, lower, Stroke::Thin);
            along += STEP;
        }
    }

    /// One line of words; `at` is its foot.
    pub fn text(&mut self, at: (f64, f64), text: &str, letters: Letters) {
        if text.is_empty() {
            return;
        }
        let mut own = Text::new(clean(text))
            .set("x", number(at.0))
            .set("y", number(at.1));
        if letters.size != self.words.size {
            own = own.set("font-size", number(letters.size));
        }
        if letters.bold {
            own = own.set("font-weight", "bold");
        }
        match letters.anchor {
            Anchor::Start => {}
            Anchor::Middle => own = own.set("text-anchor", "middle"),
            Anchor::End => own = own.set("text-anchor", "end"),
        }
        self.add(own);
    }

    /// Words in lines no wider than this; how far down they reach from the first foot.
    pub fn paragraph(
        &mut self,
        at: (f64, f64),
        text: &str,
        width: f64,
        most: usize,
        letters: Letters,
    ) -> f64 {
        let lines = letters.lines(text, width, most);
        let step = letters.size * 1.24;
        for (number, line) in lines.iter().enumerate() {
            self.text((at.0, at.1 + number as f64 * step), line, letters);
        }
        lines.len() as f64 * step
    }

    /// The figure, so high, as a file of its own or a part of a page: `title` and `description` say what it shows to whom cannot
    /// see it.
    pub fn finish(self, height: f64, title: &str, description: &str) -> String {
        let title = clean(title);
        let (wide, high) = (WIDTH + 2.0 * EDGE, height + 2.0 * EDGE);
        let own = Document::new()
            .set(
                "viewBox",
                format!("{0} {0} {1} {2}", number(-EDGE), number(wide), number(high)),
            )
            .set("width", number(wide))
            .set("height", number(high))
            .set("role", "img")
            .set("aria-label", title.as_str())
            .set("font-family", FONTS)
            .set("font-size", number(WORDS))
            .set("fill", "#000")
            .add(Title::new(title.as_str()))
            .add(Description::new().add(svg::node::Text::new(clean(description))))
            .add(self.group);
        own.to_string()
    }
}

/// A path through points, closed where it is an area.
fn through(points: &[(f64, f64)], closed: bool) -> String {
    let mut data = Data::new();
    for (at, (x, y)) in points.iter().enumerate() {
        let point = (rounded(*x), rounded(*y));
        data = match at {
            0 => data.move_to(point),
            _ => data.line_to(point),
        };
    }
    if closed {
        data = data.close();
    }
    String::from(svg::node::Value::from(data))
}

/// To a hundredth, and so short in a file.
fn rounded(value: f64) -> f32 {
    let value = if value.is_finite() { value } else { 0.0 };
    // Through its text, so that the same is written on every machine.
    number(value).parse().unwrap_or(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_fit_and_what_is_left_out_is_marked() {
        let letters = Letters::WORDS;
        let lines = letters.lines("an output of a supply that is long", 60.0, 9);
        assert!(lines.len() > 2);
        assert!(
            lines.iter().all(|line| letters.width(line) <= 60.0),
            "{lines:?}"
        );
        let short = letters.lines("an output of a supply that is long", 60.0, 2);
        assert_eq!(short.len(), 2);
        assert!(short[1].ends_with('…') && letters.width(&short[1]) <= 60.0);
    }

    #[test]
    fn numbers_are_short_and_finite() {
        assert_eq!(number(1.0), "1");
        assert_eq!(number(-0.001), "0");
        assert_eq!(number(f64::NAN), "0");
        assert_eq!(number(12.345_6), "12.35");
    }
}
