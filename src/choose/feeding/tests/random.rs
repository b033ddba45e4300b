//! The search beside judging every candidate, on random runs: joints, reels, two places, up to four emitters, each
//! kind of limit. All invented.

#[path = "../../../../tests/common/dice.rs"]
mod dice;

use super::every_candidate::{cheapest, cheapest_before, searched};
use super::exhaustive::problem;
use crate::choose::feeding::problem::spec::*;
use crate::choose::feeding::result::plan::{Proof, RunOutcome};
use crate::choose::feeding::search::chain::Search;
use crate::choose::feeding::search::cost_before;
use crate::exact::ExactLength;
use crate::load::{Diode, Load, Resistive, SeriesString, StraightLine};
use crate::quantity::{Corners, amps, celsius, fraction, ohms, ohms_per_metre, seconds, volts};
use crate::strip::TapeEmitter;
use dice::Dice;
use std::collections::BTreeSet;

/// Longest run.
const CELLS: u64 = 26;

impl Dice {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.next(1_000_000) as f64 / 1e6)
    }
}

fn random(dice: &mut Dice) -> RunProblem {
    let mut run = problem(1, dice.between(0.5, 0.9), false, dice.next(4_000) as i64);
    let emitters = [1, 1, 2, 4][dice.next(4) as usize];
    run.increments = 4 + dice.next(CELLS - 3);
    let warm = dice.between(1.0, 1.25);
    let spread = |nominal: f64| Corners {
        low: ohms(nominal * warm),
        nominal: ohms(nominal),
        high: ohms(nominal),
    };
    let rail = dice.between(0.002, 0.06);
    let other = if dice.next(2) == 0 { 1.0 } else { 1.5 };
    run.tape.common = spread(rail);
    let milliamps = dice.between(80.0, 600.0) / emitters as f64;
    run.tape.emitters = (0..emitters)
        .map(|e| {
            let amperes = 1e-3 * milliamps * dice.between(0.8, 1.2);
            let knee = dice.between(15.0, 21.0);
            let load = match dice.next(3) {
                0 => Load::Resistive(Resistive {
                    resistance: ohms(24.0 / amperes),
                }),
                1 => Load::Series(SeriesString {
                    diode: Diode {
                        forward_voltage: volts(knee / 6.0),
                        at_current: amps(amperes),
                        ideality: 2.0,
                        series_resistance: ohms(0.0),
                        volts_per_kelvin: 0.0,
                    },
                    count: 6,
                    ballast: ohms((24.0 - knee) / amperes),
                }),
                _ => Load::Straight(StraightLine {
                    knee: volts(knee),
                    resistance: ohms((24.0 - knee) / amperes),
                    limit: (dice.next(2) == 0).then(|| amps(1.05 * amperes)),
                    volts_per_kelvin: 0.0,
                }),
            };
            TapeEmitter {
                name: format!("e{e}"),
                rail: spread(rail * other),
                law: Corners::same(load.law(celsius(25.0)).expect("a load")),
            }
        })
        .collect();
    let mut sometimes = |one_in: u64, low: f64, high: f64| {
        let value = dice.between(low, high);
        (dice.next(one_in) == 0).then_some(value)
    };
    run.tape.branch = sometimes(3, 3.0, 20.0).map(|b| b as u64);
    run.reel = sometimes(3, 3.0, 15.0).map(|increments| Reel {
        increments: increments as u64,
        resistance: ohms(0.02 * increments / 15.0),
        price: 20 * increments as i64,
    });
    run.costs.energy = sometimes(3, 1e6, 4e7).map(|time| EnergyCost {
        time: seconds(time),
        per_kilowatt_hour: 30,
    });
    run.limits = FeedLimits {
        rail_current: sometimes(2, 0.8, 6.0).map(amps),
        connector_current: sometimes(3, 1.0, 5.0).map(amps),
        output_current: sometimes(2, 1.5, 8.0).map(amps),
        segment_current: sometimes(2, 2.0, 10.0).map(amps),
        voltage_drop: sometimes(6, 0.03, 0.12).map(fraction),
        balance: sometimes(4, 0.1, 0.3).map(fraction),
        ..run.limits
    };
    let joints: BTreeSet<u64> = (0..dice.next(3))
        .map(|_| 1 + dice.next(run.increments - 1))
        .collect();
    run.joints = joints
        .into_iter()
        .map(|at| Joint {
            at,
            common: ohms(dice.between(0.0, 0.05)),
            returns: ohms(dice.between(0.0, 0.05)),
            visible: false,
            cut: [JointCut::AsListed, JointCut::Forced, JointCut::Forbidden][dice.next(3) as usize],
            parts_tape: dice.next(2) == 0,
            price: dice.next(300) as i64,
        })
        .collect();
    let mut metres = || {
        Some(ExactLength::from_millimetres(
            500 + dice.next(15_000) as i64,
        ))
    };
    let mut places = vec![run.places[0].clone(); 2];
    (places[0].to_start, places[1].to_end) = (metres(), metres());
    (places[1].place, places[1].to_start) = ("Q".into(), None);
    places.truncate(1 + dice.next(2) as usize);
    run.places = places;
    run.wires = (0..1 + dice.next(4))
        .map(|w| {
            let r = dice.between(0.01, 0.03) / 1.6_f64.powi(w as i32);
            CandidateWire {
                cable: format!("w{w}"),
                cores: emitters + 1,
                core: Corners {
                    low: ohms_per_metre(r * dice.between(1.0, 1.25)),
                    nominal: ohms_per_metre(r),
                    high: ohms_per_metre(r),
                },
                ampacity: (dice.next(3) == 0).then(|| amps(dice.between(2.0, 12.0))),
                price_per_metre: (80.0 * 1.5_f64.powi(w as i32)) as i64 + dice.next(20) as i64,
            }
        })
        .collect();
    let mut marks = |first: u64, one_in: u64| match dice.next(6) {
        0 => Positions::At(
            (first..run.increments)
                .filter(|_| dice.next(one_in) == 0)
                .collect(),
        ),
        _ => Positions::Any,
    };
    (run.breaks, run.feed_points) = (marks(1, 3), marks(0, 4));
    run
}

#[test]
fn random_runs_cost_what_judging_every_candidate_says() {
    let mut dice = Dice(0x5EED);
    let (mut seen, mut segments, mut joined) = (BTreeSet::new(), 0, 0);
    for number in 0..1_000 {
        let problem = random(&mut dice);
        let m = problem.clone().check().expect("a sound run");
        let chain = searched(&m);
        let cost = chain.as_ref().map(|chain| chain.key.cost);
        assert_eq!(cost, cheapest(&m), "run {number}: {problem:#?}");
        for c in chain.iter().flat_map(|chain| &chain.segments) {
            seen.insert(c.pattern);
            segments += 1;
            joined += m.reels.count(c.from, c.to);
        }
    }
    // The runs reach what they are for.
    assert!(seen.len() >= 7, "{seen:?}");
    assert!(segments > 1_600, "{segments}");
    assert!(joined > 120, "{joined}");
}

#[test]
fn random_runs_cut_short_are_bounded_from_below() {
    let mut dice = Dice(0xB0D);
    let (mut short, mut dearer) = (0, 0);
    for number in 0..200 {
        let mut problem = random(&mut dice);
        problem.effort = 1 + dice.next(40);
        let m = problem.clone().check().expect("a sound run");
        let RunOutcome::Planned(plan) = m.plan().expect("solved") else {
            continue;
        };
        let least = cheapest(&m).expect("what is planned can be");
        assert!(plan.lower_bound <= least, "run {number}: {problem:#?}");
        assert!(plan.cost >= least, "run {number}");
        short += usize::from(matches!(plan.proof, Proof::Gap { .. }));
        dearer += usize::from(plan.cost > least);
    }
    assert!(short > 40 && dearer > 5, "{short}, {dearer}");
}

#[test]
fn no_beginning_of_a_run_costs_less_than_its_bound() {
    let mut dice = Dice(0xBE6);
    let (mut bounds, mut costs) = (0, 0);
    for number in 0..200 {
        let problem = random(&mut dice);
        let m = problem.clone().check().expect("a sound run");
        let mut search = Search::new(&m);
        let least = cost_before::costs(&m, &search.feeders, &mut search.verdicts);
        for (mark, (least, cost)) in least.iter().zip(cheapest_before(&m)).enumerate() {
            if let Some(cost) = cost {
                assert!(*least <= cost, "run {number}, mark {mark}: {problem:#?}");
                bounds += least;
                costs += cost;
            }
        }
    }
    // The bound is worth its while.
    assert!(bounds as f64 > 0.9 * costs as f64, "{bounds} of {costs}");
}
