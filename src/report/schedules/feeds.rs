//! Where copper enters the tape, a line for each conductor.

use crate::design::{Design, Feed, FeedConductor, Joint, Segment, Terminals};
use crate::id::SegmentId;
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{AMPERE, Draft, Schedule, VOLT};
use crate::report::words::listed;
use std::collections::BTreeMap;

/// A feed with one of its conductors.
type Row<'a> = (&'a Feed, Option<&'a FeedConductor>);

pub(in crate::report) fn feeds(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let segments: BTreeMap<&SegmentId, &Segment> =
        design.segments.iter().map(|s| (&s.id, s)).collect();
    let rows = design.feeds.iter().flat_map(|feed| {
        let bare = feed.conductors.is_empty().then_some((feed, None));
        let each = feed.conductors.iter().map(move |c| (feed, Some(c)));
        bare.into_iter().chain(each)
    });
    Draft::<Row<'_>>::new(
        "feeds",
        "Feeds",
        "Where copper enters the tape, a line for each conductor. Position and nodes are measured from the start of the \
         run's tape. Volts stand between plus and the weakest return at the feed; amps are the greatest over the lit \
         states worst case, high.",
    )
    .name("feed", "Feed", |r| &r.0.id)
    .words("conductor", "Conductor", |r| {
        r.1.map_or_else(String::new, |c| c.conductor.to_string())
    })
    .words("node", "Node", move |r| {
        let segment = segments.get(&r.0.segment).copied();
        r.1.map_or_else(String::new, |_| node(r.0, segment))
    })
    .figure_or("current", "Current", AMPERE, 2, "-", |r| {
        r.1.map(|c| c.current)
    })
    .words("segment", "Segment", |r| &r.0.segment)
    .millimetres("position", "Position", |r| r.0.position)
    .words("cable", "Cable", |r| &r.0.kind)
    .words("from", "From", |r| from(&r.0.from))
    .corners(
        "volts",
        ["Volts low", "Volts nom.", "Volts high"],
        VOLT,
        2,
        |r| r.0.volts,
    )
    .words("joint", "Joint", |r| match r.0.joint {
        Joint::Soldered => "soldered, strain relief",
    })
    .of(|r| runs.feed(&r.0.id))
    .fill(rows)
}

/// Node of the tape: `start`, `end`, or the distance from the start of the run's tape.
fn node(feed: &Feed, segment: Option<&Segment>) -> String {
    match segment {
        Some(own) if own.first == feed.mark => "start".to_string(),
        Some(own) if own.last == feed.mark => "end".to_string(),
        _ => feed.position.to_string(),
    }
}

/// What feeds it: a decoder with its outputs, or a supply.
fn from(terminals: &Terminals) -> String {
    match terminals {
        Terminals::Supply { supply, .. } => format!("supply {supply}"),
        Terminals::DecoderSupply(decoder) => format!("decoder {decoder}"),
        Terminals::Decoder {
            decoder,
            outputs: used,
        } => format!("decoder {decoder}, {}", outputs(used)),
        Terminals::Segment { segment, .. } => format!("segment {segment}"),
        Terminals::Nothing => String::new(),
    }
}

/// `output 3`, `outputs 1 to 4`, `outputs 1, 2, 4`.
fn outputs(used: &[u64]) -> String {
    match used {
        [one] => format!("output {one}"),
        [first, .., last]
            if used.is_sorted() && (last - first).checked_add(1) == Some(used.len() as u64) =>
        {
            format!("outputs {first} to {last}")
        }
        all => format!("outputs {}", listed(all)),
    }
}

#[cfg(test)]
mod tests {
    use super::outputs;

    #[test]
    fn outputs_in_a_row_are_a_span() {
        for (used, words) in [
            (&[3][..], "output 3"),
            (&[1, 2, 3, 4], "outputs 1 to 4"),
            (&[1, 2, 4], "outputs 1, 2, 4"),
            (&[2, 1], "outputs 2, 1"),
            (&[], "outputs "),
        ] {
            assert_eq!(outputs(used), words);
        }
    }
}
