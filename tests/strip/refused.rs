//! Sheets that cannot be, by the text that says so; all errors of a sheet together.
use crate::build::*;
use evenrun::exact::ExactLength;
use evenrun::quantity::*;
use evenrun::strip::*;

fn good() -> StripSpec {
    tape(vec![emitter("white", string(30.0))], stated(0.08, 0.08))
}

fn text(change: impl FnOnce(&mut StripSpec)) -> String {
    let mut sheet = good();
    change(&mut sheet);
    match sheet.model(&CornerSet::exact()) {
        Ok(_) => "accepted".into(),
        Err(errors) => errors.to_string(),
    }
}

fn foil(layers: u32, microns: f64, width: f64) -> RailSpec {
    RailSpec::Foil {
        layers,
        thickness: micrometres(microns),
        common_width: millimetres(width),
        return_width: millimetres(3.0),
    }
}

fn run(length: i64, by: f64) -> RailSpec {
    RailSpec::MaximumRun {
        length: mm(length),
        fed: FedFrom::OneEnd,
        falls: Falls::Volts,
        by: percent(by),
    }
}

fn reading(length: i64, fed: f64, far: f64) -> RailSpec {
    RailSpec::Reading {
        length: mm(length),
        fed: volts(fed),
        far: volts(far),
    }
}

#[test]
fn each_figure_has_its_own_message() {
    assert_eq!(text(|_| {}), "accepted");
    let expect = |expected: &str, found: String| {
        assert!(found.contains(expected), "{expected:?} is not in {found:?}");
    };
    for value in [f64::NAN, f64::INFINITY, 0.0, -24.0, 1e308] {
        expect("the rated voltage is", text(|s| s.rated = volts(value)));
        expect("the common rail is", text(|s| s.rails = stated(value, 0.1)));
        expect("a return rail is", text(|s| s.rails = stated(0.1, value)));
        expect(
            "the thickness of the foil is",
            text(|s| s.rails = foil(1, value, 3.0)),
        );
        expect(
            "the width of the common rail is",
            text(|s| s.rails = foil(1, 70.0, value)),
        );
        expect(
            "the current of emitter \"white\" is",
            text(|s| s.emitters = vec![emitter("white", string(value))]),
        );
        expect(
            "the power per length is",
            text(|s| s.power = Some(watts_per_metre(value))),
        );
        expect(
            "what falls over the maximum run is",
            text(|s| s.rails = run(5000, value)),
        );
        expect(
            "the voltage at its feed is",
            text(|s| s.rails = reading(5000, value, 22.0)),
        );
        expect(
            "the voltage at its far end is",
            text(|s| s.rails = reading(5000, 24.0, value)),
        );
        expect(
            "the current of its last increment is",
            text(|s| {
                s.rails = RailSpec::CurrentReading {
                    length: mm(5000),
                    fed: volts(24.0),
                    far: amps(value),
                }
            }),
        );
    }
    expect(
        "the number of copper layers is 0; accepted: 1 to 8",
        text(|s| s.rails = foil(0, 70.0, 3.0)),
    );
    expect(
        "the thickness of the foil is 70 mm; accepted: above 0 and at most 1 mm",
        text(|s| s.rails = foil(1, 70_000.0, 3.0)),
    );
    expect("its name is empty", text(|s| s.name = "  ".into()));
    expect(
        "the number of cells between two cuts is 0; accepted: 1 to 1000",
        text(|s| s.cells = 0),
    );
    expect(
        "the reel is 20 mm, but one cut increment is 50 mm",
        text(|s| s.reel = mm(20)),
    );
    expect("the reel is -1 m", text(|s| s.reel = mm(-1000)));
    expect(
        "the maximum run of 49 mm is shorter than one cut increment (50 mm)",
        text(|s| s.rails = run(49, 10.0)),
    );
    expect(
        "the piece that was read is 0",
        text(|s| s.rails = reading(0, 24.0, 22.0)),
    );
    expect(
        "the voltage at its far end is 24 V; accepted: above 0 and below the 24 V at its feed",
        text(|s| s.rails = reading(5000, 24.0, 24.0)),
    );
    expect(
        "has 0 emitters; 1 to 6 are accepted",
        text(|s| s.emitters.clear()),
    );
    expect(
        "has 7 emitters; 1 to 6 are accepted",
        text(|s| {
            s.emitters = (0..7)
                .map(|n| emitter(&n.to_string(), string(5.0)))
                .collect()
        }),
    );
    expect(
        "emitter 2 is named \"red\", but another one has that name",
        text(|s| s.emitters = vec![emitter("red", string(5.0)), emitter("red", string(5.0))]),
    );
    expect(
        "the resistance of a factory splice is",
        text(|s| {
            s.splices = Some(SpliceSpec {
                every: mm(500),
                resistance: ohms(-0.01),
            })
        }),
    );
}

#[test]
fn cells_that_cannot_be() {
    let cell = |cell| text(|s| s.emitters = vec![emitter("white", cell)]);
    let expect = |expected: &str, found: String| {
        assert!(found.contains(expected), "{expected:?} is not in {found:?}");
    };
    let series = |diodes, forward, ballast: Option<f64>| CellSpec::Series {
        diodes,
        forward: volts(forward),
        current: milliamps(20.0),
        ballast: ballast.map(ohms),
    };
    expect(
        "the voltage that the cells need of emitter \"white\" is 24 V; accepted: above 0 and below the rated 24 V",
        cell(series(8, 3.0, None)),
    );
    expect(
        "the voltage that the cells need of emitter \"white\" is 0 V",
        cell(series(0, 3.0, None)),
    );
    expect(
        "the voltage that the cells need of emitter \"white\" is",
        cell(series(6, f64::NAN, None)),
    );
    expect(
        "the current of emitter \"white\" is 20 mA, but by its ballast it draws",
        cell(series(6, 3.0, Some(600.0))),
    );
    expect(
        "the ballast resistance is -300",
        cell(series(6, 3.0, Some(-300.0))),
    );
    expect(
        "the drop-out voltage of emitter \"white\" is 0 V",
        cell(CellSpec::ConstantCurrent {
            diodes: 6,
            forward: volts(3.0),
            current: milliamps(20.0),
            drop_out: volts(0.0),
        }),
    );
    expect(
        "the voltage that the cells need of emitter \"white\" is 24 V",
        cell(CellSpec::StraightLine {
            knee: volts(24.0),
            current: milliamps(20.0),
        }),
    );
    expect(
        "the voltage that the cells need of emitter \"white\" is 30 V",
        cell(CellSpec::ConstantPower {
            power: watts(0.5),
            works_from: volts(30.0),
        }),
    );
}

#[test]
fn all_faults_come_together() {
    let mut sheet = good();
    sheet.rated = volts(f64::NAN);
    sheet.cells = 5000;
    sheet.rails = stated(-1.0, 0.0);
    let errors = sheet.check().unwrap_err();
    assert_eq!(errors.0.len(), 4, "{errors}");
    assert_eq!(errors.to_string().lines().count(), 4);
}

#[test]
fn runs_and_readings_that_no_copper_explains() {
    let expect = |expected: &str, found: String| {
        assert!(found.contains(expected), "{expected:?} is not in {found:?}");
    };
    // A regulated cell holds its current: a current read says nothing about the copper.
    expect(
        "30 mA in the last increment of 5 m fed with 24 V: no rail resistance from 0.000001 to 1000 ohm/m gives it",
        text(|s| {
            s.emitters = vec![emitter("white", regulated(30.0))];
            s.rails = RailSpec::CurrentReading {
                length: mm(5000),
                fed: volts(24.0),
                far: milliamps(30.0),
            };
        }),
    );
    // More current than the cell draws at its feed.
    expect(
        "It shows no more than that on the best copper",
        text(|s| {
            s.rails = RailSpec::CurrentReading {
                length: mm(5000),
                fed: volts(24.0),
                far: milliamps(31.0),
            };
        }),
    );
    // A string stops drawing near 15 V: no copper takes a far end to 1 V.
    expect(
        "It never falls so far",
        text(|s| s.rails = reading(50, 24.0, 1.0)),
    );
    // Ten million cells are refused before anything is allocated for them.
    expect(
        "accepted: at most 100000 cut increments",
        text(|s| {
            s.rails = RailSpec::MaximumRun {
                length: ExactLength::from_millimetres(500_000_000),
                fed: FedFrom::OneEnd,
                falls: Falls::Volts,
                by: percent(10.0),
            };
        }),
    );
}

#[test]
fn corners_that_cannot_be() {
    let text = |change: fn(&mut CornerSet)| {
        let mut corners = CornerSet::exact();
        change(&mut corners);
        good()
            .check()
            .unwrap()
            .model(&corners)
            .unwrap_err()
            .to_string()
    };
    let nan = text(|c| c.rail_tolerance = fraction(f64::NAN));
    assert!(nan.contains("the tolerance of its rails is"), "{nan}");
    let all = text(|c| c.current_tolerance = percent(100.0));
    assert!(
        all.contains("the tolerance of its currents is 100 %; accepted: 0 % to 50 %"),
        "{all}"
    );
    let hot = text(|c| c.cell.high = celsius(900.0));
    assert!(
        hot.contains("a temperature of its cells is 900 °C"),
        "{hot}"
    );
    let cold = text(|c| c.conductor.low = celsius(-273.0));
    assert!(cold.contains("a temperature of its rails is"), "{cold}");
}
