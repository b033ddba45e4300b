//! The search beside judging every candidate of runs that are longer than a stretch.

use super::every_candidate::{cheapest, searched};
use crate::choose::feeding::problem::spec::*;
use crate::exact::{CutPitch, ExactLength};
use crate::load::{Load, Resistive, StraightLine};
use crate::network::Polarity;
use crate::quantity::{Corners, amps, celsius, fraction, ohms, ohms_per_metre, volts};
use crate::strip::{TapeEmitter, TapeModel};
use std::collections::BTreeSet;

/// Increments: more than two stretches.
const CELLS: u64 = 70;
/// Longest branch, so that not every pair of marks is tried.
const BRANCH: u64 = 24;

pub(crate) fn problem(emitters: usize, least: f64, at_end: bool, per_segment: i64) -> RunProblem {
    let metres = |m: i64| Some(ExactLength::from_millimetres(1000 * m));
    let spread = |low: f64, high: f64| Corners {
        low: ohms(low),
        nominal: ohms(high),
        high: ohms(high),
    };
    let laws = [
        Load::Resistive(Resistive {
            resistance: ohms(220.0),
        }),
        Load::Straight(StraightLine {
            knee: volts(17.0),
            resistance: ohms(90.0),
            limit: Some(amps(0.07)),
            volts_per_kelvin: 0.0,
        }),
    ];
    let tape = TapeModel {
        strip: "tape".into(),
        pitch: CutPitch::new(ExactLength::from_millimetres(100), 1).expect("a pitch"),
        rated: volts(24.0),
        polarity: Polarity::CommonPlus,
        common: spread(0.012, 0.010),
        emitters: laws[..emitters]
            .iter()
            .enumerate()
            .map(|(e, load)| TapeEmitter {
                name: format!("e{e}"),
                rail: spread(0.012, 0.010),
                law: Corners::same(load.clone().law(celsius(25.0)).expect("a load")),
            })
            .collect(),
        branch: Some(BRANCH),
    };
    let place = PlaceRoutes {
        to_start: if at_end { None } else { metres(3) },
        to_end: if at_end { metres(3) } else { None },
        ..PlaceRoutes::new("P", ExactLength::ZERO)
    };
    let wires = [("thin", 0.03, 60), ("thick", 0.01, 170)].map(|(name, r, price)| {
        CandidateWire::new(name, emitters + 1, Corners::same(ohms_per_metre(r)), price)
    });
    let set_point = Corners {
        low: volts(23.8),
        nominal: volts(24.0),
        high: volts(24.2),
    };
    let source = SourceModel {
        output_resistance: ohms(0.02),
        lead_resistance: ohms(0.01),
        switch_resistance: ohms(0.01),
        ..SourceModel::stiff(set_point)
    };
    let limits = FeedLimits {
        balance: (emitters > 1).then(|| fraction(0.25)),
        connector_current: Some(amps(2.6)),
        segment_current: Some(amps(4.5)),
        ..FeedLimits::light_alone(fraction(least))
    };
    RunProblem {
        costs: CostModel {
            per_segment,
            per_feed: 300,
            per_break: 90,
            energy: None,
        },
        ..RunProblem::new(
            "R",
            tape,
            CELLS,
            vec![place],
            wires.to_vec(),
            source,
            limits,
        )
    }
}

#[test]
fn long_runs_cost_what_judging_every_candidate_says() {
    let mut seen = BTreeSet::new();
    for (emitters, least, at_end, per_segment) in [
        (1, 0.80, false, 400),
        (1, 0.90, true, 4_000),
        (1, 0.85, false, 4_000),
        (2, 0.70, false, 400),
        (2, 0.85, true, 4_000),
        (2, 0.80, false, 4_000),
    ] {
        let problem = problem(emitters, least, at_end, per_segment);
        let m = problem.check().expect("a sound run");
        let chain = searched(&m).expect("some chain holds");
        seen.extend(chain.segments.iter().map(|c| c.pattern));
        assert_eq!(
            Some(chain.key.cost),
            cheapest(&m),
            "{emitters} emitters, {least}: {:?}",
            chain.segments
        );
    }
    // One feed, and several, are among the answers.
    assert!(seen.contains(&Pattern::Inside), "{seen:?}");
    assert!(seen.contains(&Pattern::BothEnds), "{seen:?}");
    assert!(seen.iter().any(|p| *p >= Pattern::TwoInside), "{seen:?}");
}

#[test]
fn runs_from_reels_cost_what_judging_every_candidate_says() {
    let mut joined = 0;
    for (emitters, least, milliohms, reel, price, rail) in [
        (1, 0.80, 40.0, 12, 150, None),
        (1, 0.85, 150.0, 7, 60, Some(1.5)),
        (1, 0.80, 0.0, 9, 700, None),
        (2, 0.80, 80.0, 10, 90, None),
        (2, 0.70, 250.0, 15, 0, None),
    ] {
        let mut problem = problem(emitters, least, false, 4_000);
        problem.limits.rail_current = rail.map(amps);
        problem.reel = Some(Reel {
            increments: reel,
            resistance: ohms(milliohms * 1e-3),
            price,
        });
        let m = problem.check().expect("a sound run");
        let chain = searched(&m).expect("some chain holds");
        joined += chain
            .segments
            .iter()
            .map(|c| m.reels.count(c.from, c.to))
            .sum::<usize>();
        let wanted = cheapest(&m);
        assert_eq!(
            Some(chain.key.cost),
            wanted,
            "{emitters}, {milliohms} mΩ, {reel}"
        );
    }
    assert!(joined > 10, "{joined}");
}

#[test]
fn a_longer_branch_may_ease_the_other() {
    // The limit of the rails decides: what a feed's right branch may not draw beside a short left one it may
    // beside a longer one, which takes from the volts at the feed.
    for (increments, rail, metres) in [
        (40, 1.8, 12),
        (50, 1.1, 12),
        (50, 1.5, 15),
        (50, 2.0, 20),
        (60, 2.0, 12),
    ] {
        let mut problem = problem(1, 0.4, false, 800);
        problem.increments = increments;
        problem.tape.branch = None;
        problem.limits.connector_current = None;
        problem.limits.rail_current = Some(amps(rail));
        problem.places[0].to_start = Some(ExactLength::from_millimetres(1000 * metres));
        problem.patterns = vec![Pattern::Start, Pattern::End, Pattern::Inside];
        let m = problem.check().expect("a sound run");
        let chain = searched(&m).expect("some chain holds");
        let wanted = cheapest(&m);
        assert_eq!(
            Some(chain.key.cost),
            wanted,
            "{increments}, {rail} A, {metres} m"
        );
    }
}
