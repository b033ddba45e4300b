//! A run: what is cut, joined and fed where, to scale, and the volts along it.
//!
//! ```text
//!   0        2        4 m            the line as drawn, corners unfolded
//!   |<-- 2.45 m -->|<-- 2.45 m -->|  cuts
//!   ▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒|▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒  tape in its profile
//!   1              2 3            4  feeds, told beneath
//!   ~~~~~~~~~~~~~~~~ ~~~~~~~~~~~~~~  volts across the cells: nominal, and the band of any build
//! ```

mod feeds;
mod place;
mod tape;
mod volts;

use super::canvas::{Canvas, Letters, SMALL, WIDTH};
use super::index::Index;
use crate::design::{Run, Segment, Strip};
use place::{Place, Window};

/// Room for the figures of the chart on the left.
const LEFT: f64 = 48.0;
const RIGHT: f64 = WIDTH - 16.0;
/// What a feed or a segment takes of a row on average, or the line is drawn in several rows.
const ROOM: f64 = 26.0;
/// Most rows of one run.
const MOST_ROWS: usize = 8;

/// A run with what it is drawn from.
pub(super) struct Drawn<'i, 'a> {
    index: &'i Index<'a>,
    run: &'a Run,
    place: Place,
    segments: &'i [&'a Segment],
    feeds: Vec<feeds::Fed<'a>>,
}

/// The feed diagram of a run with the volts along it; none where nothing of it was planned.
pub(super) fn figure<'a>(index: &Index<'a>, run: &'a Run) -> Option<String> {
    let strip: &Strip = index.design.strip(&run.strip)?;
    let segments = index.segments(run);
    if segments.is_empty() {
        return None;
    }
    let place = Place::of(run, strip);
    let drawn = Drawn {
        feeds: feeds::of(index, segments, &place),
        index,
        run,
        place,
        segments,
    };
    let mut canvas = Canvas::new();
    let mut y = 16.0;
    let title = format!(
        "Run {}: feed diagram to scale, and the volts along it",
        run.id
    );
    canvas.text((0.0, y), &title, Letters::WORDS.bold());
    y += 10.0;
    let bounds = volts::bounds(&drawn);
    let mut seen = tape::Seen::default();
    for window in Window::rows(drawn.place.drawn, drawn.rows(), LEFT, RIGHT) {
        y = tape::row(&drawn, &mut canvas, window, y, &mut seen);
        y = feeds::markers(&drawn, &mut canvas, window, y);
        if let Some(bounds) = bounds {
            y = volts::chart(&drawn, &mut canvas, window, y + 8.0, bounds);
        }
        y += 10.0;
    }
    y = tape::legend(&mut canvas, y + 4.0, &seen);
    if bounds.is_some() {
        y += volts::caption(&drawn, &mut canvas, y);
    }
    y = feeds::list(&drawn, &mut canvas, y + 10.0);
    let description = drawn.description();
    Some(canvas.finish(y + 4.0, &title, &description))
}

impl Drawn<'_, '_> {
    /// In how many rows the line is drawn, so that there is room for every feed and every segment.
    fn rows(&self) -> usize {
        let most = self.feeds.len().max(self.segments.len()) as f64;
        let rows = libm::ceil(most * ROOM / (RIGHT - LEFT));
        (rows as usize).clamp(1, MOST_ROWS)
    }

    /// The figure in words.
    fn description(&self) -> String {
        let lengths = self.index.lengths;
        let mut words = format!(
            "Run {}, {} as drawn, {} lit.",
            self.run.id,
            lengths.words(self.run.drawn),
            lengths.words(self.run.lit)
        );
        for segment in self.segments {
            words.push_str(&format!(
                " Segment {}, {}, fed",
                segment.id,
                lengths.words(segment.length)
            ));
            let own = self.feeds.iter().filter(|fed| fed.segment.id == segment.id);
            let at: Vec<String> = own
                .map(|fed| {
                    let volts = fed.feed.volts;
                    let volts = volts
                        .map_or_else(String::new, |v| format!(" with {:.2} V", v.nominal.si()));
                    format!(
                        " at {} of tape{volts} through {}",
                        lengths.words(fed.feed.position),
                        fed.feed.kind
                    )
                })
                .collect();
            words.push_str(&at.join(", "));
            words.push('.');
        }
        words
    }
}

/// Words set small.
const SMALL_LINE: f64 = SMALL * 1.3;
