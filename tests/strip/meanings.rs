//! Sheets that could mean several things: which was used is said, and what the others would give.
use crate::build::*;
use crate::common::{assert_relative, assert_within};
use evenrun::quantity::*;
use evenrun::strip::*;

fn with_power(basis: PowerBasis, per_metre: f64) -> StripSpec {
    let mut sheet = tape(vec![emitter("white", knee(30.0))], stated(0.0821, 0.0821));
    sheet.power = Some(watts_per_metre(per_metre));
    sheet.power_basis = basis;
    sheet
}

fn scale(sheet: &StripSpec) -> Corners<f64> {
    let strip = sheet.check().unwrap();
    strip.calibrate(&CornerSet::exact()).unwrap().current_scale
}

/// 30 mA a cell of 50 mm at 24 V is 14.4 W/m; 15 W/m of a short piece ask for 15/14.4 of it.
#[test]
fn power_of_a_short_piece_sets_the_current() {
    let sheet = with_power(PowerBasis::ShortPiece, 15.0);
    let by = scale(&sheet).nominal;
    assert_relative("scale", by, 15.0 / 14.4, 1e-12);
    let model = sheet.model(&CornerSet::exact()).unwrap();
    assert_relative("power", model.power_per_length().nominal.value, 15.0, 1e-12);
}

/// 5 m of it draw 63.5 W and not 72 W, fed at one end: 12.7 W/m of a full reel are those currents, near enough.
#[test]
fn power_of_a_full_reel_has_the_drop_in_it() {
    let sheet = with_power(PowerBasis::FullReel, 63.5 / 5.0);
    let by = scale(&sheet).nominal;
    assert_within("scale", by, 1.0, 2e-3);
    let model = sheet.model(&CornerSet::exact()).unwrap();
    let seen = see(&model, 100, 24.0, false, 0.5);
    assert_relative("power of the reel", seen.watts, 63.5, 1e-9);
    // Taken for a short piece it contradicts the currents of the cells: refused.
    let error = with_power(PowerBasis::ShortPiece, 63.5 / 5.0)
        .check()
        .unwrap_err();
    let text = error.to_string();
    assert!(
        text.contains("the power is 12.7 W/m, measured on a short piece, but by their currents its cells draw 14.4 W/m there"),
        "{text}"
    );
}

#[test]
fn power_on_an_unknown_basis_widens_the_corners() {
    let sheet = with_power(PowerBasis::Unknown, 63.5 / 5.0);
    let by = scale(&sheet);
    assert_relative(
        "a short piece at the low corner",
        by.low,
        12.7 / 14.4,
        1e-12,
    );
    assert_eq!(by.nominal, 1.0);
    assert!(by.high >= 1.0 && by.high < 1.01, "{by:?}");
    let found = sheet.check().unwrap();
    let notes = found.calibrate(&CornerSet::exact()).unwrap().notes;
    assert!(
        notes
            .iter()
            .any(|note| note.contains("does not say what its 12.7 W/m were measured on")),
        "{notes:?}"
    );
}

/// 20 W/m of a full reel of cells that draw 14.4 W/m without drop, 12.7 W/m with it: refused with what they draw.
#[test]
fn power_of_a_full_reel_that_its_cells_do_not_draw_is_refused() {
    let error = with_power(PowerBasis::FullReel, 20.0)
        .model(&CornerSet::exact())
        .unwrap_err();
    assert!(
        error
            .to_string()
            .contains("the power is 20 W/m, measured on a full reel fed at one end, but by their currents its cells draw 12.7"),
        "{error}"
    );
}

#[test]
fn a_maximum_run_says_what_it_would_mean_otherwise() {
    let sheet = tape(
        vec![emitter("white", knee(30.0))],
        RailSpec::MaximumRun {
            length: mm(5000),
            fed: FedFrom::OneEnd,
            falls: Falls::Volts,
            by: percent(10.0),
        },
    );
    let notes = sheet
        .check()
        .unwrap()
        .calibrate(&CornerSet::exact())
        .unwrap()
        .notes;
    let all = notes.join("\n");
    for expected in [
        "from the maximum run, every rail alike",
        "read as light fed from one end: 43.65 mΩ/m",
        "read as voltage fed from both ends: ",
        "read as light fed from both ends: ",
    ] {
        assert!(all.contains(expected), "{expected:?} is not in\n{all}");
    }
}

/// Two layers halve the rail: the same "2 oz" is 0.0821 ohm/m as one layer of 70 µm or as 35 µm on each face.
#[test]
fn layers_lie_in_parallel() {
    let common = |layers, thickness| {
        let rails = RailSpec::Foil {
            layers,
            thickness: micrometres(thickness),
            common_width: millimetres(3.0),
            return_width: millimetres(1.5),
        };
        let strip = tape(vec![emitter("white", string(30.0))], rails)
            .check()
            .unwrap();
        let found = strip.calibrate(&CornerSet::exact()).unwrap();
        assert_relative(
            "half as wide",
            found.returns.value,
            2.0 * found.common.value,
            1e-12,
        );
        found.common.value
    };
    assert_relative("two faces", common(2, 35.0), common(1, 70.0), 1e-12);
    assert_relative(
        "two layers of it",
        common(2, 70.0),
        common(1, 70.0) / 2.0,
        1e-12,
    );
}
