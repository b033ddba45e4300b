//! Circuits that cannot be: every fault is named, nothing panics, an open core is dark.

use crate::{resistive_tape, three};
use evenrun::network::{Polarity, Workspace};
use evenrun::quantity::{Corners, ohms, volts};
use evenrun::segment::{Branch, Circuit, CircuitError, Conductor, Feeder, Joint, Segment, State};
use evenrun::strip::TapeModel;

fn tape() -> TapeModel {
    resistive_tape(Polarity::CommonPlus, 0.01, &[(48.0, 0.01), (48.0, 0.01)])
}

fn sound(tape: &TapeModel) -> Circuit<'_> {
    let feeders = vec![Feeder::full(tape, 0, three(0.2))];
    Circuit::of(
        Corners::same(volts(24.0)),
        Segment::plain(tape, 0, 10, feeders),
    )
}

type Spoil = fn(&mut Circuit<'_>);

#[test]
fn each_fault_is_named_by_itself() {
    let tape = tape();
    assert!(sound(&tape).check().is_ok());
    let cases: &[(Spoil, &str)] = &[
        (
            |c| c.set_point.low = volts(f64::NAN),
            "set point, worst case, low",
        ),
        (
            |c| c.set_point.high = volts(0.0),
            "set point, worst case, high",
        ),
        (
            |c| c.output_resistance = ohms(-1.0),
            "supply output: its resistance",
        ),
        (
            |c| c.branches[0].lead.low = ohms(f64::NAN),
            "branch 1: a core of its lead",
        ),
        (
            |c| c.branches[0].switch = ohms(f64::NAN),
            "branch 1: its switch",
        ),
        (|c| c.states.clear(), "no state"),
        (|c| c.states[0].lit.clear(), "state 1: not one list"),
        (|c| c.states[0].lit[0].clear(), "no state lights it"),
        (
            |c| c.states[0].lit[0].push(2),
            "lit emitter 2 does not exist",
        ),
        (|c| c.branches[0].segments.clear(), "no segment"),
        (|c| c.branches[0].segments[0].to = 0, "no increment between"),
        (
            |c| c.branches[0].segments[0].to = u64::MAX,
            "cells times rails",
        ),
        (|c| c.branches[0].segments[0].outputs[1] = 7, "on no output"),
        (
            |c| c.branches[0].segments[0].feeders.clear(),
            "brings the common",
        ),
        (
            |c| c.branches[0].segments[0].feeders[0].mark = 11,
            "mark 11 does not lie between 0 and 10",
        ),
        (
            |c| c.branches[0].segments[0].feeders[0].core.high = ohms(-0.1),
            "feeder 1: a core",
        ),
        (
            |c| c.branches[0].segments[0].feeders[0].conductors.truncate(2),
            "leaves by no feeder",
        ),
        (
            |c| {
                c.branches[0].segments[0].feeders[0]
                    .conductors
                    .push(Conductor::Common)
            },
            "enters twice",
        ),
        (
            |c| {
                c.branches[0].segments[0].feeders[0]
                    .conductors
                    .push(Conductor::Return(9))
            },
            "emitter 9 does not exist",
        ),
        (
            |c| {
                c.branches[0].segments[0].joints.push(Joint {
                    mark: 10,
                    common: ohms(0.0),
                    returns: ohms(0.0),
                })
            },
            "mark 10 does not lie strictly between",
        ),
        (
            |c| {
                c.branches[0].segments[0].joints.push(Joint {
                    mark: 3,
                    common: ohms(f64::NAN),
                    returns: ohms(0.0),
                })
            },
            "a joint of the common rail",
        ),
    ];
    for (spoil, words) in cases {
        let mut circuit = sound(&tape);
        spoil(&mut circuit);
        let faults = circuit.check().expect_err(words);
        assert!(
            faults.0.iter().any(|f| f.to_string().contains(words)),
            "{words}: {faults}"
        );
    }
    let mut two = sound(&tape);
    two.output_resistance = ohms(f64::NAN);
    two.branches[0].switch = ohms(f64::NAN);
    assert_eq!(two.check().expect_err("two faults").0.len(), 2);
}

#[test]
fn tapes_of_both_polarities_need_branches_of_their_own() {
    let (plus, minus) = (
        tape(),
        resistive_tape(Polarity::CommonMinus, 0.01, &[(48.0, 0.01), (48.0, 0.01)]),
    );
    let mut mixed = sound(&plus);
    let other = sound(&minus).branches.remove(0);
    mixed.branches[0].segments.extend(other.segments.clone());
    let faults = mixed.check().expect_err("mixed");
    assert!(
        matches!(faults.0[..], [CircuitError::Missing { .. }]),
        "{faults}"
    );
    let mut apart = sound(&plus);
    apart.branches.push(other);
    apart.states[0].lit.push(vec![0, 1]);
    let figures = apart
        .check()
        .expect("sound")
        .solve(&mut Workspace::new())
        .expect("solved");
    // A stiff output: neither branch sees the other, and they are alike.
    let [a, b] = [0, 1].map(|branch| figures.low.branches[branch].segments[0].least_volts.value);
    assert!((a - b).abs() < 1e-9, "{a} and {b}");
}

#[test]
fn an_open_lead_is_dark_and_no_number_is_lost() {
    let tape = tape();
    let mut circuit = sound(&tape);
    circuit.branches[0].lead = Corners::same(ohms(f64::INFINITY));
    let figures = circuit
        .check()
        .expect("an open lead is a lead")
        .solve(&mut Workspace::new())
        .expect("solved");
    let branch = &figures.nominal.branches[0];
    let segment = &branch.segments[0];
    for zero in [
        figures.nominal.current.value,
        branch.volts.value,
        branch.minus_rise.value,
        segment.least_volts.value,
        segment.least_current.value,
        segment.feeders[0].drop.value,
    ] {
        assert_eq!(zero, 0.0);
    }
}

#[test]
fn a_state_that_is_not_there_is_an_error() {
    let tape = tape();
    let circuit = sound(&tape).check().expect("sound");
    let mut work = Workspace::new();
    let found = circuit.operating_point(evenrun::quantity::Corner::Low, 1, &mut work, |_| ());
    assert!(
        found
            .expect_err("one state")
            .to_string()
            .contains("no such state")
    );
}

#[test]
fn parts_that_say_nothing_are_plain() {
    let tape = tape();
    let branch = Branch::direct(Segment::plain(&tape, 0, 4, Vec::new()));
    assert_eq!(branch.outputs, [0, 1]);
    assert_eq!(State::default().lit.len(), 0);
    let empty = Circuit::default();
    assert_eq!(empty.set_point, Corners::same(volts(24.0)));
    assert!(empty.check().is_err());
}
