//! Published tables against formulas: 283 comparisons, each recomputed, each kind inside its range.

use crate::common::{Row, assert_relative, assert_within};
use crate::table;
use evenrun::cable::resistance::iec60228_printed_factor;
use evenrun::cable::skin::lone_wire_ratio;
use evenrun::cable::tables::ambient::Family;
use evenrun::cable::tables::table8;
use evenrun::cable::{
    Basis, Conductor, ConductorSize, Construction, Metal, TemperatureRule,
    ambient_factor_by_formula, factor_for_ambient,
};
use evenrun::quantity::celsius;
use std::collections::BTreeMap;

/// `18 solid` or `4/0 stranded`.
fn gauge_item(item: &str, metal: Metal) -> Conductor {
    let (gauge, construction) = item.split_once(' ').unwrap_or((item, "solid"));
    Conductor {
        size: crate::gauge(gauge),
        metal,
        construction: construction.parse().unwrap(),
    }
}

fn ohm_per_km(conductor: Conductor, basis: Basis, at: f64) -> f64 {
    let found = conductor.resistance_by(basis, celsius(at));
    found.unwrap_or_else(|e| panic!("{e}")).per_length.value * 1e3
}

/// Formula at 75 °C and the print of table 8.
fn table_8(item: &str, metal: Metal) -> (f64, f64) {
    let wire = gauge_item(item, metal);
    (
        ohm_per_km(wire, Basis::GaugeFormula, 75.0),
        ohm_per_km(wire, Basis::UsCodeTable8, 75.0),
    )
}

/// The Ω/kft column in Ω/km, and the Ω/km column.
fn table_8_inside(item: &str, cells: fn(&table8::Row) -> (f64, f64)) -> (f64, f64) {
    let wire = gauge_item(item, Metal::Copper);
    let row = table8::ROWS
        .iter()
        .find(|row| {
            Some(row.gauge) == wire.size.gauge_number()
                && row.solid == (wire.construction == Construction::Solid)
        })
        .unwrap_or_else(|| panic!("{item}"));
    let (per_kft, per_km) = cells(row);
    (per_kft / 0.3048, per_km)
}

fn metric(item: &str, construction: Construction) -> Conductor {
    let size: ConductorSize = format!("{item} mm2").parse().unwrap();
    Conductor {
        size,
        metal: Metal::Copper,
        construction,
    }
}

/// Area formula at 20 °C and the maximum of IEC 60228.
fn over_area(item: &str, construction: Construction) -> (f64, f64) {
    let wire = metric(item, construction);
    let area = wire.size.nominal_mm2().unwrap();
    (
        1000.0 / 58.0 / area,
        ohm_per_km(wire, Basis::Iec60228, 20.0),
    )
}

fn factor_of_temperature(item: &str, rule: TemperatureRule) -> (f64, f64) {
    let at = celsius(item.parse().unwrap());
    (1.0 / rule.factor(at), iec60228_printed_factor(at).unwrap())
}

fn ambient(family: Family, rating: f64, item: &str) -> (f64, f64) {
    let at: f64 = item
        .rsplit_once(", ")
        .and_then(|(_, t)| t.strip_suffix(" C"))
        .and_then(|t| t.parse().ok())
        .unwrap_or_else(|| panic!("{item}"));
    (
        ambient_factor_by_formula(celsius(rating), celsius(at), celsius(30.0)).unwrap(),
        factor_for_ambient(family, rating, at).unwrap(),
    )
}

/// (formula, print) of a row by the library, and the kind it is counted under. The drop of two-core
/// cables and the foreign skin-effect column are not tables of the library: their print is the row's own.
fn compare(row: &Row) -> (&'static str, (f64, f64)) {
    let item = row.text("item");
    let printed = row.number("published");
    let check = row.text("check");
    let begins = |start: &str| check.starts_with(start);
    if begins("AWG solid 20 C, ohm/kft") {
        let wire = gauge_item(item, Metal::Copper);
        let formula = ohm_per_km(wire, Basis::GaugeFormula, 20.0) * 0.3048;
        ("gauge", (formula, printed))
    } else if begins("Table 8 Cu uncoated") {
        ("uncoated", table_8(item, Metal::Copper))
    } else if begins("Table 8 Cu coated") {
        ("coated", table_8(item, Metal::TinnedCopper))
    } else if begins("Table 8 Al") {
        ("aluminium", table_8(item, Metal::Aluminium))
    } else if begins("Table 8 internal") && check.ends_with("(uncoated)") {
        let cells = |r: &table8::Row| (r.copper_ohm_per_kft, r.copper_ohm_per_km);
        ("inside table 8", table_8_inside(item, cells))
    } else if begins("Table 8 internal") && check.ends_with("(coated)") {
        let cells = |r: &table8::Row| (r.coated_ohm_per_kft, r.coated_ohm_per_km);
        ("inside table 8", table_8_inside(item, cells))
    } else if begins("Table 8 internal") && check.ends_with("(Al)") {
        let cells = |r: &table8::Row| (r.aluminium_ohm_per_kft, r.aluminium_ohm_per_km);
        ("inside table 8", table_8_inside(item, cells))
    } else if begins("IEC 60228 class 2") {
        ("class 2", over_area(item, Construction::Class2))
    } else if begins("IEC 60228 class 5") {
        ("class 5", over_area(item, Construction::Class5))
    } else if begins("IEC 60228 kt") && check.contains("0.00393") {
        (
            "kt, 0.00393",
            factor_of_temperature(item, TemperatureRule::COPPER),
        )
    } else if begins("IEC 60228 kt") {
        (
            "kt, 0.004",
            factor_of_temperature(item, TemperatureRule::IEC_60228),
        )
    } else if begins("NEC ambient") {
        let rating = item.split_once(' ').unwrap().0.parse().unwrap();
        ("ambient", ambient(Family::Us, rating, item))
    } else if begins("IEC B.52.14") {
        let rating = if item.starts_with("PVC") { 70.0 } else { 90.0 };
        ("ambient", ambient(Family::Iec, rating, item))
    } else if begins("2-core PVC cable") {
        let r20 = ohm_per_km(metric(item, Construction::Class2), Basis::Iec60228, 20.0);
        let at_70 = TemperatureRule::COPPER.factor(celsius(70.0));
        ("two-core drop", (2.0 * r20 * at_70, printed))
    } else if begins("round wire") {
        let x = item.strip_prefix("r/delta=").unwrap().parse().unwrap();
        ("skin", (lone_wire_ratio(x).unwrap(), printed))
    } else {
        panic!("{check}")
    }
}

#[test]
fn all_comparisons_stay_in_their_ranges() {
    let rows = table("residuals", 283);
    assert_eq!(rows.len(), 283);
    let mut found: BTreeMap<&str, (usize, f64, f64)> = BTreeMap::new();
    for row in rows {
        let what = format!("{} {}", row.text("check"), row.text("item"));
        let (kind, (formula, print)) = compare(&row);
        assert_relative(&what, print, row.number("published"), 1e-12);
        assert_relative(
            &what,
            formula,
            row.number("computed"),
            last_digit(row.text("computed")),
        );
        let residual = (print / formula - 1.0) * 100.0;
        assert_within(&what, residual, row.number("residual_percent"), 0.06);
        let entry = found.entry(kind).or_insert((0, f64::MAX, f64::MIN));
        *entry = (entry.0 + 1, entry.1.min(residual), entry.2.max(residual));
    }
    // Kind, comparisons, range in per cent.
    for (kind, count, low, high) in [
        ("gauge", 18, -0.03, 0.02),
        ("uncoated", 21, -0.31, 0.56),
        ("aluminium", 21, -0.29, 0.43),
        ("coated", 21, -0.75, 0.37),
        ("inside table 8", 63, -0.71, 0.36),
        ("kt, 0.00393", 20, -0.43, 0.13),
        ("kt, 0.004", 20, -0.06, 0.06),
        ("ambient", 61, -1.00, 0.70),
        ("two-core drop", 6, -0.96, 1.59),
        ("class 2", 12, 4.3, 12.3),
        ("class 5", 12, 10.7, 15.8),
        ("skin", 8, -2.53, 0.0),
    ] {
        let (n, least, greatest) = found.remove(kind).unwrap_or_else(|| panic!("{kind}"));
        assert_eq!(n, count, "{kind}");
        let (least, greatest) = (round(least), round(greatest));
        assert!(
            least >= low && greatest <= high,
            "{kind}: {least} % to {greatest} %, stated {low} % to {high} %"
        );
    }
    assert!(found.is_empty(), "{found:?}");
}

/// Half a unit of the last printed digit, relative, with 1 % of it for the sum; a trailing zero may be lost.
fn last_digit(printed: &str) -> f64 {
    let decimals = printed.split_once('.').map_or(0, |(_, d)| d.len());
    let value: f64 = printed.parse().unwrap();
    (0.505 * 10f64.powi(-(decimals as i32)) / value).clamp(6e-5, 2e-4)
}

/// To the two decimals that the ranges are stated with.
fn round(percent: f64) -> f64 {
    (percent * 100.0).round() / 100.0
}
