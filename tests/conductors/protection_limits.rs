//! Every limit moved by one unit flips its finding; classes at their edges.

use crate::protection::{invented, one_feeder, verdict};
use evenrun::finding::Verdict;
use evenrun::protect::*;
use evenrun::quantity::{
    amps, hertz, metres, ohms, ohms_per_kilometre, seconds, square_millimetres, volts, watts,
};

const PLACE: &str = "feeder, plus";

/// Fails unless the verdict is `pass` just below the limit, `at limit` on it, `fail` just above.
fn flips(id: &str, at: impl Fn(f64) -> ProtectionSpec, limit: f64, unit: f64) {
    for (figure, expected) in [
        (limit - unit, Verdict::Pass),
        (limit, Verdict::AtLimit),
        (limit + unit, Verdict::Fail),
    ] {
        assert_eq!(verdict(at(figure), id, PLACE), expected, "{id} at {figure}");
    }
}

#[test]
fn load_against_ampacity() {
    flips(
        "conductor-load",
        |i| {
            let mut spec = one_feeder();
            spec.conductors[0].load = amps(i);
            spec
        },
        7.0,
        0.01,
    );
}

#[test]
fn load_against_the_device() {
    flips(
        "conductor-device-load",
        |i| {
            let mut spec = one_feeder();
            spec.conductors[0].load = amps(i);
            spec
        },
        5.0,
        0.01,
    );
}

#[test]
fn device_against_ampacity() {
    flips(
        "conductor-protected",
        |i| {
            let mut spec = one_feeder();
            spec.devices[0].rated = amps(i);
            spec
        },
        7.0,
        0.01,
    );
}

#[test]
fn source_limit_against_ampacity() {
    // Without a device the verdict turns on the source's limit alone.
    flips(
        "conductor-protected",
        |i| {
            let mut spec = one_feeder();
            spec.conductors[0].device = None;
            spec.outputs[0].limit = Some(amps(i));
            spec
        },
        7.0,
        0.01,
    );
}

#[test]
fn device_against_the_largest_for_its_size() {
    flips(
        "conductor-device-size",
        |i| {
            let mut spec = one_feeder();
            spec.conductors[0].may_carry = MayCarry::Current {
                current: amps(14.0),
                source: invented(),
                largest_device: Some((amps(7.0), invented())),
            };
            spec.devices[0].rated = amps(i);
            spec
        },
        7.0,
        0.01,
    );
}

#[test]
fn greatest_fault_against_breaking_capacity() {
    // Greatest fault: 26 A, the source's limit.
    let at = |capacity: f64| {
        let mut spec = one_feeder();
        spec.devices[0].breaking = Some(amps(capacity));
        verdict(spec, "device-breaking", PLACE)
    };
    assert_eq!(
        (at(26.01), at(26.0), at(25.99)),
        (Verdict::Pass, Verdict::AtLimit, Verdict::Fail)
    );
}

#[test]
fn highest_voltage_against_the_device() {
    let at = |rated: f64| {
        let mut spec = one_feeder();
        spec.devices[0].dc_volts = Some(volts(rated));
        verdict(spec, "device-dc-voltage", PLACE)
    };
    assert_eq!(
        (at(24.51), at(24.5), at(24.49)),
        (Verdict::Pass, Verdict::AtLimit, Verdict::Fail)
    );
}

#[test]
fn clearing_time_against_the_insulation() {
    // Far short 23.5 A, cleared in 0.5 s: k S = 23.5 * sqrt(0.5); near short 26 A also in 0.5 s, so 26 decides.
    let at = |factor: f64| {
        let mut spec = one_feeder();
        spec.conductors[0].heat = Some(HeatLimit {
            k: 26.0 * 0.5_f64.sqrt() * factor,
            area: square_millimetres(1.0),
            source: invented(),
        });
        verdict(spec, "conductor-fault", PLACE)
    };
    assert_eq!(at(1.001), Verdict::Pass);
    assert_eq!(at(0.999), Verdict::Fail);
}

#[test]
fn far_fault_against_the_curve() {
    // The curve starts at 10 A: 23.5 V over 2.35 ohm is 10 A.
    let at = |far: f64| {
        let mut spec = one_feeder();
        spec.conductors[0].fault_loop = Some(FaultLoop {
            near_cold: ohms(0.01),
            far_hot: ohms(far),
        });
        spec.conductors[0].heat = Some(HeatLimit {
            k: 115.0,
            area: square_millimetres(2.5),
            source: invented(),
        });
        verdict(spec, "conductor-fault", PLACE)
    };
    assert_eq!(at(2.34), Verdict::Pass);
    assert_eq!(at(2.36), Verdict::Fail);
}

#[test]
fn a_device_slower_than_five_seconds_is_not_judged_adiabatically() {
    let at = |time: f64| {
        let mut spec = one_feeder();
        spec.conductors[0].fault_loop = Some(FaultLoop {
            near_cold: ohms(2.0),
            far_hot: ohms(2.0),
        });
        spec.conductors[0].heat = Some(HeatLimit {
            k: 115.0,
            area: square_millimetres(2.5),
            source: invented(),
        });
        if let Some(curve) = &mut spec.devices[0].curve {
            curve.points = vec![(amps(10.0), seconds(time))];
        }
        verdict(spec, "conductor-fault", PLACE)
    };
    assert_eq!(at(5.0), Verdict::Pass);
    assert!(matches!(at(5.01), Verdict::NotEvaluated));
}

#[test]
fn feed_lost_against_the_lesser_of_device_and_ampacity() {
    flips(
        "conductor-feed-lost",
        |i| {
            let mut spec = one_feeder();
            spec.conductors[0].load_with_feed_lost = vec![("feed B".into(), amps(i))];
            spec
        },
        5.0,
        0.01,
    );
}

fn class_2(high: f64, rated: f64, limit: f64) -> ProtectionSpec {
    let mut spec = one_feeder();
    let output = &mut spec.outputs[0];
    output.about = PLACE.into();
    output.energy = evenrun::device::EnergyLimit::Class2;
    output.volts_low = volts(high);
    output.volts_high = volts(high);
    output.rated = amps(rated);
    output.limit = Some(amps(limit));
    spec.conductors[0].about = "other".into();
    spec
}

#[test]
fn class_2_nameplate_at_the_highest_trim() {
    // M9: 5 A up to 20 V, 100 VA above: 24 V 4.1667 A; trimmed to 28 V 3.5714 A; 48 V 2.0833 A.
    for (high, limit) in [
        (12.0, 5.0),
        (20.0, 5.0),
        (24.0, 100.0 / 24.0),
        (28.0, 100.0 / 28.0),
        (48.0, 100.0 / 48.0),
    ] {
        flips("class-2-nameplate", |i| class_2(high, i, 1.0), limit, 0.001);
    }
    flips(
        "class-2-nameplate-power",
        |w| {
            let mut spec = class_2(24.0, 4.0, 5.0);
            spec.outputs[0].nameplate = Some(watts(w));
            spec
        },
        100.0,
        0.1,
    );
}

#[test]
fn class_2_short_circuit_current() {
    // 8 A up to 30 V inclusive, 150 / Vmax above: 5 A just above 30 V. More can be Class 2 only with a device inside.
    for (high, limit) in [
        (24.0, 8.0),
        (30.0, 8.0),
        (30.001, 150.0 / 30.001),
        (48.0, 150.0 / 48.0),
    ] {
        let at = |i| verdict(class_2(high, 1.0, i), "class-2-short-circuit", PLACE);
        assert_eq!(at(limit - 0.001), Verdict::Pass, "{high}");
        assert_eq!(at(limit), Verdict::AtLimit, "{high}");
        assert!(matches!(at(limit + 0.001), Verdict::NotEvaluated), "{high}");
        assert_eq!(at(1000.0 / high + 0.001), Verdict::Fail, "{high}");
    }
}

#[test]
fn class_2_voltage_by_waveform_and_place() {
    let at = |v: f64, wet: bool, hz: Option<f64>| {
        judge_class_2_voltage("x", volts(v), wet, hz.map(hertz)).verdict
    };
    for (wet, hz, limit) in [
        (false, None, 60.0),
        (true, None, 30.0),
        (false, Some(150.0), 24.8),
        (true, Some(150.0), 12.4),
        (false, Some(10.0), 24.8),
        (false, Some(200.0), 24.8),
        (false, Some(200.1), 60.0),
        (false, Some(9.9), 60.0),
        (true, Some(4000.0), 30.0),
    ] {
        assert_eq!(at(limit - 0.01, wet, hz), Verdict::Pass, "{wet} {hz:?}");
        assert_eq!(at(limit, wet, hz), Verdict::AtLimit, "{wet} {hz:?}");
        assert_eq!(at(limit + 0.01, wet, hz), Verdict::Fail, "{wet} {hz:?}");
    }
    assert_eq!(at(f64::NAN, false, None), Verdict::Fail);
}

#[test]
fn low_voltage_lighting_by_article_411() {
    let judge = |v: f64, wet: bool, out: f64, branch: Option<f64>| {
        LowVoltageLighting {
            highest: volts(v),
            wet,
            output: amps(out),
            branch: branch.map(amps),
        }
        .judge("x")
        .into_iter()
        .map(|f| f.verdict)
        .collect::<Vec<_>>()
    };
    assert_eq!(
        judge(60.0, false, 25.0, Some(20.0)),
        [Verdict::AtLimit, Verdict::AtLimit, Verdict::AtLimit]
    );
    assert_eq!(
        judge(60.1, false, 25.1, Some(20.1)),
        [Verdict::Fail, Verdict::Fail, Verdict::Fail]
    );
    assert_eq!(
        judge(30.1, true, 24.0, Some(16.0)),
        [Verdict::Fail, Verdict::Pass, Verdict::Pass]
    );
    assert!(matches!(
        judge(24.0, true, 20.0, None)[2],
        Verdict::NotEvaluated
    ));
}

#[test]
fn extra_low_voltage_limits() {
    let with = |v: f64, wet: bool, chopped: bool, parts: LiveParts| {
        judge_extra_low_voltage("x", volts(v), wet, chopped, parts)
            .into_iter()
            .map(|f| f.verdict)
            .collect::<Vec<_>>()
    };
    let judge = |v, wet, chopped| with(v, wet, chopped, LiveParts::Bare);
    assert_eq!(judge(60.0, false, false), [Verdict::Pass, Verdict::AtLimit]);
    assert_eq!(judge(60.1, false, false), [Verdict::Pass, Verdict::Fail]);
    assert_eq!(judge(30.1, true, false), [Verdict::Pass, Verdict::Fail]);
    assert_eq!(judge(120.1, false, false), [Verdict::Fail, Verdict::Fail]);
    assert!(matches!(judge(24.0, false, true)[1], Verdict::NotEvaluated));
    // The limits of chopped dc are lower, so what is above those of smooth dc is above them too.
    assert_eq!(judge(30.1, true, true), [Verdict::Pass, Verdict::Fail]);
    // Closed as delivered is not closed where it was cut.
    for parts in [LiveParts::Closed, LiveParts::Unknown] {
        let open = [Verdict::Pass, Verdict::NotEvaluated];
        assert_eq!(with(48.0, true, false, parts), open);
        assert_eq!(with(48.0, false, false, parts), [Verdict::Pass; 2]);
    }
}

#[test]
fn ratings_that_fit_are_proposed_with_the_inequalities() {
    let fit = |load, iz, largest: Option<f64>| {
        fitting_ratings(amps(load), amps(iz), largest.map(amps), STOCKED_AMPS)
            .iter()
            .map(|f| f.rating.value)
            .collect::<Vec<_>>()
    };
    assert_eq!(fit(3.2, 7.0, None), [4.0, 5.0, 6.3]);
    assert_eq!(fit(3.2, 14.0, Some(7.0)), [4.0, 5.0, 6.3]);
    assert_eq!(fit(4.0, 5.0, None), [4.0, 5.0]);
    assert_eq!(fit(4.01, 4.99, None), [] as [f64; 0]);
    let shown = propose(
        "x",
        amps(3.2),
        Some(amps(7.0)),
        Some(amps(5.0)),
        STOCKED_AMPS,
    );
    assert_eq!(
        evenrun::rules::words(&shown).says,
        "ratings that fit, In: 4 A, 5 A; Ib 3.2 A <= In <= Iz 7 A, In <= 5 A for this size"
    );
    let fitting = fitting_ratings(amps(3.2), amps(7.0), Some(amps(5.0)), STOCKED_AMPS);
    assert_eq!(
        fitting[0].to_string(),
        "Ib 3.2 A <= In 4 A <= Iz 7 A, In <= 5 A for this size"
    );
    assert!(propose("x", amps(4.01), Some(amps(4.99)), None, STOCKED_AMPS).is_fail());
    assert!(propose("x", amps(4.0), None, None, STOCKED_AMPS).is_not_evaluated());
}

#[test]
fn length_is_the_least_of_three() {
    // 0.72 V, 10.3 ohm/km, 5 A: 6.990 m (14 AWG stranded by the US code's table 8).
    let drop = longest_for_drop(volts(0.72), ohms_per_kilometre(10.3), amps(5.0));
    let clearing =
        longest_for_clearing(volts(23.0), amps(25.0), ohms_per_kilometre(10.3), ohms(0.1));
    // (23/25 - 0.1) / (2 * 0.0103) = 39.8058 m.
    assert!((clearing.unwrap().length().value - 39.805_825).abs() < 1e-5);
    let limit = LengthLimit {
        drop,
        brightness: Some(evenrun::quantity::RouteLength::new(metres(5.5))),
        clearing,
    };
    assert_eq!(limit.least().unwrap().1, Binding::Brightness);
    assert_eq!(
        limit.to_string(),
        "drop 6.99 m, brightness 5.5 m, clearing 39.81 m: at most 5.5 m, by brightness"
    );
    let none = LengthLimit {
        drop: None,
        brightness: None,
        clearing: None,
    };
    assert_eq!(
        none.to_string(),
        "drop not evaluated, brightness not evaluated, clearing not evaluated: no limit known"
    );
    assert_eq!(
        longest_for_clearing(
            volts(24.0),
            amps(300.0),
            ohms_per_kilometre(10.0),
            ohms(0.1)
        ),
        None
    );
    assert_eq!(
        longest_for_drop(volts(f64::NAN), ohms_per_kilometre(10.0), amps(1.0)),
        None
    );
}
