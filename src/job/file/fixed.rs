//! What is already there: installed devices, segments and feeds that stay.

use super::runs::run_point;
use super::table::Table;
use crate::choose::feeding::Pattern;
use crate::job::fault::FaultKind;
use crate::job::spec::{FixedFeedSpec, FixedSegmentSpec, InstalledKind, InstalledSpec, Sharing};
use crate::layout::spec::RunPoint;

const POINT: &str = "\"start\", \"end\" or a distance like \"2.5 m\"";

/// `[[installed]]`.
pub(super) fn installed(table: Table<'_>) -> InstalledSpec {
    let supply = table.maybe_text("supply");
    let decoder = table.maybe_text("decoder");
    let kind = match (supply, decoder) {
        (Some(supply), None) => InstalledKind::Supply(supply),
        (None, Some(decoder)) => InstalledKind::Decoder(decoder),
        (both, _) => {
            let says = if both.is_some() {
                "stands beside `decoder`, and one thing is not both"
            } else {
                "is missing, and so is `decoder`"
            };
            table.say(
                FaultKind::Missing,
                "supply",
                says,
                "Write one of supply = \"…\" and decoder = \"…\", the name of its kind",
                "",
            );
            InstalledKind::Supply(String::new())
        }
    };
    let spec = InstalledSpec {
        name: table.text("name", "the name it has in the plan"),
        kind,
        place: table.text("place", "the name of the place it stands in"),
        zone: table.maybe_text("zone"),
        serves: table.texts("serves"),
        address: table.maybe_count("address", 1..=512).map(|n| n as u16),
        shares_slots: table.choice_or(
            "shares_slots",
            &[("no", Sharing::No), ("on purpose", Sharing::OnPurpose)],
            Sharing::No,
        ),
    };
    table.done();
    spec
}

fn point(table: &Table<'_>, key: &'static str) -> RunPoint {
    let text = table.text(key, POINT);
    if text.is_empty() {
        RunPoint::Start
    } else {
        run_point(table, key, &text)
    }
}

/// `fixed_segments` of a run.
pub(super) fn segments(table: &Table<'_>) -> Vec<FixedSegmentSpec> {
    let ways: Vec<(&str, Option<Pattern>)> = Pattern::ALL
        .into_iter()
        .map(|pattern| (pattern.words(), Some(pattern)))
        .collect();
    table
        .tables("fixed_segments")
        .into_iter()
        .map(|segment| {
            let spec = FixedSegmentSpec {
                from: point(&segment, "from"),
                to: point(&segment, "to"),
                fed: segment.maybe_choice("fed", &ways).flatten(),
            };
            segment.done();
            spec
        })
        .collect()
}

/// `fixed_feeds` of a run.
pub(super) fn feeds(table: &Table<'_>) -> Vec<FixedFeedSpec> {
    table
        .tables("fixed_feeds")
        .into_iter()
        .map(|feed| {
            let spec = FixedFeedSpec {
                at: point(&feed, "at"),
                place: feed.maybe_text("from"),
                cable: feed.maybe_text("cable"),
            };
            feed.done();
            spec
        })
        .collect()
}
