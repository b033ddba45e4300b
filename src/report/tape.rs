//! Schedules of the tape: runs, cuts, segments, feeds, bars and reels.

use super::schedule::{
    AMPERE, Draft, MILLIVOLT, PER_CENT, Schedule, VOLT, WATT, WATT_PER_METRE, three,
};
use crate::exact::ExactLength;
use crate::plan::model::{BarRow, FeedConductor, FeedRow, Plan, RunRow};

pub(super) fn runs(plan: &Plan) -> Schedule {
    Draft::<RunRow>::new(
        "runs",
        "Runs",
        "Each run as drawn and as it lights. Drawn is lit plus dark; the dark lengths are ends, corners and gaps.",
    )
    .name("run", "Run", |r| r.id.clone())
    .words("zone", "Zone", |r| r.zone.clone())
    .words("room", "Room", |r| r.room.clone())
    .words("drawing", "Drawing", |r| r.drawing.clone())
    .words("strip", "Tape", |r| r.strip.clone())
    .words("colour", "Colour", |r| r.colour.clone())
    .figure("rated", "Rated", WATT_PER_METRE, 1, |r| {
        r.power_per_length.value
    })
    .metres("drawn", "Drawn", |r| r.drawn)
    .metres("lit", "Lit", |r| r.lit)
    .count("increments", "Increments", |r| r.increments)
    .millimetres("dark_start", "Dark at start", |r| Some(r.dark_start))
    .millimetres("dark_between", "Dark between", |r| Some(r.dark_between))
    .millimetres("dark_end", "Dark at end", |r| Some(r.dark_end))
    .words("path", "Path", |r| r.path.clone())
    .words("profile", "Profile, cover", |r| r.profile.clone())
    .words("environment", "Environment", |r| r.environment.clone())
    .words("service", "Service", |r| r.service.clone())
    .fill(&plan.runs)
}

pub(super) fn cuts(plan: &Plan) -> Schedule {
    Draft::new(
        "cuts",
        "Cuts",
        "For the bench. Count increments and cut on the printed mark: the count is exact, the millimetres are rounded. \
         \"From\" is measured from the start of the run's tape.",
    )
    .name("piece", "Piece", |r: &crate::plan::model::CutRow| {
        r.id.clone()
    })
    .words("run", "Run", |r| r.run.clone())
    .count("segment", "Segment", |r| r.segment as u64)
    .words("strip", "Tape", |r| r.strip.clone())
    .words("reel", "Reel", |r| r.reel.clone())
    .count("increments", "Increments", |r| r.increments)
    .millimetres("length", "Length", |r| Some(r.length))
    .millimetres("from", "From", |r| Some(r.from))
    .words("at_start", "At start", |r| r.start.clone())
    .words("at_end", "At end", |r| r.end.clone())
    .words("label", "Label", |r| r.label.clone())
    .fill(&plan.cuts)
}

pub(super) fn segments(plan: &Plan) -> Schedule {
    Draft::new(
        "segments",
        "Segments",
        "Light and volts of each piece that is electrically on its own. Cell: the least voltage across any cell. \
         Current: the least cell current, as a share of nominal. Balance: the greatest change of the emitters' balance \
         along the segment. Exact to: bound on the numerical error of the nominal voltages.",
    )
    .name(
        "segment",
        "Segment",
        |r: &crate::plan::model::SegmentRow| r.id.clone(),
    )
    .words("run", "Run", |r| r.run.clone())
    .metres("lit", "Lit", |r| r.length)
    .words("pattern", "Fed at", |r| r.pattern.clone())
    .words("weakest", "Weakest", |r| r.weakest.clone())
    .corners(
        "cell",
        ["Cell low", "Cell nom.", "Cell high"],
        VOLT,
        2,
        |r| Some(three(r.least_volts, 1.0)),
    )
    .corners(
        "current",
        ["Current low", "Current nom.", "Current high"],
        PER_CENT,
        1,
        |r| Some(three(r.least_current, 100.0)),
    )
    .figure("balance", "Balance", PER_CENT, 1, |r| {
        r.balance.value * 100.0
    })
    .corners(
        "power",
        ["Power low", "Power nom.", "Power high"],
        WATT,
        1,
        |r| Some(three(r.power, 1.0)),
    )
    // Rounded up: a bound that is rounded down is none.
    .figure("exact_to", "Exact to", MILLIVOLT, 3, |r| {
        libm::ceil(r.volt_error_bound.value * 1e6) / 1e3
    })
    .fill(&plan.segments)
}

pub(super) fn feeds(plan: &Plan) -> Schedule {
    let none: Option<&FeedConductor> = None;
    let rows: Vec<(&FeedRow, Option<&FeedConductor>)> = plan
        .feeds
        .iter()
        .flat_map(|feed| {
            let bare = feed.conductors.is_empty().then_some((feed, none));
            let each = feed.conductors.iter().map(move |c| (feed, Some(c)));
            bare.into_iter().chain(each)
        })
        .collect();
    Draft::<(&FeedRow, Option<&FeedConductor>)>::new(
        "feeds",
        "Feeds",
        "Where copper enters the tape, a line for each conductor. Position and nodes are measured from the start of the \
         run's tape. Volts stand between plus and the weakest return at the feed; amps are the greatest over the lit \
         states at the high corner.",
    )
    .name("feed", "Feed", |r| r.0.id.clone())
    .words("conductor", "Conductor", |r| {
        r.1.map_or_else(String::new, |c| c.function.clone())
    })
    .words("node", "Node", |r| {
        r.1.map_or_else(String::new, |c| c.node.clone())
    })
    .figure_or("current", "Current", AMPERE, 2, "-", |r| {
        r.1.map(|c| c.current.value)
    })
    .words("segment", "Segment", |r| r.0.segment.clone())
    .millimetres("position", "Position", |r| Some(r.0.position))
    .words("cable", "Cable", |r| r.0.cable.clone())
    .words("from", "From", |r| r.0.source.clone())
    .corners(
        "volts",
        ["Volts low", "Volts nom.", "Volts high"],
        VOLT,
        2,
        |r| Some(three(r.0.volts, 1.0)),
    )
    .words("joint", "Joint", |r| r.0.joint.clone())
    .fill(&rows)
}

/// Lengths in stock and the pieces of each, a line a piece.
fn stock(rows: &[BarRow], key: &'static str, title: &'static str, intro: &str) -> Schedule {
    type Line<'a> = (&'a BarRow, usize, Option<&'a (String, ExactLength)>);
    let lines: Vec<Line<'_>> = rows
        .iter()
        .flat_map(|bar| {
            let whole = bar.pieces.is_empty().then_some((bar, 0, None));
            let each = bar
                .pieces
                .iter()
                .enumerate()
                .map(move |(n, piece)| (bar, n + 1, Some(piece)));
            whole.into_iter().chain(each)
        })
        .collect();
    Draft::<Line<'_>>::new(key, title, intro)
        .name("number", "Number", |r| r.0.id.clone())
        .name("kind", "Kind", |r| r.0.kind.clone())
        .count("order", "Order", |r| r.1 as u64)
        .words("piece", "Piece", |r| {
            r.2.map_or_else(|| "nothing cut".to_string(), |piece| piece.0.clone())
        })
        .millimetres("length", "Length", |r| r.2.map(|piece| piece.1))
        .millimetres("stock", "Stock", |r| Some(r.0.stock))
        .millimetres("kerf", "Lost in cutting", |r| Some(r.0.kerf))
        .millimetres("offcut", "Left over", |r| Some(r.0.offcut))
        .fill(&lines)
}

pub(super) fn bars(plan: &Plan) -> Schedule {
    stock(
        &plan.bars,
        "bars",
        "Bars and covers",
        "Stock lengths of profile and cover, and the pieces sawn from each in order. Stock, saw and left-over figures \
         are those of the whole bar.",
    )
}

pub(super) fn reels(plan: &Plan) -> Schedule {
    stock(
        &plan.reels,
        "reels",
        "Reels",
        "Reels of tape, and the pieces cut from each in order. Keep the pieces of one sight line on one reel, and the reels of a joined piece of one batch.",
    )
}
