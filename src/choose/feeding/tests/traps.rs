//! Runs on which a search that leaves out too much goes wrong: each beside judging every candidate. All invented.

use super::every_candidate::{cheapest, searched};
use super::exhaustive::problem;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::spec::*;
use crate::exact::ExactLength;
use crate::load::{Load, StraightLine};
use crate::quantity::{Corners, amps, celsius, fraction, ohms, ohms_per_metre, volts};

/// Cells of 1 A at 24 V above a knee of 20 V on copper that takes nothing.
fn steep(increments: u64, least: f64) -> RunProblem {
    let mut run = problem(1, least, true, 0);
    run.increments = increments;
    run.tape.branch = None;
    let load = Load::Straight(StraightLine {
        knee: volts(20.0),
        resistance: ohms(4.0),
        limit: None,
        volts_per_kelvin: 0.0,
    });
    run.tape.emitters[0].law = Corners::same(load.law(celsius(25.0)).expect("a load"));
    rails(&mut run, 1e-6);
    run.source = SourceModel::stiff(Corners::same(volts(24.0)));
    run.limits = FeedLimits::light_alone(fraction(least));
    run.wires.truncate(1);
    run.wires[0].core = Corners::same(ohms_per_metre(0.0));
    run
}

fn rails(run: &mut RunProblem, ohm: f64) {
    run.tape.common = Corners::same(ohms(ohm));
    run.tape.emitters[0].rail = Corners::same(ohms(ohm));
}

fn metres(m: f64) -> Option<ExactLength> {
    Some(ExactLength::from_millimetres((1000.0 * m) as i64))
}

/// The same wire twice, under two names.
fn two_wires(run: &mut RunProblem) {
    run.wires = ["a", "b"]
        .map(|name| CandidateWire {
            cable: name.into(),
            ..run.wires[0].clone()
        })
        .to_vec();
}

fn costs(run: RunProblem, wanted: i64) {
    let m: CheckedRun = run.check().expect("a sound run");
    assert_eq!(cheapest(&m), Some(wanted));
    assert_eq!(searched(&m).map(|chain| chain.key.cost), Some(wanted));
}

#[test]
fn a_longer_segment_may_draw_less_where_a_joint_of_reels_moves() {
    let mut run = steep(7, 0.4);
    run.breaks = Positions::At(vec![1, 2]);
    run.feed_points = Positions::At(vec![0, 7]);
    run.patterns = vec![Pattern::Start, Pattern::End];
    run.limits.segment_current = Some(amps(4.0));
    run.reel = Some(Reel {
        increments: 5,
        resistance: ohms(0.5),
        price: 0,
    });
    costs(run, 1092);
}

#[test]
fn a_joint_at_the_feed_takes_from_both_sides() {
    let mut run = steep(8, 0.6);
    run.breaks = Positions::At(vec![1, 3]);
    run.feed_points = Positions::At(vec![0, 3]);
    run.patterns = vec![Pattern::Start, Pattern::Inside];
    run.limits.segment_current = Some(amps(4.8));
    run.joints = vec![Joint::new(3, ohms(0.5))];
    costs(run, 1128);
}

#[test]
fn wires_of_one_resistance_have_their_own_ampacity() {
    let mut run = steep(6, 0.8);
    two_wires(&mut run);
    for wire in &mut run.wires {
        wire.core = Corners::same(ohms_per_metre(0.005));
    }
    run.wires[0].ampacity = Some(amps(3.0));
    run.wires[1].price_per_metre = 100;
    run.places[0].to_end = metres(1.0);
    let mut at_end = run.clone();
    at_end.feed_points = Positions::At(vec![6]);
    costs(at_end, 400);
    run.feed_points = Positions::Any;
    run.costs.per_segment = 4000;
    costs(run, 4400);
}

#[test]
fn a_tail_may_be_fed_through_the_gap() {
    let mut run = steep(9, 0.75);
    rails(&mut run, 1e-3);
    run.feed_points = Positions::At(vec![7, 8]);
    run.breaks = Positions::Ends;
    run.patterns = vec![Pattern::TwoInside];
    run.wires[0].core = Corners::same(ohms_per_metre(0.1));
    run.places[0].to_end = metres(0.8);
    costs(run, 714);
}

#[test]
fn of_a_span_between_two_feeds_one_may_carry_more_than_half() {
    for (least, cost) in [(0.981, 840), (0.9845, 1280)] {
        let mut run = problem(1, least, false, 0);
        run.increments = 20;
        run.tape.branch = Some(10);
        run.breaks = Positions::Ends;
        run.patterns = vec![Pattern::BothEnds];
        run.limits = FeedLimits::light_alone(fraction(least));
        run.places[0].to_start = metres(1.0);
        rails(&mut run, 0.004);
        costs(run, cost);
    }
}

#[test]
fn an_emitter_that_is_never_lit_limits_nothing() {
    let mut run = problem(2, 0.8, false, 0);
    run.increments = 10;
    run.breaks = Positions::Ends;
    run.limits = FeedLimits::light_alone(fraction(0.8));
    run.limits.output_current = Some(amps(0.8));
    run.states = LitStates::Listed(vec![vec![false, true]]);
    costs(run, 480);
}

#[test]
fn what_joints_add_may_make_the_next_best_dearer_than_what_is_known() {
    let mut run = steep(10, 0.5);
    run.breaks = Positions::At(vec![5]);
    run.patterns = vec![Pattern::Start];
    run.reel = Some(Reel {
        increments: 5,
        resistance: ohms(0.0),
        price: 500,
    });
    (run.places[0].to_start, run.places[0].to_end) = (metres(4.0), None);
    run.costs = CostModel::default();
    two_wires(&mut run);
    (run.wires[0].price_per_metre, run.wires[1].price_per_metre) = (100, 175);
    let m = run.check().expect("a sound run");
    let crate::choose::feeding::RunOutcome::Planned(plan) = m.plan().expect("solved") else {
        panic!("it is feasible")
    };
    assert_eq!(plan.runner_up.expect("there is one").cost, 1150);
}

#[test]
fn no_feed_near_the_start_is_no_overflow() {
    let mut run = steep(20, 0.8);
    run.feed_points = Positions::At(vec![20]);
    run.costs.per_break = 90;
    run.limits.segment_current = Some(amps(2.0));
    let m = run.check().expect("a sound run");
    assert_eq!(cheapest(&m), None);
    let outcome = m.plan().expect("solved");
    assert!(matches!(
        outcome,
        crate::choose::feeding::RunOutcome::Infeasible(_)
    ));
}

#[test]
fn a_fixed_feeder_is_as_long_as_it_is() {
    let mut run = steep(4, 0.5);
    run.places[0].to_start = metres(3.0);
    run.limits.feeder_length = metres(2.0);
    run.fixed.feeds = vec![FixedFeed {
        at: 0,
        place: None,
        cable: None,
    }];
    let outcome = run.check().expect("a sound run").plan().expect("solved");
    assert!(matches!(
        outcome,
        crate::choose::feeding::RunOutcome::Planned(_)
    ));
}
