//! The volts across the cells along a run: nominal, and the band of any build within the tolerances.

use super::place::Window;
use super::{Drawn, SMALL_LINE};
use crate::design::{SegmentFigures, Solved};
use crate::draw::canvas::{Canvas, Fill, Letters, SMALL, Stroke, WIDTH};
use crate::draw::scale::Scale;

/// Height of the chart.
const HEIGHT: f64 = 84.0;

/// Least and greatest volts of a run; none where nothing along it was solved.
pub(super) fn bounds(drawn: &Drawn<'_, '_>) -> Option<(f64, f64)> {
    let segments = drawn.segments.iter();
    let all = segments.filter_map(|segment| segment.solved.figures());
    let all: Vec<_> = all.flat_map(|figures| &figures.along).collect();
    if all.is_empty() {
        return None;
    }
    let low = all
        .iter()
        .map(|p| p.volts.low.si())
        .fold(f64::INFINITY, f64::min);
    let high = all
        .iter()
        .map(|p| p.volts.high.si())
        .fold(f64::NEG_INFINITY, f64::max);
    let margin = ((high - low) * 0.06).max(0.05);
    Some((low - margin, high + margin))
}

/// The chart of a row; where it ends.
pub(super) fn chart(
    drawn: &Drawn<'_, '_>,
    canvas: &mut Canvas,
    window: Window,
    top: f64,
    (low, high): (f64, f64),
) -> f64 {
    let scale = Scale {
        low,
        high,
        from: top + HEIGHT,
        to: top,
    };
    let (left, right) = (window.scale.from, window.scale.to);
    let (ticks, decimals) = scale.ticks(5);
    for tick in ticks {
        let y = scale.at(tick);
        canvas.line((left, y), (right, y), Stroke::Faint);
        let words = format!("{tick:.decimals$} V");
        canvas.text((left - 4.0, y + SMALL * 0.35), &words, Letters::SMALL.end());
    }
    canvas.rectangle(
        (left, top),
        (right - left, HEIGHT),
        Stroke::Thin,
        Fill::None,
    );
    for segment in drawn.segments {
        if let Some(figures) = segment.solved.figures() {
            along(drawn, canvas, window, scale, figures);
        }
    }
    for two in drawn.segments.windows(2) {
        let at = f64::midpoint(
            drawn.place.end(two[0].last),
            drawn.place.start(two[1].first),
        );
        if let Some(x) = window.at(at) {
            canvas.line((x, top), (x, top + HEIGHT), Stroke::Thin);
        }
    }
    if let Some((x, y)) = weakest(drawn, window, scale) {
        let points = [(x, y - 2.0), (x + 4.5, y - 10.0), (x - 4.5, y - 10.0)];
        canvas.path(&points, Stroke::Solid, Fill::White);
    }
    top + HEIGHT
}

/// Band and nominal line of a segment.
fn along(
    drawn: &Drawn<'_, '_>,
    canvas: &mut Canvas,
    window: Window,
    scale: Scale,
    figures: &SegmentFigures,
) {
    let points = figures.along.iter().map(|p| {
        let volts = p.volts;
        let line = drawn.place.middle(p.mark);
        [line, volts.low.si(), volts.nominal.si(), volts.high.si()]
    });
    let points = clipped(points.collect(), window);
    let through = |which: usize| -> Vec<(f64, f64)> {
        let each = points.iter();
        each.map(|p| (window.scale.at(p[0]), scale.at(p[which])))
            .collect()
    };
    if points.len() < 2 {
        for (x, y) in through(2) {
            canvas.circle((x, y), 1.5, Fill::Black);
        }
        return;
    }
    let (low, nominal, high) = (through(1), through(2), through(3));
    let band: Vec<(f64, f64)> = low.iter().chain(high.iter().rev()).copied().collect();
    canvas.area(&band, Fill::Band);
    canvas.path(&low, Stroke::Dashed, Fill::None);
    canvas.path(&high, Stroke::Dashed, Fill::None);
    canvas.path(&nominal, Stroke::Solid, Fill::None);
}

/// What of a line lies in a row, with the points at which it enters and leaves.
fn clipped(points: Vec<[f64; 4]>, window: Window) -> Vec<[f64; 4]> {
    let between = |a: [f64; 4], b: [f64; 4], line: f64| {
        let span = b[0] - a[0];
        let share = if span > 0.0 {
            (line - a[0]) / span
        } else {
            0.0
        };
        std::array::from_fn(|n| a[n] + share * (b[n] - a[n]))
    };
    let inside = |p: &[f64; 4]| p[0] >= window.from && p[0] <= window.to;
    let mut out: Vec<[f64; 4]> = Vec::new();
    for (number, point) in points.iter().enumerate() {
        if let Some(before) = number.checked_sub(1).and_then(|n| points.get(n)) {
            for edge in [window.from, window.to] {
                if before[0] < edge && edge < point[0] {
                    out.push(between(*before, *point, edge));
                }
            }
        }
        if inside(point) {
            out.push(*point);
        }
    }
    out
}

/// The weakest cell of the run, on the nominal line.
fn weakest(drawn: &Drawn<'_, '_>, window: Window, scale: Scale) -> Option<(f64, f64)> {
    let own = drawn.run.weakest.figures()?;
    let mark = drawn.place.pitch.count_in(own.position);
    let segment = drawn.segments.iter().find(|s| s.id == own.segment)?;
    let along = &segment.solved.figures()?.along;
    let line = drawn.place.middle(mark);
    let nearest = along.iter().min_by_key(|point| point.mark.abs_diff(mark))?;
    Some((window.at(line)?, scale.at(nearest.volts.nominal.si())))
}

/// What the chart shows, in words; how high they are.
pub(super) fn caption(drawn: &Drawn<'_, '_>, canvas: &mut Canvas, top: f64) -> f64 {
    let mut words = "Scale: along the line as drawn. Chart: volts across the cells, every emitter at full. Line: nominal. Grey between dashes: any build within \
                     the tolerances, worst case low to high."
        .to_string();
    if let Solved::Figures(weakest) = &drawn.run.weakest {
        words.push_str(&format!(
            " Triangle: the weakest cell, {:.1} % of its nominal current worst case low, at {} of tape.",
            weakest.current.si() * 100.0,
            drawn.index.lengths.words(weakest.position)
        ));
    }
    canvas.paragraph((0.0, top + SMALL_LINE), &words, WIDTH, 4, Letters::SMALL) + 2.0
}
