//! Load laws against the tables of `tests/reference/light` (SciPy's Lambert W, confirmed there by a root-finder), to relative 1e-7.
use crate::build::*;
use crate::common::{Row, assert_relative, assert_within, rows};
use evenrun::load::flux::FluxLaw;
use evenrun::load::*;
use evenrun::quantity::*;

/// Law of a case such as `12V_3white`, with the ballast in its own column or found in the sensitivity table.
fn case_law(case: &str, at: f64) -> Law {
    let table = rows("light/string_sensitivity_check.csv", 10);
    let row = table
        .iter()
        .find(|r| r.text("case") == case)
        .expect("a case of the sensitivity table");
    let name = case.trim_start_matches(|c: char| !c.is_ascii_lowercase());
    let load = Load::Series(SeriesString {
        diode: diode(name),
        count: row.number("series_count") as u32,
        ballast: ohms(row.number("ballast_ohm")),
    });
    load.law(celsius(at)).expect("a law")
}

#[test]
fn series_string_in_closed_form() {
    for row in rows("light/string_iv_check.csv", 149) {
        assert!(row.may_be_asserted());
        let law = string(
            row.text("diode"),
            row.number("series_count") as u32,
            row.number("ballast_ohm"),
        );
        let (v, i) = (volts(row.number("supply_v")), row.number("current_a"));
        assert_relative(row.text("case"), law.current(v).value, i, 1e-7);
        // And back.
        assert_relative(
            row.text("case"),
            law.voltage_for(amps(law.current(v).value))
                .expect("a voltage")
                .value,
            v.value,
            1e-12,
        );
    }
}

#[test]
fn sensitivity_to_the_supply() {
    for row in rows("light/string_sensitivity_check.csv", 10) {
        let law = case_law(row.text("case"), 25.0);
        let nominal = row.number("nominal_v");
        let current = |share: f64| law.current(volts(nominal * share)).value;
        let slope = law.slope(volts(nominal)).value;
        assert_relative("current", current(1.0), row.number("i_nominal_a"), 1e-7);
        assert_relative("slope", slope, row.number("di_dv_a_per_v"), 1e-7);
        assert_relative(
            "sensitivity",
            nominal / current(1.0) * slope,
            row.number("sensitivity_s"),
            1e-7,
        );
        assert_relative(
            "at 95 %",
            current(0.95) / current(1.0),
            row.number("i_ratio_at_95pct_v"),
            1e-7,
        );
        assert_relative(
            "at 90 %",
            current(0.90) / current(1.0),
            row.number("i_ratio_at_90pct_v"),
            1e-7,
        );
        // The tangent: S = V/(V − N·V0).
        let knee = nominal - current(1.0) / slope;
        assert_relative(
            "knee of the tangent",
            knee,
            row.number("string_intercept_v"),
            1e-7,
        );
        let straight = line(knee, 1.0 / slope, None);
        let s =
            nominal / straight.current(volts(nominal)).value * straight.slope(volts(nominal)).value;
        assert_relative(
            "sensitivity of the straight line",
            s,
            row.number("sensitivity_s_pwl"),
            1e-7,
        );
        assert_relative(
            "ballast share",
            current(1.0) * row.number("ballast_ohm") / nominal,
            row.number("ballast_power_fraction"),
            1e-7,
        );
    }
}

#[test]
fn voltage_that_leaves_a_share_of_the_current() {
    for row in rows("light/string_drop_allowance_check.csv", 60) {
        let law = case_law(row.text("case"), 25.0);
        let nominal = volts(row.number("nominal_v"));
        let left = law.current(nominal) * (1.0 - row.number("current_loss_fraction"));
        let found = law.voltage_for(left).expect("a voltage").value;
        assert_relative("voltage", found, row.number("supply_v"), 1e-7);
        let drop = 100.0 * (nominal.value - found) / nominal.value;
        // Printed to seven digits.
        assert_relative("drop", drop, row.number("voltage_drop_percent"), 5e-7);
    }
}

#[test]
fn temperature_shifts_the_voltage() {
    for row in rows("light/string_temperature_check.csv", 20) {
        assert_within(
            "the tests' coefficient",
            row.number("kv_mv_per_k"),
            -2.0,
            0.0,
        );
        let case = row.text("case");
        let nominal = volts(
            case.split('V')
                .next()
                .and_then(|v| v.parse().ok())
                .expect("volts in the name"),
        );
        let hot = case_law(case, row.number("diode_temp_c"))
            .current(nominal)
            .value;
        assert_relative(case, hot, row.number("current_a"), 1e-7);
        assert_relative(
            case,
            hot / case_law(case, 25.0).current(nominal).value,
            row.number("ratio_to_25c"),
            1e-7,
        );
    }
}

#[test]
fn constant_current_with_drop_out() {
    let cell = ConstantCurrent {
        current: milliamps(20.0),
        diode: diode("white"),
        count: 6,
        drop_out: volts(0.5),
    };
    let exact = law(Load::ConstantCurrent(cell));
    // Straight line: slope 6·Rd + Ron, knee 6·V0, from the parameter table.
    let set: Vec<Row> = rows("light/led_parameter_sets.csv", 5)
        .into_iter()
        .filter(|r| r.text("diode") == "white")
        .collect();
    let (rd, v0) = (
        set[0].number("pwl_slope_rd_ohm"),
        set[0].number("pwl_intercept_v0_v"),
    );
    let straight = line(6.0 * v0, 6.0 * rd + 25.0, Some(0.020));
    for row in rows("light/cc_cell_check.csv", 14) {
        let v = volts(row.number("supply_v"));
        assert_relative(
            "exact",
            exact.current(v).value,
            row.number("current_exact_a"),
            1e-7,
        );
        // The table's knee carries ten digits: near darkness that is 1e-11 A.
        assert_within(
            "straight",
            straight.current(v).value,
            row.number("current_pwl_a"),
            1e-10,
        );
    }
}

#[test]
fn flux_follows_current() {
    for row in rows("light/led_flux_check.csv", 31) {
        let (p, x) = (row.number("parameter"), row.number("current_ratio"));
        let law = match row.text("model") {
            "power law" => FluxLaw::Power { exponent: p },
            model if model.starts_with("quadratic") => FluxLaw::Quadratic { droop: p },
            model => panic!("a model the test does not know: {model}"),
        };
        // Printed to eight digits.
        assert_relative(
            row.text("model"),
            law.relative_flux(x),
            row.number("flux_ratio"),
            1e-7,
        );
    }
    // Two efficiencies of one chip, 70 % at 75 mA and 59 % at 350 mA: b = 0.889.
    let Ok(FluxLaw::Power { exponent }) =
        FluxLaw::from_two_efficiencies((0.075, 0.70), (0.350, 0.59))
    else {
        panic!("a law")
    };
    assert_within("exponent", exponent, 0.889, 5e-4);
}

#[test]
fn every_law_rises_from_zero_and_knows_its_slope() {
    let pixel = Pixel {
        idle: milliamps(1.0),
        idle_from: volts(3.0),
        regulated: milliamps(36.0),
        level: fraction(0.7),
        dark_below: volts(3.0),
        full_from: volts(3.8),
    };
    let readings = Readings {
        rows: vec![
            (volts(16.0), milliamps(0.1)),
            (volts(18.0), milliamps(2.0)),
            (volts(24.0), milliamps(20.0)),
        ],
    };
    let laws = [
        string("red", 3, 300.0),
        line(10.0, 100.0, Some(0.02)),
        law(Load::Pixel(pixel)),
        law(Load::Readings(readings)),
        resistor(47.0),
        law(Load::ConstantCurrent(ConstantCurrent {
            current: milliamps(20.0),
            diode: diode("white"),
            count: 6,
            drop_out: volts(0.5),
        })),
    ];
    for law in laws {
        assert_eq!(law.trend(), Trend::Monotone);
        assert_eq!(law.current(volts(0.0)).value, 0.0);
        assert_eq!(law.current(volts(-5.0)).value, 0.0);
        let mut last = 0.0;
        for k in 1..3000 {
            let v = f64::from(k) * 0.01;
            let i = law.current(volts(v)).value;
            assert!(i >= last, "{law:?} falls at {v} V");
            last = i;
            let (h, g) = (1e-6, law.slope(volts(v)).value);
            let secant =
                (law.current(volts(v + h)).value - law.current(volts(v - h)).value) / (2.0 * h);
            // At a kink the secant lies between the two slopes.
            let kink = (law.slope(volts(v + h)).value - law.slope(volts(v - h)).value).abs();
            assert!(
                (secant - g).abs() <= 1e-6 + kink,
                "{law:?} at {v} V: slope {g}, secant {secant}"
            );
        }
    }
}

#[test]
fn no_voltage_overflows() {
    for v in [1e-300, 1.0, 1e3, 1e6, 1e12, 1e300] {
        let i = string("white", 7, 150.0).current(volts(v)).value;
        assert!(i.is_finite() && i >= 0.0, "{v} V: {i} A");
    }
}

#[test]
fn loads_that_cannot_be_are_named() {
    let says = |load: Load| load.law(celsius(25.0)).expect_err("an error").to_string();
    let readings = |rows: &[(f64, f64)]| {
        Load::Readings(Readings {
            rows: rows.iter().map(|&(v, i)| (volts(v), amps(i))).collect(),
        })
    };
    assert!(says(readings(&[(24.0, 0.02)])).contains("1 readings; 2 to"));
    assert!(
        says(readings(&[(20.0, 0.02), (24.0, 0.01)]))
            .contains("reading 2: 24 V and 0.01 A after 20 V")
    );
    assert!(says(readings(&[(20.0, 0.02), (20.0, 0.03)])).contains("voltage must rise"));
    assert!(says(readings(&[(20.0, 0.02), (19.0, 0.03)])).contains("Sort the readings"));
    assert!(says(readings(&[(20.0, -0.02), (21.0, 0.03)])).contains("not negative"));
    assert!(says(readings(&[(f64::NAN, 0.02), (21.0, 0.03)])).contains("must be finite"));
    let mut white = diode("white");
    let series = |diode, count| {
        Load::Series(SeriesString {
            diode,
            count,
            ballast: ohms(100.0),
        })
    };
    assert!(says(series(white, 0)).contains("0 diodes"));
    white.ideality = f64::NAN;
    assert!(says(series(white, 3)).contains("the ideality factor is NaN"));
    white = Diode {
        series_resistance: ohms(200.0),
        ..diode("white")
    };
    assert!(says(series(white, 3)).contains("must leave something for the junction"));
    assert!(
        says(Load::Resistive(Resistive {
            resistance: ohms(-1.0)
        }))
        .contains("-1")
    );
    assert!(
        Load::Open
            .law(celsius(-300.0))
            .expect_err("an error")
            .to_string()
            .contains("junction temperature")
    );
}

#[derive(Debug)]
struct Falls;
impl Characteristic for Falls {
    fn amps_and_siemens(&self, volts: f64) -> (f64, f64) {
        (1.0 / (1.0 + volts), 0.0)
    }
}

#[test]
fn a_falling_custom_characteristic_is_refused() {
    let error = Load::Custom(std::sync::Arc::new(Falls))
        .law(celsius(25.0))
        .expect_err("an error");
    assert!(
        error
            .to_string()
            .contains("a falling one is a constant-power load")
    );
}

/// A diode from its saturation current, against the table's forward voltage at its point; carried to another temperature,
/// the same diode has the volts of the Shockley equation there.
#[test]
fn diode_from_saturation_current() {
    for row in rows("light/led_parameter_sets.csv", 5) {
        assert!(row.may_be_asserted());
        let (saturation, n) = (row.number("saturation_current_a"), row.number("ideality_n"));
        let series = ohms(row.number("series_resistance_ohm"));
        let (v, i) = (row.number("vf_at_i0_v"), row.number("i0_a"));
        let law = |diode: Diode, at: f64| {
            let string = SeriesString {
                diode,
                count: 1,
                ballast: ohms(0.0),
            };
            Load::Series(string).law(celsius(at)).expect("a law")
        };
        let found = Diode::from_saturation(amps(saturation), n, series, -0.002, celsius(25.0));
        let found = law(found.expect("a diode"), 25.0).voltage_for(amps(i));
        assert_relative(row.text("diode"), found.expect("volts").value, v, 1e-6);
        // k/q = 8.617 333 262e-5 V/K (CODATA 2018, exact): n k T/q ln(1 + I/Is) + Rs I at 60 °C.
        let by_hand = n * 8.617_333_262e-5 * 333.15 * (i / saturation).ln_1p() + series.value * i;
        let hot = Diode::from_saturation(amps(saturation), n, series, -0.002, celsius(60.0));
        let found = law(hot.expect("a diode"), 60.0).voltage_for(amps(i));
        assert_relative(
            row.text("diode"),
            found.expect("volts").value,
            by_hand,
            1e-9,
        );
    }
    for saturation in [0.0, -1e-12, 2.0, f64::NAN, f64::INFINITY] {
        let found = Diode::from_saturation(amps(saturation), 1.0, ohms(1.0), -0.002, celsius(25.0));
        assert!(found.is_err(), "{saturation}");
    }
    let cold = Diode::from_saturation(amps(1e-12), 1.0, ohms(1.0), -0.002, celsius(-200.0));
    assert!(cold.is_err());
}
