//! Factors for ambient and grouping against the printed tables and the formula behind them.

use crate::common::{assert_relative, assert_within};
use crate::{gauge, table};
use evenrun::cable::tables::{ambient, grouping};
use evenrun::cable::{
    CableSpec, CorrectionKind, Installation, ambient_factor_by_formula, factor_for_ambient,
    factor_for_group,
};
use evenrun::quantity::celsius;

/// US code table 310.15(B)(1)(1) and IEC 60364-5-52 table B.52.14.
#[test]
fn ambient_factors() {
    let rows = table("ambient_correction", 61);
    assert_eq!(rows.len(), ambient::ROWS.len());
    for row in rows {
        let family = match row.text("table") {
            t if t.starts_with("NEC") => ambient::Family::Us,
            t if t.starts_with("IEC") => ambient::Family::Iec,
            other => panic!("{other}"),
        };
        let rating = row.number("conductor_rating_c");
        let top = row.number("ambient_used_in_formula_c");
        let printed = row.number("factor_published");
        let what = format!("{family:?} {rating} °C at {top} °C");
        assert_eq!(
            factor_for_ambient(family, rating, top),
            Some(printed),
            "{what}"
        );
        // The bottom of a band of 5 K takes the factor of its top.
        assert_eq!(
            factor_for_ambient(family, rating, top - 4.0),
            Some(printed),
            "{what}"
        );
        let formula =
            ambient_factor_by_formula(celsius(rating), celsius(top), celsius(30.0)).unwrap();
        assert_within(&what, formula, row.number("factor_sqrt_formula"), 5.1e-5);
        // Two printed figures: within 1 % of the formula.
        assert_relative(&what, printed, formula, 0.0101);
    }
}

/// US code tables 310.15(C)(1) and 400.5(A)(3), IEC 60364-5-52 table B.52.17, DIN VDE 0298-4 table 26.
#[test]
fn grouping_factors() {
    let rows = table("grouping_factors", 34);
    assert_eq!(rows.len(), grouping::ROWS.len());
    let (mut below, mut before) = (0, None);
    for row in rows {
        let factor = Some(row.number("factor"));
        let count = row.text("count");
        let family = match row.text("table") {
            t if t.starts_with("NEC 310") => grouping::Family::Us,
            t if t.starts_with("NEC 400") => grouping::Family::UsCord,
            t if t.starts_with("IEC") => grouping::Family::Iec,
            t if t.starts_with("DIN VDE") => grouping::Family::VdeCores,
            other => panic!("{other}"),
        };
        if Some(family) != before {
            (below, before) = (0, Some(family));
        }
        if row.text("table").starts_with("NEC") {
            let (from, to) = match (count.split_once('-'), count.strip_suffix(" and more")) {
                (Some((from, to)), _) => (from.parse().unwrap(), to.parse().unwrap()),
                (_, Some(from)) => (from.parse().unwrap(), 100_000),
                _ => panic!("{count}"),
            };
            for n in [from, to] {
                assert_eq!(factor_for_group(family, n), factor, "{n}");
            }
        } else {
            let n: usize = count.parse().unwrap();
            // A count between two printed ones takes the factor of the greater.
            for n in below + 1..=n {
                assert_eq!(factor_for_group(family, n), factor, "{n}");
            }
            below = n;
        }
    }
    for family in [grouping::Family::Us, grouping::Family::Iec] {
        assert_eq!(factor_for_group(family, 0), None);
    }
    assert_eq!(factor_for_group(grouping::Family::Iec, 21), None);
}

/// No figure above the table, none for a rating that it lacks, none for no number.
#[test]
fn no_factor_outside() {
    for (family, rating, ambient) in [
        (ambient::Family::Us, 60.0, 55.1),
        (ambient::Family::Us, 75.0, 70.5),
        (ambient::Family::Us, 90.0, 86.0),
        (ambient::Family::Us, 70.0, 30.0),
        (ambient::Family::Iec, 70.0, 61.0),
        (ambient::Family::Iec, 75.0, 30.0),
        (ambient::Family::Us, 90.0, f64::NAN),
    ] {
        assert_eq!(
            factor_for_ambient(family, rating, ambient),
            None,
            "{rating} {ambient}"
        );
    }
    let by = |rating, ambient| {
        ambient_factor_by_formula(celsius(rating), celsius(ambient), celsius(30.0))
    };
    assert_eq!(by(60.0, 60.0), None);
    assert_eq!(by(30.0, 20.0), None);
    assert_eq!(by(90.0, f64::NAN), None);
}

/// Both factors of a lookup are listed, multiply, and say what they are for.
#[test]
fn factors_are_listed_and_multiply() {
    let spec = CableSpec {
        insulation_rating: Some(celsius(90.0)),
        ..CableSpec::two_core("twelve", gauge("12"))
    };
    let found = spec
        .check()
        .unwrap()
        .ampacity(celsius(43.0), 8, Installation::UsRaceway)
        .unwrap();
    // NFPA 70-2023: 30 A at 90 °C; 41 to 45 °C 0.87; 7 to 9 conductors 0.7.
    assert_relative("both", found.current.value, 30.0 * 0.87 * 0.7, 1e-12);
    let said: Vec<_> = found
        .corrections
        .iter()
        .map(|c| (c.kind, c.factor, c.what.as_str()))
        .collect();
    assert_eq!(
        said,
        [
            (CorrectionKind::Ambient, 0.87, "ambient 43 °C"),
            (
                CorrectionKind::Grouping,
                0.7,
                "8 current-carrying conductors together"
            ),
        ]
    );
}
