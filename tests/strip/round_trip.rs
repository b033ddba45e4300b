//! A tape calibrated from the reading that its own model predicts has the rails it started with.
use crate::build::*;
use crate::common::assert_relative;
use evenrun::quantity::*;
use evenrun::strip::*;
use proptest::prelude::*;

fn cell() -> impl Strategy<Value = CellSpec> {
    prop_oneof![
        (5.0..60.0).prop_map(string),
        (5.0..60.0).prop_map(knee),
        (5.0..60.0).prop_map(regulated),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn volts_read_at_the_far_end_give_the_rails_back(
        cells in prop::collection::vec(cell(), 1..=4),
        increments in 20_usize..120,
        rail in 0.02..0.3_f64,
    ) {
        let emitters: Vec<_> = cells
            .into_iter()
            .enumerate()
            .map(|(n, cell)| emitter(&format!("emitter {n}"), cell))
            .collect();
        let sheet = tape(emitters, stated(rail, rail));
        let seen = see(&sheet.model(&CornerSet::exact()).unwrap(), increments, 24.0, false, 0.5);
        let read = StripSpec {
            rails: RailSpec::Reading {
                length: mm(50 * increments as i64),
                fed: volts(24.0),
                far: volts(seen.far),
            },
            ..sheet
        };
        let found = read.check().unwrap().calibrate(&CornerSet::exact()).unwrap();
        assert_relative("rail", found.common.value, rail, 1e-9);
        assert_relative("increment", found.model.common.nominal.value, rail * 0.05, 1e-9);
        // The model shows the reading again.
        let again = see(&found.model, increments, 24.0, false, 0.5);
        assert_relative("reading", again.far, seen.far, 1e-9);
    }

    #[test]
    fn current_read_at_the_far_end_gives_the_rails_back(
        straight in any::<bool>(),
        milli in 10.0..60.0_f64,
        increments in 20_usize..120,
        rail in 0.02..0.3_f64,
    ) {
        let cell = if straight { knee(milli) } else { string(milli) };
        let sheet = tape(vec![emitter("white", cell)], stated(rail, rail));
        let seen = see(&sheet.model(&CornerSet::exact()).unwrap(), increments, 24.0, false, 0.5);
        let read = StripSpec {
            rails: RailSpec::CurrentReading {
                length: mm(50 * increments as i64),
                fed: volts(24.0),
                far: amps(seen.last),
            },
            ..sheet
        };
        let found = read.check().unwrap().calibrate(&CornerSet::exact()).unwrap();
        assert_relative("rail", found.common.value, rail, 1e-9);
    }

    /// A run that falls by what the model shows gives the rails back, in every meaning.
    #[test]
    fn a_maximum_run_gives_the_rails_back(
        milli in 10.0..60.0_f64,
        increments in 20_usize..120,
        rail in 0.05..0.3_f64,
        both in any::<bool>(),
        light in any::<bool>(),
    ) {
        let sheet = tape(vec![emitter("white", knee(milli))], stated(rail, rail));
        let seen = see(&sheet.model(&CornerSet::exact()).unwrap(), increments, 24.0, both, 0.5);
        let least = seen.volts.iter().copied().fold(f64::INFINITY, f64::min);
        let by = if light { 1.0 - (least - 18.0) / 6.0 } else { 1.0 - least / 24.0 };
        prop_assume!(by > 0.001 && by < 0.9);
        let read = StripSpec {
            rails: RailSpec::MaximumRun {
                length: mm(50 * increments as i64),
                fed: if both { FedFrom::BothEnds } else { FedFrom::OneEnd },
                falls: if light { Falls::Light } else { Falls::Volts },
                by: fraction(by),
            },
            ..sheet
        };
        let found = read.check().unwrap().calibrate(&CornerSet::exact()).unwrap();
        assert_relative("rail", found.common.value, rail, 1e-9);
    }
}

/// Constant-power cells have a reading too, and past their collapse there is none.
#[test]
fn falling_cells_are_calibrated_above_their_collapse() {
    let cell = CellSpec::ConstantPower {
        power: watts(0.72),
        works_from: volts(12.0),
    };
    let sheet = tape(vec![emitter("white", cell)], stated(0.1, 0.1));
    let model = sheet.model(&CornerSet::exact()).unwrap();
    let seen = see(&model, 80, 24.0, false, 0.5);
    let reading = |far: f64| StripSpec {
        rails: RailSpec::Reading {
            length: mm(4000),
            fed: volts(24.0),
            far: volts(far),
        },
        ..sheet.clone()
    };
    let found = reading(seen.far).check().unwrap();
    let found = found.calibrate(&CornerSet::exact()).unwrap();
    assert_relative("rail", found.common.value, 0.1, 1e-9);
    let error = reading(6.0).model(&CornerSet::exact()).unwrap_err();
    assert!(error.to_string().contains("jump past it"), "{error}");
}
