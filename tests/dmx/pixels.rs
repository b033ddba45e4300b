//! Pixel strings: time on the data line, and where power enters.

use crate::common::{assert_relative, assert_within, rows};
use crate::rule_id;
use evenrun::choose::feeding::{
    CandidateWire, CostModel, FeedLimits, LimitKind, Pattern, PlaceRoutes, Positions, RunOutcome,
    SourceModel,
};
use evenrun::dmx::pixels::{OneWireTiming, PixelLine, PixelString, universes};
use evenrun::exact::{CutPitch, ExactLength};
use evenrun::load::Pixel;
use evenrun::quantity::{
    Corners, amps, fraction, hertz, milliamps, ohms, ohms_per_metre, seconds, volts,
};

#[test]
fn pixel_strings() {
    for row in rows("dmx/pixel_timing_check.csv", 78) {
        let line = PixelLine::one_wire(
            row.number("bits_per_pixel") as u16,
            seconds(row.number("reset_us") * 1e-6),
        );
        let (line, pixels) = (line.expect("in range"), row.number("pixels") as u32);
        assert_relative(
            "frame",
            line.frame(pixels).value * 1e6,
            row.number("frame_us"),
            1e-9,
        );
        assert_relative(
            "rate",
            line.rate(pixels).value,
            row.number("refresh_hz"),
            1e-6,
        );
        assert_relative(
            "pixel",
            line.pixel().value * 1e6,
            row.number("time_per_pixel_us"),
            1e-9,
        );
    }
    for row in rows("dmx/pixel_count_limit_check.csv", 16) {
        let line = PixelLine::one_wire(
            row.number("bits_per_pixel") as u16,
            seconds(row.number("reset_us") * 1e-6),
        );
        let most = line
            .expect("in range")
            .most_pixels(hertz(row.number("frame_rate_hz")));
        assert_eq!(
            f64::from(most),
            row.number("most_pixels_on_one_output"),
            "line {}",
            row.line
        );
    }
    // 100 pixels of 32 bits at 1 MHz between 32 bits and 32 bits: 3264 bits.
    let clocked = PixelLine::clocked(32, hertz(1e6), 64).expect("in range");
    assert_relative("clocked", clocked.frame(100).value, 3264e-6, 1e-12);
    assert_eq!(
        (
            universes(171, 3),
            universes(170, 3),
            universes(1, 0),
            universes(1, 513)
        ),
        (Some(2), Some(1), None, None)
    );
    assert!(
        PixelLine::clocked(32, hertz(0.0), 0).is_err()
            && PixelLine::one_wire(24, seconds(f64::NAN)).is_err()
    );
    assert_eq!(clocked.most_pixels(hertz(f64::NAN)), 0);
}

/// Facts of one-wire pixels, row by row; rows from memory are counted and not asserted.
#[test]
fn facts_of_one_wire_pixels() {
    let timing = |zero: f64, one: f64, bit: f64, latch: f64| {
        let micro = |time: f64| seconds(time * 1e-6);
        let timing = OneWireTiming {
            zero_high: micro(zero),
            one_high: micro(one),
            bit: micro(bit),
            latch: micro(latch),
        };
        let fails = timing.judge(&"string".into());
        let fails = fails.iter().filter(|finding| finding.is_fail());
        fails.map(rule_id).collect::<Vec<_>>()
    };
    let line = |bits: u16| PixelLine::one_wire(bits, seconds(300e-6)).expect("in range");
    let (mut from_memory, mut asserted) = (0, 0);
    for row in rows("dmx/pixel_facts.csv", 14) {
        if row.text("status") == "memory" {
            from_memory += 1;
            continue;
        }
        asserted += 1;
        match row.text("quantity") {
            "bit rate" => assert_relative(
                "rate",
                24.0 / line(24).pixel().value / 1e3,
                row.number("value"),
                1e-12,
            ),
            "bit time" => assert_relative(
                "bit",
                line(1).pixel().value * 1e6,
                row.number("value"),
                1e-12,
            ),
            "high time of a 0, at most" => {
                let most = row.number("value");
                assert_eq!(timing(most - 0.01, 0.8, 1.25, 300.0), [""; 0]);
                assert_eq!(timing(most + 0.01, 0.8, 1.25, 300.0), ["pixel-zero"]);
            }
            "high time of a 1, at least" => {
                let least = row.number("value");
                assert_eq!(timing(0.4, least + 0.01, 1.25, 300.0), [""; 0]);
                assert_eq!(timing(0.4, least - 0.01, 1.25, 300.0), ["pixel-one"]);
            }
            "whole bit, tolerated" => {
                let (low, high) = row.text("value").split_once(" to ").expect("a range");
                let (low, high): (f64, f64) =
                    (low.parse().expect("low"), high.parse().expect("high"));
                assert_eq!(timing(0.4, 0.8, low + 0.01, 300.0), [""; 0]);
                assert_eq!(timing(0.4, 0.8, high - 0.01, 300.0), [""; 0]);
                assert_eq!(timing(0.4, 0.8, low - 0.01, 300.0), ["pixel-bit"]);
                assert_eq!(timing(0.4, 0.8, high + 0.01, 300.0), ["pixel-bit"]);
            }
            "bits per pixel" => {
                let text = row.text("value");
                assert!(text.contains("24 (three") && text.contains("32 (four"));
                assert!(
                    (line(24).pixel() * 4.0 - line(32).pixel() * 3.0)
                        .value
                        .abs()
                        < 1e-15
                );
            }
            "time per 24-bit pixel" => assert_relative(
                "24",
                line(24).pixel().value * 1e6,
                row.number("value"),
                1e-12,
            ),
            "time per 32-bit pixel" => assert_relative(
                "32",
                line(32).pixel().value * 1e6,
                row.number("value"),
                1e-12,
            ),
            "reset gap, newer parts" => {
                let above: f64 = row
                    .text("value")
                    .trim_start_matches("above ")
                    .parse()
                    .expect("a number");
                assert_eq!(timing(0.4, 0.8, 1.25, above), ["pixel-latch"]);
                assert_eq!(timing(0.4, 0.8, 1.25, above + 1.0), [""; 0]);
            }
            "pixels per DMX universe, RGB" => {
                let most = row.number("value") as u32;
                assert_eq!(
                    (universes(most, 3), universes(most + 1, 3)),
                    (Some(1), Some(2))
                );
            }
            "pixels per DMX universe, RGBW" => {
                let most = row.number("value") as u32;
                assert_eq!(
                    (universes(most, 4), universes(most + 1, 4)),
                    (Some(1), Some(2))
                );
            }
            other => panic!("no check for `{other}`"),
        }
    }
    println!("{asserted} rows asserted, {from_memory} from memory not asserted");
    assert_eq!((asserted, from_memory), (11, 3));
    assert_eq!(timing(f64::NAN, f64::NAN, f64::NAN, f64::NAN).len(), 4);
}

/// Invented: 5 V pixels of 36 mA and 1 mA at rest, 3 a cut, 50 mm from cut to cut, full from 3.5 V.
fn string(increments: u64) -> PixelString {
    PixelString {
        name: "P".into(),
        increments,
        pitch: CutPitch::new(ExactLength::from_millimetres(50), 1).expect("a pitch"),
        pixels: 3,
        rated: volts(5.0),
        pixel: Pixel {
            idle: milliamps(1.0),
            idle_from: volts(2.0),
            regulated: milliamps(36.0),
            level: fraction(1.0),
            dark_below: volts(2.5),
            full_from: volts(3.5),
        },
        plus: Corners::same(ohms_per_metre(0.05)),
        minus: Corners::same(ohms_per_metre(0.05)),
        breaks: Positions::Ends,
        feed_points: Positions::Any,
        patterns: Pattern::ALL.to_vec(),
        places: vec![PlaceRoutes {
            place: "box".into(),
            to_start: Some(ExactLength::from_millimetres(1000)),
            to_end: None,
            to_marks: Vec::new(),
            slack: ExactLength::ZERO,
            source: None,
        }],
        wires: vec![CandidateWire {
            cable: "2 x 1.5 mm2".into(),
            cores: 2,
            core: Corners::same(ohms_per_metre(0.0121)),
            ampacity: None,
            price_per_metre: 100,
        }],
        source: SourceModel {
            set_point: Corners::same(volts(5.0)),
            output_resistance: ohms(0.0),
            lead_resistance: ohms(0.0),
            switch_resistance: ohms(0.0),
            reserve: volts(0.0),
        },
        limits: FeedLimits::light_alone(fraction(1.0 - 1e-9)),
        costs: CostModel {
            per_segment: 0,
            per_feed: 500,
            per_break: 0,
            energy: None,
        },
    }
}

/// Hand case: every increment draws I = 3 · 37 mA while its pixels hold their current. Fed at the start, N
/// increments of rail r drop 2 · I · (R N + r N²/2) to the last one.
#[test]
fn power_at_the_start_by_hand() {
    let string = string(20);
    let answer = string.inject().expect("solved");
    let RunOutcome::Planned(plan) = &answer.outcome else {
        panic!("{answer:?}")
    };
    assert_eq!(answer.points.len(), 1);
    assert_eq!(
        (answer.points[0].mark, answer.points[0].after_pixels),
        (0, 0)
    );
    let (n, amps, feeder, rail) = (20.0, 3.0 * 0.037, 0.0121, 0.0025);
    let drop = 2.0 * amps * (feeder * n + rail * n * n / 2.0);
    assert_within(
        "far end",
        plan.segments[0].figures.nominal.least_volts.value,
        5.0 - drop,
        1e-6,
    );
    assert_relative(
        "current",
        plan.segments[0].figures.nominal.current.value,
        n * amps,
        1e-9,
    );
}

/// The longest string that one feed at the start carries follows from the same sum: 2 I (R N + r N²/2) ≤ 1.5 V
/// gives N = 68, and one increment more breaks the limit.
#[test]
fn a_longer_string_needs_power_at_more_points() {
    let drop = |n: f64| 2.0 * 3.0 * 0.037 * (0.0121 * n + 0.0025 * n * n / 2.0);
    let longest = (1..200)
        .take_while(|n: &i32| drop(f64::from(*n)) <= 1.5)
        .last()
        .expect("some") as u64;
    assert_eq!(longest, 68);
    let at_start = |increments: u64| PixelString {
        patterns: vec![Pattern::Start],
        ..string(increments)
    };
    assert!(at_start(longest).inject().expect("solved").holds());
    let over = at_start(longest + 1).inject().expect("solved");
    assert!(!over.holds());
    let RunOutcome::Infeasible(not) = &over.outcome else {
        panic!("it holds")
    };
    let nearest = not.nearest.as_ref().map(|nearest| nearest.limit);
    assert_eq!(nearest, Some(LimitKind::LeastCurrent));
    // Twice the string with every way open: it holds with more points, and each end of a branch keeps its volts.
    let double = string(2 * longest).inject().expect("solved");
    assert!(double.holds());
    let RunOutcome::Planned(plan) = &double.outcome else {
        panic!("it does not hold")
    };
    assert!(plan.segments[0].figures.low.least_volts.value >= 3.5 - 1e-9);
    assert!(double.points.len() > 1 || double.points[0].mark > 0);
    let cheaper = PixelString {
        plus: Corners::same(ohms_per_metre(0.01)),
        minus: Corners::same(ohms_per_metre(0.01)),
        ..string(2 * longest)
    };
    let RunOutcome::Planned(thick) = cheaper.inject().expect("solved").outcome else {
        panic!("thicker copper does not hold")
    };
    assert!(
        thick.cost <= plan.cost,
        "more copper in the tape never costs more feeds"
    );
}

#[test]
fn hostile_strings_are_refused() {
    let mut bad = string(10);
    bad.pixel.regulated = amps(f64::NAN);
    assert!(
        bad.inject()
            .expect_err("no load")
            .to_string()
            .contains("`P`")
    );
    assert!(string(0).inject().is_err());
    let mut wires = string(10);
    wires.wires.clear();
    assert!(wires.inject().is_err());
}
