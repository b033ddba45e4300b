//! Slopes of one cell against solving again with the change made.

use crate::{resistive_tape, three};
use evenrun::load::{Load, StraightLine};
use evenrun::network::{Limit, Polarity, Workspace};
use evenrun::quantity::{Corner, Corners, ElectricalResistance, amps, celsius, ohms, volts};
use evenrun::segment::{
    Branch, Cell, CellSensitivity, Circuit, Conductor, Feeder, Joint, Segment, State,
};
use evenrun::strip::TapeModel;

type Scaled = (&'static str, f64, Box<dyn Fn(&mut Circuit<'_>, f64)>);

/// Two decoders on one output: one with two segments (one fed twice, with a joint), one with a segment of its own.
fn circuit(tape: &TapeModel) -> Circuit<'_> {
    let returns = |which: &[usize]| {
        let own = which.iter().map(|e| Conductor::Return(*e));
        std::iter::once(Conductor::Common)
            .chain(own)
            .collect::<Vec<_>>()
    };
    let feeder = |mark, of, conductors: &[Conductor]| Feeder {
        mark,
        core: three(of),
        conductors: conductors.to_vec(),
    };
    let both = returns(&[0, 1]);
    let mut first = Segment::plain(
        tape,
        0,
        30,
        vec![feeder(0, 0.4, &both), feeder(12, 0.7, &both)],
    );
    first.joints.push(Joint {
        mark: 20,
        common: ohms(0.05),
        returns: ohms(0.03),
    });
    let second = Segment::plain(tape, 30, 41, vec![feeder(41, 0.3, &both)]);
    let third = Segment::plain(
        tape,
        0,
        25,
        vec![feeder(0, 0.2, &both[..2]), feeder(25, 0.5, &[both[2]])],
    );
    let branch = |lead, switch, segments| Branch {
        lead: three(lead),
        switch: ohms(switch),
        outputs: vec![0, 1],
        segments,
    };
    Circuit {
        set_point: Corners {
            low: volts(23.5),
            nominal: volts(24.0),
            high: volts(24.5),
        },
        output_resistance: ohms(0.05),
        limit: Limit::None,
        branches: vec![
            branch(0.1, 0.02, vec![first, second]),
            branch(0.2, 0.04, vec![third]),
        ],
        states: vec![
            State {
                lit: vec![vec![0, 1], vec![0, 1]],
            },
            State {
                lit: vec![vec![1], vec![0]],
            },
        ],
    }
}

fn solved(
    circuit: Circuit<'_>,
    state: usize,
    branch: usize,
    segment: usize,
    cell: Cell,
) -> CellSensitivity {
    let circuit = circuit.check().expect("sound");
    circuit
        .operating_point(Corner::Low, state, &mut Workspace::new(), |point| {
            point.sensitivity(branch, segment, cell)
        })
        .expect("solved")
        .expect("a lit cell")
}

fn scale(of: &mut Corners<ElectricalResistance>, by: f64) {
    *of = of.map(|r| *r * by);
}

/// Everything that may be changed, with its slope.
fn all(of: &CellSensitivity) -> Vec<Scaled> {
    let mut out: Vec<Scaled> = vec![(
        "output",
        of.output,
        Box::new(|c, by| c.output_resistance *= by),
    )];
    for (b, branch) in of.branches.iter().enumerate() {
        out.push((
            "lead",
            branch.lead,
            Box::new(move |c, by| scale(&mut c.branches[b].lead, by)),
        ));
        // One resistance serves both switches of a branch.
        let switches = branch.switches.iter().sum();
        out.push((
            "switch",
            switches,
            Box::new(move |c, by| c.branches[b].switch *= by),
        ));
        for (s, segment) in branch.segments.iter().enumerate() {
            for (f, feeder) in segment.feeders.iter().enumerate() {
                out.push((
                    "feeder",
                    *feeder,
                    Box::new(move |c, by| {
                        scale(&mut c.branches[b].segments[s].feeders[f].core, by)
                    }),
                ));
            }
        }
    }
    out
}

/// Slopes of every resistance and of the set point, at cells of every segment and state, by central differences.
#[test]
fn slopes_are_those_of_solving_again() {
    let mut tape = resistive_tape(Polarity::CommonPlus, 0.02, &[(220.0, 0.03), (180.0, 0.04)]);
    for (number, emitter) in tape.emitters.iter_mut().enumerate() {
        let cell = Load::Straight(StraightLine {
            knee: volts(18.0 + number as f64),
            resistance: ohms(120.0),
            limit: Some(amps(1.0)),
            volts_per_kelvin: 0.0,
        });
        emitter.law = Corners::same(cell.law(celsius(25.0)).expect("a law"));
    }
    for polarity in [Polarity::CommonPlus, Polarity::CommonMinus] {
        tape.polarity = polarity;
        for (state, branch, segment, emitter, increment) in [
            (0, 0, 0, 0, 29),
            (0, 0, 0, 1, 7),
            (1, 0, 0, 1, 12),
            (0, 0, 1, 1, 30),
            (0, 1, 0, 0, 24),
            (1, 1, 0, 0, 3),
        ] {
            let cell = Cell { emitter, increment };
            let of = |circuit| solved(circuit, state, branch, segment, cell);
            let here = of(circuit(&tape));
            let slope = |change: &dyn Fn(&mut Circuit<'_>, f64), step: f64| {
                let at = |by: f64| {
                    let mut changed = circuit(&tape);
                    change(&mut changed, by);
                    of(changed).current.value
                };
                (at(step) - at(-step)) / (2.0 * step)
            };
            let near = |what: &str, found: f64, expected: f64| {
                let off = (found - expected).abs();
                assert!(
                    off <= 1e-6 + 1e-4 * expected.abs(),
                    "{what}: {found} for {expected}"
                );
            };
            for (what, found, change) in all(&here) {
                let expected = slope(&|c, by| change(c, 1.0 + by), 1e-3);
                near(what, found, expected);
            }
            let volts_more =
                |c: &mut Circuit<'_>, by: f64| c.set_point = c.set_point.map(|v| *v + volts(by));
            near("set point", here.per_volt, slope(&volts_more, 1e-3));
        }
    }
}

/// Rails of one product are in every segment; all of them together, without the joints.
#[test]
fn rails_are_all_increments_of_the_tape() {
    let tape = resistive_tape(Polarity::CommonPlus, 0.02, &[(220.0, 0.03), (180.0, 0.04)]);
    let scaled = |by: f64| {
        let mut tape = tape.clone();
        scale(&mut tape.common, by);
        for emitter in &mut tape.emitters {
            scale(&mut emitter.rail, by);
        }
        tape
    };
    let cell = Cell {
        emitter: 1,
        increment: 29,
    };
    let of = |tape: &TapeModel| solved(circuit(tape), 0, 0, 0, cell);
    let here = of(&tape);
    let segments = here.branches.iter().flat_map(|b| &b.segments);
    let found: f64 = segments.map(|s| s.rails).sum();
    let expected = (of(&scaled(1.001)).current.value - of(&scaled(0.999)).current.value) / 0.002;
    assert!(
        (found - expected).abs() < 1e-4 * expected.abs(),
        "{found} for {expected}"
    );
    assert!(found < 0.0);
}

/// What is not there, dark or beyond its segment has no slope.
#[test]
fn there_is_no_slope_of_a_dark_cell() {
    let tape = resistive_tape(Polarity::CommonPlus, 0.02, &[(220.0, 0.03), (180.0, 0.04)]);
    let checked = circuit(&tape).check().expect("sound");
    let mut work = Workspace::new();
    let mut none = |state, branch, segment, emitter, increment| {
        checked
            .operating_point(Corner::Low, state, &mut work, |point| {
                point
                    .sensitivity(branch, segment, Cell { emitter, increment })
                    .is_none()
            })
            .expect("solved")
    };
    assert!(none(1, 0, 0, 0, 3));
    assert!(none(0, 0, 0, 0, 30));
    assert!(none(0, 0, 1, 0, 29));
    assert!(none(0, 2, 0, 0, 0) && none(0, 0, 5, 0, 0) && none(0, 0, 0, 7, 0));
    assert!(!none(0, 0, 1, 0, 30));
}
