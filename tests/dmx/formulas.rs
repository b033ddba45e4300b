//! Facts of cables, the list of formulas, and what vouches for the reference tables.

use crate::common::{assert_relative, assert_within, rows};
use crate::line::steady;
use crate::line_in_time::edge;
use evenrun::dmx::chain::LineCable;
use evenrun::dmx::electrical::{self, Driver};
use evenrun::dmx::line::{self, RateRule, StubRule};
use evenrun::dmx::signal::LineNet;
use evenrun::quantity::{celsius, farads, hertz, ohms, seconds, volts};

const Z0: f64 = 120.0;

/// Facts of cables, against the cables of this crate.
#[test]
fn facts_of_cables() {
    let (mut asserted, mut memory) = (0, 0);
    let [pair, category] = [LineCable::data_pair(24), LineCable::unshielded_category()];
    for row in rows("dmx/cable_facts.csv", 24) {
        if !row.may_be_asserted() {
            memory += 1;
            continue;
        }
        asserted += 1;
        let what = format!("line {}: {}", row.line, row.text("quantity"));
        let value = || row.number("value");
        let limit =
            |megahertz: f64| line::category_5e_limit(hertz(megahertz * 1e6)).expect("in range");
        match (row.text("quantity"), row.text("condition")) {
            ("velocity of a polyethylene-insulated pair", _) => {
                assert_within(&what, pair.velocity, value(), 0.0);
                assert_within(&what, 2.29_f64.sqrt().recip(), value(), 0.001);
            }
            // Other cables: 0.66 is slower than these sheets by 3 % at most.
            ("velocity, category 5e cable sheet" | "velocity, in-house pair model", _) => {
                assert!(
                    (value() - category.velocity).abs() <= 0.035 * value(),
                    "{what}"
                );
            }
            ("delay, category 5e", _) => {
                let most: f64 = row.text("value").parse().expect("a number");
                assert!(category.delay_per_metre() * 1e11 <= most, "{what}");
            }
            ("delay, rule of thumb", _) => {
                assert_relative(&what, pair.delay_per_metre() * 1e9, value(), 0.02);
            }
            ("velocity used in one data-sheet formula", _) => {
                let mut fast = pair;
                fast.velocity = value();
                let stub = StubRule::OneWay.longest(seconds(210e-9), &fast).value;
                assert_within(&what, stub, 4.91, 0.005);
            }
            ("attenuation limit, category 5/5e", at) => {
                let megahertz = match at {
                    "64 kHz" => 0.064,
                    "125 kHz" => 0.125,
                    "250 kHz" => 0.25,
                    "512 kHz" => 0.512,
                    "1 MHz" => 1.0,
                    other => panic!("{what}: {other}"),
                };
                assert_within(&what, limit(megahertz), value(), 0.05);
            }
            ("attenuation limit formula, category 5e", _) => {
                assert_eq!(row.text("value"), "1.967 sqrt(f) + 0.023 f + 0.050/sqrt(f)");
                assert_within(
                    &what,
                    limit(4.0),
                    1.967 * 2.0 + 0.023 * 4.0 + 0.05 / 2.0,
                    1e-12,
                );
            }
            ("attenuation, temperature", _) => {
                let rise = line::warmer(1.0, celsius(21.0)) - 1.0;
                assert_within(&what, rise * 100.0, value(), 1e-9);
                assert_within(&what, line::warmer(1.0, celsius(0.0)), 1.0, 0.0);
            }
            ("mutual capacitance, category 5", _) => {
                // 5.6 nF in 100 m is 56 pF/m.
                assert!(category.capacitance_per_metre() * 1e11 <= value(), "{what}");
            }
            ("impedance, category 5", _) => {
                assert_eq!(
                    row.text("value"),
                    format!("{} +/-15", category.impedance.value)
                );
            }
            ("loop resistance, 24 AWG", _) => {
                assert_within(&what, pair.loop_resistance.value * 1e3, value(), 0.05);
            }
            ("loop resistance, 22 AWG", _) => {
                let thick = LineCable::data_pair(22).loop_resistance.value;
                assert_within(&what, thick * 1e3, value(), 0.05);
            }
            ("loop resistance, in-house pair model", _) => {
                assert_relative(&what, pair.loop_resistance.value * 1e3, value(), 0.02);
            }
            ("RS-485 bus cable", _) => {
                assert_eq!(
                    row.text("value"),
                    format!("about {} (100 to 150)", pair.impedance.value)
                );
            }
            ("RS-485 cable, 24 AWG, capacitance", _) => {
                assert_within(&what, pair.capacitance_per_metre() * 1e12, value(), 0.05);
            }
            _ => panic!("{what}: no check for this row"),
        }
    }
    // From memory, and not asserted: delay formula, 9.38 ohm, receiver capacitance, edges of drivers.
    assert_eq!((asserted, memory), (20, 4));
}

/// Every formula of the list, against something that was not computed from it.
#[test]
fn formulas() {
    let mut done = Vec::new();
    let pair = LineCable::data_pair(24);
    // An end that is fed 3 V behind 54 ohm through 500 ns of 120 ohm, long after: for lf-17 and lf-18.
    let mut net = LineNet::new(1e-9).expect("a step");
    let [source, end] = [(); 2].map(|()| net.node().expect("a node"));
    net.source(source, 54.0).expect("a source");
    net.line([source, end], Z0, 500, 0.0).expect("a line");
    let waves = edge(net, &[source, end], 1e-9, 4000, 3.0, 1e-12);
    for row in rows("dmx/line_formulas.csv", 19) {
        if !row.may_be_asserted() {
            // lf-16, the first arrival on a lossy line, is from memory.
            assert_eq!(row.text("id"), "lf-16");
            continue;
        }
        let id = row.text("id");
        match id {
            "lf-1" => {
                let (_, last) = steady(1, "0.0001", 300.0, 120.0, 1.5);
                let share =
                    line::steady_share(ohms(120.1), ohms(300.0 * pair.loop_resistance.value));
                assert_relative(id, last, 1.5 * share * 120.0 / 120.1, 1e-4);
            }
            // A ladder of two by Kirchhoff, by hand: 1 kΩ a section would be far, so 100 m.
            "lf-2" => {
                let (first, last) = steady(2, "1", 100.0, 120.0, 1.5);
                let r = 100.0 * pair.loop_resistance.value;
                let far = 1.0 / (1.0 / 24e3 + 1.0 / 120.0);
                let near = 1.0 / (1.0 / 24e3 + 1.0 / (r + far));
                assert_relative(id, first, 1.5 * near / (near + r + 0.1), 1e-9);
                assert_relative(id, last, first * far / (far + r), 1e-9);
            }
            "lf-3" => {
                let driver = Driver {
                    open: volts(4.5),
                    loaded: volts(2.5),
                    edge: seconds(0.0),
                };
                assert_relative(id, driver.volts_on(ohms(54.0)).value, 2.5, 1e-12);
                assert_relative(id, driver.source_resistance().value, 54.0 * 0.8, 1e-12);
            }
            "lf-4" => {
                let (margin, decibels) = electrical::margin(volts(0.4));
                assert_within(id, margin.value, 0.2, 1e-12);
                assert_within(id, decibels, 6.0206, 1e-4);
            }
            // electrical.rs: against the two nodes; matching to 120 ohm; 562 ohm.
            "lf-5" | "lf-6" | "lf-7" => assert!(rows("dmx/bias_network_check.csv", 24).len() == 24),
            // Energy: what is sent back and what is taken make up the wave.
            "lf-8" => {
                let (z0, load) = (120.0, 75.0);
                let echo = line::reflection(ohms(z0), ohms(load));
                let taken = (1.0 + echo) * (1.0 + echo) / load;
                assert_relative(id, echo * echo / z0 + taken, 1.0 / z0, 1e-12);
            }
            "lf-9" => {
                for ways in 1..6_u16 {
                    let load = ohms(Z0 / f64::from(ways));
                    assert_within(
                        id,
                        line::split(ways),
                        line::reflection(ohms(Z0), load),
                        1e-12,
                    );
                }
            }
            "lf-10" => {
                let beside = electrical::pair_load(&[ohms(Z0), ohms(50.0)], 0.0);
                let echo = line::reflection(ohms(Z0), beside);
                assert_within(id, line::across(ohms(Z0), ohms(50.0)), echo, 1e-12);
            }
            "lf-11" => {
                let small = line::capacitor_echo(ohms(Z0), farads(1e-12), seconds(50e-9));
                assert_relative(id, small, Z0 * 1e-12 / (2.0 * 50e-9), 1e-6);
            }
            // Per length: C_d/(C d) is Z0 C_d over the delay of d.
            "lf-12" => {
                let spacing = 3.0;
                let loaded = line::loaded(
                    pair.impedance,
                    farads(20e-12),
                    seconds(spacing * pair.delay_per_metre()),
                );
                let share = 20e-12 / (pair.capacitance_per_metre() * spacing);
                assert_relative(id, loaded.slowing, (1.0 + share).sqrt(), 1e-12);
            }
            "lf-13" | "lf-14" => {
                let rise = seconds(100e-9);
                let [one, both] = [StubRule::OneWay, StubRule::RoundTrip]
                    .map(|rule| rule.longest(rise, &pair).value);
                let delay = if id == "lf-13" { one } else { 2.0 * both } * pair.delay_per_metre();
                assert_relative(id, delay, 10e-9, 1e-12);
            }
            "lf-15" => {
                let rule = line::stub_departure(seconds(5e-9), seconds(50e-9)).expect("in range");
                assert_within(id, rule, 0.05, 1e-12);
            }
            "lf-17" => assert_within(id, waves[0][100], 3.0 * 120.0 / 174.0, 1e-9),
            "lf-18" => {
                let (launch, far, near) = (
                    3.0 * 120.0 / 174.0,
                    1.0,
                    line::reflection(ohms(Z0), ohms(54.0)),
                );
                for arrivals in 0..3_i32 {
                    let sum: f64 = (0..=arrivals).map(|n| (near * far).powi(n)).sum();
                    let at = 750 + 1000 * arrivals as usize;
                    assert_within(id, waves[1][at], launch * (1.0 + far) * sum, 1e-9);
                }
            }
            "lf-19" => assert_relative(
                id,
                RateRule::Curve.longest(hertz(90e3)).value,
                1200.0,
                1e-12,
            ),
            other => panic!("line {}: no check for `{other}`", row.line),
        }
        done.push(id.to_string());
    }
    assert_eq!(done.len(), 18);
}

/// The reference programs agree among themselves at least as well as we ask of ourselves: no tolerance here
/// is tighter than what vouches for the table.
#[test]
fn tolerances_against_the_cross_checks() {
    let mut worst = 0.0_f64;
    for row in rows("dmx/crosscheck.csv", 21) {
        let tolerance = match row.text("check") {
            text if text.starts_with("two-ended") || text.starts_with("Y split") => 5e-7,
            text if text.starts_with("open stub") => 1e-6,
            text if text.starts_with("20 pF") => 1.5e-3,
            text if text.starts_with("pattern") => 2e-2,
            text if text.starts_with("DC ladder") => 1e-6,
            text if text.starts_with("bias formula") => 1e-6,
            text if text.starts_with("L* ") || text.starts_with("Y of L*") => 1e-6,
            text if text.starts_with("category 5e") => 0.05,
            other => panic!("line {}: no check for `{other}`", row.line),
        };
        assert!(row.number("points") >= 1.0);
        worst = worst.max(row.number("value") / tolerance);
    }
    assert!(worst <= 1.0, "a cross-check is {worst} of the tolerance");
    let lattice = rows("dmx/lattice_check.csv", 280);
    let points = |case: &str| {
        lattice
            .iter()
            .filter(|row| row.text("case") == case)
            .count()
    };
    assert_eq!(
        (points("open end"), points("matched")),
        (20, 20),
        "points of the cross-check are rows here"
    );
    assert_eq!(
        points("Y split, arm A 250 ns and arm B 400 ns both open"),
        56
    );
}
