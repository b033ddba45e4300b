//! Each way in which a low-voltage job goes wrong, worked by hand.
use crate::build::*;
use crate::common::assert_within;
use evenrun::cable::{
    Basis, CableSpec, Conductor, Construction, CoreFunction, CoreSpec, Installation, Metal,
};
use evenrun::device::{EnergyLimit, ShockProtection};
use evenrun::protect::*;
use evenrun::quantity::*;

/// A 24 V, 20 A supply that limits at 26 A into 20 AWG (33.3 mohm/m at 20 °C): 26²·0.0333 = 22.5 W in each metre, and
/// nothing opens. The core, the rail of the tape and the thin tail are each judged.
#[test]
fn a_strong_supply_burns_a_thin_wire_and_nothing_opens() {
    let wire = Conductor {
        size: "20 AWG".parse().unwrap(),
        metal: Metal::Copper,
        construction: Construction::Solid,
    };
    let ohms = wire
        .resistance_by(Basis::GaugeFormula, celsius(20.0))
        .unwrap();
    assert_within("heat", 26.0 * 26.0 * ohms.per_length.value, 22.5, 0.05);
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    for (name, kind) in [
        ("core", ConductorKind::Core),
        ("rail", ConductorKind::Rail),
        ("tail", ConductorKind::Tail),
    ] {
        let id = core(&mut spec, output, name, 3.0);
        spec.conductors[id.0].kind = kind;
    }
    let report = judged(&spec);
    for name in ["core", "rail", "tail"] {
        let finding = found(&report, "conductor-protected", name);
        assert!(finding.is_fail() && says(finding).starts_with("conductor not protected"));
    }
    // Ib 3 A <= In 5 A <= Iz 7 A: protected; a device above the ampacity is none.
    let five = fuse(&mut spec, 5.0, &[]);
    spec.conductors[0].device = Some(five);
    assert!(passes(found(&judged(&spec), "conductor-protected", "core")));
    let ten = fuse(&mut spec, 10.0, &[]);
    spec.conductors[0].device = Some(ten);
    assert!(found(&judged(&spec), "conductor-protected", "core").is_fail());
}

/// 24 V over 1.48 ohm is 16.2 A: more than three times a device of 5 A that opens at once only from 25 A on.
#[test]
fn a_far_short_may_be_too_small_to_open_anything() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    let id = core(&mut spec, output, "core", 3.0);
    let device = fuse(&mut spec, 5.0, &[(25.0, 0.01)]);
    spec.conductors[id.0].device = Some(device);
    spec.conductors[id.0].fault_loop = Some(FaultLoop {
        near_cold: ohms(0.05),
        far_hot: ohms(1.48),
    });
    spec.conductors[id.0].heat = Some(HeatLimit {
        k: 115.0,
        area: square_millimetres(0.5),
        source: evenrun::source::Source::invented("hand case"),
    });
    let report = judged(&spec);
    assert_within(
        "far fault",
        report.rows[0].least_fault.unwrap().si(),
        16.2,
        0.05,
    );
    assert!(found(&report, "conductor-fault", "core").is_fail());
    // Without a curve, or with one for alternating current, there is no answer, and never a good one.
    for curve in [
        None,
        spec.devices[0].curve.clone().map(|curve| ClearingCurve {
            holds_for: CurveFor::AlternatingCurrent,
            ..curve
        }),
    ] {
        spec.devices[0].curve = curve;
        assert!(found(&judged(&spec), "conductor-fault", "core").is_not_evaluated());
    }
    // A supply that pulses never opens a fuse: it interrupts by itself.
    spec.outputs[0].overload = Overload::Hiccup;
    spec.conductors[0].fault_loop = Some(FaultLoop {
        near_cold: ohms(0.05),
        far_hot: ohms(0.5),
    });
    assert_eq!(judged(&spec).rows[0].clearing, Some(Clearing::ByOutput));
}

/// Shock and energy are two fields of a label; unknown is none; class II is neither.
#[test]
fn shock_and_energy_are_two_fields() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    core(&mut spec, output, "core", 3.0);
    let class = judged(&spec).rows[0].class;
    assert_eq!(class.shock, ShockProtection::Selv);
    assert!(!class.energy.is_limited());
    spec.outputs[0].energy = EnergyLimit::Unknown;
    let report = judged(&spec);
    assert!(!report.rows[0].class.energy.is_limited());
    assert!(found(&report, "energy-class", "S1").is_not_evaluated());
    for text in ["class II", "Class ii", "Ⅱ", "II"] {
        let error = text.parse::<EnergyLimit>().unwrap_err().to_string();
        assert!(
            error.contains("says nothing about energy") && error.contains("write \"class 2\""),
            "{error}"
        );
    }
    let error = "SELV".parse::<EnergyLimit>().unwrap_err().to_string();
    assert!(error.contains("limits shock, not energy"), "{error}");
    let error = "class 2"
        .parse::<ShockProtection>()
        .unwrap_err()
        .to_string();
    assert!(error.contains("limits energy, not shock"), "{error}");
}

/// Dry 60 V, wet 30 V; interrupted at 10 to 200 Hz 24.8 V and 12.4 V peak: NFPA 70-2017, chapter 9, table 11(B), note 4.
/// Judged at the highest trimmed voltage, peak.
#[test]
fn the_limit_on_volts_depends_on_waveform_and_place() {
    let failed = |high: f64, wet: bool, hz: Option<f64>| {
        let mut spec = ProtectionSpec::new();
        let output = class_2(&mut spec, "S1");
        let id = core(&mut spec, output, "core", 1.0);
        spec.outputs[0].volts_high = volts(high);
        spec.conductors[id.0].wet = wet;
        spec.conductors[id.0].chopped = hz.map(hertz);
        judged(&spec)
            .findings
            .iter()
            .any(|f| f.rule.as_str() == "class-2-voltage" && f.is_fail())
    };
    // 24 V chopped at 120 Hz stands when dry; trimmed up to 25 V it does not; wet it does not; at 1 kHz it does.
    assert!(!failed(24.0, false, Some(120.0)));
    assert!(failed(25.0, false, Some(120.0)));
    assert!(failed(24.0, true, Some(120.0)));
    assert!(!failed(24.0, true, Some(1000.0)));
    // 48 V outdoors does not; indoors it does.
    assert!(failed(48.0, true, None) && !failed(48.0, false, None));
    assert!(failed(f64::from(61), false, None));
}

/// Two Class 2 outputs that anything ties together are none: uncut tape, a shared plus, a common core, the data common.
#[test]
fn class_2_outputs_that_copper_ties_are_none() {
    for (kind, pole) in [
        (JoinKind::UncutTape, 0),
        (JoinKind::SharedPole, 0),
        (JoinKind::SharedPole, 1),
        (JoinKind::DataCommon, 1),
    ] {
        let mut spec = ProtectionSpec::new();
        let (a, b) = (class_2(&mut spec, "S1"), class_2(&mut spec, "S2"));
        core(&mut spec, a, "core", 1.0);
        assert!(judged(&spec).tied.is_empty());
        let pole_of = |output: OutputId| match pole {
            0 => spec.outputs[output.0].plus,
            _ => spec.outputs[output.0].minus,
        };
        let (from, to) = (pole_of(a), pole_of(b));
        spec.join("the tie", kind, from, to);
        let report = judged(&spec);
        for name in ["S1", "S2"] {
            let finding = found(&report, "class-2-alone", name);
            assert!(
                finding.is_fail() && says(finding).contains("the tie"),
                "{kind:?}"
            );
        }
        assert!(!report.rows[0].class.energy.is_limited());
    }
}

/// A 60 W branch of a strong supply is not Class 2, nor does a fuse make it so, nor a decoder that is not listed.
#[test]
fn class_comes_from_the_source_and_is_never_upgraded() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    let (decoder_out, far) = (spec.point("decoder out"), spec.point("tape +"));
    let plus = spec.outputs[0].plus;
    spec.join("decoder D1", JoinKind::Inside, plus, decoder_out);
    let device = fuse(&mut spec, 2.5, &[]);
    spec.conductor(ConductorSpec {
        may_carry: carries(7.0),
        device: Some(device),
        ..ConductorSpec::plain("branch", decoder_out, far, amps(2.5))
    });
    let branch = |spec: &ProtectionSpec| judged(spec).rows[0].class.energy;
    assert_eq!(branch(&spec), EnergyLimit::None);
    spec.outputs[output.0].energy = EnergyLimit::Class2;
    assert_eq!(branch(&spec), EnergyLimit::Class2);
}

/// Thicker wire or not, each limit on length is shown: 1.2 V at 5 A on 10.3 ohm/km is 11.65 m; 25 A at the far end of
/// 23 V with 0.1 ohm before it is (23/25 − 0.1)/(2·0.0103) = 39.81 m.
#[test]
fn length_is_held_by_drop_brightness_and_clearing() {
    let per_length = ohms_per_kilometre(10.3);
    let limit = LengthLimit {
        drop: longest_for_drop(volts(1.2), per_length, amps(5.0)),
        brightness: None,
        clearing: longest_for_clearing(volts(23.0), amps(25.0), per_length, ohms(0.1)),
    };
    assert_eq!(
        limit.to_string(),
        "drop 11.65 m, brightness not evaluated, clearing 39.81 m: at most 11.65 m, by drop"
    );
    // A device that needs 100 A to open holds it shorter: (23/100 − 0.1)/(2·0.0103) = 6.31 m.
    let clearing = longest_for_clearing(volts(23.0), amps(100.0), per_length, ohms(0.1));
    let limit = LengthLimit { clearing, ..limit };
    let (length, by) = limit.least().unwrap();
    assert_eq!(by, Binding::Clearing);
    assert_within("length", length.length().value, 6.31, 0.005);
}

/// Small wire is in some tables and not in others; outside is no figure, never a formula. 18 AWG 7 A and 16 AWG 10 A are
/// the largest devices (NFPA 70-2017, 240.4(D)), 6 A and 8 A what fixture wire carries (402.5). The common core of four emitters of 1 A carries 4 A.
#[test]
fn small_wire_has_a_figure_only_where_a_table_has_one() {
    let at = |size: &str, rating: f64, how| {
        let spec = CableSpec {
            insulation_rating: Some(celsius(rating)),
            ..CableSpec::two_core("thin", size.parse().unwrap())
        };
        spec.check().unwrap().ampacity(celsius(30.0), 2, how)
    };
    for (size, fixture, device) in [("18 AWG", 6.0, 7.0), ("16 AWG", 8.0, 10.0)] {
        let wire = at(size, 90.0, Installation::UsFixtureWire).unwrap();
        assert_eq!(wire.current.value, fixture, "{size}");
        let cable = at(size, 90.0, Installation::UsRaceway).unwrap();
        assert_eq!(cable.largest_device.unwrap().rating.value, device, "{size}");
    }
    let none = at("24 AWG", 60.0, Installation::UsRaceway).unwrap_err();
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    let id = core(&mut spec, output, "core", 0.1);
    spec.conductors[id.0].may_carry = MayCarry::NoTable(none.to_string());
    let report = judged(&spec);
    for rule in ["conductor-load", "conductor-protected"] {
        assert!(found(&report, rule, "core").is_not_evaluated(), "{rule}");
    }
    let mut five = CableSpec::two_core("five", "1 mm2".parse().unwrap());
    for emitter in 1..4 {
        five.cores.push(CoreSpec {
            name: format!("{}", emitter + 2),
            function: CoreFunction::Return(emitter),
            size: None,
        });
    }
    let currents = five
        .check()
        .unwrap()
        .core_currents(&[amps(1.0), amps(1.0), amps(1.0), amps(1.0)])
        .unwrap();
    let all: Vec<f64> = currents.iter().map(|current| current.value).collect();
    assert_eq!(all, [4.0, 1.0, 1.0, 1.0, 1.0]);
}

/// A run fed from two supplies stays live with one of them off.
#[test]
fn what_is_fed_from_two_supplies_stays_live() {
    let mut spec = ProtectionSpec::new();
    let (a, b) = (strong(&mut spec, "S1"), strong(&mut spec, "S2"));
    let (from, to) = (spec.outputs[a.0].plus, spec.outputs[b.0].plus);
    assert!(
        judged(&spec)
            .findings
            .iter()
            .all(|f| f.rule.as_str() != "output-stays-live")
    );
    spec.join("tape of run R1, plus rail", JoinKind::UncutTape, from, to);
    let report = judged(&spec);
    for (name, other) in [("S1", "S2"), ("S2", "S1")] {
        let finding = found(&report, "output-stays-live", name);
        assert!(finding.is_not_evaluated());
        assert_eq!(
            says(finding),
            format!(
                "with this output off, what it feeds stays live from {other} through tape of run R1, plus rail"
            )
        );
        assert!(
            evenrun::rules::words(finding)
                .remedy
                .contains("one point of disconnection")
        );
    }
    // Two outputs of one unit go off together.
    for output in &mut spec.outputs {
        output.unit = "U1".into();
    }
    assert!(
        judged(&spec)
            .findings
            .iter()
            .all(|f| f.rule.as_str() != "output-stays-live")
    );
    assert!(
        cautions()
            .iter()
            .any(|text| text.contains("stays live with one of them off"))
    );
}

/// With minus earthed, plus on the earthed profile is a short circuit that no decoder interrupts (24/2 = 12 A), and a return
/// on it bypasses the switch. With minus free a first fault draws nothing.
#[test]
fn plus_or_a_return_on_the_profile() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    spec.profile(ProfileSpec {
        earthed: Some(true),
        fault_way: Some(ohms(2.0)),
        switched_returns: true,
        ..ProfileSpec::plain("P1", output)
    });
    let report = judged(&spec);
    assert!(says(found(&report, "profile-plus", "P1")).contains("a first fault"));
    spec.outputs[0].minus_earthed = Some(true);
    let report = judged(&spec);
    let plus = found(&report, "profile-plus", "P1");
    assert!(plus.is_fail() && says(plus).contains("no decoder can interrupt it"));
    assert_eq!(plus.figure, Some(amps(12.0).into()));
    assert!(says(found(&report, "profile-return", "P1")).contains("stays lit"));
    let device = fuse(&mut spec, 5.0, &[(10.0, 2.0)]);
    spec.profiles[0].device = Some(device);
    assert!(passes(found(&judged(&spec), "profile-plus", "P1")));
}

/// Each of two feeds carries 1.84 A of 3 A and more with the other lost: 3 A open a device of 2.5 A that the shared load does not.
#[test]
fn one_of_two_feeds_lost() {
    let mut spec = ProtectionSpec::new();
    let output = strong(&mut spec, "S1");
    let id = core(&mut spec, output, "feeder A", 1.84);
    spec.conductors[id.0].load_with_feed_lost = vec![("feed B".into(), amps(3.0))];
    let device = fuse(&mut spec, 2.5, &[]);
    spec.conductors[id.0].device = Some(device);
    let report = judged(&spec);
    assert!(passes(found(&report, "conductor-device-load", "feeder A")));
    let lost = found(&report, "conductor-feed-lost", "feeder A");
    assert!(lost.is_fail());
    assert_eq!(says(lost), "with feed B lost it carries 3 A against 2.5 A");
    spec.devices[0].rated = amps(4.0);
    assert!(passes(found(
        &judged(&spec),
        "conductor-feed-lost",
        "feeder A"
    )));
}
