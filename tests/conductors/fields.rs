//! Pair inductance and capacitance, skin and proximity effect.

use crate::common::{assert_relative, assert_within};
use crate::{gauge, table};
use evenrun::cable::skin::{frequency_for_excess, lone_wire_ratio, pair_ratio, skin_depth};
use evenrun::cable::{Pair, effective_diameter, tables};
use evenrun::quantity::{Length, celsius, hertz, millimetres};

fn pair_of(ratio: f64) -> Pair {
    Pair::new(millimetres(1.0), millimetres(ratio)).unwrap()
}

#[test]
fn two_wire_lines() {
    for row in table("two_wire_line", 13) {
        let ratio = row.number("spacing_over_diameter");
        let pair = pair_of(ratio);
        let what = format!("s/d = {ratio}");
        assert_relative(&what, ratio.acosh(), row.number("acosh"), 5e-6);
        assert_relative(
            &what,
            pair.inductance_high().value * 1e6,
            row.number("l_high_frequency_uh_per_m"),
            5e-6,
        );
        assert_relative(
            &what,
            pair.inductance_low().value * 1e6,
            row.number("l_low_frequency_uh_per_m"),
            5e-6,
        );
        assert_relative(
            &what,
            pair.capacitance(1.0).value * 1e12,
            row.number("c_per_unit_relative_permittivity_pf_per_m"),
            5e-6,
        );
        assert_relative(
            &what,
            pair.impedance(1.0).value,
            row.number("z0_vacuum_ohm"),
            5e-6,
        );
        assert!(pair.inductance_low().value > pair.inductance_high().value);
    }
}

#[test]
fn touching_pairs() {
    for row in table("touching_pair_lc", 9) {
        let pair = Pair::touching(
            millimetres(row.number("strand_diameter_mm")),
            millimetres(row.number("insulation_wall_mm_assumed")),
        )
        .unwrap();
        let what = format!("{} AWG", row.text("awg"));
        let spacing =
            row.number("strand_diameter_mm") + 2.0 * row.number("insulation_wall_mm_assumed");
        assert_relative(&what, spacing, row.number("spacing_mm"), 1e-9);
        assert_relative(
            &what,
            spacing / row.number("strand_diameter_mm"),
            row.number("spacing_over_diameter"),
            5e-5,
        );
        assert_relative(
            &what,
            pair.inductance_high().value * 1e6,
            row.number("l_high_frequency_uh_per_m"),
            5e-5,
        );
        assert_relative(
            &what,
            pair.inductance_low().value * 1e6,
            row.number("l_low_frequency_uh_per_m"),
            5e-5,
        );
        for (er, column) in [
            (2.3, "c_er2p3_upper_pf_per_m"),
            (3.6, "c_er3p6_upper_pf_per_m"),
            (5.0, "c_er5p0_upper_pf_per_m"),
        ] {
            assert_relative(
                &what,
                pair.capacitance(er).value * 1e12,
                row.number(column),
                6e-4,
            );
        }
    }
}

/// The tables carried are those of the files; published pairs lie where the formulas put such pairs.
#[test]
fn published_pairs_and_inputs() {
    let rows = table("pair_lc_published", 11);
    assert_eq!(rows.len(), tables::published_pairs::ROWS.len());
    let wall = |d: f64, wall: f64| Pair::touching(millimetres(d), millimetres(wall)).unwrap();
    for (row, carried) in rows.iter().zip(tables::published_pairs::ROWS) {
        assert_eq!(carried.from_memory, !row.may_be_asserted());
        if !row.may_be_asserted() {
            continue;
        }
        let (least, greatest) = row
            .text("value_si")
            .split_once('-')
            .unwrap_or((row.text("value_si"), row.text("value_si")));
        assert_eq!(
            (carried.least, carried.greatest),
            (least.parse().unwrap(), greatest.parse().unwrap())
        );
        assert_eq!(
            (carried.cable, carried.unit),
            (row.text("cable"), row.text("unit_si"))
        );
        if row.text("unit_published") == "uH/ft" {
            assert_relative(
                "feet",
                row.number("value_published") / 0.3048,
                row.number("value_si"),
                1e-4,
            );
        }
    }
    // 18 AWG, 0.4 mm wall: the published 0.558 uH/m lies between the two ends of frequency.
    let pair = wall(1.16, 0.4);
    let published = tables::published_pairs::ROWS[0].least * 1e-6;
    assert!(pair.inductance_high().value < published && published < pair.inductance_low().value);

    let rows = table("insulation_permittivity", 12);
    assert_eq!(rows.len(), tables::permittivity::ROWS.len());
    for (row, carried) in rows.iter().zip(tables::permittivity::ROWS) {
        let text = row.text("relative_permittivity");
        let (least, greatest) = text.split_once('-').unwrap_or((text, text));
        assert_eq!(
            (carried.least, carried.greatest),
            (least.parse().unwrap(), greatest.parse().unwrap())
        );
        assert_eq!(carried.insulation, row.text("material"));
    }
    for row in table("strand_effective_diameter_factor", 6) {
        let wires = row.number("wires") as u16;
        let found = effective_diameter(millimetres(1.0), wires).unwrap();
        assert_relative(
            "strand",
            found.value * 1e3,
            row.number("factor_on_outer_diameter"),
            1e-12,
        );
    }
    assert_eq!(effective_diameter(millimetres(1.0), 12), None);
    for (d, s) in [
        (1.0, 1.0),
        (0.0, 1.0),
        (1.0, f64::NAN),
        (1.0, f64::INFINITY),
        (-1.0, 2.0),
    ] {
        assert!(
            Pair::new(millimetres(d), millimetres(s)).is_err(),
            "{d} {s}"
        );
    }
}

#[test]
fn skin_effect_of_a_lone_wire() {
    for row in table("skin_effect_ratio", 8) {
        let x = row.number("radius_over_skin_depth");
        let found = lone_wire_ratio(x).unwrap();
        assert_within("Bessel", found, row.number("rac_over_rdc_bessel"), 5.1e-5);
        // The published column is off by up to 2.6 %: a corridor, not a reference.
        assert_relative(
            "published",
            found,
            row.number("rac_over_rdc_published"),
            0.026,
        );
        if let Some(quartic) = row.optional("rac_over_rdc_quartic") {
            assert_within("quartic", 1.0 + x.powi(4) / 48.0, quartic, 5.1e-5);
        }
    }
    // The seams: quartic below, asymptote above.
    let step = |x: f64| {
        lone_wire_ratio(x * (1.0 + 1e-9)).unwrap() / lone_wire_ratio(x * (1.0 - 1e-9)).unwrap()
            - 1.0
    };
    assert!(
        step(1e-3).abs() < 1e-9 && step(200.0).abs() < 1e-8,
        "{} {}",
        step(1e-3),
        step(200.0)
    );
    assert_eq!(lone_wire_ratio(0.0), Some(1.0));
    assert_eq!(
        (lone_wire_ratio(f64::NAN), lone_wire_ratio(-1.0)),
        (None, None)
    );
    assert!(lone_wire_ratio(1e300).unwrap().is_finite());
}

#[test]
fn where_dc_resistance_stops_being_good_enough() {
    for row in table("skin_effect_5_percent", 8) {
        let diameter = gauge(row.text("awg")).solid_diameter();
        assert_relative(
            "diameter",
            diameter.value * 1e3,
            row.number("diameter_mm_solid"),
            5e-5,
        );
        let at = |d: Length, t: f64, s: Option<f64>| {
            frequency_for_excess(d, celsius(t), s, 0.05).unwrap().value / 1e3
        };
        for (t, s, column) in [
            (20.0, None, "f_5pct_single_wire_20c_khz"),
            (75.0, None, "f_5pct_single_wire_75c_khz"),
            (20.0, Some(2.5), "f_5pct_pair_s_over_d_2p5_20c_khz"),
            (20.0, Some(1.8), "f_5pct_pair_s_over_d_1p8_20c_khz"),
            (20.0, Some(1.5), "f_5pct_pair_s_over_d_1p5_20c_khz"),
        ] {
            assert_relative(column, at(diameter, t, s), row.number(column), 5e-4);
        }
        let equal = row.number("f_skin_depth_equals_radius_20c_khz") * 1e3;
        let depth = skin_depth(hertz(equal), celsius(20.0)).unwrap();
        assert_relative("depth", depth.value, diameter.value / 2.0, 4e-4);
    }
    // A pair is never better than the wire alone, and a far pair is as good.
    for x in [0.1, 0.5, 1.0, 1.5] {
        let alone = lone_wire_ratio(x).unwrap();
        assert!(pair_ratio(x, 1.2).unwrap() > pair_ratio(x, 2.0).unwrap());
        assert_relative("far", pair_ratio(x, 1e6).unwrap(), alone, 1e-9);
    }
    assert_eq!((pair_ratio(1.51, 2.0), pair_ratio(1.0, 1.0)), (None, None));
    assert_eq!(
        frequency_for_excess(millimetres(1.0), celsius(20.0), Some(1.8), 1.0),
        None
    );
    assert_eq!(
        frequency_for_excess(millimetres(f64::NAN), celsius(20.0), None, 0.05),
        None
    );
    assert_eq!(skin_depth(hertz(0.0), celsius(20.0)), None);
    // Below −234 °C the straight line of resistivity is no copper: no figure.
    let cold = celsius(-250.0);
    assert_eq!(skin_depth(hertz(50.0), cold), None);
    assert_eq!(
        frequency_for_excess(millimetres(1.0), cold, None, 0.05),
        None
    );
}
