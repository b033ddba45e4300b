//! The tape of a run in its profile: cuts, corners, gaps, joints, dark ends.

use super::place::Window;
use super::{Drawn, SMALL_LINE};
use crate::design::{Corner, CornerMade, Terminals};
use crate::draw::canvas::{Canvas, Fill, Letters, SMALL, Stroke, WIDTH};
use crate::layout::spec::Turn;

/// Height of the profile.
const PROFILE: f64 = 15.0;
/// How far the tape stands in from the walls of its profile.
const INSIDE: f64 = 3.0;

/// What was drawn, for the legend.
#[derive(Default)]
pub(super) struct Seen {
    dark: bool,
    cut: bool,
    corner: bool,
    gap: bool,
    jumper: bool,
    reel_joint: bool,
    moulded: bool,
}

/// Words over a place on the line, with a line down to it.
struct Label {
    at: f64,
    words: &'static str,
    /// Its words stand to the left of its line.
    turned: bool,
}

/// One row of the line; where it ends.
pub(super) fn row(
    drawn: &Drawn<'_, '_>,
    canvas: &mut Canvas,
    window: Window,
    top: f64,
    seen: &mut Seen,
) -> f64 {
    let mut y = scale(drawn, canvas, window, top + 12.0);
    y = lengths(drawn, canvas, window, y + 4.0);
    let labels = labels(drawn, window);
    let lanes = lanes(&labels);
    let deep = lanes.iter().map(|lane| lane + 1).max().unwrap_or(0);
    let profile = y + deep as f64 * SMALL_LINE + 10.0;
    y = profile - 8.0;
    for (label, lane) in labels.iter().zip(&lanes) {
        let foot = y - *lane as f64 * SMALL_LINE;
        seen.corner = true;
        canvas.line(
            (label.at, foot - SMALL),
            (label.at, profile + PROFILE + 3.0),
            Stroke::DashDot,
        );
        canvas.text((label.words_from(), foot), label.words, Letters::SMALL);
    }
    body(drawn, canvas, window, profile, seen);
    profile + PROFILE
}

/// The scale of the line as drawn.
fn scale(drawn: &Drawn<'_, '_>, canvas: &mut Canvas, window: Window, y: f64) -> f64 {
    let unit = drawn.index.lengths;
    let scale = crate::draw::scale::Scale {
        low: window.from / unit.metres(),
        high: window.to / unit.metres(),
        ..window.scale
    };
    let (ticks, decimals) = scale.ticks(8);
    let foot = y + 6.0;
    canvas.line((scale.from, foot), (scale.to, foot), Stroke::Thin);
    for tick in ticks {
        let x = scale.at(tick);
        canvas.line((x, foot - 4.0), (x, foot), Stroke::Thin);
        let words = format!("{tick:.decimals$}");
        canvas.text((x, foot - 6.0), &words, Letters::SMALL.middle());
    }
    canvas.text(
        (0.0, foot - 6.0),
        &format!("line, {}", unit.unit()),
        Letters::SMALL,
    );
    foot
}

/// Lengths between cuts.
fn lengths(drawn: &Drawn<'_, '_>, canvas: &mut Canvas, window: Window, top: f64) -> f64 {
    let y = top + SMALL_LINE;
    for segment in drawn.segments {
        let (from, to) = (
            drawn.place.start(segment.first),
            drawn.place.end(segment.last),
        );
        let Some((a, b)) = window.span(from, to) else {
            continue;
        };
        canvas.line((a, y), (b, y), Stroke::Thin);
        for (x, line) in [(a, from), (b, to)] {
            if window.at(line).is_some() {
                canvas.line((x, y - 4.0), (x, y + 4.0), Stroke::Thin);
            }
        }
        let words = drawn.index.lengths.words(segment.length);
        let whole = format!("{} {words}", segment.id);
        let room = b - a - 4.0;
        let told = [whole, words];
        let fits = told.iter().find(|text| Letters::SMALL.width(text) <= room);
        if let Some(words) = fits {
            canvas.text(
                (f64::midpoint(a, b), y - 3.0),
                words,
                Letters::SMALL.middle(),
            );
        }
    }
    y
}

/// Corners of a row, from left to right. Words stand to the right of their line, unless the sheet ends there or they would
/// run over the line of one that is turned.
fn labels(drawn: &Drawn<'_, '_>, window: Window) -> Vec<Label> {
    let corners = drawn.run.line.corners.iter().filter_map(|corner| {
        Some(Label {
            at: window.at(corner.at.metres())?,
            words: corner_words(corner),
            turned: false,
        })
    });
    let mut out: Vec<Label> = corners.collect();
    out.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut edge = WIDTH;
    for label in out.iter_mut().rev() {
        label.turned = label.at + 3.0 + label.width() > edge;
        if label.turned {
            edge = label.at - 3.0;
        }
    }
    out
}

fn corner_words(corner: &Corner) -> &'static str {
    match (corner.turn, corner.made) {
        (Turn::Inside, CornerMade::Bend) => "inside corner, bent",
        (Turn::Outside, CornerMade::Bend) => "outside corner, bent",
        (Turn::Inside, CornerMade::Jumper) => "inside corner, jumper",
        (Turn::Outside, CornerMade::Jumper) => "outside corner, jumper",
        (Turn::Inside, CornerMade::MouldedJoint) => "inside corner, moulded joint",
        (Turn::Outside, CornerMade::MouldedJoint) => "outside corner, moulded joint",
    }
}

impl Label {
    fn width(&self) -> f64 {
        Letters::SMALL.width(self.words)
    }

    /// Where its words begin.
    fn words_from(&self) -> f64 {
        if self.turned {
            self.at - 3.0 - self.width()
        } else {
            self.at + 3.0
        }
    }
}

/// A lane for each label, 0 the lowest, so that no words meet each other or the line of another: from the right, each in the
/// lowest lane that is free; its line then passes to the left of all words beneath. Turned ones stand above the others.
fn lanes(labels: &[Label]) -> Vec<usize> {
    let mut starts: Vec<f64> = Vec::new();
    let mut out = vec![0; labels.len()];
    let (turned, straight): (Vec<usize>, Vec<usize>) =
        (0..labels.len()).partition(|n| labels[*n].turned);
    for number in straight.into_iter().rev() {
        let label = &labels[number];
        let end = label.words_from() + label.width() + 4.0;
        let free = starts.iter().position(|start| end <= *start);
        let lane = free.unwrap_or(starts.len());
        if lane == starts.len() {
            starts.push(label.at);
        }
        starts[lane] = label.at;
        out[number] = lane;
    }
    for (above, number) in turned.into_iter().enumerate() {
        out[number] = starts.len() + above;
    }
    out
}

/// Profile and tape.
fn body(drawn: &Drawn<'_, '_>, canvas: &mut Canvas, window: Window, y: f64, seen: &mut Seen) {
    let gaps = &drawn.run.line.gaps;
    // The profile from gap to gap.
    let mut from = 0.0;
    let ends = gaps.iter().map(|gap| (gap.from.metres(), gap.to.metres()));
    let mut dark = Vec::new();
    for (to, next) in ends.chain([(drawn.place.drawn, drawn.place.drawn)]) {
        if let Some((a, b)) = window.span(from, to) {
            canvas.rectangle((a, y), (b - a, PROFILE), Stroke::Solid, Fill::White);
        }
        dark.push((from, to));
        from = next;
    }
    for (from, to) in drawn.place.lit() {
        // What a stretch of the profile keeps dark to its left and to its right.
        dark = dark
            .into_iter()
            .flat_map(|(a, b)| [(a, b.min(from)), (a.max(to), b)])
            .filter(|(a, b)| b - a > 1e-6)
            .collect();
        if let Some((a, b)) = window.span(from, to) {
            let high = PROFILE - 2.0 * INSIDE;
            canvas.rectangle((a, y + INSIDE), (b - a, high), Stroke::Thin, Fill::Light);
        }
    }
    for (from, to) in dark {
        if let Some((a, b)) = window.span(from, to) {
            seen.dark = true;
            canvas.hatch((a, y), (b - a, PROFILE));
        }
    }
    for gap in gaps {
        let (from, to) = (gap.from.metres(), gap.to.metres());
        if let Some((a, b)) = window.span(from, to) {
            seen.gap = true;
            for edge in [y, y + PROFILE] {
                canvas.line((a, edge), (b, edge), Stroke::Dashed);
            }
            let words = format!(
                "gap {}",
                drawn.index.lengths.words(gap.to.saturating_sub(gap.from))
            );
            let fits = [words.as_str(), "gap"];
            let fits = fits
                .into_iter()
                .find(|w| Letters::SMALL.width(w) < b - a - 2.0);
            if let Some(words) = fits {
                let foot = y + PROFILE - 4.5;
                canvas.text((f64::midpoint(a, b), foot), words, Letters::SMALL.middle());
            }
        }
    }
    joints(drawn, canvas, window, y, seen);
    for two in drawn.segments.windows(2) {
        let at = f64::midpoint(
            drawn.place.end(two[0].last),
            drawn.place.start(two[1].first),
        );
        if let Some(x) = window.at(at) {
            seen.cut = true;
            canvas.line((x, y - 4.0), (x, y + PROFILE + 4.0), Stroke::Heavy);
        }
    }
}

/// Jumpers, moulded joints, joints between reels.
fn joints(drawn: &Drawn<'_, '_>, canvas: &mut Canvas, window: Window, y: f64, seen: &mut Seen) {
    let segments = drawn.segments;
    let own = drawn.index.design.cables.iter();
    let jumpers = own.filter_map(|cable| match (&cable.from, &cable.to) {
        (Terminals::Segment { segment, at }, Terminals::Segment { .. }) => {
            let own = segments.iter().any(|own| own.id == *segment);
            own.then(|| drawn.place.pitch.count_in(*at))
        }
        _ => None,
    });
    for mark in jumpers {
        let (from, to) = (drawn.place.end(mark), drawn.place.start(mark));
        if let (Some(a), Some(b)) = (window.at(from), window.at(to)) {
            seen.jumper = true;
            let least = 7.0_f64.max(b - a) / 2.0;
            let middle = f64::midpoint(a, b);
            canvas.bow(
                (middle - least, y + INSIDE),
                (middle + least, y + INSIDE),
                7.0,
            );
        }
    }
    for corner in drawn
        .run
        .line
        .corners
        .iter()
        .filter(|c| c.made == CornerMade::MouldedJoint)
    {
        if let Some(x) = window.at(corner.at.metres()) {
            seen.moulded = true;
            canvas.rectangle((x - 4.0, y + 3.5), (8.0, 8.0), Stroke::Solid, Fill::White);
        }
    }
    for piece in drawn.index.pieces(drawn.run) {
        for joint in drawn.index.reel_joints(piece) {
            let mark = drawn.place.pitch.count_in(piece.from.saturating_add(joint));
            if let Some(x) = window.at(drawn.place.end(mark)) {
                seen.reel_joint = true;
                diamond(canvas, (x, y + PROFILE / 2.0));
            }
        }
    }
}

fn diamond(canvas: &mut Canvas, (x, y): (f64, f64)) {
    let points = [(x, y - 5.0), (x + 4.0, y), (x, y + 5.0), (x - 4.0, y)];
    canvas.path(&points, Stroke::Solid, Fill::White);
}

/// What the shapes mean: those that were drawn.
pub(super) fn legend(canvas: &mut Canvas, top: f64, seen: &Seen) -> f64 {
    let mut y = top + SMALL_LINE;
    let mut x = 0.0;
    let mut entry = |shape: &dyn Fn(&mut Canvas, f64, f64), words: &str| {
        let width = 26.0 + Letters::SMALL.width(words) + 12.0;
        if x > 0.0 && x + width > WIDTH {
            x = 0.0;
            y += SMALL_LINE + 3.0;
        }
        shape(canvas, x, y - SMALL / 2.0 + 1.0);
        canvas.text((x + 26.0, y), words, Letters::SMALL);
        x += width;
    };
    entry(
        &|c, x, y| c.rectangle((x, y - 4.5), (20.0, 9.0), Stroke::Thin, Fill::Light),
        "lit tape",
    );
    if seen.dark {
        entry(
            &|c, x, y| {
                c.rectangle((x, y - 4.5), (20.0, 9.0), Stroke::Thin, Fill::White);
                c.hatch((x, y - 4.5), (20.0, 9.0));
            },
            "dark",
        );
    }
    if seen.cut {
        entry(
            &|c, x, y| c.line((x + 10.0, y - 6.0), (x + 10.0, y + 6.0), Stroke::Heavy),
            "cut between segments",
        );
    }
    if seen.corner {
        entry(
            &|c, x, y| c.line((x + 10.0, y - 6.0), (x + 10.0, y + 6.0), Stroke::DashDot),
            "corner, unfolded",
        );
    }
    if seen.gap {
        entry(
            &|c, x, y| c.line((x, y), (x + 20.0, y), Stroke::Dashed),
            "gap",
        );
    }
    if seen.jumper {
        entry(
            &|c, x, y| c.bow((x + 4.0, y + 4.0), (x + 16.0, y + 4.0), 7.0),
            "jumper",
        );
    }
    if seen.moulded {
        entry(
            &|c, x, y| c.rectangle((x + 6.0, y - 4.0), (8.0, 8.0), Stroke::Solid, Fill::White),
            "moulded joint",
        );
    }
    if seen.reel_joint {
        entry(&|c, x, y| diamond(c, (x + 10.0, y)), "joint between reels");
    }
    entry(
        &|c, x, y| super::feeds::marker(c, (x + 10.0, y), "1"),
        "feed, listed below",
    );
    y + 4.0
}
