//! The rules of the room themselves, and their words over random cases.
use crate::build::*;
use crate::random::random;
use evenrun::finding::{Conductor, Rule, Subject, Verdict};
use evenrun::id::{DecoderId, EmitterId, FeedId, SupplyId};
use evenrun::protect::*;
use evenrun::quantity::*;
use evenrun::rules::words;
use std::collections::{BTreeMap, BTreeSet};

/// Every rule has a title, a question and a source; its cases have keys of their own and say something.
#[test]
fn every_rule_explains_itself() {
    let mut ids = BTreeSet::new();
    let own = RULES.iter().chain(RULES_ON_REQUEST);
    for rule in own.chain(evenrun::layout::RULES) {
        let Rule {
            id,
            title,
            asks,
            source,
            needs,
            cases,
        } = rule;
        assert!(ids.insert(*id), "{id} twice");
        assert!(!title.is_empty() && asks.ends_with('?'), "{id}");
        assert!(!source.title.is_empty(), "{id}");
        assert!(needs.iter().all(|need| !need.is_empty()), "{id}");
        let keys: BTreeSet<&str> = cases.iter().map(|case| case.key).collect();
        assert_eq!(keys.len(), cases.len(), "{id}");
        assert!(!cases.is_empty(), "{id}");
        for case in *cases {
            assert!(
                !case.says.is_empty() || !case.reason.is_empty(),
                "{id} {}",
                case.key
            );
            let braces = [case.says, case.reason, case.figure, case.limit, case.remedy].concat();
            assert_eq!(
                braces.matches('{').count(),
                braces.matches('}').count(),
                "{id}"
            );
        }
        assert_eq!(evenrun::rules::find(id).map(|found| found.id), Some(*id));
    }
    assert_eq!(ids.len(), 20 + 4);
}

/// Over random cases every rule of the room answers in every one of its cases, and no answer lacks a fact
/// that its words name.
#[test]
fn every_case_is_reached_and_has_its_facts() {
    let mut reached: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let mut note = |finding: &evenrun::finding::Finding| {
        let cases = reached.entry(finding.rule.to_string()).or_default();
        cases.insert(finding.case.clone());
    };
    for seed in 0..1500 {
        judged(&random(seed)).findings.iter().for_each(&mut note);
    }
    let mut alone = Vec::new();
    for high in [24.0, 61.0] {
        for wet in [false, true] {
            for chopped in [None, Some(hertz(100.0))] {
                let highest = volts(high);
                alone.push(judge_class_2_voltage("x", highest, wet, chopped));
                for parts in [LiveParts::Bare, LiveParts::Closed, LiveParts::Unknown] {
                    let chopped = chopped.is_some();
                    alone.extend(judge_extra_low_voltage("x", highest, wet, chopped, parts));
                }
                let branch = chopped.map(|_| amps(16.0));
                let lighting = LowVoltageLighting::dry(highest, amps(20.0));
                alone.extend(
                    LowVoltageLighting {
                        wet,
                        branch,
                        ..lighting
                    }
                    .judge("x"),
                );
            }
        }
    }
    for load in [4.0, 90.0] {
        for ampacity in [None, Some(amps(5.0))] {
            for largest in [None, Some(amps(4.0))] {
                alone.push(propose("x", amps(load), ampacity, largest, STOCKED_AMPS));
            }
        }
    }
    alone.iter().for_each(complete);
    alone.iter().for_each(&mut note);
    for rule in RULES {
        let found = &reached[rule.id];
        let missing: Vec<&str> = rule
            .cases
            .iter()
            .map(|case| case.key)
            .filter(|key| !found.contains(*key))
            .collect();
        assert!(
            missing.is_empty(),
            "{}: {missing:?} never answered",
            rule.id
        );
    }
}

/// Nothing known limits a short circuit behind an output without resistance: no figure is printed or kept for it.
#[test]
fn a_current_that_nothing_limits_is_no_figure() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    spec.outputs[output.0].limit = None;
    let id = core(&mut spec, output, "core", 1.0);
    let device = fuse(&mut spec, 5.0, &[(25.0, 0.01)]);
    spec.conductors[id.0].device = Some(device);
    spec.conductors[id.0].fault_loop = Some(FaultLoop::new(ohms(0.0), ohms(0.0)));
    let report = judged(&spec);
    let breaking = found(&report, "device-breaking", "core");
    assert!(breaking.is_fail() && breaking.figure.is_none());
    assert_eq!(words(breaking).figure, "no limit stated");
    assert!(found(&report, "conductor-fault", "core").is_not_evaluated());
    let row = &report.rows[0];
    assert_eq!((row.least_fault, row.greatest_fault), (None, None));
    serde_json::to_string(row).unwrap();
}

/// A conductor whose name begins with that of another has a verdict of its own.
#[test]
fn a_verdict_is_joined_by_its_subject() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    spec.outputs[output.0].limit = Some(amps(5.0));
    let (plus, far) = (spec.outputs[output.0].plus, spec.point("far"));
    let feeder = |conductor: &Conductor| Subject::Feeder {
        feed: FeedId::new("F-S1.1a"),
        conductor: conductor.clone(),
    };
    let of = |emitter: &str| Conductor::Return(EmitterId::new(emitter));
    for (conductor, carried) in [(of("red"), 7.0), (of("red return"), 2.0)] {
        spec.conductor(ConductorSpec {
            may_carry: carries(carried),
            ..ConductorSpec::plain(feeder(&conductor), plus, far, amps(3.0))
        });
    }
    let report = judged(&spec);
    let worst = |row: usize| {
        report.rows[row]
            .worst
            .clone()
            .map(|(rule, verdict)| (rule.to_string(), verdict))
    };
    assert_eq!(
        worst(0),
        Some(("conductor-load".to_string(), Verdict::Pass))
    );
    assert_eq!(
        worst(1),
        Some(("conductor-load".to_string(), Verdict::Fail))
    );
    for row in &report.rows {
        let finding = report.worst()[&row.about];
        assert_eq!(finding.about, row.about);
        assert_eq!(Some((finding.rule.clone(), finding.verdict)), row.worst);
    }
}

/// Subjects of a plan read as they always did, and stay data: who is tied to whom is no text.
#[test]
fn what_is_tied_is_named_by_id() {
    let mut spec = ProtectionSpec::new();
    let ends: Vec<OutputId> = (1..=2)
        .map(|output| {
            let about = Subject::Output {
                supply: SupplyId::new("PS-C1"),
                output,
            };
            let id = class_2(&mut spec, "x");
            spec.outputs[id.0].about = about;
            id
        })
        .collect();
    let (from, to) = (spec.outputs[ends[0].0].plus, spec.outputs[ends[1].0].plus);
    let decoder = Subject::Decoder(DecoderId::new("D-C1.1"));
    spec.join(decoder.clone(), JoinKind::Inside, from, to);
    let report = judged(&spec);
    let finding = found(&report, "class-2-alone", "supply PS-C1, output 1");
    assert_eq!(
        says(finding),
        "this class 2 output is tied to supply PS-C1, output 2 through decoder D-C1.1: what they feed together is not class 2"
    );
    assert_eq!(
        finding.value("way"),
        Some(&evenrun::finding::Value::subjects(vec![decoder]))
    );
}

/// No ampacity and nothing that opens: three rules cannot answer, and the one with a sentence stands in the schedule.
#[test]
fn of_several_open_answers_the_one_with_a_sentence_is_the_worst() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    let id = core(&mut spec, output, "core", 1.0);
    spec.conductors[id.0].may_carry = MayCarry::NoTable("a table of another size".to_string());
    spec.conductors[id.0].fault_loop = Some(FaultLoop::new(ohms(0.1), ohms(4.0)));
    let report = judged(&spec);
    let all = report.worst();
    let worst = all[&report.rows[0].about];
    assert_eq!(worst.rule.as_str(), "conductor-fault");
    assert_eq!(
        says(worst),
        "a short circuit at the far end draws 6 A, and nothing trips"
    );
}
