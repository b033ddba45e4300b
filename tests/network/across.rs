//! Links across a source: a resistor ladder from plus to minus, a bleeder, a short.
//!
//! Once such a circuit was dark with a bound of zero: plus and minus were taken for one island without a source between them.
//! Without that condition a stiff source gave 40.0 A for 36.1: its current was the small rest of a huge one.
use crate::build::*;
use crate::common::assert_within;
use crate::gauss::gauss;
use crate::strategies::*;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

fn on_24_volts() -> (NetworkSpec, NodeId, NodeId, SourceId) {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    let supply = spec.stiff_source("supply", plus, minus, volts(24.0));
    (spec, plus, minus, supply)
}

/// 24 V over 0.332 25 + 0.332 25 ohm: 36.117 A (24/0.6645 = 36.117 38).
#[test]
fn two_links_across_a_stiff_source() {
    let (mut spec, plus, minus, supply) = on_24_volts();
    let middle = spec.node("middle");
    let out = spec.link("out", plus, middle, ohms(0.33225));
    spec.link("back", middle, minus, ohms(0.33225));
    solved(spec, |s| {
        assert_within(
            "current of the source",
            s.source_current(supply).unwrap().value,
            24.0 / 0.6645,
            1e-10,
        );
        assert_within(
            "current of the link",
            s.link_current(out).unwrap().value,
            24.0 / 0.6645,
            1e-10,
        );
        assert_within(
            "the middle",
            s.node_voltage(middle).unwrap().value,
            12.0,
            1e-12,
        );
        assert!(s.bound_is_rigorous());
        assert!(s.residual().value <= 1e-9 && s.amp_error_bound().value <= 1e-9);
        assert_eq!(s.source_state(supply), Some(SourceState::Gives));
    });
}

/// 1 kohm takes 24 mA whatever lies beside it; 2 Mohm take 12 uA.
#[test]
fn a_load_beside_a_bleeder() {
    let (mut spec, plus, minus, supply) = on_24_volts();
    let bleeder = spec.link("bleeder", plus, minus, ohms(2e6));
    let law = spec.law(resistor(1000.0));
    let load = spec.load("load", plus, minus, law);
    solved(spec, |s| {
        assert_within("load", s.load_current(load).unwrap().value, 0.024, 1e-14);
        assert_within(
            "bleeder",
            s.link_current(bleeder).unwrap().value,
            12e-6,
            1e-16,
        );
        assert_within(
            "supply",
            s.source_current(supply).unwrap().value,
            0.024_012,
            1e-14,
        );
        assert!(s.bound_is_rigorous());
    });
}

/// A source that holds 5 A into 0.6645 ohm shows 3.3225 V; one of 50 A gives what 24 V drive.
#[test]
fn a_limited_source_across_a_link() {
    for (limit, amps_, volts_, state) in [
        (5.0, 5.0, 3.3225, SourceState::Limits),
        (
            50.0,
            24.0 / 0.6745,
            24.0 * 0.6645 / 0.6745,
            SourceState::Gives,
        ),
    ] {
        let (mut spec, plus, minus, supply) = on_24_volts();
        spec.sources[0].output_resistance = ohms(0.01);
        spec.sources[0].limit = Limit::ConstantCurrent(amps(limit));
        spec.link("short", plus, minus, ohms(0.6645));
        solved(spec, |s| {
            assert_within(
                "current",
                s.source_current(supply).unwrap().value,
                amps_,
                1e-9,
            );
            assert_within(
                "voltage",
                s.source_voltage(supply).unwrap().value,
                volts_,
                1e-9,
            );
            assert_eq!(s.source_state(supply), Some(state));
        });
    }
}

/// A zener-like load reversed beside a link: a diode blocks, a tape beside the link does not care.
#[test]
fn a_tape_beside_a_link_is_the_tape_alone() {
    let lowest = |with: bool| {
        let (mut spec, plus, minus, _) = on_24_volts();
        if with {
            spec.link("bleeder", plus, minus, ohms(3.0));
        }
        let law = spec.law(string("white", 6, 300.0));
        let through = |node| vec![Attachment::through(0, node, ohms(0.1))];
        let tape = spec.tape(one_emitter(
            30,
            law,
            0.05,
            0.07,
            through(plus),
            through(minus),
        ));
        solved(spec, |s| {
            s.tape(tape).unwrap().least_cell_voltage(0).unwrap().value
        })
    };
    assert_within("last cell", lowest(true), lowest(false), 1e-11);
}

/// Solves `a·x = b`.
fn dense(mut a: Vec<Vec<f64>>, b: Vec<f64>) -> Vec<f64> {
    for (row, own) in a.iter_mut().zip(b) {
        row.push(own);
    }
    gauss(a)
}

proptest! {
    #![proptest_config(config(300))]

    /// Any mesh of resistors on one stiff source is what modified nodal analysis says: node voltages and the source's current as
    /// unknowns, the source a constraint, solved densely.
    #[test]
    fn any_mesh_on_a_stiff_source(
        size in 2_usize..8,
        tree in prop::collection::vec((0_usize..100, -2.0..4.0), 6),
        more in prop::collection::vec((0_usize..100, 0_usize..100, -2.0..4.0), 0..8),
        loads in prop::collection::vec((0_usize..100, 0_usize..100, 0.5..4.0), 0..4),
    ) {
        let ohm = |e: f64| 10_f64.powf(e);
        let mut links: Vec<(usize, usize, f64)> = (1..size).map(|k| (k, tree[k - 1].0 % k, ohm(tree[k - 1].1))).collect();
        links.extend(more.iter().map(|&(a, b, e)| (a % size, b % size, ohm(e))).filter(|l| l.0 != l.1));
        let (mut spec, plus, minus, supply) = on_24_volts();
        let mut nodes = vec![plus, minus];
        nodes.extend((2..size).map(|k| spec.node(format!("n{k}"))));
        for (k, &(a, b, r)) in links.iter().enumerate() {
            spec.link(format!("l{k}"), nodes[a], nodes[b], ohms(r));
        }
        // A resistive load counts one way: laid from the plus side it is a resistor.
        let fixed = &loads;
        let mut all = links.clone();
        for (k, &(a, b, e)) in fixed.iter().enumerate() {
            if a % size == 0 && b % size != 0 {
                let law = spec.law(resistor(ohm(e)));
                spec.load(format!("load {k}"), plus, nodes[b % size], law);
                all.push((0, b % size, ohm(e)));
            }
        }
        // Unknowns: every node but minus, and the current out of plus.
        let place = |node: usize| if node == 0 { Some(0) } else { node.checked_sub(2).map(|k| k + 1) };
        let n = size;
        let (mut a, mut b) = (vec![vec![0.0; n]; n], vec![0.0; n]);
        for &(x, y, r) in &all {
            for (p, q) in [(x, y), (y, x)] {
                if let Some(row) = place(p) {
                    a[row][row] += 1.0 / r;
                    if let Some(column) = place(q) {
                        a[row][column] -= 1.0 / r;
                    }
                }
            }
        }
        a[0][n - 1] -= 1.0;
        a[n - 1][0] = 1.0;
        b[n - 1] = 24.0;
        let found = dense(a, b);
        solved(spec, |s| {
            for k in 2..size {
                let volts = s.node_voltage(nodes[k]).unwrap().value;
                prop_assert!((volts - found[k - 1]).abs() <= s.volt_error_bound().value + 1e-11, "node {k}: {volts} for {}", found[k - 1]);
            }
            let amps = s.source_current(supply).unwrap().value;
            // The dense solve itself loses six decades of resistance to its sums.
            let within = s.amp_error_bound().value + 1e-9 * found[n - 1];
            prop_assert!((amps - found[n - 1]).abs() <= within, "{amps} A for {}, bound {within}", found[n - 1]);
            prop_assert!(s.bound_is_rigorous());
            Ok(())
        })?;
    }

    /// The same mesh behind an output resistance of nothing, little or much, with or without a limit: power balances, the bound is
    /// rigorous where the source gives freely, and the current is that of the circuit or the limit.
    #[test]
    fn any_limit_across_any_link(link in -3.0..3.0, output in prop_oneof![Just(0.0), 1e-3..1.0], limit in 0.01..1000.0) {
        let link = 10_f64.powf(link);
        let (mut spec, plus, minus, supply) = on_24_volts();
        spec.sources[0].output_resistance = ohms(output);
        spec.sources[0].limit = Limit::ConstantCurrent(amps(limit));
        spec.link("link", plus, minus, ohms(link));
        let expected = f64::min(24.0 / (link + output), limit);
        solved(spec, |s| {
            let found = s.source_current(supply).unwrap().value;
            prop_assert!((found - expected).abs() <= 1e-9 * expected, "{found} for {expected}");
            Ok(())
        })?;
    }
}
