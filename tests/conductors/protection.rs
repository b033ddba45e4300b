//! Protection on hand cases: each rule, and the joins.

use evenrun::device::{EnergyLimit, ShockProtection};
use evenrun::finding::{Finding, Verdict};
use evenrun::protect::*;
use evenrun::quantity::{Amps, amps, hertz, ohms, seconds, square_millimetres, volts, watts};
use evenrun::source::Source;

pub fn invented() -> Source {
    Source::invented("hand case")
}

fn carries(current: f64) -> MayCarry {
    MayCarry::Current {
        current: amps(current),
        source: invented(),
        largest_device: None,
    }
}

/// One supply, one fuse, one feeder: 24 V, 26 A limit, fuse 5 A, 3 A load, 7 A ampacity.
pub fn one_feeder() -> ProtectionSpec {
    let mut spec = ProtectionSpec::new();
    let (plus, minus, far) = (spec.point("S1 +"), spec.point("S1 -"), spec.point("tape +"));
    spec.output(OutputSpec {
        limit: Some(amps(26.0)),
        overload: Overload::ConstantCurrent,
        energy: EnergyLimit::None,
        shock: ShockProtection::Selv,
        volts_low: volts(23.5),
        volts_high: volts(24.5),
        ..OutputSpec::plain("S1", plus, minus, volts(24.0), amps(20.0))
    });
    let fuse = spec.device(DeviceSpec {
        dc_volts: Some(volts(32.0)),
        breaking: Some(amps(100.0)),
        curve: Some(ClearingCurve::direct_current(
            vec![(amps(10.0), seconds(5.0)), (amps(20.0), seconds(0.5))],
            invented(),
        )),
        ..DeviceSpec::plain("fuse F1", DeviceKind::Fuse, amps(5.0))
    });
    spec.conductor(ConductorSpec {
        may_carry: carries(7.0),
        device: Some(fuse),
        fault_loop: Some(FaultLoop {
            near_cold: ohms(0.01),
            far_hot: ohms(1.0),
        }),
        heat: Some(HeatLimit {
            k: 115.0,
            area: square_millimetres(0.5),
            source: invented(),
        }),
        ..ConductorSpec::plain("feeder, plus", plus, far, amps(3.0))
    });
    spec
}

pub fn judged(spec: ProtectionSpec) -> ProtectionReport {
    spec.check().unwrap_or_else(|e| panic!("{e}")).judge()
}

pub fn verdict(spec: ProtectionSpec, id: &str, place: &str) -> Verdict {
    found(&judged(spec), id, place).verdict
}

pub fn found<'r>(report: &'r ProtectionReport, id: &str, place: &str) -> &'r Finding {
    report
        .findings
        .iter()
        .find(|f| f.rule.as_str() == id && f.about.to_string() == place)
        .unwrap_or_else(|| panic!("no {id} at {place} in {:#?}", report.findings))
}

/// Why a rule was not evaluated; empty where it was.
fn reason(spec: ProtectionSpec, id: &str, place: &str) -> String {
    evenrun::rules::words(found(&judged(spec), id, place)).reason
}

fn says(finding: &Finding) -> String {
    evenrun::rules::words(finding).says
}

#[test]
fn a_feeder_with_its_fuse_passes() {
    let report = judged(one_feeder());
    let failed: Vec<_> = report
        .findings
        .iter()
        .filter(|f| f.verdict != Verdict::Pass)
        .collect();
    assert!(failed.is_empty(), "{failed:#?}");
    let row = &report.rows[0];
    let some = |current: f64| Some(Amps::from(amps(current)));
    assert_eq!(
        (Some(row.load), row.device_rating, row.ampacity),
        (some(3.0), some(5.0), some(7.0))
    );
    assert_eq!(row.source_limit, some(26.0));
    // Far, hot, low: 23.5 V over 1 ohm; near, cold, high: 24.5 V over 10 mohm is 2450 A, held to 26 A.
    assert_eq!(
        (row.least_fault, row.greatest_fault),
        (some(23.5), some(26.0))
    );
    assert_eq!(row.clearing, Some(Clearing::ByDevice(seconds(0.5).into())));
    // (115 * 0.5 / 23.5)^2 = 5.9869 s.
    assert!((row.insulation_bears.unwrap().si() - 5.986_87).abs() < 1e-4);
}

#[test]
fn a_strong_supply_on_a_thin_wire_is_not_protected() {
    // 24 V, 20 A supply limiting at 26 A into 20 AWG: 26 A squared times 33.3 mohm/m is 22.5 W/m, and nothing trips.
    let mut spec = one_feeder();
    spec.conductors[0].device = None;
    let report = judged(spec);
    let finding = found(&report, "conductor-protected", "feeder, plus");
    assert!(finding.is_fail());
    assert!(
        says(finding).starts_with("conductor not protected"),
        "{}",
        says(finding)
    );
    assert!(evenrun::rules::words(finding).remedy.contains("fuse"));
}

#[test]
fn a_source_that_cannot_give_more_protects() {
    let mut spec = one_feeder();
    spec.conductors[0].device = None;
    spec.outputs[0].limit = Some(amps(6.5));
    assert_eq!(
        verdict(spec, "conductor-protected", "feeder, plus"),
        Verdict::Pass
    );
}

#[test]
fn without_a_table_nothing_is_called_protected() {
    let mut spec = one_feeder();
    spec.conductors[0].may_carry =
        MayCarry::NoTable("no table lists 22 AWG in a six-core cable".to_string());
    for id in ["conductor-load", "conductor-protected"] {
        let reason = reason(spec.clone(), id, "feeder, plus");
        assert!(reason.contains("no table lists 22 AWG"), "{id}: {reason}");
    }
}

#[test]
fn a_foldback_or_hiccup_supply_never_clears_a_fuse() {
    let mut hiccup = one_feeder();
    hiccup.outputs[0].overload = Overload::Hiccup;
    hiccup.conductors[0].fault_loop = Some(FaultLoop {
        near_cold: ohms(0.01),
        far_hot: ohms(0.5),
    });
    let report = judged(hiccup);
    assert_eq!(report.rows[0].clearing, Some(Clearing::ByOutput));
    assert!(
        says(found(&report, "conductor-fault", "feeder, plus"))
            .contains("interrupted by the output itself")
    );

    let mut foldback = one_feeder();
    foldback.outputs[0].overload = Overload::FoldBack {
        into_short: Some(amps(8.0)),
    };
    foldback.conductors[0].fault_loop = Some(FaultLoop {
        near_cold: ohms(0.01),
        far_hot: ohms(0.5),
    });
    let report = judged(foldback.clone());
    assert_eq!(report.rows[0].clearing, Some(Clearing::Never));
    assert!(found(&report, "conductor-fault", "feeder, plus").is_fail());
    // Below the ampacity the conductor bears what the folded-back source gives.
    foldback.outputs[0].overload = Overload::FoldBack {
        into_short: Some(amps(6.0)),
    };
    assert_eq!(
        verdict(foldback.clone(), "conductor-fault", "feeder, plus"),
        Verdict::Pass
    );
    foldback.outputs[0].overload = Overload::FoldBack { into_short: None };
    let why = reason(foldback, "conductor-fault", "feeder, plus");
    assert!(
        why.contains("the short-circuit current of the output is not stated"),
        "{why}"
    );
}

#[test]
fn an_ac_curve_or_none_is_not_evaluated() {
    let mut none = one_feeder();
    none.devices[0].curve = None;
    let why = reason(none, "conductor-fault", "feeder, plus");
    assert!(
        why.contains("no time-current curve for direct current was supplied for fuse F1"),
        "{why}"
    );
    let mut ac = one_feeder();
    if let Some(curve) = &mut ac.devices[0].curve {
        curve.holds_for = CurveFor::AlternatingCurrent;
    }
    let why = reason(ac, "conductor-fault", "feeder, plus");
    assert!(why.contains("alternating current"), "{why}");
    let mut bare = one_feeder();
    bare.devices[0].breaking = None;
    bare.devices[0].dc_volts = None;
    let report = judged(bare);
    for id in ["device-breaking", "device-dc-voltage"] {
        assert!(
            found(&report, id, "feeder, plus").is_not_evaluated(),
            "{id}"
        );
    }
}

#[test]
fn a_far_short_below_the_curve_never_clears() {
    // 23.5 V over 2.5 ohm is 9.4 A: below the first point of the curve, above the 7 A the conductor may carry.
    let mut spec = one_feeder();
    spec.conductors[0].fault_loop = Some(FaultLoop {
        near_cold: ohms(0.01),
        far_hot: ohms(2.5),
    });
    let report = judged(spec);
    let finding = found(&report, "conductor-fault", "feeder, plus");
    assert!(
        finding.is_fail() && says(finding).contains("nothing trips"),
        "{}",
        says(finding)
    );
}

/// Two Class 2 outputs of two supplies, each feeding one end of a tape.
fn two_class_2(uncut: bool) -> ProtectionSpec {
    let mut spec = ProtectionSpec::new();
    let mut ends = Vec::new();
    for name in ["S1", "S2"] {
        let (plus, minus) = (
            spec.point(format!("{name} +")),
            spec.point(format!("{name} -")),
        );
        let (tape_plus, tape_minus) = (
            spec.point(format!("tape at {name} +")),
            spec.point(format!("tape at {name} -")),
        );
        spec.output(OutputSpec {
            limit: Some(amps(5.0)),
            overload: Overload::Hiccup,
            energy: EnergyLimit::Class2,
            shock: ShockProtection::Selv,
            nameplate: Some(watts(96.0)),
            ..OutputSpec::plain(name, plus, minus, volts(24.0), amps(4.0))
        });
        spec.conductor(ConductorSpec {
            may_carry: carries(6.0),
            ..ConductorSpec::plain(format!("feeder {name} plus"), plus, tape_plus, amps(2.0))
        });
        spec.conductor(ConductorSpec {
            may_carry: carries(6.0),
            ..ConductorSpec::plain(format!("feeder {name} minus"), minus, tape_minus, amps(2.0))
        });
        ends.push((tape_plus, tape_minus));
    }
    if uncut {
        spec.join(
            "tape of run R1, plus rail",
            JoinKind::UncutTape,
            ends[0].0,
            ends[1].0,
        );
        spec.join(
            "tape of run R1, minus rail",
            JoinKind::UncutTape,
            ends[0].1,
            ends[1].1,
        );
    }
    spec
}

#[test]
fn an_uncut_tape_ends_class_2_on_both_sides() {
    let apart = judged(two_class_2(false));
    assert!(apart.tied.is_empty());
    assert!(
        apart
            .rows
            .iter()
            .all(|row| row.class.energy == EnergyLimit::Class2)
    );
    assert_eq!(found(&apart, "class-2-alone", "S1").verdict, Verdict::Pass);

    let tied = judged(two_class_2(true));
    for name in ["S1", "S2"] {
        let finding = found(&tied, "class-2-alone", name);
        assert!(finding.is_fail());
        assert!(
            says(finding).contains("tape of run R1, plus rail"),
            "{}",
            says(finding)
        );
        assert!(found(&tied, "outputs-paralleled", name).is_fail());
    }
    // Never upgraded, and lost downstream on both sides; both supplies can push into each conductor.
    assert!(
        tied.rows
            .iter()
            .all(|row| row.class.energy == EnergyLimit::None)
    );
    assert!(
        tied.rows
            .iter()
            .all(|row| row.source_limit == Some(amps(10.0).into()))
    );
    assert!(found(&tied, "conductor-protected", "feeder S1 plus").is_fail());
}

#[test]
fn a_data_common_and_a_shared_minus_tie_outputs_too() {
    for kind in [JoinKind::DataCommon, JoinKind::SharedPole, JoinKind::Inside] {
        let mut spec = two_class_2(false);
        let (a, b) = (spec.outputs[0].minus, spec.outputs[1].minus);
        spec.join("data common of chain C1", kind, a, b);
        let report = judged(spec);
        let finding = found(&report, "class-2-alone", "S1");
        assert!(
            finding.is_fail() && says(finding).contains("data common of chain C1"),
            "{}",
            says(finding)
        );
        assert!(
            !report
                .findings
                .iter()
                .any(|f| f.rule.as_str() == "outputs-paralleled")
        );
    }
    let mut spec = two_class_2(false);
    let (a, b) = (spec.outputs[0].minus, spec.outputs[1].minus);
    spec.join("bond to building earth", JoinKind::EarthBond, a, b);
    let report = judged(spec);
    assert_eq!(found(&report, "class-2-alone", "S1").verdict, Verdict::Pass);
    assert_eq!(report.earth_bonds, ["bond to building earth".into()]);
}

#[test]
fn outputs_of_one_unit_with_an_inner_common_are_not_tied_by_it() {
    let mut spec = two_class_2(false);
    for output in &mut spec.outputs {
        output.unit = "U1".to_string();
        output.shares = SharedPole::Minus;
    }
    let report = judged(spec.clone());
    assert!(report.tied.is_empty(), "{:?}", report.tied);
    // A third output of another unit on that common ties all three.
    let (plus, minus) = (spec.point("S3 +"), spec.point("S3 -"));
    let shared = spec.outputs[0].minus;
    spec.output(OutputSpec {
        energy: EnergyLimit::Class2,
        ..OutputSpec::plain("S3", plus, minus, volts(24.0), amps(4.0))
    });
    spec.join("common of decoder D1", JoinKind::SharedPole, shared, minus);
    let report = judged(spec);
    for name in ["S1", "S2", "S3"] {
        assert!(found(&report, "class-2-alone", name).is_fail(), "{name}");
    }
}

#[test]
fn marked_outputs_may_be_joined() {
    let mut spec = two_class_2(true);
    for output in &mut spec.outputs {
        output.may_be_joined = true;
    }
    let report = judged(spec);
    assert_eq!(found(&report, "class-2-alone", "S1").verdict, Verdict::Pass);
    assert!(
        report
            .rows
            .iter()
            .all(|row| row.class.energy == EnergyLimit::Class2)
    );
}

#[test]
fn class_is_inherited_and_never_upgraded() {
    // A 60 W branch of a strong supply is not Class 2; a fuse does not make it so.
    let report = judged(one_feeder());
    assert_eq!(report.rows[0].class.energy, EnergyLimit::None);
    assert_eq!(report.rows[0].class.shock, ShockProtection::Selv);
    // Earthing minus makes SELV PELV; a join with an unknown output makes shock unknown.
    let mut earthed = one_feeder();
    earthed.outputs[0].minus_earthed = Some(true);
    assert_eq!(judged(earthed).rows[0].class.shock, ShockProtection::Pelv);
    let mut mixed = two_class_2(false);
    mixed.outputs[1].shock = ShockProtection::Unknown;
    mixed.outputs[1].energy = EnergyLimit::Unknown;
    let (a, b) = (mixed.outputs[0].minus, mixed.outputs[1].minus);
    mixed.join("shared minus", JoinKind::SharedPole, a, b);
    let report = judged(mixed);
    assert!(
        report
            .rows
            .iter()
            .all(|row| row.class.shock == ShockProtection::Unknown)
    );
    assert!(report.rows.iter().all(|row| !row.class.energy.is_limited()));
    assert!(found(&report, "energy-class", "S2").is_not_evaluated());
}

#[test]
fn a_lost_feed_loads_the_other() {
    // 1.84 A -> 3 A with the other feed lost; a 2.5 A fuse would open, 3 A of ampacity is at its limit.
    let mut spec = one_feeder();
    spec.conductors[0].load_with_feed_lost = vec![("feed B".into(), amps(3.0))];
    spec.conductors[0].load = amps(1.84);
    assert_eq!(
        verdict(spec.clone(), "conductor-feed-lost", "feeder, plus"),
        Verdict::Pass
    );
    spec.devices[0].rated = amps(2.5);
    let report = judged(spec);
    let finding = found(&report, "conductor-feed-lost", "feeder, plus");
    assert!(
        finding.is_fail() && says(finding).contains("feed B lost"),
        "{}",
        says(finding)
    );
}

#[test]
fn plus_on_an_earthed_profile() {
    let mut spec = one_feeder();
    spec.outputs[0].minus_earthed = Some(true);
    spec.profiles.push(ProfileSpec {
        earthed: Some(true),
        device: Some(DeviceId(0)),
        fault_way: Some(ohms(2.0)),
        switched_returns: true,
        ..ProfileSpec::plain("profile P1", OutputId(0))
    });
    let report = judged(spec.clone());
    let plus = found(&report, "profile-plus", "profile P1");
    assert!(
        plus.verdict == Verdict::Pass && says(plus).contains("trips within"),
        "{}",
        says(plus)
    );
    assert!(says(found(&report, "profile-return", "profile P1")).contains("stays lit"));
    spec.profiles[0].device = None;
    assert!(found(&judged(spec.clone()), "profile-plus", "profile P1").is_fail());
    spec.outputs[0].minus_earthed = Some(false);
    let report = judged(spec.clone());
    assert!(says(found(&report, "profile-plus", "profile P1")).contains("a first fault"));
    spec.outputs[0].minus_earthed = Some(true);
    spec.profiles[0].fault_way = None;
    assert!(found(&judged(spec), "profile-plus", "profile P1").is_not_evaluated());
}

#[test]
fn wet_and_slow_chopping_lower_the_class_2_voltage() {
    let mut spec = two_class_2(false);
    spec.outputs[0].volts_high = volts(25.0);
    spec.conductors[0].chopped = Some(hertz(150.0));
    let report = judged(spec.clone());
    let failed = |report: &ProtectionReport| {
        report
            .findings
            .iter()
            .filter(|f| f.rule.as_str() == "class-2-voltage" && f.is_fail())
            .count()
    };
    assert_eq!(failed(&report), 1); // 25 V over 24.8 V peak
    spec.conductors[0].chopped = Some(hertz(1000.0));
    assert_eq!(failed(&judged(spec.clone())), 0);
    spec.conductors[0].wet = true;
    assert_eq!(failed(&judged(spec.clone())), 0); // 25 V under 30 V
    spec.conductors[0].chopped = Some(hertz(150.0));
    assert_eq!(failed(&judged(spec)), 1); // over 12.4 V
}

#[test]
fn every_fault_of_the_facts_is_named_at_once() {
    let mut spec = one_feeder();
    spec.outputs[0].rated = amps(f64::NAN);
    spec.conductors[0].to = PointId(99);
    spec.conductors[0].device = Some(DeviceId(7));
    spec.conductors[0].load = amps(-1.0);
    if let Some(curve) = &mut spec.devices[0].curve {
        curve.points.reverse();
    }
    let errors: Box<dyn std::error::Error> = Box::new(spec.check().unwrap_err());
    let text = errors.to_string();
    assert_eq!(text.lines().count(), 5, "{text}");
    for words in [
        "rated current is NaN",
        "point 99",
        "device 7",
        "load current is -1",
        "curve",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}
