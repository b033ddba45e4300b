//! One output, one device, one core; and what the rules say of them.

use evenrun::device::{EnergyLimit, ShockProtection};
use evenrun::finding::{Finding, Verdict};
use evenrun::protect::*;
use evenrun::quantity::*;
use evenrun::rules::words;
use evenrun::source::Source;

pub fn carries(current: f64) -> MayCarry {
    MayCarry::current(amps(current), Source::invented("hand case"))
}

/// A strong SELV supply, 24 V 20 A, that limits at 26 A.
pub fn strong(spec: &mut ProtectionSpec, name: &str) -> OutputId {
    let (plus, minus) = (
        spec.point(format!("{name} +")),
        spec.point(format!("{name} -")),
    );
    spec.output(OutputSpec {
        limit: Some(amps(26.0)),
        overload: Overload::ConstantCurrent,
        energy: EnergyLimit::None,
        shock: ShockProtection::Selv,
        ..OutputSpec::plain(name, plus, minus, volts(24.0), amps(20.0))
    })
}

/// A Class 2 output, 24 V 4 A, that pulses on overload.
pub fn class_2(spec: &mut ProtectionSpec, name: &str) -> OutputId {
    let output = strong(spec, name);
    let facts = &mut spec.outputs[output.0];
    facts.energy = EnergyLimit::Class2;
    facts.limit = Some(amps(5.0));
    facts.rated = amps(4.0);
    facts.nameplate = Some(watts(96.0));
    facts.overload = Overload::Hiccup;
    output
}

pub fn fuse(spec: &mut ProtectionSpec, rated: f64, points: &[(f64, f64)]) -> DeviceId {
    spec.device(DeviceSpec {
        dc_volts: Some(volts(32.0)),
        breaking: Some(amps(100.0)),
        curve: (!points.is_empty()).then(|| {
            let points = points.iter().map(|&(i, t)| (amps(i), seconds(t))).collect();
            ClearingCurve::direct_current(points, Source::invented("hand case"))
        }),
        ..DeviceSpec::plain(format!("fuse of {rated} A"), DeviceKind::Fuse, amps(rated))
    })
}

/// A core from the plus of an output to a new point.
pub fn core(spec: &mut ProtectionSpec, output: OutputId, name: &str, load: f64) -> ConductorId {
    let (from, to) = (
        spec.outputs[output.0].plus,
        spec.point(format!("{name}, far")),
    );
    spec.conductor(ConductorSpec {
        may_carry: carries(7.0),
        ..ConductorSpec::plain(name, from, to, amps(load))
    })
}

/// What the rules say. Every finding must have every fact that its words name.
pub fn judged(spec: &ProtectionSpec) -> ProtectionReport {
    let report = spec
        .clone()
        .check()
        .unwrap_or_else(|errors| panic!("{errors}"))
        .judge();
    report.findings.iter().for_each(complete);
    report
}

/// Fails where the words of a finding name a fact that it does not carry, or where it is no data.
pub fn complete(finding: &Finding) {
    let words = words(finding);
    for text in [
        &words.place,
        &words.says,
        &words.reason,
        &words.figure,
        &words.limit,
        &words.remedy,
    ] {
        let holes = text.contains("not known") && !text.contains("for ever is not known");
        assert!(!holes && !text.contains(['{', '}']), "{text}: {finding:#?}");
    }
    assert!(
        !words.says.is_empty() || !words.reason.is_empty(),
        "{finding:#?}"
    );
    let open = finding.verdict == Verdict::NotEvaluated;
    assert_eq!(open, !words.reason.is_empty(), "{finding:#?}");
    assert!(!finding.source.title.is_empty(), "{finding:#?}");
    let text = serde_json::to_string(finding).unwrap();
    let read: Finding = serde_json::from_str(&text).unwrap();
    assert_eq!(&read, finding, "{text}");
}

pub fn says(finding: &Finding) -> String {
    words(finding).says
}

pub fn found<'r>(report: &'r ProtectionReport, id: &str, place: &str) -> &'r Finding {
    report
        .findings
        .iter()
        .find(|f| f.rule.as_str() == id && f.about.to_string() == place)
        .unwrap_or_else(|| panic!("no {id} at {place} in {:#?}", report.findings))
}

pub fn passes(finding: &Finding) -> bool {
    finding.verdict == Verdict::Pass
}
