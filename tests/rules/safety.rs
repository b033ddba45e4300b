//! Rules about people and surroundings: one short job, one thing changed at a time.

use crate::designs::designs;
use evenrun::design::{Cable, Design, Terminals};
use evenrun::device::{EnergyLimit, Overload, ShockProtection};
use evenrun::finding::{Finding, Subject, Verdict};
use evenrun::quantity::{amps, volts};
use evenrun::{job, plan, rules};

const SMALL: &str = include_str!("../plan/small.toml");

/// The plan of the short switched run, with texts of its job replaced.
fn planned(edits: &[(&str, &str)]) -> Design {
    let mut text = SMALL.to_string();
    for (from, to) in edits {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    let job = job::read(&text, "small.toml").unwrap_or_else(|fault| panic!("{fault}"));
    plan::plan(&job)
}

pub fn said<'d>(design: &'d Design, rule: &str) -> Vec<&'d Finding> {
    assert!(rules::find(rule).is_some(), "{rule}");
    let all = design.findings.iter();
    all.filter(|finding| finding.rule.as_str() == rule)
        .collect()
}

/// Verdict and case of the one answer of a rule; none where it says nothing.
fn answer(design: &Design, rule: &str) -> Option<(Verdict, String)> {
    match said(design, rule).as_slice() {
        [] => None,
        [one] => Some((one.verdict, one.case.clone())),
        more => panic!("{rule}: {more:#?}"),
    }
}

fn is(verdict: Verdict, case: &str) -> Option<(Verdict, String)> {
    Some((verdict, case.to_string()))
}

use Verdict::{Fail, NotEvaluated, Pass};

const SET: (&str, &str) = ("volts = \"24 V\"", "volts = \"48 V\"");
const TAPE: (&str, &str) = ("rated = \"24 V\"", "rated = \"48 V\"");
const CELLS: (&str, &str) = ("diodes = 6", "diodes = 12");
const WET: (&str, &str) = (
    "room = \"store\"\npath",
    "room = \"store\"\nenvironment = \"wet\"\npath",
);
const TOLERANCE: &str = "tolerance = \"1 %\"";
const REEL: &str = "reel = \"5 m\"";

/// 48 V in the wet behind a supply whose label is neither SELV nor PELV: each question has an answer or the missing fact.
#[test]
fn a_48_v_job_in_the_wet_with_another_label_is_not_silent() {
    let other = (
        TOLERANCE,
        "tolerance = \"1 %\"\nshock_protection = \"other\"",
    );
    let design = planned(&[SET, TAPE, CELLS, WET, other]);
    assert_eq!(answer(&design, "shock-protection"), is(Fail, "other"));
    let [label] = said(&design, "shock-protection")[..] else {
        panic!("one output")
    };
    assert!(rules::line(label).contains("neither SELV nor PELV"));
    assert_eq!(
        answer(&design, "elv-touchable"),
        is(NotEvaluated, "not-stated")
    );
    assert_eq!(
        answer(&design, "strip-ingress"),
        is(NotEvaluated, "nothing-stated")
    );
    assert_eq!(
        answer(&design, "cable-surroundings"),
        is(NotEvaluated, "not-stated")
    );
    // Not stated counts as none, and is asked for.
    let design = planned(&[SET, TAPE, CELLS, WET]);
    assert_eq!(
        answer(&design, "shock-protection"),
        is(NotEvaluated, "unknown")
    );
    // A Class 2 label of the US code says nothing of SELV, and the code in force is not the plan's to choose.
    let class_2 = (
        TOLERANCE,
        "tolerance = \"1 %\"\nshock_protection = \"other\"\nenergy_class = \"class 2\"",
    );
    let design = planned(&[SET, TAPE, CELLS, WET, class_2]);
    assert_eq!(
        answer(&design, "shock-protection"),
        is(NotEvaluated, "class-2")
    );
    // Above 30 V a Class 2 circuit in the wet fails by that code's own table.
    assert!(said(&design, "class-2-voltage").iter().any(|f| f.is_fail()));
    // SELV answers that question, and no other.
    let selv = (
        TOLERANCE,
        "tolerance = \"1 %\"\nshock_protection = \"SELV\"",
    );
    let design = planned(&[SET, TAPE, CELLS, WET, selv]);
    assert_eq!(answer(&design, "shock-protection"), is(Pass, "extra-low"));
    assert_eq!(answer(&design, "elv-limit"), is(Pass, "voltage"));
    assert_eq!(
        answer(&design, "elv-touchable"),
        is(NotEvaluated, "not-stated")
    );
}

/// 48 V, tolerance 1 %: 48.48 V against 30 V dc elsewhere than in ordinary places and 60 V there (IEC 60598-1:2008, 8.2.3 c).
#[test]
fn bare_parts_above_30_v_fail_in_the_wet_only() {
    let ip20 = (REEL, "reel = \"5 m\"\ningress = \"IP20\"");
    let design = planned(&[SET, TAPE, CELLS, WET, ip20]);
    let [bare] = said(&design, "elv-touchable")[..] else {
        panic!("one output")
    };
    assert!(bare.is_fail());
    let line = rules::words(bare);
    assert_eq!(
        (line.figure.as_str(), line.limit.as_str()),
        ("48.48 V", "30 V")
    );
    assert_eq!(answer(&design, "strip-ingress"), is(Fail, "no-water"));
    let dry = planned(&[SET, TAPE, CELLS, ip20]);
    let [bare] = said(&dry, "elv-touchable")[..] else {
        panic!("one output")
    };
    assert_eq!(bare.verdict, Pass);
    assert_eq!(rules::words(bare).limit, "60 V");
    assert_eq!(answer(&dry, "strip-ingress"), None);
    // 24 V is below both.
    assert_eq!(
        answer(&planned(&[WET, ip20]), "elv-touchable"),
        is(Pass, "voltage")
    );
}

/// A sealed tape is closed as delivered: what is cut and soldered is asked for.
#[test]
fn a_sealed_tape_leaves_its_cut_ends_open() {
    let sealed = (REEL, "reel = \"5 m\"\ningress = \"IP67\"");
    let needs = (
        "room = \"store\"\npath",
        "room = \"store\"\nenvironment = \"wet\"\ningress = \"IP67\"\npath",
    );
    let design = planned(&[SET, TAPE, CELLS, needs, sealed]);
    assert_eq!(answer(&design, "elv-touchable"), is(NotEvaluated, "closed"));
    assert_eq!(answer(&design, "strip-ingress"), is(Pass, "covered"));
    assert_eq!(
        answer(&design, "strip-cut-ends"),
        is(NotEvaluated, "opened")
    );
    // What the run needs is asked for, whatever the tape has.
    let design = planned(&[WET, sealed]);
    assert_eq!(
        answer(&design, "strip-ingress"),
        is(NotEvaluated, "not-asked")
    );
}

#[test]
fn cables_and_devices_stand_in_their_surroundings() {
    let jacket = |environment: &str| {
        let cable = format!("insulation = \"90 °C\"\nenvironment = \"{environment}\"");
        let design = planned(&[WET, ("insulation = \"90 °C\"", &cable)]);
        answer(&design, "cable-surroundings")
    };
    assert_eq!(jacket("dry"), is(Fail, "not-made-for"));
    assert_eq!(jacket("wet"), is(Pass, "made-for"));
    assert_eq!(answer(&planned(&[]), "cable-surroundings"), None);
    let outdoors = (
        "room = \"store\"\nambient",
        "room = \"store\"\nenvironment = \"outdoor\"\nambient",
    );
    let design = planned(&[outdoors]);
    assert_eq!(
        answer(&design, "device-ingress"),
        is(NotEvaluated, "nothing-stated")
    );
    let needs = (
        "room = \"store\"\nambient",
        "room = \"store\"\nenvironment = \"outdoor\"\ningress = \"IP65\"\nambient",
    );
    let code = |code: &str| {
        let supply = format!("{TOLERANCE}\ningress = \"{code}\"");
        answer(&planned(&[needs, (TOLERANCE, &supply)]), "device-ingress")
    };
    assert_eq!(code("IP20"), is(Fail, "no-water"));
    assert_eq!(code("IP54"), is(Fail, "less"));
    assert_eq!(code("IP67"), is(Pass, "covered"));
}

#[test]
fn emergency_lighting_hangs_on_its_own_circuits_and_normal_lighting_does_not() {
    let service = |zone: &str, place: &str| {
        let zone = format!("places = [\"box\"]\nservice = \"{zone}\"");
        let place = format!("lead = \"500 mm\"\nservice = \"{place}\"");
        let edits = [
            ("places = [\"box\"]", &*zone),
            ("lead = \"500 mm\"", &*place),
        ];
        answer(&planned(&edits), "supply-service")
    };
    assert_eq!(service("emergency", "normal"), is(Fail, "on-normal"));
    assert_eq!(service("both", "normal"), is(Fail, "on-normal"));
    assert_eq!(service("normal", "emergency"), is(Fail, "on-emergency"));
    assert_eq!(service("emergency", "emergency"), is(Pass, "agrees"));
    assert_eq!(service("normal", "both"), is(Pass, "agrees"));
    assert_eq!(service("normal", "normal"), None);
}

#[test]
fn ambients_are_held_against_tape_and_cable() {
    let hot = (
        "room = \"store\"\npath",
        "room = \"store\"\nambient = \"55 °C\"\npath",
    );
    assert_eq!(
        answer(&planned(&[hot]), "strip-ambient"),
        is(NotEvaluated, "not-stated")
    );
    let rated = |most: &str| {
        let tape = format!("{REEL}\nhighest_ambient = \"{most}\"");
        answer(&planned(&[hot, (REEL, &tape)]), "strip-ambient")
    };
    assert_eq!(rated("45 °C"), is(Fail, "rated"));
    assert_eq!(rated("60 °C"), is(Pass, "rated"));
    assert_eq!(
        answer(&planned(&[hot]), "cable-ambient"),
        is(Pass, "ambient")
    );
    let hotter = (
        "room = \"store\"\npath",
        "room = \"store\"\nambient = \"75 °C\"\npath",
    );
    let cable = ("insulation = \"90 °C\"", "insulation = \"70 °C\"");
    let design = planned(&[hotter, cable]);
    assert_eq!(answer(&design, "cable-ambient"), is(Fail, "ambient"));
}

/// Plus on the metal of a profile: nothing flows with no pole earthed, nor where the profile is not; with both earthed the
/// fault path is asked for.
#[test]
fn a_profile_is_judged_for_faults() {
    let with_profile = |label: &str, earthed: &str| {
        let supply = format!("{TOLERANCE}\nshock_protection = \"{label}\"");
        let profile = format!(
            "[[profile]]\nname = \"p\"\nbars = [{{ length = \"2 m\" }}]\n{earthed}\n[[run]]"
        );
        let edits = [
            (TOLERANCE, &*supply),
            ("[[run]]", &*profile),
            (
                "room = \"store\"\npath",
                "room = \"store\"\nprofile = \"p\"\npath",
            ),
        ];
        let design = planned(&edits);
        ["profile-plus", "profile-return"].map(|rule| answer(&design, rule))
    };
    let with = |label: &str| with_profile(label, "").into_iter().next().flatten();
    assert_eq!(with("SELV"), is(Pass, "minus-free"));
    assert_eq!(with("PELV"), is(NotEvaluated, "profile-not-stated"));
    assert_eq!(with("unknown"), is(NotEvaluated, "earth-not-known"));
    // Said of the profile, the question of PELV is settled, or becomes that for the way of the fault.
    let [plus, _] = with_profile("PELV", "earthed = \"no\"");
    assert_eq!(plus, is(Pass, "profile-free"));
    let [plus, _] = with_profile("PELV", "earthed = \"yes\"");
    assert_eq!(plus, is(NotEvaluated, "no-way"));
    let [plus, _] = with_profile("SELV", "earthed = \"no\"");
    assert_eq!(plus, is(Pass, "both-free"));
    let [plus, _] = with_profile("unknown", "earthed = \"no\"");
    assert_eq!(plus, is(Pass, "profile-free"));
}

/// 24 V tape: 28 V of trimmer and 1 % of tolerance are 28.28 V, with no drop to count on at no load.
#[test]
fn a_tape_is_held_against_the_highest_voltage_of_its_supply() {
    let trim = (
        TOLERANCE,
        "tolerance = \"1 %\"\ntrim = { low = \"22 V\", high = \"28 V\" }",
    );
    assert_eq!(
        answer(&planned(&[trim]), "strip-overvoltage"),
        is(NotEvaluated, "trimmed")
    );
    let bears = |most: &str| {
        let tape = format!("{REEL}\nhighest_volts = \"{most}\"");
        planned(&[trim, (REEL, &tape)])
    };
    let design = bears("26 V");
    assert_eq!(answer(&design, "strip-overvoltage"), is(Fail, "stated"));
    let words = rules::words(said(&design, "strip-overvoltage")[0]);
    assert_eq!(
        (words.figure.as_str(), words.limit.as_str()),
        ("28.28 V", "26 V")
    );
    assert_eq!(
        answer(&bears("30 V"), "strip-overvoltage"),
        is(Pass, "stated")
    );
    // 25 V and 5 % drive a cell of 18 V of diodes with (26.25 - 18)/6 = 137.5 % of its current.
    let set = [
        ("volts = \"24 V\"", "volts = \"25 V\""),
        (TOLERANCE, "tolerance = \"5 %\""),
    ];
    assert_eq!(
        answer(&planned(&set), "strip-overvoltage"),
        is(Fail, "as-set")
    );
    assert_eq!(
        answer(&planned(&[]), "strip-overvoltage"),
        is(Pass, "as-set")
    );
}

/// A supply whose trimmer reaches too far is not taken where another holds.
#[test]
fn a_supply_that_the_tape_bears_is_preferred() {
    let trim = (
        TOLERANCE,
        "tolerance = \"1 %\"\ntrim = { low = \"22 V\", high = \"28 V\" }",
    );
    let tape = (REEL, "reel = \"5 m\"\nhighest_volts = \"26 V\"");
    let larger = "[[supply]]\nname = \"90 W\"\npower = \"90 W\"\nvolts = \"24 V\"\ntolerance = \"1 %\"\noutput_current = \"3.7 A\"\nderating = [{ ambient = \"50 °C\", share = \"100 %\" }]\n\n[[place]]";
    let kind = |design: &Design| design.supplies[0].kind.to_string();
    assert_eq!(kind(&planned(&[("[[place]]", larger)])), "60 W");
    let design = planned(&[trim, tape, ("[[place]]", larger)]);
    assert_eq!(kind(&design), "90 W");
    assert_eq!(answer(&design, "strip-overvoltage"), is(Pass, "stated"));
}

/// Cables installed by the US code: 60 V dry, 30 V in the wet, 25 A an output (NFPA 70-2023, 411.3 to 411.8).
#[test]
fn low_voltage_lighting_of_the_us_code_is_judged_where_its_tables_are_used() {
    let us = (
        "insulation = \"90 °C\"",
        "insulation = \"90 °C\"\ninstalled = \"us 402.5\"",
    );
    let design = planned(&[us]);
    assert_eq!(answer(&design, "lighting-411-voltage"), is(Pass, "voltage"));
    assert_eq!(answer(&design, "lighting-411-output"), is(Pass, "rating"));
    assert_eq!(
        answer(&design, "lighting-411-branch"),
        is(NotEvaluated, "not-stated")
    );
    let design = planned(&[us, SET, TAPE, CELLS, WET]);
    let [high] = said(&design, "lighting-411-voltage")[..] else {
        panic!("one output")
    };
    let words = rules::words(high);
    assert_eq!(
        (high.is_fail(), words.figure.as_str(), words.limit.as_str()),
        (true, "48.48 V", "30 V")
    );
    assert_eq!(answer(&planned(&[]), "lighting-411-voltage"), None);
    let class_2 = (TOLERANCE, "tolerance = \"1 %\"\nenergy_class = \"class 2\"");
    assert_eq!(
        answer(&planned(&[us, class_2]), "lighting-411-voltage"),
        None
    );
}

/// The trimmer counts for a decoder as it does for a tape.
#[test]
fn a_decoder_is_held_against_the_highest_voltage_of_its_supply() {
    let mut design = designs()[0].1.clone();
    let of = |design: &Design| rules::judge(design);
    let failed = |all: Vec<Finding>| {
        let own = all.into_iter();
        own.filter(|f| f.rule.as_str() == "decoder-overvoltage" && f.is_fail())
            .count()
    };
    assert_eq!(failed(of(&design)), 0);
    for kind in &mut design.supply_kinds {
        kind.highest = Some(volts(40.0).into());
    }
    assert_eq!(failed(of(&design)), design.decoders.len());
}

/// A short at the end of a feeder passes the lead, the switch and the feeder: V_low over all of them, both ways.
#[test]
fn a_far_fault_passes_lead_and_switch() {
    let mut design = designs()[0].1.clone();
    for kind in &mut design.supply_kinds {
        (kind.energy, kind.shock) = (EnergyLimit::None, ShockProtection::Selv);
        kind.limit_current = Some(amps(1000.0).into());
        kind.overload = Overload::ConstantCurrent;
    }
    let rows = rules::protection(&design);
    let cable = |found: &dyn Fn(&Cable) -> bool| design.cables.iter().find(|c| found(c)).unwrap();
    let mut judged = 0;
    for feed in &design.feeds {
        let Terminals::Decoder { decoder, .. } = &feed.from else {
            continue;
        };
        let decoder = design.decoders.iter().find(|d| d.id == *decoder).unwrap();
        let kind = design.decoder_kinds.iter().find(|k| k.id == decoder.kind);
        let (supply, _) = decoder.supply.as_ref().unwrap();
        let supply = design.supplies.iter().find(|s| s.id == *supply).unwrap();
        let source = design
            .supply_kinds
            .iter()
            .find(|k| k.id == supply.kind)
            .unwrap();
        let lead = cable(&|c| matches!(&c.to, Terminals::DecoderSupply(d) if *d == decoder.id));
        let feeder = cable(&|c| c.id == feed.cable);
        let ohms = source.output_resistance.si()
            + 2.0 * lead.hottest_core.expect("a rating").si()
            + kind.unwrap().switch.si()
            + 2.0 * feeder.hottest_core.expect("a rating").si();
        let far = source.set_point.si() * (1.0 - source.tolerance.si()) / ohms;
        let own =
            |subject: &Subject| matches!(subject, Subject::Feeder { feed: f, .. } if *f == feed.id);
        for row in rows.iter().filter(|row| own(&row.conductor)) {
            let found = row.fault_far.expect("a limit is stated").si();
            assert!((found / far - 1.0).abs() < 1e-9, "{found} {far}");
            judged += 1;
        }
    }
    assert!(judged > 10);
    // What resistance allows is no answer where the supply says nothing of its limit.
    for kind in &mut design.supply_kinds {
        kind.limit_current = None;
    }
    let rows = rules::protection(&design);
    assert!(
        rows.iter()
            .all(|row| row.fault_far.is_none() && row.fault_near.is_none())
    );
    let all = rules::judge(&design);
    let mut faults = all
        .iter()
        .filter(|f| f.rule.as_str() == "conductor-fault")
        .peekable();
    assert!(faults.peek().is_some());
    assert!(faults.all(|f| f.is_not_evaluated() && f.figure.is_none()));
}
