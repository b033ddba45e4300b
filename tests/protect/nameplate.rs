//! Class 2 by nameplate: National Electrical Code, NFPA 70-2017, chapter 9, table 11(B).
use crate::build::*;
use crate::common::{assert_relative, assert_within, rows};
use evenrun::device::EnergyLimit;
use evenrun::finding::Limit;
use evenrun::protect::*;
use evenrun::quantity::*;

/// 5 V·A up to 20 V, else 100 VA: 12 V 60 W 5 A; 24 V 100 W 4.17 A; 48 V 100 W 2.08 A. Tape of 14.4 W/m on one
/// output: 60/14.4 = 4.16 m (cut off, not rounded up) at 12 V, 100/14.4 = 6.94 m at 24 V.
#[test]
fn nameplate_by_voltage() {
    for (at, power, current) in [(12.0, 60.0, 5.0), (24.0, 100.0, 4.17), (48.0, 100.0, 2.08)] {
        let limits = power_limits(Rule::Class2Dc, Limited::Inherently, volts(at)).unwrap();
        assert_relative(
            "watts",
            limits.nameplate_watts().unwrap().value,
            power,
            1e-12,
        );
        assert_within("amps", limits.nameplate().unwrap().value, current, 0.005);
        if at < 48.0 {
            let metres = limits.nameplate_watts().unwrap().value / 14.4;
            let printed = if at < 20.0 { 4.16 } else { 6.94 };
            assert_eq!((metres * 100.0).floor() / 100.0, printed);
        }
    }
}

/// Every voltage of the evaluated table: a label at its limit stands, one a thousandth above it does not.
#[test]
fn a_label_flips_at_the_nameplate_of_each_row() {
    let mut judged_rows = 0;
    for row in rows("conductors/class2_dc_evaluated.csv", 26) {
        if !row.may_be_asserted() || row.text("kind") != "inherently limited" {
            continue;
        }
        judged_rows += 1;
        for (share, stands) in [(0.999, true), (1.001, false)] {
            let mut spec = ProtectionSpec::new();
            let output = class_2(&mut spec, "S1");
            let facts = &mut spec.outputs[output.0];
            facts.volts_high = volts(row.number("v_max_v"));
            facts.volts_low = facts.volts_high;
            facts.rated = amps(row.number("nameplate_max_a") * share);
            facts.nameplate = Some(watts(row.number("nameplate_max_va") * share));
            facts.limit = Some(amps(row.number("i_max_a") * share));
            let report = judged(&spec);
            for id in ["class-2-nameplate", "class-2-nameplate-power"] {
                let finding = found(&report, id, "S1");
                assert_eq!(finding.is_fail(), !stands, "{finding:?}");
            }
            // Above the inherent limit only a device inside can make it Class 2, and that is not known.
            let short = found(&report, "class-2-short-circuit", "S1");
            assert_eq!(passes(short), stands, "{short:?}");
        }
    }
    assert_eq!(judged_rows, 13);
}

/// The highest voltage that a trimmer reaches counts: 4.17 A stand at 24 V and not at 28 V, where 100/28 = 3.57 A do.
#[test]
fn the_trimmer_counts() {
    let mut spec = ProtectionSpec::new();
    let output = class_2(&mut spec, "S1");
    spec.outputs[output.0].rated = amps(4.16);
    assert!(passes(found(&judged(&spec), "class-2-nameplate", "S1")));
    spec.outputs[output.0].volts_high = volts(28.0);
    let report = judged(&spec);
    let finding = found(&report, "class-2-nameplate", "S1");
    assert!(finding.is_fail());
    assert_eq!(
        finding.limit,
        Some(Limit::AtMost(amps(100.0 / 28.0).into()))
    );
    let limit = evenrun::rules::words(finding).limit;
    assert!(limit.starts_with("3.571"), "{limit}");
    // A strong supply at the same voltage claims nothing, and is asked nothing.
    spec.outputs[output.0].energy = EnergyLimit::None;
    let report = judged(&spec);
    assert!(
        !report
            .findings
            .iter()
            .any(|f| f.rule.as_str().starts_with("class-2"))
    );
}
