//! A run in characters, to scale.

use crate::design::{Feed, Segment};

/// The tape of a run from its first to its last mark: `├──●───┼────●──┤`, a break `┼`, a feed `●`.
///
/// `columns` is how wide the run is drawn; ends, breaks and feeds stand at the column nearest to their marks.
pub(in crate::report) fn drawing(segments: &[&Segment], feeds: &[&Feed], columns: usize) -> String {
    let last = columns.max(4) - 1;
    let marks = segments
        .iter()
        .map(|segment| segment.last)
        .max()
        .unwrap_or(0);
    let column = |mark: u64| {
        let share = mark as f64 / (marks.max(1) as f64);
        ((share * last as f64).round() as usize).min(last)
    };
    let mut line = vec!['─'; last + 1];
    line[0] = '├';
    line[last] = '┤';
    for segment in segments {
        let end = column(segment.last);
        if segment.last < marks && end > 0 && end < last {
            line[end] = '┼';
        }
    }
    for feed in feeds {
        line[column(feed.mark)] = '●';
    }
    line.into_iter().collect()
}
