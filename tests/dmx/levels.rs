//! Dimming curves.

use crate::common::{assert_relative, assert_within, rows};
use evenrun::device::LevelBits;
use evenrun::dmx::levels::{Curve, LevelTable, level_of};
use evenrun::quantity::amps;

#[test]
fn curves() {
    for row in rows("dmx/dimming_curves_check.csv", 54) {
        let value = row.number("level");
        let level = match row.text("scale") {
            "255" => level_of(value as u16, LevelBits::Eight),
            "65535" => level_of(value as u16, LevelBits::Sixteen),
            "percent" => value / 100.0,
            other => panic!("scale {other}"),
        };
        let what = format!("line {}", row.line);
        assert_relative(&what, level, row.number("level_fraction"), 1e-6);
        assert_relative(
            &what,
            Curve::Linear.output(level),
            row.number("linear_output_fraction"),
            1e-6,
        );
        assert_relative(
            &what,
            Curve::Square.output(level),
            row.number("square_law_output_fraction"),
            1e-6,
        );
        assert_relative(
            &what,
            Curve::Lightness.output(level),
            row.number("cie_lstar_output_fraction"),
            1e-6,
        );
    }
    for row in rows("dmx/dimming_inverse_check.csv", 18) {
        let output = row.number("output_fraction");
        let what = format!("line {}", row.line);
        assert_within(
            &what,
            Curve::Linear.level(output),
            row.number("level_fraction_linear"),
            1e-6,
        );
        assert_within(
            &what,
            Curve::Square.level(output),
            row.number("level_fraction_square_law"),
            1e-6,
        );
        assert_within(
            &what,
            Curve::Lightness.level(output),
            row.number("level_fraction_cie"),
            1e-6,
        );
    }
}

#[test]
fn tables_and_steps() {
    let table = LevelTable::new(vec![0.0, 0.0, 0.25, 1.0]).expect("rising");
    let curve = Curve::Table(table);
    assert_within("third", curve.output(2.0 / 3.0), 0.25, 1e-12);
    assert_within("half", curve.output(0.5), 0.125, 1e-12);
    assert_within("back", curve.level(0.125), 0.5, 1e-12);
    assert_eq!(
        (curve.level(0.0), curve.level(1.0), curve.output(f64::NAN)),
        (0.0, 1.0, 0.0)
    );
    for bad in [
        vec![0.5],
        vec![0.0, 0.6, 0.5],
        vec![0.0, f64::NAN],
        vec![0.0, 1.5],
    ] {
        assert!(LevelTable::new(bad).is_err());
    }
    // Linear, 8 bits: the step from n is 1/n, so it is 2 % from level 50 on.
    assert_eq!(
        Curve::Linear.smooth_from(LevelBits::Eight, 0.0201),
        Some(50)
    );
    assert_eq!(
        Curve::Linear.smooth_from(LevelBits::Sixteen, 0.0201),
        Some(50)
    );
    assert_eq!(Curve::Linear.smooth_from(LevelBits::Eight, 1e-9), None);
    assert_within(
        "amps",
        Curve::Square.current(51, LevelBits::Eight, amps(2.0)).value,
        0.08,
        1e-12,
    );
}
