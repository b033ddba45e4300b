//! Loads that no device was found for, and devices that are there already and cannot stay.

use crate::finding::{Case, Figure, Finding, Rule, Subject, Value};
use crate::id::{RunId, SegmentId};
use crate::source::Source;

const NONE: Case = Case::plain("none", "{why}")
    .figure("no assignment")
    .limit("one")
    .remedy("permit a larger type, another place, or more room");

pub(super) static ASSIGNED: Rule = Rule {
    id: "devices-none",
    title: "Devices for every load",
    asks: "Do the types permitted carry every load of each place?",
    source: Source::computed("assignment of loads to devices"),
    needs: &[],
    cases: &[&NONE],
};

/// No assignment: each load then stands alone.
pub(crate) fn no_assignment(about: Subject, why: &str) -> Finding {
    ASSIGNED.fails(&NONE, about).fact("why", Value::note(why))
}

const LEFT_OUT: Case = Case::plain("left-out", "what is installed cannot stay: {why}")
    .figure("left out of the plan")
    .limit("every limit kept")
    .remedy("move one of its segments elsewhere, or take a larger kind");
const NO_SEGMENT: Case = Case::plain(
    "no-segment",
    "{segment} is to stay on it, and the plan has no such segment",
)
.figure("{segment}")
.limit("{run} has {segments}")
.remedy("fix the segments of the run as well, or name one that it has");
const ELSEWHERE: Case = Case::plain(
    "elsewhere",
    "{segment} is to stay on it, and is fed from another place",
)
.figure("fed from {from}")
.limit("it stands at {place}")
.remedy("fix a feed of the segment from that place, or move the device");
const TOO_SMALL: Case = Case::plain(
    "too-small",
    "{segment} is to stay on it, and it cannot carry it",
)
.figure("kind {kind}")
.limit("a kind that zone and place permit, with what it carries within its limits")
.remedy("permit its kind in zone and place, or let the segment go to another device");

pub(super) static FIXED: Rule = Rule {
    id: "fixed-item",
    title: "Devices that are there already",
    asks: "Does each device that is there already stay, with every segment that is to stay on it?",
    source: Source::job("the job: installed"),
    needs: &[],
    cases: &[&LEFT_OUT, &NO_SEGMENT, &ELSEWHERE, &TOO_SMALL],
};

/// Installed devices that contradict a limit.
pub(crate) fn left_out(about: Subject, why: &str) -> Finding {
    FIXED.fails(&LEFT_OUT, about).fact("why", Value::note(why))
}

fn stays(case: &Case, device: &str, segment: &str) -> Finding {
    FIXED
        .fails(case, Subject::Installed(device.into()))
        .fact("segment", Subject::Segment(SegmentId::new(segment)))
}

/// The plan has no such segment; its run has so many.
pub(crate) fn no_segment(device: &str, segment: &str, run: &str, segments: usize) -> Finding {
    stays(&NO_SEGMENT, device, segment)
        .fact("run", Subject::Run(RunId::new(run)))
        .fact("segments", Figure::count(segments as u64))
}

/// The segment is fed from another place than the device stands at.
pub(crate) fn elsewhere(device: &str, segment: &str, from: &str, place: &str) -> Finding {
    stays(&ELSEWHERE, device, segment)
        .fact("from", Value::name(from))
        .fact("place", Value::name(place))
}

/// The device cannot carry the segment.
pub(crate) fn too_small(device: &str, segment: &str, kind: &str) -> Finding {
    stays(&TOO_SMALL, device, segment).fact("kind", Value::name(kind))
}
