//! Networks built in a line or two, and a solve that checks the balance of energy.
#![allow(dead_code, reason = "each file uses its own part")]

use evenrun::load::{Diode, Law, Load, Resistive, SeriesString, StraightLine};
use evenrun::network::*;
use evenrun::quantity::*;

/// Diodes of `tests/reference/light/led_parameter_sets.csv`.
pub fn diode(name: &str) -> Diode {
    let rows = crate::common::rows("light/led_parameter_sets.csv", 5);
    let row = rows
        .iter()
        .find(|r| r.text("diode") == name)
        .expect("a diode of the table");
    Diode {
        forward_voltage: volts(row.number("vf_at_i0_v")),
        at_current: amps(row.number("i0_a")),
        ideality: row.number("ideality_n"),
        series_resistance: ohms(row.number("series_resistance_ohm")),
        volts_per_kelvin: -0.002,
    }
}

pub fn string(name: &str, count: u32, ballast: f64) -> Law {
    law(Load::Series(SeriesString {
        diode: diode(name),
        count,
        ballast: ohms(ballast),
    }))
}

/// `I = (V − knee)/resistance`, up to `limit`.
pub fn line(knee: f64, resistance: f64, limit: Option<f64>) -> Law {
    law(Load::Straight(StraightLine {
        knee: volts(knee),
        resistance: ohms(resistance),
        limit: limit.map(amps),
        volts_per_kelvin: 0.0,
    }))
}

pub fn resistor(value: f64) -> Law {
    law(Load::Resistive(Resistive {
        resistance: ohms(value),
    }))
}

/// A constant current with a very short knee.
pub fn constant(current: f64) -> Law {
    line(0.0, 1e-3 / current, Some(current))
}

pub fn law(load: Load) -> Law {
    load.law(celsius(25.0)).expect("a load of the test")
}

/// A tape of one emitter: common links `c`, return links `r`.
pub fn one_emitter(
    cells: usize,
    law: LawId,
    c: f64,
    r: f64,
    plus: Vec<Attachment>,
    minus: Vec<Attachment>,
) -> TapeSpec {
    TapeSpec {
        name: "tape".into(),
        polarity: Polarity::CommonPlus,
        cells,
        common: RailSpec::uniform(ohms(c), plus),
        emitters: vec![emitter("white", law, RailSpec::uniform(ohms(r), minus))],
    }
}

pub fn emitter(name: &str, law: LawId, rail: RailSpec) -> EmitterSpec {
    EmitterSpec {
        name: name.into(),
        lit: true,
        law,
        exceptions: Vec::new(),
        rail,
    }
}

/// Solves, checks that power balances and that the bound is small, and hands the solution to `look`.
pub fn solved<T>(spec: NetworkSpec, look: impl FnOnce(&Solution) -> T) -> T {
    let network = spec.check().expect("a network of the test");
    let mut work = Workspace::new();
    let solution = network
        .solve(&SolveOptions::default(), &mut work)
        .expect("a solution");
    assert!(
        solution.power_imbalance().abs() < 1e-9,
        "power does not balance: {}",
        solution.power_imbalance()
    );
    look(&solution)
}
