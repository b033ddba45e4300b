//! Stock lengths as they are cut: bars of profile, lengths of cover, reels of tape.

use super::canvas::{Canvas, Fill, Letters, SMALL, Stroke, WIDTH};
use super::index::Index;
use super::lengths::Lengths;
use crate::design::{Stock, StockKind, StockPart};

/// Left edge of the bars, and their room.
const LEFT: f64 = 64.0;
const ROOM: f64 = WIDTH - LEFT - 118.0;
const HIGH: f64 = 14.0;
/// Rows of one figure.
const MOST: usize = 40;

/// Figures of what is cut, a product after the other, each no higher than a page, with what it is called.
pub(super) fn figures(index: &Index<'_>) -> Vec<(String, String)> {
    let mut groups: Vec<Vec<&Stock>> = Vec::new();
    for stock in &index.design.stock {
        let same = |group: &&mut Vec<&Stock>| {
            let own = group.first();
            own.is_some_and(|own| own.kind == stock.kind && own.called() == stock.called())
        };
        match groups.iter_mut().find(same) {
            Some(group) => group.push(stock),
            None => groups.push(vec![stock]),
        }
    }
    let mut out = Vec::new();
    for group in &groups {
        let Some(own) = group.first() else { continue };
        let what = match own.kind {
            StockKind::Bar => "Bars",
            StockKind::Cover => "Lengths",
            StockKind::Reel => "Reels",
        };
        let parts = group.len().div_ceil(MOST);
        for (number, rows) in group.chunks(MOST).enumerate() {
            let mut title = format!("{what} as cut: {}", own.called());
            if parts > 1 {
                title.push_str(&format!(", part {} of {parts}", number + 1));
            }
            out.push((title.clone(), figure(index.lengths, rows, &title)));
        }
    }
    out
}

fn figure(lengths: Lengths, rows: &[&Stock], title: &str) -> String {
    let mut canvas = Canvas::new();
    let mut y = 12.0;
    y += canvas.paragraph((0.0, y), title, WIDTH, 3, Letters::WORDS.bold());
    let notes = "To scale. Each piece with its length, in the order of the cuts; slanted lines: left over, its length at the right, of the whole.";
    canvas.text((0.0, y), notes, Letters::SMALL);
    y += 8.0;
    let longest = rows.iter().map(|s| s.length.metres()).fold(1e-6, f64::max);
    let mut told = Vec::new();
    for stock in rows {
        y = bar(lengths, &mut canvas, stock, y, ROOM / longest);
        let parts: Vec<String> = stock
            .parts
            .iter()
            .map(|part| words(lengths, part))
            .collect();
        told.push(format!(
            "{} of {}: {}; left over {}",
            stock.id,
            lengths.cut(stock.length),
            parts.join(", "),
            lengths.cut(stock.offcut)
        ));
    }
    canvas.finish(y + 4.0, title, &told.join(". "))
}

/// A stock length; where the next one begins.
fn bar(lengths: Lengths, canvas: &mut Canvas, stock: &Stock, top: f64, scale: f64) -> f64 {
    let whole = stock.length.metres() * scale;
    let cuts = stock.parts.len().max(1) as f64;
    let kerf = stock.kerf.metres() * scale / cuts;
    let letters = Letters::SMALL;
    for line in letters.lines(stock.id.as_str(), LEFT - 6.0, 1) {
        canvas.text((0.0, top + HIGH - 3.5), &line, letters);
    }
    let mut x = LEFT;
    // What does not fit into its piece stands beneath, from left to right.
    let mut beneath: Vec<String> = Vec::new();
    for part in &stock.parts {
        let width = part.length.metres() * scale;
        canvas.rectangle((x, top), (width, HIGH), Stroke::Thin, Fill::Light);
        let full = words(lengths, part);
        if letters.width(&full) + 4.0 <= width {
            let at = (x + width / 2.0, top + HIGH - 3.5);
            canvas.text(at, &full, letters.middle());
        } else {
            beneath.push(full);
        }
        x += width + kerf;
    }
    let left = (LEFT + whole - x).max(0.0);
    if stock.offcut.nanometres() > 0 && left > 0.0 {
        canvas.rectangle((x, top), (left, HIGH), Stroke::Thin, Fill::White);
        canvas.hatch((x, top), (left, HIGH));
    }
    let of = format!(
        "{} of {}",
        lengths.cut(stock.offcut),
        lengths.cut(stock.length)
    );
    canvas.text((WIDTH, top + HIGH - 3.5), &of, letters.end());
    let mut y = top + HIGH + 5.0;
    if !beneath.is_empty() {
        let words = format!(
            "pieces without words, from the left: {}",
            beneath.join("; ")
        );
        y += canvas.paragraph((LEFT, y + SMALL - 3.0), &words, ROOM, 4, letters) + 2.0;
    }
    y
}

/// `S1.1-2, 2 of 3: 1950 mm`.
fn words(lengths: Lengths, part: &StockPart) -> String {
    let which = if part.of > 1 {
        format!(", {} of {}", part.part, part.of)
    } else {
        String::new()
    };
    format!("{}{which}: {}", part.piece, lengths.cut(part.length))
}
