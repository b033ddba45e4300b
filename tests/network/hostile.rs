//! Networks that nobody should draw, and what the solver says.
use crate::build::*;
use crate::common::assert_within;
use crate::strategies::*;
use evenrun::load::Load;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

/// 24 V over feeders of 0.1 ohm at cell 0 to a tape of white strings, changed by `change`.
fn tape(cells: usize, change: impl FnOnce(&mut NetworkSpec, &mut TapeSpec)) -> NetworkSpec {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    let law = spec.law(string("white", 6, 300.0));
    let feeder = ohms(0.1);
    let mut tape = one_emitter(
        cells,
        law,
        0.005,
        0.005,
        vec![Attachment::through(0, plus, feeder)],
        vec![Attachment::through(0, minus, feeder)],
    );
    change(&mut spec, &mut tape);
    spec.tape(tape);
    spec
}

fn cells(spec: NetworkSpec) -> Vec<f64> {
    solved(spec, |s| {
        assert!(
            s.volt_error_bound().value < 1e-8,
            "{:?}",
            s.volt_error_bound()
        );
        s.tape(TapeId(0)).unwrap().cell_volts(0).to_vec()
    })
}

fn faults(spec: NetworkSpec) -> String {
    let faults: Box<dyn std::error::Error + Send + Sync> = spec.check().expect_err("faults").into();
    faults.to_string() + "\n"
}

#[test]
fn no_feed_is_dark() {
    let dark = cells(tape(10, |_, t| {
        t.common.attachments.clear();
        t.emitters[0].rail.attachments.clear();
    }));
    assert_eq!(dark, vec![0.0; 10]);
}

#[test]
fn a_feed_on_one_conductor_is_dark() {
    assert_eq!(
        cells(tape(10, |_, t| t.emitters[0].rail.attachments.clear())),
        vec![0.0; 10]
    );
    assert_eq!(
        cells(tape(10, |_, t| t.common.attachments.clear())),
        vec![0.0; 10]
    );
}

#[test]
fn all_links_zero() {
    let v = cells(tape(1000, |_, t| {
        t.common.links = Along::Uniform(ohms(0.0));
        t.emitters[0].rail.links = Along::Uniform(ohms(0.0));
    }));
    assert_within("one node", v[0] - v[999], 0.0, 1e-9);
    assert!(v[0] < 24.0 && v[0] > 15.0);
}

#[test]
fn a_broken_track_leaves_the_rest_dark() {
    let whole = cells(tape(4, |_, _| {}));
    let broken = |rail: usize| {
        cells(tape(10, |_, t| {
            let links = Along::Each(
                (0..9)
                    .map(|k| ohms(if k == 3 { f64::INFINITY } else { 0.005 }))
                    .collect(),
            );
            if rail == 0 {
                t.common.links = links
            } else {
                t.emitters[0].rail.links = links
            }
        }))
    };
    for v in [broken(0), broken(1)] {
        for (a, b) in v[..4].iter().zip(&whole) {
            assert_within("cell before the break", *a, *b, 1e-9);
        }
        assert_eq!(v[4..], [0.0; 6]);
    }
}

#[test]
fn eighteen_decades_of_links() {
    let spec = tape(40, |_, t| {
        let links = |k: usize| ohms(if k.is_multiple_of(2) { 1e-9 } else { 1e9 });
        t.common.links = Along::Each((0..39).map(links).collect());
    });
    // 1e-16 A left over times 1e10 ohm in a row: the proved bound is wide here, as it must be.
    let v = solved(spec, |s| {
        assert!(s.volt_error_bound().value < 1e-4);
        s.tape(TapeId(0)).unwrap().cell_volts(0).to_vec()
    });
    assert_within("joined pair", v[0] - v[1], 0.0, 1e-4);
    assert!(v[0] > 23.9 && v[2] < 20.0 && v[2] > 5.0, "{v:?}");
}

#[test]
fn one_cell() {
    let v = cells(tape(1, |_, _| {}));
    assert!(v[0] > 23.99 && v[0] < 24.0);
}

#[test]
fn a_million_cells() {
    let v = cells(tape(1_000_000, |_, _| {}));
    assert!(v[0] > 20.0 && v[999_999] < 16.0 && v.windows(2).all(|p| p[1] <= p[0]));
    // Refused before anything is laid out.
    assert!(faults(tape(100_000_000, |_, _| {})).contains("200000000 cells times rails; at most"));
    assert!(faults(tape(usize::MAX, |_, _| {})).contains("cells times rails; at most"));
}

#[test]
fn plus_of_one_supply_and_minus_of_another() {
    let v = cells(tape(10, |spec, t| {
        let (other, other_minus) = (spec.node("other plus"), spec.node("other minus"));
        spec.stiff_source("other", other, other_minus, volts(24.0));
        t.emitters[0].rail.attachments[0].node = other_minus;
    }));
    assert_eq!(v, vec![0.0; 10]);
}

/// Two supplies in a ring: 24 V + 24 V over 2 ohm drive 24 A.
#[test]
fn a_ring_of_two_supplies() {
    let mut spec = NetworkSpec::new();
    let (a, b, c, d) = (
        spec.node("a"),
        spec.node("b"),
        spec.node("c"),
        spec.node("d"),
    );
    spec.stiff_source("first", a, b, volts(24.0));
    spec.stiff_source("second", c, d, volts(24.0));
    spec.link("one", a, d, ohms(1.0));
    spec.link("other", c, b, ohms(1.0));
    solved(spec, |s| {
        assert_within(
            "current",
            s.source_current(SourceId(0)).unwrap().value,
            24.0,
            1e-9,
        )
    });
}

#[test]
fn reversed_polarity_is_dark() {
    let v = cells(tape(10, |_, t| t.polarity = Polarity::CommonMinus));
    assert_eq!(v, vec![0.0; 10]);
}

#[test]
fn an_unlit_emitter_with_a_shorted_rail_does_nothing() {
    let alone = cells(tape(10, |_, _| {}));
    let beside = cells(tape(10, |spec, t| {
        let law = spec.law(resistor(1e-3));
        let rail = RailSpec::uniform(ohms(0.0), vec![Attachment::at(3, NodeId(0))]);
        t.emitters.push(EmitterSpec {
            lit: false,
            ..emitter("off", law, rail)
        });
    }));
    assert_eq!(alone, beside);
}

/// All cells on their plateau: no slope anywhere but the copper's. 0.02 A each, 0.1 ohm feeders, 10 cells.
#[test]
fn saturated_everywhere() {
    let v = cells(tape(10, |spec, t| {
        t.emitters[0].law = spec.law(line(15.0, 10.0, Some(0.02)))
    }));
    // 0.2 A over 0.2 ohm, then 0.01 ohm a loop link with 0.18, 0.16, ... 0.02 A: 0.9 A in all.
    assert_within("first", v[0], 24.0 - 0.2 * 0.2, 1e-9);
    assert_within("last", v[9], 24.0 - 0.04 - 0.01 * 0.9, 1e-9);
}

#[test]
fn a_source_below_the_knee() {
    let spec = tape(10, |spec, t| {
        spec.sources[0].set_point = volts(12.0);
        t.emitters[0].law = spec.law(line(18.0, 300.0, None));
    });
    solved(spec, |s| {
        assert!(
            s.tape(TapeId(0))
                .unwrap()
                .cell_volts(0)
                .iter()
                .all(|v| (v - 12.0).abs() < 1e-9)
        );
        assert_eq!(s.source_current(SourceId(0)).unwrap().value, 0.0);
        assert_eq!(s.efficiency().value, 0.0);
    });
}

/// A supply of 1 A on plateaus of 2 A: its voltage falls until the cells leave their plateau.
#[test]
fn a_load_beyond_the_limit() {
    let limited = |limit| {
        tape(100, |spec, t| {
            spec.sources[0].limit = limit;
            t.emitters[0].law = spec.law(line(18.0, 100.0, Some(0.02)));
        })
    };
    solved(limited(Limit::ConstantCurrent(amps(1.0))), |s| {
        assert_eq!(s.source_state(SourceId(0)), Some(SourceState::Limits));
        assert_within(
            "current",
            s.source_current(SourceId(0)).unwrap().value,
            1.0,
            1e-9,
        );
        let v = s.source_voltage(SourceId(0)).unwrap().value;
        assert!(v > 18.0 && v < 21.0, "{v}");
    });
    solved(limited(Limit::Hiccup(amps(1.0))), |s| {
        assert_eq!(s.source_state(SourceId(0)), Some(SourceState::WouldTrip));
        assert!(s.source_current(SourceId(0)).unwrap().value > 1.5);
    });
    solved(limited(Limit::FoldBack(amps(1.0))), |s| {
        assert_eq!(
            s.source_state(SourceId(0)),
            Some(SourceState::WouldFoldBack)
        )
    });
    solved(limited(Limit::Trip(amps(5.0))), |s| {
        assert_eq!(s.source_state(SourceId(0)), Some(SourceState::Gives))
    });
}

/// A shorted cell in the middle (10 milliohm) takes nearly all.
#[test]
fn a_shorted_and_an_open_cell() {
    let v = cells(tape(10, |spec, t| {
        let short = spec.law(resistor(0.01));
        let open = spec.law(law(Load::Open));
        t.emitters[0].exceptions = vec![(5, short), (2, open)];
    }));
    // 24 V over 0.2 + 5·0.01 + 0.01 ohm, less what little the first cells take.
    assert_within("the short", v[5], 24.0 * 0.01 / 0.26, 0.02);
    assert_within("beyond it", v[9], v[5], 1e-9);
}

#[test]
fn six_very_different_emitters() {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    let laws = [
        string("red", 3, 900.0),
        string("white", 7, 150.0),
        line(20.0, 1.0, Some(0.05)),
        resistor(1e6),
        constant(1e-6),
        resistor(5.0),
    ];
    let emitters = laws.into_iter().enumerate().map(|(k, law)| {
        let law = spec.law(law);
        let link = 10_f64.powi(k as i32 - 4);
        emitter(
            &format!("e{k}"),
            law,
            RailSpec::uniform(ohms(link), vec![Attachment::at(k * 3, minus)]),
        )
    });
    let emitters = emitters.collect();
    let common = RailSpec::uniform(
        ohms(0.01),
        vec![Attachment::at(0, plus), Attachment::at(29, plus)],
    );
    spec.tape(TapeSpec {
        name: "six".into(),
        polarity: Polarity::CommonPlus,
        cells: 30,
        common,
        emitters,
    });
    solved(spec, |s| {
        assert!(s.bound_is_rigorous() && s.volt_error_bound().value < 1e-8)
    });
}

#[test]
fn stiff_sources_that_disagree() {
    let mut spec = NetworkSpec::new();
    let (a, b, minus) = (spec.node("a"), spec.node("b"), spec.node("minus"));
    spec.stiff_source("high", a, minus, volts(24.0));
    spec.stiff_source("low", b, minus, volts(22.0));
    spec.link("bar", a, b, ohms(0.0));
    assert!(
        faults(spec.clone())
            .contains("sources `high` and `low` are joined by zero resistance and differ by 2 V")
    );
    // The same over a tape's joints.
    spec.links.clear();
    let law = spec.law(resistor(10.0));
    let mut tape = one_emitter(
        3,
        law,
        0.0,
        0.1,
        vec![Attachment::at(0, a), Attachment::at(2, b)],
        vec![Attachment::at(0, minus)],
    );
    spec.tape(tape.clone());
    assert!(faults(spec.clone()).contains("joined by zero resistance"));
    // With any resistance between them: the lower one is blocked.
    spec.tapes.clear();
    tape.common.links = Along::Uniform(ohms(0.01));
    spec.tape(tape);
    solved(spec.clone(), |s| {
        assert_eq!(s.source_state(SourceId(1)), Some(SourceState::Blocked))
    });
    // A source shorted on itself.
    spec.link("short", b, minus, ohms(0.0));
    assert!(faults(spec).contains("source `low` is short-circuited"));
}

#[test]
fn every_fault_at_once() {
    let mut spec = tape(4, |spec, t| {
        spec.link("nan", NodeId(0), NodeId(1), ohms(f64::NAN));
        spec.link("nowhere", NodeId(0), NodeId(77), ohms(-1.0));
        spec.node("plus");
        spec.sources[0].set_point = volts(f64::INFINITY);
        t.common.links = Along::Each(vec![ohms(1.0)]);
        t.common.attachments[0].cell = 4;
        t.emitters[0].exceptions = vec![(0, LawId(9)), (0, LawId(0))];
    });
    spec.tapes.push(TapeSpec {
        cells: 0,
        name: "none".into(),
        ..spec.tapes[0].clone()
    });
    let text = faults(spec);
    for part in [
        "link `nan`: the resistance (ohm) is NaN",
        "link `nowhere`: node number 77 does not exist",
        "is -1; it must be 0 ohm or more",
        "node `plus` is there twice",
        "the set point (V) is inf",
        "1 link resistances for 3 links",
        "cell number 4 does not exist; there are 4",
        "load law number 9",
        "cell 0 has two exceptions",
        "tape `none`: no cell",
    ] {
        assert!(text.contains(part), "`{part}` is missing in\n{text}");
    }
    assert!(faults(NetworkSpec::new()).contains("no source"));
}

#[test]
fn options_that_cannot_be() {
    let network = tape(4, |_, _| {}).check().unwrap();
    let mut work = Workspace::new();
    for tolerance in [f64::NAN, 0.0, 2.0] {
        let options = SolveOptions {
            step_tolerance: volts(tolerance),
            ..SolveOptions::default()
        };
        assert!(
            network
                .solve(&options, &mut work)
                .expect_err("an error")
                .to_string()
                .contains("step_tolerance")
        );
    }
    let options = SolveOptions {
        most_iterations: 1,
        ..SolveOptions::default()
    };
    let error = network
        .solve(&options, &mut work)
        .expect_err("too few iterations");
    assert!(
        error
            .to_string()
            .contains("no solution within 1 iterations: the best current balance misses by"),
        "{error}"
    );
}

/// 10,000 outputs in a row of links: nothing recurses.
#[test]
fn a_long_chain_of_nodes() {
    let mut spec = NetworkSpec::new();
    let minus = spec.node("minus");
    let mut last = spec.node("start");
    spec.stiff_source("supply", last, minus, volts(24.0));
    for k in 0..10_000 {
        let next = spec.node(format!("n{k}"));
        spec.link(format!("l{k}"), last, next, ohms(1e-4));
        last = next;
    }
    let law = spec.law(resistor(1.0));
    spec.load("end", last, minus, law);
    solved(spec, |s| {
        assert_within(
            "current",
            s.load_current(LoadId(0)).unwrap().value,
            12.0,
            1e-9,
        )
    });
}

proptest! {
    #![proptest_config(config(300))]

    /// Joined, open and eighteen decades between, several emitters, any feeds: a solution, whose power balances.
    #[test]
    fn extreme_links(tape in extreme_tape(12, 4)) {
        let (spec, _) = tape.network();
        let network = spec.check().unwrap();
        let mut work = Workspace::new();
        let s = network.solve(&SolveOptions { step_tolerance: volts(1e-11), ..SolveOptions::default() }, &mut work);
        prop_assert!(s.is_ok(), "{}", s.unwrap_err());
        let s = s.unwrap();
        // Where next to nothing flows, what a step of 1e-11 V leaves shows: 1e-11 V times 0.05 S times 24 V.
        let power = s.total_source_power().value;
        let off = s.power_imbalance() * if power > 0.0 { power } else { 1.0 };
        prop_assert!(off.abs() <= 1e-9 * power + 1e-11, "{off} W of {power} W");
        for e in 0..tape.rails.len() - 1 {
            prop_assert!(s.tape(TapeId(0)).unwrap().cell_volts(e).iter().all(|v| v.is_finite() && *v <= tape.volts + 1e-6));
        }
    }
}
