//! Every rule of the data line: what it says of itself, and that no sentence lacks a fact.

use crate::dice::Dice;
use evenrun::device::{LevelBits, PortIsolation};
use evenrun::dmx::RULES;
use evenrun::dmx::address::{AddressProblem, Footprint, Reserved};
use evenrun::dmx::bias::Bias;
use evenrun::dmx::chain::{ChainSpec, Ground, Habits, LineCable, Part, PartKind, SOURCE};
use evenrun::dmx::connector::Connector;
use evenrun::dmx::electrical::Driver;
use evenrun::dmx::line::StubRule;
use evenrun::dmx::pixels::OneWireTiming;
use evenrun::dmx::rdm;
use evenrun::dmx::signal::{Levels, SignalSpec};
use evenrun::dmx::timing::{PacketSpec, Role, judge_bit_rate, judge_test_packet};
use evenrun::finding::{Case, Finding, Rule};
use evenrun::quantity::{hertz, metres, ohms, seconds, volts};
use evenrun::rules;
use std::collections::BTreeSet;

fn templates(case: &Case) -> [&'static str; 5] {
    [case.says, case.reason, case.figure, case.limit, case.remedy]
}

/// The names in braces of a template.
fn names(template: &'static str) -> Vec<&'static str> {
    let inside = template.split('{').skip(1);
    let named = inside.map(|rest| rest.split_once('}').expect("a closing brace").0);
    named
        .map(|name| name.split(':').next().unwrap_or(name))
        .collect()
}

#[test]
fn every_rule_says_what_it_asks() {
    let mut ids = BTreeSet::new();
    for rule in RULES.concat() {
        assert!(ids.insert(rule.id), "{} is there twice", rule.id);
        assert_eq!(rules::find(rule.id).map(|found| found.id), Some(rule.id));
        assert!(
            !rule.title.is_empty() && !rule.title.ends_with('.'),
            "{}",
            rule.id
        );
        assert!(rule.asks.ends_with('?'), "{}: {}", rule.id, rule.asks);
        assert!(!rule.source.title.is_empty(), "{}", rule.id);
        assert!(!rule.cases.is_empty(), "{}", rule.id);
        let mut keys = BTreeSet::new();
        for case in rule.cases {
            let word = |text: &str| {
                !text.is_empty() && text.bytes().all(|b| b.is_ascii_lowercase() || b == b'_')
            };
            assert!(
                word(case.key) && keys.insert(case.key),
                "{}: {}",
                rule.id,
                case.key
            );
            for template in templates(case) {
                assert_eq!(
                    template.matches('{').count(),
                    template.matches('}').count(),
                    "{template}"
                );
                for name in names(template) {
                    assert!(word(name), "{}, {}: `{name}`", rule.id, case.key);
                }
            }
        }
        // What can be left open names the fact that closes it.
        let open = rule.cases.iter().any(|case| !case.reason.is_empty());
        let computed = ["signal-margin"].contains(&rule.id);
        assert!(!open || computed || !rule.needs.is_empty(), "{}", rule.id);
    }
}

fn chain(dice: &mut Dice, number: usize) -> ChainSpec {
    let cable = |dice: &mut Dice| match dice.next(8) {
        0 => LineCable::unknown(),
        1 => LineCable::shielded_category(),
        2 => LineCable::unshielded_category(),
        3 => LineCable::data_pair(28),
        _ => LineCable::data_pair(24),
    };
    let plug = |dice: &mut Dice| match dice.next(12) {
        0 | 1 => Some(Connector::EightPosition),
        2 => Some(Connector::Terminals),
        3 => Some(Connector::Other),
        4 => None,
        _ => Some(Connector::FivePinXlr),
    };
    let mut chain = ChainSpec::new(format!("c{number}"), cable(dice));
    chain.rdm = dice.next(2) == 0;
    let plugs = dice.next(2) == 0;
    if plugs {
        chain.connector = plug(dice);
    }
    if dice.next(2) == 0 {
        chain.source_terminator = Some(ohms(60.0 + dice.next(120) as f64));
    }
    if dice.next(2) == 0 {
        let supply = [0.15, 0.3, 5.0, 12.0][dice.next(4) as usize];
        chain.bias = Some(Bias::new(
            volts(supply),
            ohms(200.0 + dice.next(2000) as f64),
        ));
    }
    if dice.next(2) == 0 {
        chain.habits = Habits {
            devices: 1 + dice.next(30) as usize,
            length: [None, Some(metres(80.0)), Some(metres(91.44))][dice.next(3) as usize],
            ..Habits::default()
        };
    }
    let count = 1 + dice.next(9);
    let spacing = [0.2, 3.0, 12.0, 50.0][dice.next(4) as usize];
    for n in 0..count {
        let length = metres(spacing * dice.next(100) as f64 / 100.0);
        let name = format!("D{n}");
        let part = match dice.next(8) {
            0 => Part::splitter(name, length, 1 + dice.next(2) as u16),
            1 => Part::joint(name, length),
            _ => Part::device(name, length),
        };
        let isolation = match dice.next(5) {
            0 | 1 => PortIsolation::Joined,
            2 => PortIsolation::Unknown,
            _ => PortIsolation::Isolated,
        };
        let mut part = part.port("1/4".parse().expect("a load"), isolation);
        if plugs {
            part.connector = plug(dice);
        }
        if dice.next(8) == 0 {
            part.terminator = Some(ohms(120.0));
        }
        if dice.next(8) == 0 {
            part.cable = Some(cable(dice));
        }
        if dice.next(8) != 0 {
            let most = if dice.next(40) == 0 {
                f64::NAN
            } else {
                dice.next(9) as f64
            };
            let reference = if dice.next(8) == 0 { "PS2" } else { "PS1" };
            part.ground = Some(Ground::new(reference, volts(0.0), volts(most)));
        }
        if n > 0 && dice.next(6) == 0 {
            let from = dice.next(n + 1);
            part = part.from(if from == n {
                SOURCE.into()
            } else {
                format!("D{from}")
            });
        }
        chain.next(part);
    }
    if dice.next(3) != 0 {
        chain.terminate(ohms(120.0));
    }
    chain
}

/// Findings of chains of every kind, of signals on some of them, of packets, drivers, pixels and patches.
fn corpus() -> Vec<Finding> {
    let mut dice = Dice(13);
    let mut all = Vec::new();
    for number in 0..1500 {
        let chain = chain(&mut dice, number).check().expect("a tree");
        all.extend(chain.judge());
        if number % 100 == 0 {
            for (volts_open, levels) in [
                (3.0, None),
                (0.3, None),
                (3.0, Some(Levels::of(vec![true; 3]))),
            ] {
                let spec = SignalSpec {
                    open_volts: volts(volts_open),
                    slots: vec![0x55],
                    levels,
                    step: seconds(20e-9),
                    ..SignalSpec::default()
                };
                let signal = chain.simulate(&spec.check().expect("in range"));
                all.extend(signal.expect("simulated").judge());
                // A design whose line cannot be simulated.
                let text = include_str!("../jobs/corner.toml")
                    .replace("\"unshielded category\"", "\"unknown\"");
                let job = evenrun::job::read(&text, "corner.toml").expect("sound");
                let design = evenrun::plan::plan(&job);
                let open = design.findings.into_iter();
                all.extend(open.filter(|finding| finding.rule.as_str() == "signal-margin"));
            }
        }
    }
    // An open line on a driver of no resistance rings at full height.
    let mut ringing = ChainSpec::new("t", LineCable::data_pair(24));
    ringing.next(Part::device("D1", metres(100.0)));
    let stiff = SignalSpec {
        source_resistance: ohms(0.1),
        ..SignalSpec::default()
    };
    let ringing = ringing.check().expect("a tree");
    let signal = ringing.simulate(&stiff.check().expect("in range"));
    all.extend(signal.expect("simulated").judge());
    // A design whose line cannot be simulated.
    let text =
        include_str!("../jobs/corner.toml").replace("\"unshielded category\"", "\"unknown\"");
    let job = evenrun::job::read(&text, "corner.toml").expect("sound");
    let design = evenrun::plan::plan(&job);
    let open = design.findings.into_iter();
    all.extend(open.filter(|finding| finding.rule.as_str() == "signal-margin"));
    let about = "a".into();
    for scale in [0.5, 1.0, 3.0] {
        let time = |micro: f64| seconds(scale * micro * 1e-6);
        let driver = Driver::new(volts(3.0 * scale), volts(2.0 * scale), time(0.6));
        all.extend(driver.judge(&about));
        let pair = LineCable::data_pair(24);
        for rule in [StubRule::OneWay, StubRule::RoundTrip] {
            all.push(rule.judge(&about, metres(scale), time(0.05), &pair));
        }
        let pixels = OneWireTiming::new(time(0.35), time(0.7), time(1.25), time(250.0));
        all.extend(pixels.judge(&about));
        let mut spec = PacketSpec::shortest(512, Role::Transmitter);
        spec.break_time = time(100.0);
        let packet = spec.check().expect("in range");
        all.extend(
            [Role::Transmitter, Role::Receiver]
                .map(|role| packet.judge(role))
                .concat(),
        );
        all.extend(judge_test_packet(&packet, &[0x55; 512]));
        all.push(judge_bit_rate(&about, hertz(scale * 250e3)));
        all.extend(rdm::judge_packet(&packet, &about));
        all.push(rdm::judge_answer(&about, time(2000.0), 2, time(100.0)));
    }
    let five = |name: &str| Footprint::new(name, 5, LevelBits::Eight);
    let mut problem = AddressProblem::new(vec![
        five("over").at(1, 510),
        five("a").at(1, 10),
        five("b").at(1, 14),
        five("c").at(1, 100),
        five("free").pixels(200),
    ]);
    problem.reserved = vec![Reserved::new(1, 104, 104)];
    problem.first_universe = 63_999;
    all.extend(problem.check().expect("in range").assign().findings);
    all
}

/// Every case of every rule occurs, with every fact that its words name, and as data it comes back as it was.
#[test]
fn no_sentence_lacks_a_fact() {
    let mut seen = BTreeSet::new();
    for finding in corpus() {
        let rule: &Rule = rules::find(finding.rule.as_str()).expect("registered");
        let case = rule.cases.iter().find(|case| case.key == finding.case);
        let case = case.unwrap_or_else(|| panic!("{}: no case {}", rule.id, finding.case));
        for name in templates(case).into_iter().flat_map(names) {
            let known = match name {
                "figure" => finding.figure.is_some(),
                "limit" | "least" | "most" => finding.limit.is_some(),
                fact => finding.value(fact).is_some(),
            };
            assert!(known, "{}, {}: no `{name}`", rule.id, case.key);
        }
        let words = rules::words(&finding);
        for text in [
            words.place,
            words.says,
            words.reason,
            words.figure,
            words.limit,
            words.remedy,
        ] {
            let gap = text.contains("not known")
                && !case.reason.contains("not known")
                && !case.reason.contains("{why}");
            assert!(!gap && !text.contains('{'), "{}: {text}", rule.id);
        }
        assert_eq!(
            finding.is_not_evaluated(),
            !case.reason.is_empty() && !finding.is_fail(),
            "{}, {}",
            rule.id,
            case.key
        );
        if seen.insert((rule.id, case.key)) {
            let written = serde_json::to_string(&finding).expect("written");
            let read: Finding = serde_json::from_str(&written).expect("read");
            assert_eq!(read, finding, "{written}");
        }
    }
    for rule in RULES.concat() {
        for case in rule.cases {
            assert!(
                seen.contains(&(rule.id, case.key)),
                "{}: {} never occurs",
                rule.id,
                case.key
            );
        }
    }
}

/// A chain comes back from its data as it was, whatever it holds.
#[test]
fn chains_as_data() {
    let mut dice = Dice(17);
    for number in 0..200 {
        let mut spec = chain(&mut dice, number);
        // A figure that is no number is refused, not written.
        for part in &mut spec.parts {
            if part
                .ground
                .as_ref()
                .is_some_and(|ground| ground.most.value.is_nan())
            {
                part.ground = None;
            }
        }
        let written = serde_json::to_string(&spec).expect("written");
        let read: ChainSpec = serde_json::from_str(&written).expect("read");
        assert_eq!(read, spec, "{written}");
    }
    let read = |text: &str| serde_json::from_str::<ChainSpec>(text);
    let short = r#"{"name": "n", "cable": {"kind": "shielded_category", "awg": 24}, "parts": [
        {"name": "A", "length": "40 ft", "kind": {"device": {}}},
        {"name": "S", "length": {"m": 2.0}, "kind": {"splitter": {"outputs": 2, "rdm": true}}, "connector": "xlr5"},
        {"name": "B", "from": "A", "length": "1 m", "kind": "joint", "terminator": "120 ohm"}]}"#;
    let spec = read(short).expect("read");
    assert_eq!(spec.cable, LineCable::shielded_category());
    assert_eq!(spec.habits, Habits::default());
    assert_eq!(spec.parts[0].kind, Part::device("A", metres(1.0)).kind);
    assert!(matches!(
        spec.parts[1].kind,
        PartKind::Splitter {
            outputs: 2,
            rdm: true,
            ..
        }
    ));
    let checked = spec.check().expect("a tree");
    let from: Vec<&str> = checked
        .spec()
        .parts
        .iter()
        .map(|part| part.from.as_str())
        .collect();
    assert_eq!(
        from,
        [SOURCE, "A", "A"],
        "behind the part before, unless it says so"
    );
    let unknown = r#"{"name": "n", "cable": {"kind": "unknown"}, "parts": []}"#;
    assert_eq!(read(unknown).expect("read").cable, LineCable::unknown());
    for wrong in [
        short.replace("\"1 m\"", "1"),
        short.replace("\"1 m\"", "\"1 V\""),
        short.replace("xlr5", "xlr3"),
        short.replace("\"rdm\": true", "\"loads\": 2"),
        short.replace("\"from\"", "\"form\""),
        short.replace("\"device\": {}", "\"device\": {\"unit_loads\": \"0\"}"),
    ] {
        assert!(read(&wrong).is_err(), "{wrong}");
    }
}

/// All faults of a chain are one error that works with `?` and prints one a line.
#[test]
fn faults_are_one_error() {
    fn judged(spec: ChainSpec) -> Result<usize, Box<dyn std::error::Error>> {
        Ok(spec.check()?.judge().len())
    }
    let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
    chain.next(Part::device("D1", metres(-1.0)).terminated(ohms(0.0)));
    let error = judged(chain.clone()).expect_err("two faults").to_string();
    let faults = chain.check().expect_err("two faults");
    assert_eq!((faults.len(), error.lines().count()), (2, 2), "{error}");
    let each: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(error, each.join("\n"));
}
