//! Rules on one conductor: load, device, ampacity, the source's limit, a feed lost.

use super::conductor::ConductorFacts;
use super::spec::MayCarry;
use crate::finding::{Case, Finding, Limit, Rule, Value};
use crate::source::{Source, documents};

/// Load, device, ampacity.
pub const COORDINATION: Source = documents::IEC_60364_4_43
    .at("433.1: Ib <= In <= Iz")
    .from_memory();
/// A source that cannot give more.
pub const BY_SOURCE: Source = documents::IEC_60364_4_43
    .at("436: the supply cannot deliver more than the current-carrying capacity of the conductor")
    .from_memory();

const AMPACITY: &str = "the ampacity of the conductor";
const DEVICE: &str = "the rating of the device upstream";

/// Without an ampacity: what feeds the conductor is power-limited, states a limit, or states none.
const OPEN: [Case; 3] = [
    Case::open(
        "no-ampacity-limited-power",
        "",
        "{why}; its source is {class} and delivers {most} at most: compare with the maker's figure for the conductor",
    ),
    Case::open(
        "no-ampacity",
        "",
        "{why}; its source can deliver {most} continuously",
    ),
    Case::open(
        "no-ampacity-no-limit",
        "",
        "{why}; its source states no limit",
    ),
];
/// The same beside the load current.
const OPEN_LOAD: [Case; 3] = {
    let [limited, sustained, unlimited] = OPEN;
    [
        limited.figure("{figure}"),
        sustained.figure("{figure}"),
        unlimited.figure("{figure}"),
    ]
};
/// The same with what to do about it.
const OPEN_AMPACITY: [Case; 3] = {
    const STATE: &str = "state an ampacity with its source, or use a cable that a table covers";
    let [limited, sustained, unlimited] = OPEN_LOAD;
    [
        limited.remedy(STATE),
        sustained.remedy(STATE),
        unlimited.remedy(STATE),
    ]
};

/// No ampacity is known: which of the three, with what does limit the current.
fn no_ampacity(rule: &Rule, cases: &[Case; 3], facts: &ConductorFacts<'_>) -> Finding {
    let [limited, sustained, unlimited] = cases;
    let why = match &facts.conductor.may_carry {
        MayCarry::NoTable(reason) => reason.as_str(),
        MayCarry::Current { .. } => "",
    };
    let finding = |case| {
        rule.not_evaluated(case, facts.about())
            .fact("why", Value::note(why))
    };
    let energy = facts.class.energy;
    match facts.most {
        Some(most) if energy.is_limited() => finding(limited)
            .fact("class", Value::name(energy.word()))
            .fact("most", most),
        Some(most) => finding(sustained).fact("most", most),
        None => finding(unlimited),
    }
}

const LOAD_JUDGED: Case = Case::judged("load", "load {figure} against ampacity {limit}")
    .remedy("larger or parallel conductors, less load, a lower ambient, or less grouping");

/// Load against ampacity.
pub(super) const LOAD: Rule = Rule {
    id: "conductor-load",
    title: "Load of a conductor",
    asks: "Is the load current of each conductor within its ampacity?",
    source: COORDINATION,
    needs: &[AMPACITY],
    cases: &[
        &LOAD_JUDGED,
        &OPEN_AMPACITY[0],
        &OPEN_AMPACITY[1],
        &OPEN_AMPACITY[2],
    ],
};

pub(super) fn load(facts: &ConductorFacts<'_>) -> Finding {
    let load = facts.conductor.load;
    match &facts.conductor.may_carry {
        MayCarry::Current {
            current, source, ..
        } => LOAD
            .at_most(&LOAD_JUDGED, facts.about(), load, *current)
            .source(source.clone()),
        MayCarry::NoTable(_) => no_ampacity(&LOAD, &OPEN_AMPACITY, facts).figure(load),
    }
}

const DEVICE_LOAD_JUDGED: Case = Case::judged("load", "load {figure} against {limit} of {device}")
    .remedy("a device of a higher rating, if the ampacity of the conductor permits; else divide the load");

/// Load against the rating of the device.
pub(super) const DEVICE_LOAD: Rule = Rule {
    id: "conductor-device-load",
    title: "Load of a device",
    asks: "Is the load current of each conductor within the rating of the device upstream?",
    source: COORDINATION,
    needs: &[DEVICE],
    cases: &[&DEVICE_LOAD_JUDGED],
};

pub(super) fn device_load(facts: &ConductorFacts<'_>) -> Option<Finding> {
    let device = facts.device?;
    let finding = DEVICE_LOAD.at_most(
        &DEVICE_LOAD_JUDGED,
        facts.about(),
        facts.conductor.load,
        device.rated,
    );
    Some(finding.fact("device", Value::name(&*device.name)))
}

const DEVICE_SIZE_JUDGED: Case = Case::judged(
    "size",
    "{device} of {figure} against {limit} for a conductor of this size",
)
.remedy("a device of a lower rating, or a larger conductor");

/// Rating of the device against the greatest for the size of the conductor.
pub(super) const DEVICE_SIZE: Rule = Rule {
    id: "conductor-device-size",
    title: "Device for the size of a conductor",
    asks: "Is the device upstream within the largest permitted for the size of the conductor?",
    source: COORDINATION,
    needs: &[DEVICE, "the greatest device for the size of the conductor"],
    cases: &[&DEVICE_SIZE_JUDGED],
};

pub(super) fn device_size(facts: &ConductorFacts<'_>) -> Option<Finding> {
    let device = facts.device?;
    let MayCarry::Current {
        largest_device: Some((largest, source)),
        ..
    } = &facts.conductor.may_carry
    else {
        return None;
    };
    let finding = DEVICE_SIZE
        .at_most(&DEVICE_SIZE_JUDGED, facts.about(), device.rated, *largest)
        .fact("device", Value::name(&*device.name))
        .source(source.clone());
    Some(finding)
}

const BY_SOURCE_LIMIT: Case = Case::judged(
    "by-source",
    "its source can deliver {figure} continuously, and its ampacity is {limit}",
);
const LOWER_RATING: &str =
    "a device rated at or above the load and at or below the ampacity; or a larger conductor";
const BY_DEVICE: Case = Case::judged(
    "by-device",
    "its source can deliver {most} continuously; {device} trips above {figure}, and the ampacity of the conductor is {limit}",
)
.remedy(LOWER_RATING);
const BY_DEVICE_NO_LIMIT: Case = Case::judged(
    "by-device-no-limit",
    "its source states no limit; {device} trips above {figure}, and the ampacity of the conductor is {limit}",
)
.remedy(LOWER_RATING);
const ADD_FUSE: &str = "a fuse at the origin of this conductor, a larger conductor, or a source that cannot deliver more";
const UNPROTECTED: Case = Case::judged(
    "unprotected",
    "conductor not protected: its source can deliver {figure} continuously, its ampacity is {limit}, and nothing in between trips",
)
.remedy(ADD_FUSE);
const UNPROTECTED_NO_LIMIT: Case = Case::judged(
    "unprotected-no-limit",
    "conductor not protected: its source states no limit, its ampacity is {limit}, and nothing in between trips",
)
.figure("no limit stated")
.remedy(
    "state `limit_current` of the supply where its sheet gives its most on overload; else a fuse at the origin of this \
     conductor, a larger conductor, or a source that cannot deliver more",
);

/// Can more than the ampacity flow for long, and does anything open if it does?
pub(super) const PROTECTED: Rule = Rule {
    id: "conductor-protected",
    title: "Protection of a conductor",
    asks: "Is each conductor protected against overload, by the limit of its source or by the device upstream?",
    source: COORDINATION,
    needs: &[AMPACITY],
    cases: &[
        &BY_SOURCE_LIMIT,
        &BY_DEVICE,
        &BY_DEVICE_NO_LIMIT,
        &UNPROTECTED,
        &UNPROTECTED_NO_LIMIT,
        &OPEN[0],
        &OPEN[1],
        &OPEN[2],
    ],
};

pub(super) fn protected(facts: &ConductorFacts<'_>) -> Finding {
    let about = facts.about();
    let Some(iz) = facts.iz else {
        return no_ampacity(&PROTECTED, &OPEN, facts);
    };
    let limit = Limit::AtMost(iz.into());
    match (facts.most, facts.device) {
        (Some(most), _) if most <= iz => PROTECTED
            .at_most(&BY_SOURCE_LIMIT, about, most, iz)
            .source(BY_SOURCE),
        (Some(most), Some(device)) => PROTECTED
            .at_most(&BY_DEVICE, about, device.rated, iz)
            .fact("device", Value::name(&*device.name))
            .fact("most", most),
        (None, Some(device)) => PROTECTED
            .at_most(&BY_DEVICE_NO_LIMIT, about, device.rated, iz)
            .fact("device", Value::name(&*device.name)),
        (Some(most), None) => PROTECTED
            .fails(&UNPROTECTED, about)
            .figure(most)
            .limit(limit),
        (None, None) => PROTECTED.fails(&UNPROTECTED_NO_LIMIT, about).limit(limit),
    }
}

const LOST: Case = Case::judged(
    "lost",
    "with {feed} lost it carries {figure} against {limit}",
)
.remedy("size each feed for the whole load, or interlock the feeds");

/// One feed of several lost: what is left carries all.
pub(super) const FEED_LOST: Rule = Rule {
    id: "conductor-feed-lost",
    title: "Load with a feed lost",
    asks: "Where a segment is fed from several points, does each feed carry the load with another lost?",
    source: COORDINATION,
    needs: &[AMPACITY],
    cases: &[&LOST, &OPEN_LOAD[0], &OPEN_LOAD[1], &OPEN_LOAD[2]],
};

pub(super) fn feed_lost(facts: &ConductorFacts<'_>) -> Vec<Finding> {
    facts
        .conductor
        .load_with_feed_lost
        .iter()
        .map(|(feed, load)| {
            match (facts.iz, facts.device) {
                (None, _) => no_ampacity(&FEED_LOST, &OPEN_LOAD, facts).figure(*load),
                (Some(iz), device) => {
                    let limit = device.map_or(iz, |device| device.rated.min(iz));
                    FEED_LOST.at_most(&LOST, facts.about(), *load, limit)
                }
            }
            .fact("feed", feed.clone())
        })
        .collect()
}
