//! Each rule that reads a design answers for its own figure: one figure of a sound plan is moved past its limit, and the
//! rule that was content says so.

use evenrun::design::{Design, Solved};
use evenrun::finding::Verdict;
use evenrun::quantity::{amps, celsius, percent, volts, watts, watts_per_metre};
use evenrun::{job, plan, rules};

const BASE: &str = include_str!("../faults/base.toml");

/// A rule, the change that it answers for, and how.
type Flip = (&'static str, fn(&mut Design), Verdict);

const FLIPS: &[Flip] = &[
    (
        "supply-load",
        |d| d.supplies[0].permitted = watts(1.0).into(),
        Verdict::Fail,
    ),
    (
        "supply-output",
        |d| d.supply_kinds[0].output_current = amps(0.1).into(),
        Verdict::Fail,
    ),
    (
        "supply-derating",
        |d| d.supplies[0].derating_stated = false,
        Verdict::NotEvaluated,
    ),
    (
        "circuit-unsolved",
        |d| d.outputs[0].current = Solved::Not("no operating point".into()),
        Verdict::Fail,
    ),
    (
        "decoder-output",
        |d| d.decoder_kinds[0].output_current = amps(0.1).into(),
        Verdict::Fail,
    ),
    (
        "decoder-total",
        |d| d.decoders[0].current_limit = amps(0.1).into(),
        Verdict::Fail,
    ),
    (
        "decoder-volts",
        |d| d.decoder_kinds[0].least_volts = volts(30.0).into(),
        Verdict::Fail,
    ),
    (
        "decoder-overvoltage",
        |d| d.decoder_kinds[0].most_volts = volts(10.0).into(),
        Verdict::Fail,
    ),
    (
        "segment-light",
        |d| d.limits.least_current = percent(99.0).into(),
        Verdict::Fail,
    ),
    (
        "segment-balance",
        |d| d.limits.balance = Some(percent(-1.0).into()),
        Verdict::Fail,
    ),
    (
        "segment-pads",
        |d| d.strips[0].pad_current = Some(amps(0.1).into()),
        Verdict::Fail,
    ),
    (
        "cable-insulation",
        |d| d.cable_kinds[0].insulation = celsius(20.0).into(),
        Verdict::Fail,
    ),
    (
        "conductor-load",
        |d| d.cables[0].ampacity.current = Solved::Figures(amps(0.01).into()),
        Verdict::Fail,
    ),
    (
        "place-room",
        |d| d.places[0].most_supplies = Some(0),
        Verdict::Fail,
    ),
    (
        "strip-power",
        |d| d.strips[0].power_stated = Some(watts_per_metre(1.0).into()),
        Verdict::Fail,
    ),
    (
        "scope-ways",
        |d| d.places[0].has_ways = true,
        Verdict::NotEvaluated,
    ),
    (
        "class-2-nameplate-power",
        |d| d.supply_kinds[0].power = watts(500.0).into(),
        Verdict::Fail,
    ),
    (
        "protection",
        |d| d.supply_kinds[0].output_resistance = evenrun::quantity::ohms(-1.0).into(),
        Verdict::NotEvaluated,
    ),
];

fn has(design: &Design, rule: &str, verdict: Verdict) -> bool {
    let all = rules::judge(design);
    let mut own = all.iter().filter(|f| f.rule.as_str() == rule);
    own.any(|finding| finding.verdict == verdict)
}

#[test]
fn each_rule_answers_for_its_figure() {
    let job = job::read(BASE, "base.toml").expect("a sound job");
    let sound = plan::plan(&job);
    let mut wrong = Vec::new();
    for (rule, change, verdict) in FLIPS {
        assert!(rules::find(rule).is_some(), "{rule} is no rule");
        if has(&sound, rule, *verdict) {
            wrong.push(format!("{rule} says so of the sound plan"));
        }
        let mut changed = sound.clone();
        change(&mut changed);
        if !has(&changed, rule, *verdict) {
            wrong.push(format!("{rule} is not {verdict:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("; "));
}

/// What this version leaves out is said of every plan.
#[test]
fn the_scope_is_said() {
    let job = job::read(BASE, "base.toml").expect("a sound job");
    let sound = plan::plan(&job);
    for rule in ["scope-heat", "scope-light", "scope-dimming", "scope-mains"] {
        assert!(has(&sound, rule, Verdict::NotEvaluated), "{rule}");
    }
}

/// Lit and dark of each run are said, though nothing of them can fail.
#[test]
fn what_stays_dark_is_said() {
    let job = job::read(BASE, "base.toml").expect("a sound job");
    let sound = plan::plan(&job);
    let dark = sound
        .findings
        .iter()
        .filter(|f| f.rule.as_str() == "layout-dark");
    assert_eq!(dark.count(), sound.runs.len());
}
