//! The solver against every row of `distributed_closed_form_check.csv` (closed forms, evaluated with SciPy and mpmath).
use crate::build::*;
use crate::common::{assert_relative, assert_within, rows};
use crate::continuum::{Feed, Found, Tape};
use evenrun::load::{ConstantPower, Law, Load};
use evenrun::network::*;
use evenrun::quantity::*;

const ONE_END: &[f64] = &[0.0];
const BOTH: &[f64] = &[0.0, 5.0];

fn feeds(at: &[f64], volts: f64, ohms: f64) -> Vec<Feed> {
    at.iter().map(|&x| Feed { x, ohms, volts }).collect()
}

/// 0.4 A/m on 0.05 ohm/m, 5 m, 12 V.
fn constant_tape(at: &[f64]) -> Tape<'static> {
    Tape {
        length: 5.0,
        ohms_per_metre: 0.05,
        cell: &|step| constant(0.4 * step),
        feeds: feeds(at, 12.0, 0.0),
    }
}

/// 0.04 S/m from 0 V on the same.
fn linear_tape(at: &[f64], feeder: f64) -> Tape<'static> {
    Tape {
        length: 5.0,
        ohms_per_metre: 0.05,
        cell: &|step| resistor(1.0 / (0.04 * step)),
        feeds: feeds(at, 12.0, feeder),
    }
}

/// The straight line of 3 white diodes and 150 ohm, 20 strings a metre.
fn knee_tape(at: &[f64]) -> Tape<'static> {
    Tape {
        length: 5.0,
        ohms_per_metre: 0.05,
        cell: &|step| line(8.665_844_53, 1.0 / (0.119_970_41 * step), None),
        feeds: feeds(at, 12.0, 0.0),
    }
}

/// Best-placed feeds: at `(2k − 1)·L/(2N)`.
fn best_placed(number: usize) -> Vec<f64> {
    (0..number)
        .map(|k| 5.0 * (2 * k + 1) as f64 / (2 * number) as f64)
        .collect()
}

fn number_in(case: &str) -> usize {
    case.split(|c: char| !c.is_ascii_digit())
        .filter_map(|n| n.parse().ok())
        .nth(1)
        .expect("a number in the case's name")
}

fn found(case: &str, quantity: &str) -> f64 {
    let code = &case[..2];
    match (code, quantity) {
        ("A1", "drop at 2.5 m") => 12.0 - constant_tape(ONE_END).limit(|f| f.at(2.5)),
        ("A1", "end drop") => 12.0 - constant_tape(ONE_END).limit(Found::last),
        ("A1", "mean drop") => 12.0 - constant_tape(ONE_END).limit(Found::mean),
        ("A1", "loss") => constant_tape(ONE_END).limit(|f| f.loss),
        ("A2", "max drop") => 12.0 - constant_tape(BOTH).limit(|f| f.at(2.5)),
        ("A2", "mean drop") => 12.0 - constant_tape(BOTH).limit(Found::mean),
        ("A2", "loss") => constant_tape(BOTH).limit(|f| f.loss),
        ("A3", "max drop") => {
            12.0 - constant_tape(&best_placed(number_in(case))).limit(Found::last)
        }
        ("A4", "max drop") => {
            let spans = number_in(case) - 1;
            let at: Vec<f64> = (0..=spans).map(|k| 5.0 * k as f64 / spans as f64).collect();
            12.0 - constant_tape(&at).limit(|f| f.at(2.5 / spans as f64))
        }
        ("A5", _) => {
            let tape = Tape {
                feeds: vec![
                    Feed {
                        x: 0.0,
                        ohms: 0.0,
                        volts: 12.0,
                    },
                    Feed {
                        x: 5.0,
                        ohms: 0.0,
                        volts: 11.9,
                    },
                ],
                ..constant_tape(BOTH)
            };
            if quantity == "minimum voltage" {
                tape.limit(|f| vertex(f).1)
            } else {
                tape.limit(|f| vertex(f).0)
            }
        }
        ("A6", "drop to 150 m") => 1000.0 - textbook(200.0).limit(|f| f.at(150.0)),
        ("A6", "end drop") => 1000.0 - textbook(200.0).limit(Found::last),
        // The supply on its stiffest joint: C1's decay constant from the ratio of the ends, cosh(alpha·L) = us/u(L).
        ("C1", "alpha") => {
            let ratio = 12.0 / linear_tape(ONE_END, 0.0).limit(Found::last);
            (ratio + (ratio * ratio - 1.0).sqrt()).ln() / 5.0
        }
        ("C1", "u(2.5 m)") => linear_tape(ONE_END, 0.0).limit(|f| f.at(2.5)),
        ("C1", "u(L)") => linear_tape(ONE_END, 0.0).limit(|f| f.at(5.0)),
        ("C1", "input current") => linear_tape(ONE_END, 0.0).limit(|f| f.input),
        ("C2", "minimum u") => linear_tape(BOTH, 0.0).limit(|f| f.at(2.5)),
        ("C3", "minimum u") => linear_tape(&best_placed(number_in(case)), 0.0).limit(|f| f.at(5.0)),
        ("C3", "mean u / us") => {
            linear_tape(&best_placed(number_in(case)), 0.0).limit(Found::mean) / 12.0
        }
        ("C4", "u at tape input") => 12.0 - 0.2 * linear_tape(ONE_END, 0.2).limit(|f| f.input),
        ("C4", "u(L)") => linear_tape(ONE_END, 0.2).limit(|f| f.at(5.0)),
        ("C5", "V(L)") => knee_tape(ONE_END).limit(|f| f.at(5.0)),
        ("C5", "input current") => knee_tape(ONE_END).limit(|f| f.input),
        ("C5", "end/start current ratio") => {
            (knee_tape(ONE_END).limit(|f| f.at(5.0)) - 8.665_844_53) / (12.0 - 8.665_844_53)
        }
        ("C5", "V(L/2)") => knee_tape(BOTH).limit(|f| f.at(2.5)),
        ("C5", "mid/start current ratio") => {
            (knee_tape(BOTH).limit(|f| f.at(2.5)) - 8.665_844_53) / (12.0 - 8.665_844_53)
        }
        ("B1" | "D1", _) => {
            let cells = number_in(case);
            let law = if code == "B1" {
                constant(2.0 / cells as f64)
            } else {
                resistor(cells as f64 / 0.2)
            };
            let v = at_section_ends(cells, law, 0.25 / cells as f64);
            let node = quantity
                .rsplit(' ')
                .next()
                .and_then(|n| n.parse().ok())
                .unwrap_or(cells);
            if code == "B1" {
                12.0 - v[node - 1]
            } else {
                v[node - 1]
            }
        }
        _ => panic!("a row the test does not know: {case}, {quantity}"),
    }
}

/// 2 A/m on two wires of 0.3 ohm/km, one end.
fn textbook(length: f64) -> Tape<'static> {
    Tape {
        length,
        ohms_per_metre: 0.0006,
        cell: &|step| constant(2.0 * step),
        feeds: feeds(&[0.0], 1000.0, 0.0),
    }
}

/// Lowest point of the parabola through the three lowest cells.
fn vertex(f: &Found) -> (f64, f64) {
    let k = (1..f.cells.len() - 1)
        .min_by(|&a, &b| f.cells[a].total_cmp(&f.cells[b]))
        .expect("cells");
    let (a, b, c) = (f.cells[k - 1], f.cells[k], f.cells[k + 1]);
    let (slope, bend) = ((c - a) / 2.0, a - 2.0 * b + c);
    let t = -slope / bend;
    (
        (k as f64 + 0.5 + t) * f.step,
        b + t * slope + 0.5 * t * t * bend,
    )
}

/// Cells at the far ends of equal sections, 12 V at the near end.
fn at_section_ends(cells: usize, law: Law, link: f64) -> Vec<f64> {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(12.0));
    let law = spec.law(law);
    let tape = spec.tape(one_emitter(
        cells,
        law,
        link,
        0.0,
        vec![Attachment::through(0, plus, ohms(link))],
        vec![Attachment::at(0, minus)],
    ));
    solved(spec, |s| s.tape(tape).unwrap().cell_volts(0).to_vec())
}

#[test]
fn every_row_of_the_closed_forms() {
    let mut seen = 0;
    for row in rows("light/distributed_closed_form_check.csv", 50) {
        assert!(row.may_be_asserted());
        let (case, quantity) = (row.text("case"), row.text("quantity"));
        if case.starts_with('E') || case.starts_with("A7") {
            continue; // the tests below
        }
        seen += 1;
        assert_relative(
            &format!("{case}, {quantity}"),
            found(case, quantity),
            row.number("value"),
            1e-7,
        );
    }
    assert_eq!(seen, 44);
}

/// The textbook's feeder with two ends: at the voltages of the table the lowest point is 220 V at 450 m.
#[test]
fn two_ends_of_different_voltage() {
    let table = rows("light/distributed_closed_form_check.csv", 50);
    let end = |name| {
        table
            .iter()
            .find(|r| r.text("case").starts_with("A7") && r.text("quantity") == name)
            .expect("a row")
            .number("value")
    };
    let tape = Tape {
        length: 800.0,
        ohms_per_metre: 0.0001,
        cell: &|step| constant(1.25 * step),
        feeds: vec![
            Feed {
                x: 0.0,
                ohms: 0.0,
                volts: end("V at A"),
            },
            Feed {
                x: 800.0,
                ohms: 0.0,
                volts: end("V at B"),
            },
        ],
    };
    assert_relative(
        "place of the minimum",
        tape.limit(|f| vertex(f).0),
        450.0,
        1e-7,
    );
    assert_relative("minimum", tape.limit(|f| vertex(f).1), 220.0, 1e-7);
}

fn power_tape(length: f64, cell: &dyn Fn(f64) -> Law) -> Tape<'_> {
    Tape {
        length,
        ohms_per_metre: 0.05,
        cell,
        feeds: feeds(&[0.0], 12.0, 0.0),
    }
}

fn ten_watts(step: f64) -> Law {
    law(Load::ConstantPower(ConstantPower {
        power: watts(10.0 * step),
        works_from: volts(1.0),
    }))
}

fn value(case: &str, quantity: &str) -> f64 {
    let table = rows("light/distributed_closed_form_check.csv", 50);
    table
        .iter()
        .find(|r| r.text("case").starts_with(case) && r.text("quantity") == quantity)
        .expect("a row")
        .number("value")
}

/// Constant power: the length at which the far end is at 11 V.
#[test]
fn constant_power_far_end() {
    let length = value("E1", "length that gives it");
    assert_relative(
        "far end",
        power_tape(length, &ten_watts).limit(|f| f.at(length)),
        11.0,
        1e-7,
    );
}

/// Constant power: beyond the longest length no solution exists, and the solver says what share it reached.
#[test]
fn constant_power_longest_length() {
    let longest = value("E2", "longest length with any solution");
    assert_relative(
        "dimensionless",
        longest * (0.05_f64 * 10.0).sqrt() / 12.0,
        value("E2", "dimensionless Lmax*sqrt(r p)/Vs"),
        1e-9,
    );
    // Collapse as a multiple of the power: L·sqrt(r·p·s) is fixed, so s = (longest/length)². Found to 1e-4; 800 cells add 1e-5.
    let (spec, _) = power_tape(10.0, &ten_watts).spec(800);
    let network = spec.check().unwrap();
    let options = SolveOptions {
        find_collapse: true,
        ..SolveOptions::default()
    };
    let mut work = Workspace::new();
    let solution = network.solve(&options, &mut work).unwrap();
    assert!(!solution.bound_is_rigorous());
    assert_relative(
        "collapse",
        solution.collapse_at().unwrap().value,
        (longest / 10.0_f64).powi(2),
        3e-4,
    );
    // Just short of it: a solution, whose far end has come near the voltage of collapse (its slope is infinite there).
    let found = power_tape(longest * 0.9999, &ten_watts).with(800);
    let at_collapse = value("E2", "far-end voltage at that length");
    assert!(
        found.last() > at_collapse,
        "{} V is on the lower branch",
        found.last()
    );
    assert_within("far end near collapse", found.last(), at_collapse, 0.1);
    // Just beyond: none, said with the share reached and the remedy.
    let (spec, _) = power_tape(longest * 1.01, &ten_watts).spec(800);
    let error = spec
        .check()
        .unwrap()
        .solve(&options, &mut Workspace::new())
        .expect_err("no operating point");
    let SolveError::Collapse {
        reached,
        lowest_volts,
        ..
    } = &error
    else {
        panic!("{error}")
    };
    assert_relative("share reached", *reached, 1.0 / (1.01 * 1.01), 3e-4);
    assert!(*lowest_volts > at_collapse);
    assert!(error.to_string().contains("Shorten the run"), "{error}");
}
