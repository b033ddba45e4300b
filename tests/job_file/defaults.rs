//! What is taken where the job is silent: the value, where it comes from, and that an ordinary job keeps what is a limit.

use evenrun::design::Design;
use evenrun::exact::ExactLength;
use evenrun::finding::Verdict;
use evenrun::job::spec::{
    CellSpec, ChainStop, Control, JobSpec, LimitKey, Limits, Overload, PlaceSpec, PowerBasis,
};
use evenrun::job::{self, Job};
use evenrun::layout::spec::{Corner, CornerPolicy, EndSpec, FeedPoints, Piece};
use evenrun::plan;
use evenrun::quantity::{in_celsius, show};
use evenrun::source::SourceKind;
use std::collections::BTreeMap;

const SILENT: &str = include_str!("silent.toml");
const BASE: &str = include_str!("../faults/base.toml");
const PAGE: &str = include_str!("../../src/job/spec/left_out.md");
const HEADING: &str = "## What is taken where a key is left out";

fn silent() -> Job {
    job::read(SILENT, "silent.toml").unwrap_or_else(|faults| panic!("{faults}"))
}

fn share(value: evenrun::quantity::Ratio) -> String {
    show(value)
}

fn degrees(value: evenrun::quantity::ThermodynamicTemperature) -> String {
    format!("{:.0} °C", in_celsius(value))
}

/// What a limit is where the job is silent.
fn taken(limits: &Limits, key: LimitKey) -> String {
    let none = || "none".to_string();
    match key {
        LimitKey::LeastCurrent => share(limits.least_current),
        LimitKey::VisibleStep => limits.visible_step.map_or_else(none, share),
        LimitKey::LoadFactor => share(limits.load_factor),
        LimitKey::ConductorHot => degrees(limits.conductor.low),
        LimitKey::ConductorNominal => degrees(limits.conductor.nominal),
        LimitKey::ConductorCold => degrees(limits.conductor.high),
        LimitKey::CellCold => degrees(limits.cell.low),
        LimitKey::CellNominal => degrees(limits.cell.nominal),
        LimitKey::CellHot => degrees(limits.cell.high),
        LimitKey::RailTolerance => share(limits.rail_tolerance),
        LimitKey::CurrentTolerance => share(limits.current_tolerance),
        LimitKey::CableTolerance => share(limits.cable_tolerance),
        LimitKey::CurrentMargin => share(limits.current_margin),
        LimitKey::Slack => limits.slack.to_string(),
        LimitKey::ChoppedFeeder => limits.chopped_feeder.map_or_else(none, |l| l.to_string()),
        LimitKey::ChainDevices => limits.chain_devices.to_string(),
        LimitKey::ChainLength => limits.chain_length.to_string(),
        LimitKey::SpareTape => share(limits.spare_tape),
        other => panic!("{other:?} is new: state here what is taken"),
    }
}

/// Each limit with a value of its own: what is taken, what kind of source it has, and a word of it.
const TAKEN: [(LimitKey, &str, SourceKind, &str); 18] = {
    use LimitKey as Key;
    use SourceKind::{Assumption, CommonPractice, Standard};
    [
        (
            Key::LeastCurrent,
            "65 %",
            CommonPractice,
            "23 V reach a 24 V tape",
        ),
        (
            Key::VisibleStep,
            "10 %",
            CommonPractice,
            "10 % across a visible joint",
        ),
        (
            Key::LoadFactor,
            "80 %",
            CommonPractice,
            "80 % of their rated power",
        ),
        (Key::ConductorHot, "75 °C", Standard, "resistances at 75 °C"),
        (
            Key::ConductorNominal,
            "30 °C",
            Standard,
            "factor 1 at 30 °C",
        ),
        (
            Key::ConductorCold,
            "20 °C",
            Standard,
            "resistances at 20 °C",
        ),
        (Key::CellCold, "15 °C", Assumption, "15 °C, 45 °C, 70 °C"),
        (Key::CellNominal, "45 °C", Assumption, "15 °C, 45 °C, 70 °C"),
        (Key::CellHot, "70 °C", Assumption, "15 °C, 45 °C, 70 °C"),
        (Key::RailTolerance, "10 %", Assumption, "within 10 %"),
        (
            Key::CurrentTolerance,
            "10 %",
            Standard,
            "at most 10 % above its rating",
        ),
        (
            Key::CableTolerance,
            "10 %",
            Assumption,
            "at least 90 % of the greatest resistance",
        ),
        (
            Key::CurrentMargin,
            "2 %",
            Assumption,
            "2 % above the worst case",
        ),
        (Key::Slack, "300 mm", CommonPractice, "300 mm of tails"),
        (
            Key::ChoppedFeeder,
            "7.62 m",
            CommonPractice,
            "25 ft (7.6 m)",
        ),
        (Key::ChainDevices, "20", CommonPractice, "20 devices"),
        (Key::ChainLength, "91.44 m", CommonPractice, "300 ft (91 m)"),
        (Key::SpareTape, "5 %", CommonPractice, "5 % of tape"),
    ]
};

/// The value of each limit, and that its source speaks of that very value.
#[test]
fn each_limit_has_a_value_and_a_source_of_that_value() {
    let job = silent();
    let limits = job.limits();
    assert_eq!(TAKEN.map(|row| row.0), LimitKey::ALL);
    for (key, value, kind, words) in TAKEN {
        assert!(limits.is_assumed(key), "{key:?}");
        assert_eq!(taken(limits, key), value, "{key:?}");
        let source = key.source();
        let text = format!("{} {}", source.title, source.clause);
        assert_eq!(source.kind, kind, "{key:?}: {text}");
        assert!(text.contains(words), "{key:?}: no {words:?} in {text}");
    }
    // What has no value then is not judged; nothing is taken off a straight.
    assert_eq!(limits.balance, None);
    assert_eq!(limits.voltage_drop, None);
    assert!(!limits.voltage_drop_stated);
    assert_eq!(limits.connector_current, None);
    assert_eq!(limits.core_current, None);
    assert_eq!(limits.site_tolerance, ExactLength::ZERO);
}

/// The rules that judge a limit.
const JUDGED: [(LimitKey, &str); 6] = [
    (LimitKey::LeastCurrent, "segment-light"),
    (LimitKey::VisibleStep, "segment-step"),
    (LimitKey::LoadFactor, "supply-load"),
    (LimitKey::ChoppedFeeder, "feeder-chopped"),
    (LimitKey::ChainDevices, "chain-devices-habit"),
    (LimitKey::ChainLength, "chain-length-habit"),
];

fn verdicts(design: &Design, rule: &str) -> Vec<Verdict> {
    let own = design.findings.iter().filter(|f| f.rule.as_str() == rule);
    own.map(|f| f.verdict).collect()
}

/// A cove of 3.5 m with a seen break and a shelf of 2 m, on shielded category cable, without limits of its own: each limit is judged, and
/// kept; where its own figure is tightened past that job, it is broken.
#[test]
fn an_ordinary_job_keeps_each_limit() {
    let (before, rest) = BASE.split_once("[limits]\n").expect("limits");
    let (_, after) = rest.split_once("[costs]\n").expect("costs");
    let with = |limits: &str| {
        let text = format!("{before}[limits]\n{limits}\n[costs]\n{after}");
        let text = text.replace("cable = \"data pair\"", "cable = \"shielded category\"");
        let text = text.replace(
            "joints = \"hidden\"\nsight_line",
            "joints = \"seen\"\nbreaks = [\"1 m\"]\nsight_line",
        );
        let job = job::read(&text, "job.toml").unwrap_or_else(|faults| panic!("{faults}"));
        plan::plan(&job)
    };
    let ordinary = with("");
    for (key, rule) in JUDGED {
        let found = verdicts(&ordinary, rule);
        // Of a chopped feeder only one that is longer is spoken of.
        let is_judged = !found.is_empty() || key == LimitKey::ChoppedFeeder;
        assert!(is_judged, "{key:?} is not judged");
        assert!(
            found.iter().all(|v| *v == Verdict::Pass),
            "{key:?}: {found:?}"
        );
    }
    assert!(!ordinary.findings.iter().any(|f| f.is_fail()));
    for (rule, tighter) in [
        ("segment-light", "least_current = \"99 %\""),
        ("segment-step", "visible_step = \"0.01 %\""),
        ("feeder-chopped", "chopped_feeder = \"1 m\""),
        ("chain-devices-habit", "chain_devices = 1"),
        ("chain-length-habit", "chain_length = \"10 m\""),
    ] {
        let found = verdicts(&with(tighter), rule);
        assert!(
            found.iter().any(|v| *v != Verdict::Pass),
            "{rule}: {found:?}"
        );
    }
    // A supply that may be planned to 2 % of its power carries no segment at all.
    let none = verdicts(&with("load_factor = \"2 %\""), "feed-segment-current");
    assert!(none.contains(&Verdict::Fail), "{none:?}");
}

/// The rows of the page: key, what is taken, why.
fn rows() -> Vec<(String, String, String)> {
    let (_, section) = PAGE.split_once(HEADING).expect("the section");
    let mut out = Vec::new();
    for line in section.lines().filter(|line| line.starts_with("| `")) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [keys, taken, why] = cells.as_slice() else {
            panic!("{line}");
        };
        for key in keys.split(' ').map(|key| key.trim_matches('`')) {
            out.push((key.to_string(), (*taken).to_string(), (*why).to_string()));
        }
    }
    out
}

fn corner(spec: &JobSpec) -> &Corner {
    let pieces = spec.runs[0].layout.pieces.iter();
    let mut corners = pieces.filter_map(|piece| match piece {
        Piece::Corner(corner) => Some(corner),
        _ => None,
    });
    corners.next().expect("a corner")
}

fn word(value: impl std::fmt::Debug) -> String {
    let text = format!("{value:?}");
    let mut out = String::new();
    for letter in text.chars() {
        if letter.is_uppercase() && !out.is_empty() {
            out.push(' ');
        }
        out.extend(letter.to_lowercase());
    }
    out
}

/// What the library has of each key of the page where the job says nothing of it.
fn found() -> BTreeMap<&'static str, String> {
    let job = silent();
    let spec = job.spec();
    let (strip, supply, decoder) = (&spec.strips[0], &spec.supplies[0], &spec.decoders[0]);
    let (profile, place, zone, run) = (
        &spec.profiles[0],
        &spec.places[0],
        &spec.zones[0],
        &spec.runs[0],
    );
    let EndSpec {
        cap,
        lead,
        lead_out,
    } = run.layout.start;
    let corner = corner(spec);
    let CornerPolicy::CutAndJumper {
        dark_before,
        dark_after,
        ..
    } = corner.policy
    else {
        panic!("{:?}", corner.policy)
    };
    let [
        ChainStop::Other { unit_loads, .. },
        ChainStop::Place { between, .. },
    ] = spec.chains[0].stops.as_slice()
    else {
        panic!("{:?}", spec.chains[0].stops)
    };
    let cover = profile.cover.as_ref().expect("a cover");
    let limits = job.limits();
    let as_in_limits = |same: bool| if same { "as in limits" } else { "otherwise" }.to_string();
    let curve = match zone.control {
        Control::Dmx { curve, .. } => curve.words().to_string(),
        Control::Switched => "switched".to_string(),
    };
    let feed_points = match &run.layout.feed_points {
        FeedPoints::Ends => "ends".to_string(),
        other => format!("{other:?}"),
    };
    let lead_out = word(lead_out).replace("through ", "");
    BTreeMap::from([
        ("costs.segment_minor", spec.costs.segment.to_string()),
        ("costs.feed_minor", spec.costs.feed.to_string()),
        ("costs.break_minor", spec.costs.cut.to_string()),
        ("strip.cells_per_cut", strip.cells.to_string()),
        ("cable.ampacity_ambient", ambient_of_ampacity()),
        ("supply.outputs", supply.outputs.to_string()),
        ("supply.output_resistance", show(supply.output_resistance)),
        ("supply.derating", full_power(&job)),
        ("decoder.unit_loads", decoder.unit_loads.to_string()),
        ("chain.unit_loads", unit_loads.to_string()),
        ("profile.kerf", profile.kerf.to_string()),
        ("cover.kerf", cover.kerf.to_string()),
        ("place.environment", word(place.environment)),
        ("run.environment", word(run.environment)),
        ("place.service", place.service.word().to_string()),
        ("zone.service", zone.service.word().to_string()),
        ("place.standby", word(place.standby)),
        ("place.lead", place.lead_length().to_string()),
        ("zone.curve", curve),
        (
            "zone.together",
            word(&zone.together).replace("all and", "all, and"),
        ),
        ("run.angle", format!("{}°", corner.angle.degrees())),
        ("run.offset", corner.offset.to_string()),
        ("run.dark_before", dark_before.to_string()),
        ("run.dark_after", dark_after.to_string()),
        ("run.cap", cap.to_string()),
        ("run.lead", lead.to_string()),
        ("run.way", word(corner.bend)),
        ("run.lead_out", lead_out),
        ("run.remainder", word(run.layout.remainder)),
        ("run.joints", word(run.layout.sight)),
        ("run.feed_points", feed_points),
        ("run.ambient", degrees(run.ambient)),
        (
            "run.site_tolerance",
            as_in_limits(run.layout.site_tolerance == limits.site_tolerance),
        ),
        ("run.slack", as_in_limits(run.slack == limits.slack)),
        ("chain.between", between.to_string()),
        (
            "installed.shares_slots",
            word(spec.installed[0].shares_slots),
        ),
    ])
}

/// A supply that states no derating gives its power in an ambient of 60 °C as in one of 30 °C.
fn full_power(job: &Job) -> String {
    let text = SILENT.replace("ambient = \"30 °C\"", "ambient = \"60 °C\"");
    let hot = job::read(&text, "hot.toml").unwrap_or_else(|faults| panic!("{faults}"));
    let power = |job: &Job| {
        let design = plan::plan(job);
        let all = design.supplies.iter().map(|s| show(s.derated.0));
        all.collect::<Vec<_>>()
    };
    assert!(job.spec().supplies[0].derating.is_empty());
    assert_eq!(power(&hot), power(job));
    assert_eq!(power(&hot), ["96 W"]);
    "full power at any ambient".to_string()
}

/// An ampacity that is stated alone is that of 30 °C: stated with that ambient, each cable carries the same in 50 °C.
fn ambient_of_ampacity() -> String {
    let with = |more: &str| {
        let text = SILENT.replace(
            "insulation = \"70 °C\"\n",
            &format!("insulation = \"70 °C\"\nampacity = \"12 A\"\n{more}"),
        );
        let text = text.replace("\nambient = \"30 °C\"", "\nambient = \"50 °C\"");
        let job = job::read(&text, "hot.toml").unwrap_or_else(|faults| panic!("{faults}"));
        let design = plan::plan(&job);
        let cables = design.cables.iter();
        let each = cables.map(|c| c.ampacity.current.figures().map(|a| a.si()));
        each.collect::<Vec<_>>()
    };
    let silent = with("");
    assert!(!silent.is_empty());
    assert_eq!(silent, with("ampacity_ambient = \"30 °C\"\n"));
    assert_ne!(silent, with("ampacity_ambient = \"40 °C\"\n"));
    "30 °C".to_string()
}

/// Derating left out is full power, between two points their straight line, above the last one its share: in the search for a
/// feeding as in the supplies of the plan, and each but the line is said.
#[test]
fn derating_is_the_same_wherever_it_is_asked() {
    let at_60 = |points: &str| {
        let text = SILENT.replace("\nambient = \"30 °C\"", "\nambient = \"60 °C\"");
        let text = text.replace(
            "output_current = \"4 A\"\n",
            &format!("output_current = \"4 A\"\n{points}\n"),
        );
        let job = job::read(&text, "hot.toml").unwrap_or_else(|faults| panic!("{faults}"));
        let problem = plan::run_problem(&job, "A").expect("a run of the job");
        let searched = problem.limits.segment_current.expect("a limit");
        let design = plan::plan(&job);
        let [supply] = design.supplies.as_slice() else {
            panic!("{:?}", design.supplies)
        };
        let said = verdicts(&design, "supply-derating").len();
        (searched.value, supply.derated.si(), said)
    };
    let (full, power, said) = at_60("");
    assert_eq!((power, said), (96.0, 1));
    assert_eq!(
        at_60("derating = [{ ambient = \"60 °C\", share = \"100 %\" }]"),
        (full, 96.0, 0)
    );
    for (points, share, said) in [
        (
            "{ ambient = \"50 °C\", share = \"100 %\" }, { ambient = \"70 °C\", share = \"50 %\" }",
            0.75,
            0,
        ),
        (
            "{ ambient = \"30 °C\", share = \"100 %\" }, { ambient = \"50 °C\", share = \"50 %\" }",
            0.5,
            1,
        ),
        ("{ ambient = \"70 °C\", share = \"50 %\" }", 0.5, 0),
    ] {
        let (searched, power, found) = at_60(&format!("derating = [{points}]"));
        assert!(
            (searched / full - share).abs() < 1e-9,
            "{points}: {searched} of {full}"
        );
        assert!((power / 96.0 - share).abs() < 1e-9, "{points}: {power}");
        assert_eq!(found, said, "{points}");
    }
}

/// The page says of each key what the library does, and whose figure it is.
#[test]
fn each_key_left_out_is_what_the_page_says() {
    let found = found();
    let rows = rows();
    for (key, taken, why) in &rows {
        let own = found
            .get(&**key)
            .unwrap_or_else(|| panic!("{key} of the page is not looked at"));
        assert_eq!(own, taken, "{key}");
        assert!(!why.is_empty() || taken == "as in limits", "{key}: why?");
    }
    assert_eq!(rows.len(), found.len(), "keys that are not on the page");
}

/// Names of the canonical form whose keys have another.
const KEYS: [(&str, &str); 3] = [
    ("cells", "cells_per_cut"),
    ("sight", "joints"),
    ("bend", "way"),
];

/// Whatever the job holds and its file does not say stands on the page: nothing else has a value.
#[test]
fn nothing_else_is_taken() {
    let job = silent();
    let known: Vec<String> = rows().into_iter().map(|(key, _, _)| key).collect();
    let said: Vec<&str> = SILENT
        .split(|c: char| !(c.is_ascii_lowercase() || c == '_'))
        .collect();
    // What the file says under another key.
    let own = [
        "fed",
        "common",
        "pitch",
        "metal",
        "construction",
        "strands",
        "bits",
        "turn",
        "policy",
        "kind",
        "place",
        "pieces",
        "to",
        "first",
        "second",
    ];
    let mut silent = Vec::new();
    for line in job.canonical().lines() {
        let (path, value) = line.split_once(" = ").expect("a line");
        let last = path.rsplit('.').next().unwrap_or(path);
        let key = last.split(' ').next().unwrap_or(last);
        let key = KEYS
            .iter()
            .find(|(of, _)| *of == key)
            .map_or(key, |(_, key)| *key);
        if said.contains(&key) || own.contains(&key) {
            continue;
        }
        if !known
            .iter()
            .any(|known| known.ends_with(&format!(".{key}")))
        {
            silent.push(format!("{path} = {value}"));
        }
    }
    assert!(silent.is_empty(), "{silent:#?}");
}

/// What has a word for it is unknown, and what a plan may need is asked for.
#[test]
fn what_may_be_unknown_is_unknown() {
    use evenrun::job::spec::{Edges, EnergyLimit, PortIsolation, ShockProtection, SignalLoss};
    let job = silent();
    let spec = job.spec();
    let (strip, supply, decoder) = (&spec.strips[0], &spec.supplies[0], &spec.decoders[0]);
    assert_eq!(strip.power_basis, PowerBasis::Unknown);
    assert_eq!(supply.overload, Overload::Unknown);
    assert_eq!(supply.shock, ShockProtection::Unknown);
    assert_eq!(supply.energy, EnergyLimit::Unknown);
    assert_eq!(decoder.edges, Edges::Unknown);
    assert_eq!(decoder.signal_loss, SignalLoss::Unknown);
    assert_eq!(decoder.port, PortIsolation::Unknown);
    assert_eq!(decoder.energy, EnergyLimit::Unknown);
    assert_eq!(spec.profiles[0].earthed, None);
    assert_eq!(spec.places[0].lead, None);
    assert!(matches!(
        strip.emitters[0].cell,
        CellSpec::Series { ballast: None, .. }
    ));
    let design = plan::plan(&job);
    for rule in [
        "supply-derating",
        "shock-protection",
        "energy-class",
        "supply-breaker",
    ] {
        let found = verdicts(&design, rule);
        assert!(found.contains(&Verdict::NotEvaluated), "{rule}: {found:?}");
    }
    assert_eq!(PlaceSpec::USUAL_LEAD, ExactLength::from_millimetres(500));
}
