//! Cases worked by hand; the arithmetic is in the comment of each.
use crate::build::*;
use crate::common::{assert_relative, assert_within};
use evenrun::quantity::*;
use evenrun::strip::*;

/// One layer of 70 µm, rails 3 mm wide; 17.241 nΩ·m (IEC 60028:1925): 0.0821 ohm/m each.
fn foil() -> RailSpec {
    RailSpec::Foil {
        layers: 1,
        thickness: micrometres(70.0),
        common_width: millimetres(3.0),
        return_width: millimetres(3.0),
    }
}

/// 0.6 A/m of constant current on 5 m: 0.6·0.1642·25/2 = 1.2315 V from one end, a quarter of it, 0.308 V, from both;
/// 100 cells of 0.03 A behind a whole link each: 0.03·0.00821·100·101/2 = 1.2438 V.
#[test]
fn uniform_constant_current_on_foil() {
    let found = tape(vec![emitter("white", regulated(30.0))], foil())
        .check()
        .unwrap()
        .calibrate(&CornerSet::exact())
        .unwrap();
    assert_within("rail", found.common.value, 0.0821, 5e-5);
    assert_within("return", found.returns.value, 0.0821, 5e-5);
    let model = found.model;
    let end = |both, lead| see(&model, 100, 24.0, both, lead);
    assert_within("one end", 24.0 - end(false, 0.5).volts[99], 1.2315, 5e-5);
    let middle = end(true, 0.5)
        .volts
        .iter()
        .copied()
        .fold(f64::INFINITY, f64::min);
    assert_within("both ends", 24.0 - middle, 0.308, 5e-4);
    assert_within("discrete", 24.0 - end(false, 1.0).volts[99], 1.2438, 5e-5);
}

/// `i = 0.6 A/m·(V − 18)/6`, so 0.1 S/m: λ = 1/sqrt(0.1642·0.1) = 7.804 m; end 6/cosh(0.6407) = 4.949 V above the
/// knee, 82.5 % of the light; 24·0.6·7.804·tanh(0.6407) = 63.5 W against 72 W without drop.
#[test]
fn knee_cell_on_foil() {
    let mut sheet = tape(vec![emitter("white", knee(3.0))], foil());
    sheet.pitch = pitch("5 mm");
    let model = sheet.model(&CornerSet::exact()).unwrap();
    assert_within(
        "short piece",
        model.power_per_length().nominal.value * 5.0,
        72.0,
        1e-9,
    );
    let seen = see(&model, 1000, 24.0, false, 0.5);
    let above = seen.volts[999] - 18.0;
    assert_within("end above the knee", above, 4.949, 5e-4);
    assert_within("light of the end", above / 6.0, 0.825, 5e-4);
    assert_within("power", seen.watts, 63.5, 0.05);
}

fn maximum_run(cell: CellSpec, fed: FedFrom, falls: Falls, by: Ratio) -> Calibration {
    tape(
        vec![emitter("white", cell)],
        RailSpec::MaximumRun {
            length: mm(5000),
            fed,
            falls,
            by,
        },
    )
    .check()
    .unwrap()
    .calibrate(&CornerSet::exact())
    .unwrap()
}

/// "5 m, 10 %", 0.6 A/m constant: of 24 V it is 2.4/(0.6·12.5) = 0.32 ohm/m a loop; of a margin of 6 V, so 0.6 V or
/// 2.5 % of 24 V, 0.6/(0.6·12.5) = 0.08 ohm/m. From both ends a quarter of the drop: four times the resistance.
#[test]
fn one_maximum_run_means_several_resistances() {
    let of = |fed, by| {
        2.0 * maximum_run(regulated(30.0), fed, Falls::Volts, by)
            .common
            .value
    };
    assert_relative(
        "10 % of the volts",
        of(FedFrom::OneEnd, percent(10.0)),
        0.32,
        1e-9,
    );
    assert_relative(
        "10 % of the margin",
        of(FedFrom::OneEnd, percent(2.5)),
        0.08,
        1e-9,
    );
    assert_relative(
        "10 % of the volts from both ends",
        of(FedFrom::BothEnds, percent(10.0)),
        4.0 * 0.32,
        1e-9,
    );
}

/// Light of a straight-line cell of 0.1 S/m: 1/cosh(5·sqrt(0.1·r)) = 0.9, so r = (acosh(1/0.9)/5)²/0.1 = 0.0873 ohm/m
/// a loop (0.08 with the current taken as constant); volts: 6/cosh = 6 − 2.4, r = (acosh(1/0.6)/5)²/0.1 = 0.4828.
#[test]
fn maximum_run_by_light_follows_the_hyperbolic_cosine() {
    for (falls, ratio) in [(Falls::Light, 1.0 / 0.9_f64), (Falls::Volts, 1.0 / 0.6)] {
        let closed = (ratio.acosh() / 5.0).powi(2) / 0.1;
        let mut sheet = tape(
            vec![emitter("white", knee(3.0))],
            RailSpec::MaximumRun {
                length: mm(5000),
                fed: FedFrom::OneEnd,
                falls,
                by: percent(10.0),
            },
        );
        sheet.pitch = pitch("5 mm");
        let found = sheet
            .check()
            .unwrap()
            .calibrate(&CornerSet::exact())
            .unwrap();
        assert_relative("loop", 2.0 * found.common.value, closed, 1e-5);
    }
}

/// Copper 20 °C to 75 °C: 1 + 0.00393·55 = 1.21615 (IEC 60028:1925), 10 % above at the low corner and below at the high one.
#[test]
fn corners_carry_temperature_and_tolerance() {
    let corners = CornerSet {
        conductor: Corners {
            low: celsius(75.0),
            nominal: celsius(30.0),
            high: celsius(20.0),
        },
        cell: Corners {
            low: celsius(15.0),
            nominal: celsius(25.0),
            high: celsius(70.0),
        },
        rail_tolerance: percent(10.0),
        current_tolerance: percent(5.0),
        current_margin: percent(2.0),
    };
    let mut sheet = tape(vec![emitter("white", string(30.0))], stated(0.1, 0.2));
    sheet.cells = 2;
    sheet.splices = Some(SpliceSpec {
        every: mm(500),
        resistance: milliohms(5.0),
    });
    let model = sheet.model(&corners).unwrap();
    // A splice of 5 mohm every 0.5 m: 10 mohm/m, half a milliohm an increment.
    let rail = |per_metre: f64, factor: f64| (per_metre * factor + 0.01) * 0.05;
    assert_relative(
        "common, low",
        model.common.low.value,
        rail(0.1, 1.21615 * 1.1),
        1e-12,
    );
    assert_relative(
        "common, nominal",
        model.common.nominal.value,
        rail(0.1, 1.0393),
        1e-12,
    );
    assert_relative(
        "return, high",
        model.emitters[0].rail.high.value,
        rail(0.2, 0.9),
        1e-12,
    );
    let law = &model.emitters[0].law;
    assert_relative(
        "nominal",
        law.nominal.current(volts(24.0)).value,
        0.060,
        1e-9,
    );
    assert!(law.low.current(volts(24.0)).value < 0.060 * 0.95);
    // 5 % of tolerance, and 2 % of margin again.
    assert!(law.high.current(volts(24.0)).value > 0.060 * 1.05 * 1.02);
}
