//! A class of tape encloses what it stands for.

use crate::{good, readme};
use evenrun::job::spec::Limits;
use evenrun::quantity::Corners;
use evenrun::quantity::{celsius, fraction, volts};
use evenrun::strip::{CornerSet, PowerBasis, Side, StripSpec, TapeModel};

fn strip() -> StripSpec {
    let mut strip = good(&readme()).strips()[0].clone();
    strip.power_basis = PowerBasis::ShortPiece;
    strip
}

/// The corners of a job that states none, by their public figures.
fn corners() -> CornerSet {
    let limits = Limits::default();
    CornerSet {
        conductor: Corners {
            low: limits.cell.high,
            nominal: limits.cell.nominal,
            high: limits.cell.low,
        },
        cell: limits.cell,
        rail_tolerance: limits.rail_tolerance,
        current_tolerance: limits.current_tolerance,
        current_margin: limits.current_margin,
    }
}

fn model(strip: &StripSpec, corners: &CornerSet) -> TapeModel {
    strip
        .model(corners)
        .unwrap_or_else(|errors| panic!("{errors}"))
}

/// `R = ρ/(layers·t·w)` with 1/58 Ω·mm²/m (IEC 60028:1925), by hand: one layer of 70 µm by 3 mm, two of 70 µm by 4 mm.
#[test]
fn copper_of_two_ounces_by_hand() {
    let exact = CornerSet {
        conductor: Corners::same(celsius(20.0)),
        cell: Corners::same(celsius(25.0)),
        rail_tolerance: fraction(0.0),
        current_tolerance: fraction(0.0),
        current_margin: fraction(0.0),
    };
    let found = model(&strip(), &exact).common;
    let (thin, thick) = (1.0 / 58.0 / (0.07 * 3.0), 1.0 / 58.0 / (2.0 * 0.07 * 4.0));
    // A cut is 50 mm.
    assert!((found.low.value / 0.05 - thin).abs() < 1e-9);
    assert!((found.high.value / 0.05 - thick).abs() < 1e-9);
    assert!((found.nominal.value / 0.05 - (thin * thick).sqrt()).abs() < 1e-9);
}

/// At the low corner a class has the copper of its weaker side and its steepest string; at the high one no less current than
/// either side by itself, up to 5 % above its rated voltage.
#[test]
fn each_side_lies_within_its_class() {
    let (class, corners) = (strip(), corners());
    let whole = model(&class, &corners);
    for side in [Side::Weaker, Side::Middle, Side::Stronger] {
        let one = model(&class.side(side), &corners);
        assert!(whole.common.low.value >= one.common.low.value * (1.0 - 1e-12));
        assert!(whole.common.high.value <= one.common.high.value * (1.0 + 1e-12));
        let (all, own) = (&whole.emitters[0].law, &one.emitters[0].law);
        for percent in 60..=100 {
            let at = volts(24.0 * f64::from(percent) / 100.0);
            assert!(
                all.low.current(at).value <= own.low.current(at).value * 1.001,
                "{percent} %"
            );
        }
        for percent in 60..=105 {
            let at = volts(24.0 * f64::from(percent) / 100.0);
            assert!(
                all.high.current(at).value >= own.high.current(at).value * 0.999,
                "{percent} %"
            );
        }
    }
}

/// A power that a full reel may have been measured on is that of a short piece at least, and of the weaker side's reel at most.
#[test]
fn an_unknown_basis_of_power_is_between_both() {
    let corners = corners();
    let at = |basis, side: Option<Side>| {
        let mut strip = strip();
        strip.power_basis = basis;
        let strip = side.map_or_else(|| strip.clone(), |side| strip.side(side).into_owned());
        let law = model(&strip, &corners).emitters[0].law.clone();
        [law.low, law.nominal, law.high].map(|law| law.current(volts(24.0)).value)
    };
    let unknown = at(PowerBasis::Unknown, None);
    let short = at(PowerBasis::ShortPiece, None);
    let full = at(PowerBasis::FullReel, None);
    assert!((unknown[0] / short[0] - 1.0).abs() < 1e-9);
    assert!((unknown[2] / full[2] - 1.0).abs() < 1e-9);
    assert!(full[2] > short[2]);
    assert!(full[0] < full[2]);
}
