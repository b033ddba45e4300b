//! Large files: the work for them grows with their size and no faster, or they are refused with the limit that they break.
//! Work is counted in steps and rows, never by a clock.

use evenrun::design::{Design, Solved};
use evenrun::finding::Verdict;
use evenrun::{job, plan, rules};

const SMALL: &str = include_str!("../plan/small.toml");
const BASE: &str = include_str!("../faults/base.toml");
const PATH: &str = "path = [{ straight = \"2 m\" }]";

/// The small job with so many gaps of 100 mm in its run, 50 mm of tape between, each passed by a jumper.
fn with_gaps(count: usize) -> String {
    let gap = "{ gap = \"100 mm\", jumper = \"120 mm\", jumper_cable = \"2 x 18 AWG\" },\n{ straight = \"50 mm\" },\n";
    let path = format!(
        "path = [\n{{ straight = \"50 mm\" }},\n{}]",
        gap.repeat(count)
    );
    SMALL
        .replacen(PATH, &path, 1)
        .replace("least_current = \"70 %\"", "least_current = \"1 %\"")
}

fn read(text: &str) -> job::Job {
    job::read(text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"))
}

fn refused(text: &str) -> String {
    match job::read(text, "job.toml") {
        Ok(_) => panic!("no fault"),
        Err(faults) => faults.to_string(),
    }
}

/// 980 gaps: a cable for each jumper, a few findings for each cable, and a search that stops where it says it does.
#[test]
fn nine_hundred_and_eighty_gaps_are_planned() {
    let design = plan::plan(&read(&with_gaps(980)));
    assert_eq!(design.cables.len() - design.feeds.len(), 980);
    // Two conductors of each cable are judged, each by a few rules.
    let cables = design.cables.len();
    let (findings, guarded) = (design.findings.len(), design.protection.len());
    assert!(
        findings <= 10 * cables && guarded <= 3 * cables,
        "{findings} {guarded}"
    );
    // Every break is seen: ways around a step of light are followed so far, and no farther.
    let found = said(&design, "feed-proof");
    let [(Verdict::NotEvaluated, line)] = &found[..] else {
        panic!("{found:?}")
    };
    let words = "were followed as far as 64 of them or 5000 evaluated segments";
    assert!(line.contains(words), "{line}");
}

#[test]
fn a_path_has_two_thousand_entries_at_most() {
    // 999 gaps and 1,000 straights are within it, one gap more is beyond.
    read(&with_gaps(999));
    let said = refused(&with_gaps(1000));
    assert_eq!(
        said,
        "job.toml:49:8: run \"A\": path has 2001 entries. Split the run: at most 2000 are taken"
    );
    for (list, entry, says) in [
        (
            "uncut",
            "{ from = \"1 m\", to = \"1 m\" }",
            "uncut has 2001 entries. Split the run",
        ),
        (
            "breaks",
            "\"1 m\"",
            "breaks has 2001 entries. Split the run",
        ),
        (
            "feed_points",
            "\"1 m\"",
            "feed_points has 2001 entries. Split the run",
        ),
        (
            "fixed_feeds",
            "{ at = \"start\" }",
            "fixed_feeds has 2001 entries. Leave some out",
        ),
    ] {
        let all = vec![entry; 2001].join(",\n");
        let said = refused(&SMALL.replacen(PATH, &format!("{PATH}\n{list} = [\n{all}]"), 1));
        assert!(said.contains(says), "{said}");
        assert!(said.lines().count() < 10, "{said}");
    }
}

/// Stretches that overlap are told of one by one, each against the one before it: as many lines as stretches.
#[test]
fn two_thousand_stretches_that_overlap_are_as_many_faults() {
    let all: Vec<String> = (0..2000)
        .map(|n| format!("{{ from = \"{n} mm\", to = \"{} mm\" }}", n + 2))
        .collect();
    let text = SMALL.replacen("straight = \"2 m\"", "straight = \"3 m\"", 1);
    let path = "path = [{ straight = \"3 m\" }]";
    let text = text.replacen(path, &format!("{path}\nuncut = [\n{}]", all.join(",\n")), 1);
    let faults = job::read(&text, "job.toml").expect_err("they overlap");
    assert_eq!(faults.count(), 1999);
    let first = faults.faults()[0].to_string();
    assert_eq!(
        first,
        "run \"A\": uncut 2 overlaps uncut 1: 0 mm to 2 mm and 1 mm to 3 mm. Write one stretch from 0 mm to 3 mm"
    );
}

/// The base job with so many other devices on its chain.
fn with_devices(count: usize, unit_loads: &str) -> String {
    let own = "    { device = \"desk dimmer\", length = \"12 m\", unit_loads = \"1\", port = \"isolated\" },\n";
    let others: String = (0..count)
        .map(|n| format!("    {{ device = \"dimmer {n}\", length = \"1 m\", unit_loads = \"{unit_loads}\", port = \"isolated\" }},\n"))
        .collect();
    assert!(BASE.contains(own));
    BASE.replacen(own, &others, 1)
}

fn said(design: &Design, rule: &str) -> Vec<(Verdict, String)> {
    let own = design.findings.iter().filter(|f| f.rule.as_str() == rule);
    own.map(|f| (f.verdict, rules::line(f))).collect()
}

/// Devices of the chain that a packet was sent to, and those that none was.
fn simulated(design: &Design) -> (usize, usize) {
    let devices = &design.chains[0].devices;
    let seen = devices
        .iter()
        .filter(|d| matches!(d.margin, Solved::Figures(_)));
    let seen = seen.count();
    (seen, devices.len() - seen)
}

#[test]
fn devices_on_a_chain_have_their_limits_one_after_the_other() {
    // With the decoder of the plan 20 devices: as many as a careful plan keeps to, then one more.
    for (others, verdict) in [(19, Verdict::AtLimit), (20, Verdict::Fail)] {
        let design = plan::plan(&read(&with_devices(others, "1/8")));
        let [(own, line)] = &said(&design, "chain-devices-habit")[..] else {
            panic!("{others}")
        };
        assert_eq!(*own, verdict, "{line}");
        let words = format!(
            "{} devices on one chain; good practice: 20 at most",
            others + 1
        );
        assert!(line.contains(&words), "{line}");
    }
    // 32 unit loads of one and one of an eighth.
    let design = plan::plan(&read(&with_devices(32, "1")));
    let found = said(&design, "chain-unit-loads");
    assert!(
        found.iter().any(|(verdict, _)| *verdict == Verdict::Fail),
        "{found:?}"
    );
    assert_eq!(simulated(&design), (33, 0));
    // Beyond 32 unit loads of an eighth no packet is sent to any of them, and that is said once.
    let design = plan::plan(&read(&with_devices(256, "1/8")));
    assert_eq!(simulated(&design), (0, 257));
    let found = said(&design, "signal-margin");
    let [(Verdict::NotEvaluated, line)] = &found[..] else {
        panic!("{found:?}")
    };
    assert!(
        line.contains("the chain has 257 devices; the signal is simulated for 256 at most"),
        "{line}"
    );
    // And a chain of more stops than can be meant is no chain.
    read(&with_devices(1023, "1/8"));
    let said = refused(&with_devices(1024, "1/8"));
    assert!(
        said.contains(
            "chain \"line\": stops has 1025 entries. Split the chain: at most 1024 are taken"
        ),
        "{said}"
    );
}
