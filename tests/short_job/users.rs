//! The job of the README, the starter, and three jobs written from the README and one sheet of facts each.

use crate::{changed, good, holds, readme};
use evenrun::design::{Assumed, Item};
use evenrun::finding::Verdict;
use evenrun::job::STARTER;
use evenrun::job::spec::TakenFact;
use evenrun::plan::plan;
use evenrun::report::overview;

/// Lines that the program prints after the page.
const AFTER: usize = 2;

#[test]
fn the_job_of_the_readme_has_twelve_lines_and_its_answer_one_screen() {
    let text = readme();
    let lines: Vec<&str> = text.lines().filter(|l| !l.trim().is_empty()).collect();
    assert!(lines.len() <= 12, "{}", lines.len());
    assert!(lines.iter().all(|line| line.chars().count() <= 100));
    let design = holds(&text);
    let page = overview(&design, 100);
    assert!(page.lines().count() + AFTER <= 50, "{page}");
    assert!(page.lines().all(|line| line.chars().count() <= 100));
    assert_eq!(design.narrowing.len(), 3);
    assert!(page.contains("WHAT WOULD NARROW THE ANSWER MOST"), "{page}");
}

#[test]
fn the_starter_plans_without_a_fail() {
    holds(STARTER);
}

#[test]
fn three_new_users() {
    let cove = holds(include_str!("cove.toml"));
    assert_eq!(cove.runs.len(), 1);
    let atrium = holds(include_str!("atrium.toml"));
    assert!(atrium.decoders.len() > 1);
    let shelves = holds(include_str!("shelves.toml"));
    assert_eq!(shelves.runs.len(), 3);
}

#[test]
fn a_supply_without_its_limit_is_told_which_key_to_state() {
    let text = changed(include_str!("cove.toml"), ", limit_current = \"9.4 A\"", "");
    let page = overview(&plan(&good(&text)), 100).replace("\n    ", " ");
    assert!(
        page.contains("state `limit_current` of the supply"),
        "{page}"
    );
}

#[test]
fn decoders_are_asked_for_and_not_invented() {
    let design = holds(include_str!("atrium.toml"));
    let asked = |row: &&evenrun::design::Material| matches!(row.item, Item::DecoderNotNamed { .. });
    let rows: Vec<_> = design.materials.iter().filter(asked).collect();
    let [row] = rows.as_slice() else {
        panic!("{rows:?}");
    };
    assert_eq!(row.order, design.decoders.len() as u64);
    assert!(
        !design
            .materials
            .iter()
            .any(|row| matches!(row.item, Item::Decoder(_)))
    );
    let Item::DecoderNotNamed {
        outputs,
        output_current: Some(one),
        total_current: Some(all),
        volts: Some(volts),
        ..
    } = row.item
    else {
        panic!("{row:?}");
    };
    assert_eq!(outputs, 4);
    // 24 V within 1 %.
    assert!((volts.si() - 24.24).abs() < 1e-9);
    for output in &design.decoder_outputs {
        assert!(output.current.unwrap().si() <= one.si());
    }
    for decoder in &design.decoders {
        assert!(decoder.current.unwrap().si() <= all.si());
    }
    for rule in [
        "decoder-output",
        "decoder-total",
        "decoder-volts",
        "decoder-overvoltage",
    ] {
        let own = design.findings.iter().filter(|f| f.rule.as_str() == rule);
        let verdicts: Vec<Verdict> = own.map(|f| f.verdict).collect();
        assert_eq!(verdicts.len(), design.decoders.len(), "{rule}");
        assert!(
            verdicts.iter().all(|v| *v == Verdict::NotEvaluated),
            "{rule}"
        );
    }
}

#[test]
fn what_the_file_is_silent_about_stands_among_the_assumptions() {
    let design = holds(&readme());
    let has = |fact| design.assumed.iter().any(|a| a.what == Assumed::Fact(fact));
    use TakenFact::*;
    for fact in [
        Copper,
        Strings,
        PowerBasis,
        Polarity,
        Reel,
        Cores,
        Flexible,
        Insulation,
        Installed,
        SupplyTolerance,
        OutputCurrent,
        OnePlace,
        PlaceAmbient,
        OneZone,
        Feeder,
        FeedAnywhere,
    ] {
        assert!(has(fact), "{fact:?}");
    }
    assert!(!has(PowerShares) && !has(Universe) && !has(DecoderSwitch));
    for (from, to, fact) in [
        (
            "copper = \"2 oz\"",
            "rails = { known_from = \"resistance\", common = \"60 mΩ/m\", returns = \"60 mΩ/m\" }",
            Copper,
        ),
        (
            "copper = \"2 oz\"",
            "power_measured_on = \"short piece\"",
            PowerBasis,
        ),
        (
            "power = \"100 W\",",
            "power = \"100 W\", tolerance = \"1 %\",",
            SupplyTolerance,
        ),
        ("cut_pitch", "reel = \"5 m\"\ncut_pitch", Reel),
    ] {
        let stated = good(&changed(&readme(), from, to));
        assert!(
            stated.taken().iter().all(|taken| taken.fact != fact),
            "{fact:?}"
        );
    }
}

#[test]
fn a_value_that_is_stated_is_another_job_than_the_same_value_taken() {
    let short = good(&readme());
    let stated = good(&changed(
        &readme(),
        "cut_pitch",
        "reel = \"5 m\"\ncut_pitch",
    ));
    assert_ne!(short.canonical(), stated.canonical());
    assert_eq!(short.spec().strips, stated.spec().strips);
    assert!(short.canonical().contains("taken \"white\" = \"reel\""));
    // The order of a file leaves no trace, of what is taken neither.
    let (before, after) = readme()
        .split_once("cable =")
        .map(|(a, b)| (a.to_string(), b.to_string()))
        .unwrap();
    let (cables, rest) = after.split_once('\n').unwrap();
    let moved = before.replace("control =", &format!("cable ={cables}\ncontrol =")) + rest;
    assert_eq!(good(&moved).canonical(), short.canonical());
}
