//! Heat of the cores of one cable together, and of cables that leave a place together.

use super::View;
use crate::cable::factor_for_group;
use crate::cable::tables::grouping::{self, Family};
use crate::design::{Cable, Feed, Grouping, Terminals};
use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject, Value};
use crate::id::PlaceId;
use crate::quantity::{Amps, Share, amps, fraction};
use crate::source::Source;
use std::collections::BTreeMap;

const TOGETHER: Case = Case::judged(
    "heat",
    "current of two cores that would heat the cable as all of its cores do",
)
.remedy("use larger cores, or bring the returns with their common");

pub(super) static CORES: Rule = Rule {
    id: "cable-heat",
    title: "Heat of cores of unequal current",
    asks: "Do the cores of each cable together make no more heat than its ampacity permits?",
    source: Source::computed(
        "assumption of this library: sum of I² over the cores of a cable, against that of its equally loaded cores",
    ),
    needs: &["an ampacity of the cable"],
    cases: &[&TOGETHER],
};

/// Cables of more than two loaded cores; of two, the load of a conductor says all.
pub(super) fn cores(view: &View<'_>) -> Vec<Finding> {
    feeders(view)
        .filter_map(|(feed, cable)| {
            let limit = *cable.ampacity.current.figures()?;
            let currents = cable.cores.iter().map(|core| core.current);
            let squares: Option<Vec<f64>> = currents.map(|i| Some(i?.si() * i?.si())).collect();
            let squares = squares?;
            if squares.len() <= 2 {
                return None;
            }
            let alike = libm::sqrt(squares.iter().sum::<f64>() / 2.0);
            let about = Subject::Feed(feed.id.clone());
            let finding = CORES.at_most(&TOGETHER, about, amps(alike), limit);
            Some(finding.source(cable.ampacity.source.clone()))
        })
        .collect()
}

const BUNCHED: Case = Case::judged(
    "bunched",
    "share of its ampacity that the fullest core carries, against the factor were all {count} {counted} that leave here to lie together",
);
const APART: Case = Case::open(
    "apart",
    "share of its ampacity that the fullest core carries, against the factor were all {count} {counted} that leave here to lie together",
    "the job does not say how many lie together; of {feeders} feeders all would be too many",
)
.figure("{figure}")
.limit("{limit}")
.remedy("state how many lie together with the way of installation, as \"iec C 3 circuits\", or lay them apart, clear by twice their diameter");

pub(super) static GROUPS: Rule = Rule {
    id: "cable-grouping",
    title: "Cables that lie together",
    asks: "May the feeders that leave each place lie together?",
    source: grouping::IEC,
    needs: &["how many cables lie together, where not all may"],
    cases: &[&BUNCHED, &APART],
};

/// Feeders that leave a place, of one way of counting.
#[derive(Default)]
struct Bundle<'d> {
    feeders: usize,
    counted: usize,
    /// The fullest core by its share of the ampacity.
    fullest: Option<(f64, Amps, &'d Cable)>,
}

/// All feeders of a place are taken to lie together: where that is borne, how they lie decides nothing.
pub(super) fn groups(view: &View<'_>) -> Vec<Finding> {
    let mut all: BTreeMap<(&PlaceId, Grouping), Bundle<'_>> = BTreeMap::new();
    for (_, cable) in feeders(view) {
        let (Some(place), Some(way)) = (leaves(view, cable), cable.ampacity.grouping) else {
            continue;
        };
        let (Some(limit), Some(current)) = (cable.ampacity.current.figures(), cable.current) else {
            continue;
        };
        let bundle = all.entry((place, way)).or_default();
        bundle.feeders += 1;
        bundle.counted += match way {
            Grouping::Circuits => 1,
            Grouping::Conductors => cable.cores.len(),
        };
        let share = current.si() / limit.si();
        if bundle.fullest.is_none_or(|(most, ..)| share > most) {
            bundle.fullest = Some((share, current, cable));
        }
    }
    let judged = all.into_iter().filter(|(_, bundle)| bundle.feeders > 1);
    judged
        .filter_map(|((place, way), bundle)| one(place, way, &bundle))
        .collect()
}

fn one(place: &PlaceId, way: Grouping, bundle: &Bundle<'_>) -> Option<Finding> {
    let (share, ..) = bundle.fullest?;
    let (family, source, counted) = match way {
        Grouping::Circuits => (Family::Iec, grouping::IEC, "circuits"),
        Grouping::Conductors => (Family::Us, grouping::US, "current-carrying conductors"),
    };
    let about = Subject::Place(place.clone());
    let factor = factor_for_group(family, bundle.counted);
    // Beyond the table only what its last row would not bear is known.
    let limit = Share::from(fraction(factor.unwrap_or(0.0)));
    let figure = Share::from(fraction(share));
    let finding = if factor.is_some() && share <= limit.si() {
        GROUPS.at_most(&BUNCHED, about, figure, limit)
    } else {
        GROUPS
            .not_evaluated(&APART, about)
            .figure(figure)
            .limit(Limit::AtMost(limit.into()))
            .fact("feeders", Figure::count(bundle.feeders as u64))
    };
    Some(
        finding
            .fact("count", Figure::count(bundle.counted as u64))
            .fact("counted", Value::name(counted))
            .source(source),
    )
}

/// Feeders with their feeds.
fn feeders<'d>(view: &View<'d>) -> impl Iterator<Item = (&'d Feed, &'d Cable)> {
    let feeds = view.design.feeds.iter();
    feeds.filter_map(|feed| Some((feed, view.cable(&feed.cable)?)))
}

/// The place that a cable leaves.
fn leaves<'d>(view: &View<'d>, cable: &'d Cable) -> Option<&'d PlaceId> {
    match &cable.from {
        Terminals::Supply { supply, .. } => Some(&view.supply(supply)?.place),
        Terminals::Decoder { decoder, .. } => Some(&view.decoder(decoder)?.place),
        _ => None,
    }
}
