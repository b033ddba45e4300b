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
/// temperature of the job: 15 °C in the demo. Nominal copper is at the job's 30 °C, a jumper at no more than its load can make
/// it: a run at 25 °C, pads of 5 A, 15 A in 1 mm² (ABNT NBR 5410, table 36, method C): 25 + (70 - 30) (5 / 15)² = 29.44 °C.
#[test]
fn high_corner_takes_cable_at_its_least_resistance() {
    assert_eq!(demo_job().limits().cable_tolerance.value, 0.1);
    for cable in &demo().cables {
        near(ohms(cable).high, 0.9 * class_5(cable, 15.0), cable);
        let nominal = if cable.id.as_str().starts_with("J-") {
            25.0 + 40.0 * (5.0_f64 / 15.0).powi(2)
        } else {
            30.0
        };
        near(ohms(cable).nominal, class_5(cable, nominal), cable);
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
            hot.0 > celsius(25.0) && hot.0 < celsius(45.0),
            "{finding:?}"
        );
    }
}

/// A stated ampacity is for 30 °C where the job does not say, and a hotter place takes from it:
/// 10 A · sqrt((90 - 45) / (90 - 30)).
#[test]
fn a_stated_ampacity_is_derated_from_its_ambient() {
    let ampacity = |stated: &str, ambient: &str| {
        let told = small(|text| {
            text.replace("insulation =", &format!("{stated}\ninsulation ="))
                .replace(
                    "ambient = \"30 °C\"\nlead",
                    &format!("ambient = \"{ambient}\"\nlead"),
                )
        });
        let told = told.expect("sound");
        let own = &feeder(&told).ampacity;
        (
            own.current.figures().expect("stated").si(),
            own.source.to_string(),
        )
    };
    let (at_30, source) = ampacity("ampacity = \"10 A\"", "30 °C");
    assert_eq!(at_30, 10.0);
    assert!(
        source.contains("its ambient is not stated: 30 °C taken"),
        "{source}"
    );
    let (at_45, _) = ampacity("ampacity = \"10 A\"", "45 °C");
    assert!((at_45 - 10.0 * 0.75_f64.sqrt()).abs() < 1e-9, "{at_45}");
    let (stated, source) = ampacity("ampacity = \"10 A\"\nampacity_ambient = \"45 °C\"", "45 °C");
    assert_eq!(stated, 10.0);
    assert!(!source.contains("not stated"), "{source}");
}

/// Every cable of the demo has an ampacity by a table: three cores by table B.52.4, five by the factor of DIN VDE 0298-4.
/// Its feeders may all lie together, and a place whose feeders may not is asked how they lie.
#[test]
fn cores_and_feeders_together_are_judged() {
    for cable in &demo().cables {
        assert!(cable.ampacity.current.figures().is_some(), "{cable:?}");
    }
    let cores = said_by(demo(), "cable-heat");
    assert!(cores.len() >= 4 && cores.iter().all(|f| f.verdict == Verdict::Pass));
    let groups = said_by(demo(), "cable-grouping");
    assert_eq!(groups.len(), 2, "{groups:#?}");
    assert!(
        groups.iter().all(|f| f.verdict == Verdict::Pass),
        "{groups:#?}"
    );
    // IEC 60364-5-52, table B.52.17: so many circuits, this factor.
    let mut tight = demo().clone();
    for cable in &mut tight.cables {
        cable.ampacity.current = evenrun::design::Solved::Figures(cable.current.expect("solved"));
    }
    let all = evenrun::rules::judge(&tight);
    let open = all.iter().filter(|f| f.rule.as_str() == "cable-grouping");
    let open: Vec<String> = open.map(evenrun::rules::line).collect();
    assert_eq!(open.len(), 2);
    assert!(
        open[0].contains("the job does not say how many lie together"),
        "{open:?}"
    );
}

/// A short circuit meets copper as hot as its insulation may get, not as warm as the load makes it.
#[test]
fn the_least_fault_current_is_that_of_the_hottest_copper() {
    for cable in &demo().cables {
        let hottest = cable.hottest_core.expect("known").si();
        near(hottest, class_5(cable, 70.0), cable);
        assert!(hottest > ohms(cable).low);
    }
}
