//! Feeds of a run: a number at each, and the list that the numbers lead to.

use super::Drawn;
use super::place::{Place, Window};
use crate::design::{Feed, Segment, Terminals};
use crate::draw::canvas::{Canvas, Fill, Letters, SMALL, Stroke, WIDTH};
use crate::draw::index::Index;
use crate::exact::ExactLength;

/// A feed of a run.
pub(super) struct Fed<'a> {
    pub feed: &'a Feed,
    pub segment: &'a Segment,
    /// Where it enters, on the drawn line, m.
    pub line: f64,
}

/// Feeds in their order along the line.
pub(super) fn of<'a>(index: &Index<'a>, segments: &[&'a Segment], place: &Place) -> Vec<Fed<'a>> {
    let mut out: Vec<Fed<'a>> = Vec::new();
    for segment in segments {
        out.extend(index.feeds(segment).iter().map(|feed| Fed {
            feed,
            segment,
            line: place.feed(feed.mark, segment),
        }));
    }
    out.sort_by(|a, b| {
        let line = a.line.total_cmp(&b.line);
        line.then_with(|| a.segment.first.cmp(&b.segment.first))
            .then_with(|| a.feed.id.cmp(&b.feed.id))
    });
    out
}

/// Half the width of the box of a number.
const HALF: f64 = 8.5;
/// From the profile down to the numbers.
const DOWN: f64 = 22.0;

/// The box of a number.
pub(super) fn marker(canvas: &mut Canvas, (x, y): (f64, f64), number: &str) {
    canvas.rectangle(
        (x - HALF, y - 6.5),
        (2.0 * HALF, 13.0),
        Stroke::Solid,
        Fill::White,
    );
    let letters = Letters::SMALL.middle();
    canvas.text((x, y + SMALL * 0.36), number, letters);
}

/// Numbers under the profile, each with its line up to where copper enters.
pub(super) fn markers(
    drawn: &Drawn<'_, '_>,
    canvas: &mut Canvas,
    window: Window,
    profile: f64,
) -> f64 {
    let own = (1..).zip(&drawn.feeds);
    let own: Vec<(usize, &Fed<'_>, f64)> = own
        .filter_map(|(number, fed)| Some((number, fed, window.at(fed.line)?)))
        .collect();
    let places = apart(&own.iter().map(|(.., x)| *x).collect::<Vec<_>>());
    for ((number, fed, x), place) in own.iter().zip(&places) {
        // On its own side of a cut.
        let side = match fed.feed.mark {
            mark if mark == fed.segment.first => 2.5,
            mark if mark == fed.segment.last => -2.5,
            _ => 0.0,
        };
        let tape = (x + side, profile - 3.0);
        canvas.line(
            (*place, profile + DOWN - 6.5),
            (tape.0, profile + 6.0),
            Stroke::Solid,
        );
        canvas.line((tape.0, profile + 6.0), tape, Stroke::Solid);
        canvas.circle(tape, 2.2, Fill::Black);
        marker(canvas, (*place, profile + DOWN), &number.to_string());
    }
    profile + DOWN + 8.0
}

/// The places nearest to these, in their order, that leave room for a box each.
fn apart(wanted: &[f64]) -> Vec<f64> {
    const STEP: f64 = 2.0 * HALF + 3.0;
    // Boxes that touch are one block, centred over what its boxes want.
    let mut blocks: Vec<(f64, usize)> = Vec::new();
    for x in wanted {
        let mut block = (*x, 1_usize);
        while let Some((centre, count)) = blocks.last().copied() {
            let reach = (count + block.1) as f64 * STEP / 2.0;
            if block.0 - centre >= reach {
                break;
            }
            blocks.pop();
            let all = (count + block.1) as f64;
            let sum = centre * count as f64 + block.0 * block.1 as f64;
            block = (sum / all, count + block.1);
        }
        blocks.push(block);
    }
    let each = blocks.into_iter().flat_map(|(centre, count)| {
        let half = count as f64 * STEP / 2.0;
        let centre = centre.clamp(half - 2.0, (WIDTH - half).max(half));
        (0..count).map(move |n| centre - half + (n as f64 + 0.5) * STEP)
    });
    each.collect()
}

/// Columns of the list: heading, left edge, room.
const COLUMNS: [(&str, f64, f64); 7] = [
    ("Feed", 22.0, 82.0),
    ("On the line", 108.0, 66.0),
    ("On the tape", 178.0, 66.0),
    ("Cable", 248.0, 124.0),
    ("From", 376.0, 180.0),
    ("Volts", 560.0, 44.0),
    ("low to high", 608.0, 112.0),
];

/// The feeds in words; where the list ends.
pub(super) fn list(drawn: &Drawn<'_, '_>, canvas: &mut Canvas, top: f64) -> f64 {
    const STEP: f64 = SMALL * 1.24;
    let mut y = top + STEP;
    for (heading, x, _) in COLUMNS {
        canvas.text((x, y), heading, Letters::SMALL.bold());
    }
    y += 4.0;
    canvas.line((0.0, y), (WIDTH, y), Stroke::Thin);
    y += 12.0;
    for (number, fed) in (1..).zip(&drawn.feeds) {
        canvas.text((4.0, y), &number.to_string(), Letters::SMALL);
        let mut tallest: f64 = STEP;
        for ((_, x, room), words) in COLUMNS.iter().zip(cells(drawn, fed)) {
            let high = canvas.paragraph((*x, y), &words, *room, 3, Letters::SMALL);
            tallest = tallest.max(high);
        }
        y += tallest + 3.0;
    }
    y - STEP + 2.0
}

fn cells(drawn: &Drawn<'_, '_>, fed: &Fed<'_>) -> [String; 7] {
    let lengths = drawn.index.lengths;
    let feed = fed.feed;
    let line = ExactLength::from_nanometres((fed.line * 1e9).round() as i64);
    let route = drawn.index.cable(&feed.cable);
    let route = route.map_or_else(String::new, |c| format!(", {}", lengths.words(c.route)));
    let (volts, band) = match feed.volts {
        Some(v) => (
            format!("{:.2} V", v.nominal.si()),
            format!("{:.2} to {:.2} V", v.low.si(), v.high.si()),
        ),
        None => ("-".to_string(), "not solved".to_string()),
    };
    [
        feed.id.to_string(),
        lengths.words(line),
        lengths.words(feed.position),
        format!("{}{route}", feed.kind),
        source(drawn.index, &feed.from),
        volts,
        band,
    ]
}

/// `D-S1.1, slot 1.001, outputs 1 to 2`.
fn source(index: &Index<'_>, from: &Terminals) -> String {
    match from {
        Terminals::Supply { supply, output } => format!("{supply} output {output}"),
        Terminals::DecoderSupply(decoder) => decoder.to_string(),
        Terminals::Decoder { decoder, outputs } => {
            let slot = index.address(decoder);
            let slot = slot.map_or_else(String::new, |slot| format!(", slot {slot}"));
            format!("{decoder}{slot}, {}", outputs_words(outputs))
        }
        Terminals::Segment { segment, .. } => segment.to_string(),
        Terminals::Nothing => "no device".to_string(),
    }
}

/// `output 3`, `outputs 1 to 4`, `outputs 1 + 3`.
fn outputs_words(outputs: &[u64]) -> String {
    let in_a_row = outputs
        .windows(2)
        .all(|two| two[0].checked_add(1) == Some(two[1]));
    match outputs {
        [one] => format!("output {one}"),
        [first, .., last] if in_a_row => format!("outputs {first} to {last}"),
        all => {
            let all: Vec<String> = all.iter().map(u64::to_string).collect();
            format!("outputs {}", all.join(" + "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_apart_in_their_order() {
        let places = apart(&[50.0, 300.0, 300.0, 301.0, 719.0, 720.0]);
        assert_eq!(places.len(), 6);
        assert!(places.windows(2).all(|two| two[1] - two[0] >= 2.0 * HALF));
        assert!(places[0] > 40.0 && places[5] + HALF <= WIDTH);
        assert!((places[2] - 300.33).abs() < 0.1);
    }
}
