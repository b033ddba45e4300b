//! What the copper of cables and tape has at the corners of tolerance.

use super::{demo, demo_job, feeder, said_by, small};
use evenrun::design::{Cable, Design};
use evenrun::finding::{Figure, Verdict};
use evenrun::quantity::{Corners, celsius, in_celsius};

/// IEC 60228, class 5, plain copper, 1.5 mm²: at most 13.3 ohm/km at 20 °C, and 0.004 /K from there.
fn class_5(cable: &Cable, celsius: f64) -> f64 {
    let at_20 = match cable.kind.as_str() {
        kind if kind.ends_with("x 1 mm2") => 0.0195,
        kind if kind.ends_with("x 1.5 mm2") => 0.0133,
        kind if kind.ends_with("x 2.5 mm2") => 0.00798,
        kind if kind.ends_with("x 4 mm2") => 0.00495,
        kind => panic!("{kind}"),
    };
    at_20 * (1.0 + 0.004 * (celsius - 20.0)) * cable.route.metres()
}

fn near(found: f64, by_hand: f64, of: &Cable) {
    assert!(
        (found / by_hand - 1.0).abs() < 1e-9,
        "{}: {found} for {by_hand}",
        of.id
    );
}

fn ohms(cable: &Cable) -> Corners<f64> {
    cable.core_resistance.map(|r| r.si())
}

/// The demo's cupboard is at 35 °C, and an output of its supplies gives 3.9 A at most. By the heat balance of a table,
/// 35 + (70 - 30) (3.9 / 19.5)² = 36.6 °C in two cores of 1.5 mm², PVC, method C (19.5 A, IEC 60364-5-52 table B.52.2):
/// not the 60 °C that the job states for copper of unknown warming.
#[test]
fn cable_is_as_hot_as_its_own_load_makes_it() {
    let two = demo()
        .cables
        .iter()
        .find(|c| c.kind.as_str() == "2 x 1.5 mm2");
    let two = two.expect("a feeder of 1.5 mm²");
    assert_eq!(in_celsius(two.ambient.0), 35.0);
    near(ohms(two).low, class_5(two, 36.6), two);
}

/// At the high corner a cable has 90 % of the greatest resistance of its size, where the job does not say, at the cold
/// temperature of the job: 15 °C in the demo.
#[test]
fn high_corner_takes_cable_at_its_least_resistance() {
    assert_eq!(demo_job().limits().cable_tolerance.value, 0.1);
    for cable in &demo().cables {
        near(ohms(cable).high, 0.9 * class_5(cable, 15.0), cable);
        near(ohms(cable).nominal, class_5(cable, 30.0), cable);
    }
    // As the job states.
    let stated = small(|text| text + "cable_tolerance = \"4 %\"\n").expect("sound");
    let silent = small(|text| text).expect("sound");
    let high = |design: &Design| ohms(feeder(design)).high / ohms(feeder(design)).nominal;
    assert!((high(&stated) / high(&silent) - 0.96 / 0.9).abs() < 1e-9);
}

/// Currents are judged with a margin: 2 % beyond the tolerance of the tape where the job does not say.
#[test]
fn currents_are_judged_with_a_margin() {
    let current = |margin: &str| {
        let told = small(|text| text + &format!("current_margin = \"{margin}\"\n")).expect("sound");
        let output = told.outputs[0].current.figures().expect("solved").high;
        output.si()
    };
    let (none, two, ten) = (current("0 %"), current("2 %"), current("10 %"));
    assert!((two / none - 1.0 - 0.02).abs() < 0.002, "{two} {none}");
    assert!((ten / none - 1.0 - 0.1).abs() < 0.01, "{ten} {none}");
    let silent = small(|text| text).expect("sound");
    assert_eq!(
        silent.outputs[0]
            .current
            .figures()
            .expect("solved")
            .high
            .si(),
        two
    );
}

/// A cable that no table covers takes the temperature that the job states, and never more than its insulation is rated
/// for.
#[test]
fn cable_without_a_table_is_at_the_stated_temperature() {
    let at = |hot: &str| {
        let told = small(|text| text + &format!("conductor_hot = \"{hot}\"\n")).expect("sound");
        ohms(feeder(&told))
    };
    // US code, chapter 9 table 8, note 2: 0.00323 /K from 75 °C.
    let warm = at("75 °C").low;
    assert!((at("85 °C").low / warm - 1.0323).abs() < 1e-9);
    assert!((at("120 °C").low / warm - (1.0 + 0.00323 * 15.0)).abs() < 1e-9);
}

/// The hottest run of each cable against its insulation, by its own current and not by what could flow.
#[test]
fn cable_temperature_is_judged() {
    let all = said_by(demo(), "cable-insulation");
    assert!(!all.is_empty());
    for finding in all {
        assert_eq!(finding.verdict, Verdict::Pass);
        let Some(Figure::Temperature(hot)) = finding.figure else {
            panic!("{finding:?}")
        };
        assert!(
            hot.0 > celsius(30.0) && hot.0 < celsius(45.0),
            "{finding:?}"
        );
    }
}
