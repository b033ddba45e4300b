//! Averages over the states of a chopped period.
use crate::build::*;
use crate::common::assert_within;
use crate::strategies::*;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

/// A tape of three emitters behind feeders; the common feeder and rail of `common` ohm.
fn three(common: f64) -> NetworkSpec {
    let mut spec = NetworkSpec::new();
    let (plus, minus, pad) = (spec.node("plus"), spec.node("minus"), spec.node("pad"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    spec.link("common core", plus, pad, ohms(common));
    let laws = [
        string("red", 6, 600.0),
        string("green", 6, 270.0),
        string("blue", 6, 270.0),
    ];
    let emitters = ["red", "green", "blue"]
        .iter()
        .zip(laws)
        .map(|(name, law)| {
            let law = spec.law(law);
            let end = spec.node(format!("{name} pad"));
            spec.link(format!("{name} switch"), end, minus, ohms(0.3));
            emitter(
                name,
                law,
                RailSpec::uniform(ohms(0.02), vec![Attachment::at(0, end)]),
            )
        });
    let emitters = emitters.collect();
    let common = RailSpec::uniform(ohms(common / 20.0), vec![Attachment::at(0, pad)]);
    spec.tape(TapeSpec {
        name: "tape".into(),
        polarity: Polarity::CommonPlus,
        cells: 20,
        common,
        emitters,
    });
    spec
}

fn group(emitter: usize, duty: f64, start: f64) -> ChoppedGroup {
    ChoppedGroup {
        chop: Chop {
            duty: fraction(duty),
            start: fraction(start),
        },
        emitters: vec![(TapeId(0), emitter)],
        switches: vec![LinkId(1 + emitter)],
    }
}

fn means(spec: &NetworkSpec, groups: &[ChoppedGroup]) -> DimmingMeans {
    dimming_means(
        spec,
        groups,
        &SolveOptions::default(),
        &mut Workspace::new(),
    )
    .expect("means")
}

/// Duty 1 is steady, duty 0 dark.
#[test]
fn the_ends_of_the_scale() {
    let spec = three(0.2);
    let full = means(
        &spec,
        &[group(0, 1.0, 0.0), group(1, 1.0, 0.3), group(2, 1.0, 0.9)],
    );
    let steady = solved(spec.clone(), |s| {
        (0..3)
            .map(|e| s.tape(TapeId(0)).unwrap().cell_amps(e).to_vec())
            .collect::<Vec<_>>()
    });
    for (a, b) in full.cell_amps[0]
        .iter()
        .flatten()
        .zip(steady.iter().flatten())
    {
        assert_within("cell", *a, *b, 1e-12);
    }
    let dark = means(
        &spec,
        &[group(0, 0.0, 0.0), group(1, 0.0, 0.3), group(2, 0.0, 0.9)],
    );
    assert_eq!(dark.source_watts, 0.0);
    assert!(dark.cell_amps[0].iter().flatten().all(|i| *i == 0.0));
}

/// Without common copper it is all one when the edges come; with it, it is not.
#[test]
fn phase_matters_only_through_the_common() {
    let duties = [0.6, 0.3, 0.3];
    let at = |common: f64, starts: [f64; 3]| {
        let groups: Vec<_> = (0..3).map(|e| group(e, duties[e], starts[e])).collect();
        means(&three(common), &groups).cell_amps[0].clone()
    };
    let (aligned, staggered) = ([0.0; 3], [0.0, 0.6, 0.3]);
    let worst = |a: &[Vec<f64>], b: &[Vec<f64>]| {
        a.iter()
            .flatten()
            .zip(b.iter().flatten())
            .map(|(x, y)| (x - y).abs())
            .fold(0.0, f64::max)
    };
    assert!(worst(&at(0.0, aligned), &at(0.0, staggered)) < 1e-12);
    assert!(worst(&at(0.5, aligned), &at(0.5, staggered)) > 1e-4);
}

/// Half duty of one emitter: the copper of the pulse is that of full current, so heat is half, not a quarter.
#[test]
fn copper_heat_follows_duty() {
    let full = means(
        &three(0.2),
        &[group(0, 1.0, 0.0), group(1, 0.0, 0.0), group(2, 0.0, 0.0)],
    );
    let half = means(
        &three(0.2),
        &[group(0, 0.5, 0.0), group(1, 0.0, 0.0), group(2, 0.0, 0.0)],
    );
    assert_within("heat", half.copper_watts, 0.5 * full.copper_watts, 1e-12);
}

#[test]
fn faults_of_a_period_are_named() {
    let says = |g: ChoppedGroup| {
        dimming_means(
            &three(0.1),
            &[g],
            &SolveOptions::default(),
            &mut Workspace::new(),
        )
        .expect_err("an error")
        .to_string()
    };
    assert!(says(group(0, 1.2, 0.0)).contains("duty is 1.2"));
    assert!(says(group(0, f64::NAN, 0.0)).contains("duty is NaN"));
    assert!(
        says(ChoppedGroup {
            emitters: vec![(TapeId(0), 7)],
            ..group(0, 0.5, 0.0)
        })
        .contains("emitter 7 does not exist")
    );
    let many = vec![
        Chop {
            duty: fraction(0.5),
            start: fraction(0.0)
        };
        65
    ];
    assert!(
        dimming_states(&many)
            .expect_err("an error")
            .to_string()
            .contains("65 groups")
    );
}

proptest! {
    #![proptest_config(config(300))]

    /// Shares sum to 1, each emitter is on for its duty, and there are at most twice as many states as emitters, plus one.
    #[test]
    fn states_keep_the_duties(chops in prop::collection::vec((0.0..=1.0, 0.0..=1.0), 0..7)) {
        let chops: Vec<Chop> = chops.iter().map(|&(d, s)| Chop { duty: fraction(d), start: fraction(s) }).collect();
        let states = dimming_states(&chops).unwrap();
        prop_assert!((states.iter().map(|s| s.share.value).sum::<f64>() - 1.0).abs() < 1e-12);
        prop_assert!(states.len() <= 2 * chops.len() + 1);
        for (k, chop) in chops.iter().enumerate() {
            let on: f64 = states.iter().filter(|s| s.on[k]).map(|s| s.share.value).sum();
            prop_assert!((on - chop.duty.value).abs() < 1e-12, "{} against {}", on, chop.duty.value);
        }
    }

    /// Energy over the period: what the source gives is what loads take and copper heats.
    #[test]
    fn power_balances_over_the_period(duties in prop::array::uniform3(0.0..=1.0), starts in prop::array::uniform3(0.0..=1.0)) {
        let groups: Vec<_> = (0..3).map(|e| group(e, duties[e], starts[e])).collect();
        let m = means(&three(0.3), &groups);
        prop_assert!((m.source_watts - m.load_watts - m.copper_watts).abs() <= 1e-9 * m.source_watts.max(1e-6));
    }
}
