//! Closed forms of the line, against the reference tables and against our own simulation.

use crate::common::{Row, assert_relative, assert_within, rows};
use evenrun::cable::skin;
use evenrun::device::{PortIsolation, UnitLoads};
use evenrun::dmx::chain::{ChainSpec, LineCable, Part};
use evenrun::dmx::electrical::{self};
use evenrun::dmx::line::{self, RateRule, StubRule};
use evenrun::dmx::signal::{Levels, SignalSpec};
use evenrun::quantity::{
    ElectricalResistance, farads, hertz, metres, ohms, ohms_per_metre, seconds, volts,
};
use proptest::prelude::*;

const Z0: f64 = 120.0;

fn resistance(row: &Row, column: &str) -> ElectricalResistance {
    match row.text(column) {
        "inf" => ohms(f64::INFINITY),
        _ => ohms(row.number(column)),
    }
}

#[test]
fn reflections() {
    for row in rows("dmx/reflection_check.csv", 14) {
        let what = row.text("id");
        let (z0, load) = (resistance(&row, "z0_ohm"), resistance(&row, "load_ohm"));
        let echo = line::reflection(z0, load);
        // Loads are printed to seven digits.
        assert_within(what, echo, row.number("reflection_coefficient"), 3e-7);
        assert_within(what, 1.0 + echo, row.number("voltage_transmission"), 5e-7);
        let loss = line::return_loss(echo);
        match row.text("return_loss_db") {
            "inf" => assert!(loss.is_infinite() && loss > 0.0),
            // An echo of 0.0025 to seven digits of the load: 1e-5 of the decibels.
            _ => assert_relative(what, loss, row.number("return_loss_db"), 1e-5),
        }
        let by_name = match what {
            "refl-8" => line::split(2),
            "refl-9" => line::split(3),
            "refl-10" | "refl-13" => line::across(z0, z0),
            "refl-12" => line::across(z0, ohms(24e3)),
            "refl-14" => line::reflection(z0, electrical::pair_load(&[z0], 32.0)),
            _ => continue,
        };
        assert_within(what, by_name, echo, 2e-7);
    }
}

#[test]
fn stubs_by_two_rules() {
    for row in rows("dmx/stub_length_check.csv", 20) {
        let what = format!("line {}", row.line);
        let rise = seconds(row.number("rise_time_ns") * 1e-9);
        let mut cable = LineCable::data_pair(24);
        cable.velocity = row.number("velocity_factor");
        let one_way = StubRule::OneWay.longest(rise, &cable).value;
        let both = StubRule::RoundTrip.longest(rise, &cable).value;
        assert_relative(&what, one_way, row.number("max_stub_one_way_rule_m"), 1e-6);
        assert_relative(
            &what,
            one_way / 0.3048,
            row.number("max_stub_one_way_rule_ft"),
            1e-6,
        );
        assert_relative(&what, both, row.number("max_stub_round_trip_rule_m"), 1e-6);
        let bit = electrical::shortest_bit(rise).value;
        assert_relative(
            &what,
            bit * 1e9,
            row.number("shortest_bit_this_edge_suits_ns"),
            1e-6,
        );
        assert_relative(
            &what,
            1.0 / bit,
            row.number("fastest_rate_this_edge_suits_bps"),
            1e-6,
        );
        // Between the rules: kept by one, broken by the other, and both say so.
        let between = metres(0.75 * one_way);
        assert!(
            !StubRule::OneWay
                .judge(&"a".into(), between, rise, &cable)
                .is_fail()
        );
        assert!(
            StubRule::RoundTrip
                .judge(&"a".into(), between, rise, &cable)
                .is_fail()
        );
    }
}

#[test]
fn length_against_rate() {
    for row in rows("dmx/length_vs_rate.csv", 9) {
        let what = format!("line {}", row.line);
        let rate = hertz(row.number("rate_bps"));
        for (rule, column) in [
            (RateRule::Curve, "empirical_curve_m"),
            (RateRule::ProductLong, "product_1e8_m"),
            (RateRule::ProductShort, "product_1e7_m"),
        ] {
            assert_relative(&what, rule.longest(rate).value, row.number(column), 1e-6);
        }
    }
}

#[test]
fn loss_of_category_cable() {
    let mut published = 0;
    for row in rows("dmx/cat5_attenuation_check.csv", 16) {
        let what = format!("line {}", row.line);
        let frequency = hertz(row.number("frequency_mhz") * 1e6);
        let limit = line::category_5e_limit(frequency).expect("in range");
        assert_relative(&what, limit, row.number("limit_formula_db_per_100m"), 1e-6);
        assert_relative(
            &what,
            limit * 3.048,
            row.number("limit_formula_db_per_1000ft"),
            1e-6,
        );
        if let Some(print) = row.optional("published_limit_db_per_100m") {
            published += 1;
            assert_within(&what, limit, print, 0.05);
        }
        for (cable, column) in [
            (
                LineCable::unshielded_category(),
                "skin_effect_estimate_24awg_100ohm_db_per_100m",
            ),
            (
                LineCable::data_pair(22),
                "skin_effect_estimate_22awg_120ohm_db_per_100m",
            ),
        ] {
            let estimate = line::estimated_loss(&cable, frequency).expect("a size");
            if let Some(known) = row.optional(column) {
                assert_relative(&what, estimate, known, 1e-6);
            }
            assert!(estimate < limit, "{what}: the estimate leaves losses out");
        }
    }
    assert_eq!(published, 14);
    for outside in [63e3, 101e6, f64::NAN] {
        assert!(line::category_5e_limit(hertz(outside)).is_none());
    }
    assert!(line::estimated_loss(&LineCable::unknown(), hertz(1e6)).is_none());
}

/// Where one form of the round wire's impedance takes over from another, they meet: no step beside the slope.
#[test]
fn forms_of_the_round_wire_meet() {
    let step = |low: f64, high: f64| {
        let [below, above] = [low, high].map(|x| skin::lone_wire_impedance(x).expect("a number"));
        [above[0] - below[0], above[1] - below[1]]
    };
    // Above 200: x/2 + 1/4 + 3/(32x) and x/2 − 3/(32x) − 3/(32x²), whose slopes are 1/2 within 3e-6.
    let [resistance, reactance] = step(199.9999, 200.0001);
    assert_within("resistance", resistance, 1e-4, 1e-8);
    assert_within("reactance", reactance, 1e-4, 1e-8);
    // Below 0.001: 1 + x⁴/48 and x²/4.
    let [resistance, reactance] = step(0.999_999e-3, 1.000_001e-3);
    assert_within("resistance", resistance, 0.0, 1e-14);
    assert_within("reactance", reactance, 1e-12, 1e-14);
}

/// Volts at the first and the last of `count` devices of `load` under a long mark.
pub(crate) fn steady(count: usize, load: &str, spacing: f64, end: f64, open: f64) -> (f64, f64) {
    let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
    for n in 0..count {
        let part = Part::device(format!("D{n}"), metres(spacing));
        let load: UnitLoads = load.parse().expect("a load");
        chain.next(part.port(load, PortIsolation::Isolated));
    }
    chain.terminate(ohms(end));
    let spec = SignalSpec {
        open_volts: volts(open),
        source_resistance: ohms(0.1),
        levels: Some(Levels::of(vec![true])),
        step: seconds(1e-7),
        ..SignalSpec::default()
    };
    let plan = spec.check().expect("in range");
    let signal = chain
        .check()
        .expect("a tree")
        .simulate(&plan)
        .expect("done");
    let seen: Vec<f64> = signal.devices().map(|device| device.steady.value).collect();
    (seen[0], *seen.last().expect("a device"))
}

#[test]
fn direct_volts_in_closed_form() {
    let [c24, c22] = [24, 22].map(|awg| LineCable::data_pair(awg).loop_resistance);
    let lost =
        |metres: f64| 100.0 * (1.0 - line::steady_share(ohms(100.0), ohms(metres * c24.value)));
    for row in rows("dmx/dc_closed_form_check.csv", 9) {
        let (what, value) = (row.text("what"), row.number("value"));
        let found = match what {
            "uniform leakage approximation of dc-2, last receiver" => {
                // 4000 receivers of 0.008 unit loads are nearly uniform; the row is their limit. 0.1 ohm of the
                // driver takes about 0.1/131 of it.
                let (_, last) = steady(4000, "0.008", 0.08, 120.0, 1.5);
                let (_, lumped) = steady(32, "1", 10.0, 120.0, 1.5);
                assert!(
                    (lumped - value).abs() > 5e-4,
                    "32 receivers are not uniform"
                );
                assert_within(what, last * (1.0 + 0.1 / 131.0), value, 1e-4);
                continue;
            }
            text if text.starts_with("length at which a 1.5 V driver") => {
                line::length_for_share(0.2 / 1.5, ohms(120.0), c24).value
            }
            "same, 22 AWG" => line::length_for_share(0.2 / 1.5, ohms(120.0), c22).value,
            "loss of 1200 m of 24 AWG into 100 ohm" => lost(1200.0),
            "loss of 4000 ft of 24 AWG into 100 ohm" => lost(1219.2),
            "length of 24 AWG for 66 % loss into 100 ohm" => {
                line::length_for_share(0.34, ohms(100.0), c24).value
            }
            "length of 24 AWG for 6 dB loss into 100 ohm" => {
                line::length_for_share(10_f64.powf(-0.3), ohms(100.0), c24).value
            }
            "differential load, 32 unit loads and one 120 ohm terminator" => {
                electrical::pair_load(&[ohms(120.0)], 32.0).value
            }
            "differential load, 32 unit loads and two 120 ohm terminators" => {
                electrical::pair_load(&[ohms(120.0); 2], 32.0).value
            }
            other => panic!("line {}: no check for `{other}`", row.line),
        };
        assert_relative(what, found, value, 2e-6);
    }
    // The rows of the ladder whose driver has no resistance; the others are in signal.rs.
    let mut tried = 0;
    for row in rows("dmx/dc_line_check.csv", 11) {
        if row.number("driver_source_resistance_ohm") > 0.0 {
            continue;
        }
        tried += 1;
        let what = row.text("id");
        let (first, last) = (
            row.number("first_receiver_v"),
            row.number("last_receiver_v"),
        );
        let (end, open) = (
            row.number("terminator_ohm"),
            row.number("driver_open_circuit_v"),
        );
        if row.number("unit_loads_each") > 0.0 {
            let (count, spacing) = (row.number("receivers") as usize, row.number("spacing_m"));
            let found = steady(count, row.text("unit_loads_each"), spacing, end, open);
            // Volts along the line keep their ratio whatever the driver.
            assert_relative(what, found.1 / found.0, last / first, 1e-6);
        } else {
            let along = row.number("length_m") * row.number("loop_resistance_ohm_per_km") / 1e3;
            let found = open * line::steady_share(ohms(end), ohms(along));
            assert_relative(what, found, last, 1e-6);
        }
        let (margin, decibels) = electrical::margin(volts(last));
        assert_within(what, margin.value, row.number("noise_margin_last_v"), 1e-6);
        assert_within(what, decibels, row.number("noise_margin_last_db"), 2e-5);
    }
    assert_eq!(tried, 5);
}

proptest! {
    /// No passive end sends back more than came, and the shares of a split are the rest of the wave.
    #[test]
    fn echoes_stay_within_one(z0 in 10.0_f64..1000.0, load in 0.0_f64..1e6, ways in 1_u16..50) {
        let echo = line::reflection(ohms(z0), ohms(load));
        prop_assert!((-1.0..=1.0).contains(&echo));
        prop_assert!((line::across(ohms(z0), ohms(load)) + 1.0).abs() <= 1.0);
        prop_assert!((1.0 + line::split(ways) - 2.0 / (1.0 + f64::from(ways))).abs() < 1e-12);
    }

    /// A line with more capacitance is slower and of less impedance; delay times impedance stays as it was.
    #[test]
    fn loading_slows(c in 0.0_f64..1e-9, more in 1e-13_f64..1e-10, delay in 1e-9_f64..1e-7) {
        let of = |c: f64| line::loaded(ohms(Z0), farads(c), seconds(delay));
        prop_assert!(of(c + more).slowing > of(c).slowing);
        prop_assert!((of(c).impedance.value * of(c).slowing - Z0).abs() < 1e-9);
    }
}

/// Loss rises with the rate, and is that of the copper alone.
#[test]
fn a_lossy_pair_loses_more_at_higher_rates() {
    let mut pair = LineCable::data_pair(24);
    let low = line::estimated_loss(&pair, hertz(100e3)).expect("a size");
    let high = line::estimated_loss(&pair, hertz(1e6)).expect("a size");
    assert!(high > low);
    pair.loop_resistance = ohms_per_metre(0.0);
    assert_within(
        "without copper",
        line::estimated_loss(&pair, hertz(1e6)).expect("a size"),
        0.0,
        1e-9,
    );
}
