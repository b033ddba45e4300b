//! A limit that is relaxed loses no plan.

use super::DEMO;
use evenrun::{job, plan, rules};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

/// Rules that planning answers for: feeding, light, supplies, decoders, room.
const PLANNED: [&str; 7] = [
    "feed", "segment", "supply", "decoder", "devices", "circuit", "place",
];

/// What of that a plan breaks.
fn broken(text: &str) -> Vec<String> {
    let job = job::read(text, "relaxed.toml").unwrap_or_else(|faults| panic!("{faults}\n{text}"));
    let design = plan::plan(&job);
    let fails = design.findings.iter().filter(|finding| {
        let rule = finding.rule.as_str();
        finding.is_fail() && PLANNED.contains(&rule.split('-').next().unwrap_or(rule))
    });
    fails.map(rules::line).collect()
}

/// A job with its three limits in whole per cent: least current, step, load factor.
fn with(text: &str, [least, step, load]: [u32; 3]) -> String {
    let text = text.replace("@L", &least.to_string());
    text.replace("@S", &step.to_string())
        .replace("@F", &load.to_string())
}

/// Once a plan holds, it holds at every wider limit.
fn keeps(text: &str, limits: impl Iterator<Item = [u32; 3]>) -> Result<(), TestCaseError> {
    let mut held: Option<[u32; 3]> = None;
    for limits in limits {
        let fails = broken(&with(text, limits));
        if let (Some(held), false) = (held, fails.is_empty()) {
            return Err(TestCaseError::fail(format!(
                "holds at {held:?} and not at {limits:?}: {fails:#?}\n{text}"
            )));
        }
        if fails.is_empty() {
            held = Some(limits);
        }
    }
    Ok(())
}

#[test]
fn a_connection_that_shared_copper_loads_more_is_planned_with_less() {
    keeps(
        include_str!("relaxed/pads.toml"),
        [68, 64, 60].map(|least| [least, 10, 80]).into_iter(),
    )
    .expect("kept");
}

#[test]
fn a_step_that_shared_copper_widens_is_planned_narrower() {
    keeps(
        include_str!("relaxed/step.toml"),
        [64, 60, 56].map(|least| [least, 10, 80]).into_iter(),
    )
    .expect("kept");
}

#[test]
fn a_wider_load_factor_loses_no_plan() {
    keeps(
        include_str!("relaxed/load.toml"),
        [60, 70, 80].map(|load| [70, 10, load]).into_iter(),
    )
    .expect("kept");
}

prop_compose! {
    /// One to three runs of white tape on decoders and supplies with much copper in common.
    fn jobs()(
        lengths in proptest::collection::vec(20_u32..90, 1..4),
        routes in proptest::collection::vec((20_u32..120, 20_u32..150), 3),
        supply in (60_u32..300, 1_u32..4, 10_u32..60),
        decoder in (4_u32..8, 12_u32..20, 10_u32..40),
        lead in 3_u32..50,
        hidden in any::<bool>(),
    ) -> String {
        let (head, _) = DEMO.split_once("# ---------------------------------------------------------------- supplies").expect("a heading");
        let (before, rest) = head.split_once("[limits]\n").expect("limits");
        let (_, after) = rest.split_once("[costs]\n").expect("costs");
        let (watts, outputs, ohms) = supply;
        let amps = f64::from(watts) / 24.0 / f64::from(outputs);
        let (each, all, switch) = decoder;
        let joints = if hidden { "hidden" } else { "seen" };
        let runs: String = lengths.iter().zip(&routes).enumerate().map(|(n, (length, (a, b)))| {
            // Two ways from one place reach at least as far as what lies between their ends.
            let b = *b.max(&length.saturating_sub(*a));
            format!(
            "[[run]]\nname = \"R{n}\"\nzone = \"z\"\nroom = \"x\"\npath = [{{ straight = \"{length}00 mm\" }}]\n\
             routes = [{{ from = \"p\", to = \"start\", length = \"{a}00 mm\", basis = \"measured\" }}, \
             {{ from = \"p\", to = \"end\", length = \"{b}00 mm\", basis = \"measured\" }}]\njoints = \"{joints}\"\n"
            )
        }).collect();
        format!(
            "{before}[limits]\nleast_current = \"@L %\"\nvisible_step = \"@S %\"\nload_factor = \"@F %\"\n[costs]\n{after}\n\
             [[supply]]\nname = \"s\"\npower = \"{watts} W\"\nvolts = \"24 V\"\ntolerance = \"1 %\"\noutputs = {outputs}\n\
             output_current = \"{amps:.2} A\"\noutput_resistance = \"{ohms} mΩ\"\nprice_minor = 6000\n\
             [[decoder]]\nname = \"d\"\noutputs = 4\noutput_current = \"{each} A\"\ntotal_current = \"{all} A\"\n\
             terminal_current = \"20 A\"\nvolts = {{ low = \"12 V\", high = \"36 V\" }}\npolarity = \"common plus\"\n\
             switch = \"{switch} mΩ\"\nfrequency = \"2 kHz\"\nbits = 16\nlevels = [\"8 bit\"]\ncurves = [\"linear\"]\n\
             edges = \"aligned\"\nport = \"isolated\"\nunit_loads = \"1/8\"\nprice_minor = 7000\n\
             [[place]]\nname = \"p\"\nroom = \"x\"\nambient = \"30 °C\"\nlead = \"{lead}00 mm\"\nlead_cables = [\"2 x 1.5 mm2\"]\n\
             [[zone]]\nname = \"z\"\nstrip = \"white 24 V, 14.4 W/m\"\ncontrol = \"8 bit\"\ncurve = \"linear\"\n\
             places = [\"p\"]\ncables = [\"2 x 1.5 mm2\", \"2 x 2.5 mm2\"]\nuniverse = \"u\"\n\
             [[universe]]\nname = \"u\"\nnumber = 1\nport = \"desk\"\n{runs}"
        )
    }
}

/// Random jobs, the same in every run of the tests; each limit relaxed in four steps.
#[test]
fn relaxing_a_limit_never_loses_a_plan() {
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[7; 32]);
    let config = Config {
        cases: 6,
        failure_persistence: None,
        ..Config::default()
    };
    let mut runner = TestRunner::new_with_rng(config, rng);
    let all = runner.run(&jobs(), |text| {
        keeps(
            &text,
            [76, 70, 64, 58].map(|least| [least, 10, 80]).into_iter(),
        )?;
        keeps(
            &text,
            [6, 10, 15, 20].map(|step| [66, step, 80]).into_iter(),
        )
    });
    all.unwrap_or_else(|error| panic!("{error}"));
}
