//! Figures of the answers again: a ladder marched cell by cell, closed forms, table rows as printed.

use evenrun::ask::*;
use evenrun::exact::ExactLength;
use evenrun::quantity::*;

/// Thermal voltage at 25 °C, V: k and q of the SI, both exact.
const THERMAL: f64 = 1.380_649e-23 * 298.15 / 1.602_176_634e-19;
const CUT: f64 = 0.05;
/// Both rails at 45 °C, as the tape is, ohm/m: 0.00393 1/K is the coefficient of annealed copper at 20 °C (IEC 60028:1925).
const LOOP: f64 = 0.164 * (1.0 + 0.00393 * 25.0);

fn tape(rated: f64, power: f64) -> TapeFacts {
    TapeFacts {
        copper: Copper::Loop(ohms_per_metre(0.164)),
        ..TapeFacts::new(
            volts(rated),
            watts_per_metre(power),
            "50 mm".parse().expect("a pitch"),
        )
    }
}

fn metres_of(millimetres: i64) -> ExactLength {
    ExactLength::from_millimetres(millimetres)
}

/// The root of a rising function, by halving.
fn root(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if f(middle) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    low
}

/// Current of one cut of the tape at `v`, cells at 45 °C: `V = N·n·VT·ln(1 + I/Is) + I·Rb`, 3 V and ideality 2 a diode,
/// −2 mV/K of forward voltage, solved by halving.
fn cell(rated: f64, power: f64, v: f64) -> f64 {
    let diodes = rated / 4.0;
    let rated_amps = power * CUT / rated;
    let n_vt = 2.0 * THERMAL;
    let saturation = rated_amps / (f64::exp(3.0 / n_vt) - 1.0);
    let ballast = (rated - 3.0 * diodes) / rated_amps;
    let at_25 = v + diodes * 0.002 * 20.0;
    root(0.0, 10.0 * rated_amps, |i| {
        diodes * n_vt * f64::ln_1p(i / saturation) + i * ballast - at_25
    })
}

/// Volts of the far cell and current of all, fed at one end: marched from the far end, its voltage found by halving.
fn marched(rated: f64, power: f64, cells: usize) -> (f64, f64) {
    let start = |far: f64| {
        let (mut v, mut i) = (far, 0.0);
        for number in 1..=cells {
            i += cell(rated, power, v);
            // Half a cut of rail lies between the first cell and the mark that is fed.
            v += i * LOOP * CUT * if number == cells { 0.5 } else { 1.0 };
        }
        (v, i)
    };
    let far = root(0.0, rated, |far| start(far).0 - rated);
    (far, start(far).1)
}

fn light(rated: f64, power: f64, cells: usize) -> f64 {
    let (far, _) = marched(rated, power, cells);
    cell(rated, power, far) / cell(rated, power, rated)
}

#[test]
fn the_reach_is_that_of_a_ladder_marched_cell_by_cell() {
    let answer = Reach {
        tape: tape(24.0, 14.4),
        light: percent(90.0),
    };
    let answer = answer.answer().expect("an answer");
    let cells = (answer.one_end.nominal.least.metres() / CUT).round() as usize;
    assert!(light(24.0, 14.4, cells) >= 0.9, "{cells}");
    assert!(light(24.0, 14.4, cells + 1) < 0.9, "{cells}");
    // Fed in the middle each half is such a ladder, with half its cells.
    assert_eq!(
        answer.middle.nominal.least,
        metres_of(2 * 50 * cells as i64)
    );
}

#[test]
fn volts_at_the_far_end_are_those_of_the_ladder() {
    let answer = FarEnd {
        tape: tape(24.0, 14.4),
        length: metres_of(5000),
        fed: Fed::OneEnd,
    };
    let answer = answer.answer().expect("an answer");
    let (far, all) = marched(24.0, 14.4, 100);
    let [least, nominal, most] = answer.volts.map(|v| v.0.value);
    assert!((nominal - far).abs() < 1e-7, "{nominal} for {far}");
    assert!(least < nominal && nominal < most);
    let [_, current, _] = answer.current.map(|i| i.0.value);
    assert!((current - all).abs() < 1e-7, "{current} for {all}");
}

#[test]
fn voltages_compare_as_their_ladders_do() {
    let asked = Voltage {
        tape: tape(24.0, 9.6),
        length: metres_of(7500),
        light: percent(90.0),
    };
    let answer = asked.answer().expect("an answer");
    for (row, rated) in answer.at.iter().zip([12.0, 24.0, 48.0]) {
        let by_hand = light(rated, 9.6, 150);
        assert!(
            (row.light.0.value - by_hand).abs() < 1e-7,
            "{rated} V: {by_hand}"
        );
    }
    let first = answer.at.iter().find(|row| row.light.0.value >= 0.9);
    assert_eq!(answer.enough, first.map(|row| row.volts));
}

#[test]
fn feeds_lie_in_the_middle_of_equal_shares() {
    let asked = FeedPoints {
        tape: tape(24.0, 14.4),
        length: metres_of(12_000),
        light: percent(90.0),
    };
    let answer = asked.answer().expect("an answer");
    let fed = answer.feeds.expect("feeds");
    assert_eq!(fed.at, [metres_of(3000), metres_of(9000)]);
    // By symmetry no current crosses the middle, so each branch is a ladder of 60 cells fed at one end.
    let by_hand = light(24.0, 14.4, 60);
    assert!((fed.light.0.value - by_hand).abs() < 1e-7, "{by_hand}");
    assert_eq!(
        answer.one_fewer.map(|less| less.at),
        Some(vec![metres_of(6000)])
    );
    assert_eq!(answer.class_2, Some(2));
}

/// NFPA 70-2017, chapter 9, table 8, stranded, uncoated, at 75 °C: 14 AWG 10.3 ohm/km, 16 AWG 16.4 ohm/km.
#[test]
fn the_wire_is_the_thinnest_that_keeps_the_drop() {
    let asked = Wire::new(
        RouteLength::new(feet(25.0)),
        amps(4.0),
        volts(24.0),
        percent(3.0),
    );
    let answer = asked.answer().expect("an answer");
    let american = answer.american.expect("a size");
    let by_hand = 2.0 * 7.62 * 10.3e-3 * 4.0;
    assert_eq!(american.size.to_string(), "14 AWG");
    assert!((american.drop.0.value - by_hand).abs() < 1e-12);
    // 16 AWG takes 0.99974 V, 4.166 % of 24 V: it is the answer from there on.
    for (drop, size) in [(4.16, "14 AWG"), (4.17, "16 AWG")] {
        let looser = Wire {
            drop: percent(drop),
            ..asked.clone()
        };
        let found = looser.answer().expect("an answer").american;
        assert_eq!(found.map(|c| c.size.to_string()).as_deref(), Some(size));
    }
    let metric = answer.metric.expect("a size");
    assert_eq!(metric.size.to_string(), "2.5 mm²");
    assert!(metric.share.0 <= percent(3.0));
    // A short wire for much current is chosen by what it carries.
    let short = Wire::new(
        RouteLength::new(metres(0.3)),
        amps(30.0),
        volts(24.0),
        percent(5.0),
    );
    let choice = short.answer().expect("an answer").american.expect("a size");
    assert!(choice.by_ampacity && choice.ampacity.0 >= amps(30.0));
}

#[test]
fn the_distance_turns_the_drop_round() {
    let answer = Distance::new(amps(4.0), volts(24.0), percent(3.0));
    let answer = answer.answer().expect("an answer");
    let of = |size: &str| {
        let row = answer.wires.iter().find(|w| w.size.to_string() == size);
        row.expect("a row").route.0.value
    };
    // NFPA 70-2017, chapter 9, table 8: 16 AWG stranded, 16.4 ohm/km at 75 °C.
    assert!((of("16 AWG") - 0.72 / (2.0 * 16.4e-3 * 4.0)).abs() < 1e-9);
    assert_eq!(
        answer.habit.map(|h| h.to_string()),
        Some("7.62 m".to_string())
    );
}

#[test]
fn supplies_hold_whole_pieces() {
    let answer = Supplies::new(9, watts(40.0)).answer().expect("an answer");
    // 80 % of 100 W holds two pieces of 40 W exactly: five supplies for nine pieces; of 320 W six, so two.
    let counts: Vec<Option<u64>> = answer.sizes.iter().map(|row| row.count).collect();
    assert_eq!(counts, [Some(9), Some(5), Some(3), Some(3), Some(2)]);
    let large = Supplies::new(3, watts(300.0)).answer().expect("an answer");
    assert!(large.sizes.iter().all(|row| row.count.is_none()));
}

/// 32 unit loads (TIA/EIA-485-A) bind where the habit of 20 devices does not: it is the habit that is answered first.
#[test]
fn a_chain_is_judged_by_the_rules_of_its_line() {
    let at = |devices, spacing| {
        let asked = DataChain {
            devices,
            spacing: metres(spacing),
        };
        asked.answer().expect("an answer")
    };
    let long = at(25, 8.0);
    assert_eq!(long.most_devices, 20);
    assert!(
        long.findings
            .iter()
            .any(|f| f.rule.as_str() == "chain-devices-habit")
    );
    assert!(at(12, 8.0).findings.is_empty());
    assert!(
        at(33, 8.0)
            .findings
            .iter()
            .any(|f| f.rule.as_str() == "chain-unit-loads")
    );
    // Far apart the length binds before the number.
    assert!(at(10, 100.0).most_devices < 10);
}
