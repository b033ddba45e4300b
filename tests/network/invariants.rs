//! Laws of physics that every solution obeys, each with its scope, and a case outside it where it fails.
use crate::build::*;
use crate::strategies::*;
use evenrun::load::{Diode, Load, SeriesString};
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

/// Voltages of all emitters' cells.
fn all_volts(spec: NetworkSpec, tape: TapeId) -> Vec<Vec<f64>> {
    let emitters = spec.tapes[tape.0].emitters.len();
    solved(spec, |s| {
        (0..emitters)
            .map(|e| s.tape(tape).unwrap().cell_volts(e).to_vec())
            .collect()
    })
}

fn nearly(a: &[Vec<f64>], b: &[Vec<f64>], volts: f64) -> Result<(), TestCaseError> {
    for (e, (x, y)) in a.iter().zip(b).enumerate() {
        prop_assert_eq!(x.len(), y.len());
        for (k, (p, q)) in x.iter().zip(y).enumerate() {
            prop_assert!(
                (p - q).abs() <= volts,
                "emitter {}, cell {}: {} against {}",
                e,
                k,
                p,
                q
            );
        }
    }
    Ok(())
}

/// A string whose resistances are `factor` times and whose currents 1/`factor` of another's.
fn scaled_string(count: u32, ballast: f64, factor: f64) -> evenrun::load::Law {
    let white = diode("white");
    let diode = Diode {
        at_current: white.at_current / factor,
        series_resistance: white.series_resistance * factor,
        ..white
    };
    law(Load::Series(SeriesString {
        diode,
        count,
        ballast: ohms(ballast * factor),
    }))
}

proptest! {
    #![proptest_config(config(120))]

    /// Scaling: every resistance times 2^k and every current by 2^-k leaves the voltages bit for bit (no joined points).
    #[test]
    fn scaling_by_powers_of_two(tape in any_tape(30, 4), count in 4_u32..=7, ballast in 100.0..500.0, k in -6_i32..=6) {
        let factor = 2_f64.powi(k);
        let at = |factor: f64| {
            let mut tape = tape.clone();
            for (law, links, feeders) in &mut tape.rails {
                *law = scaled_string(count, ballast, factor);
                links.iter_mut().for_each(|r| *r *= factor);
                feeders.iter_mut().for_each(|f| f.1 *= factor);
            }
            let (mut spec, id) = tape.network();
            // Joined points (the source, the pads) have a resistance too small to matter, which does not scale: give them one.
            spec.sources[0].output_resistance = ohms(0.125 * factor);
            for rail in spec.tapes.iter_mut().flat_map(|t| std::iter::once(&mut t.common).chain(t.emitters.iter_mut().map(|e| &mut e.rail))) {
                rail.attachments.iter_mut().for_each(|a| a.resistance = ohms(0.0625 * factor));
            }
            all_volts(spec, id)
        };
        let (one, other) = (at(1.0), at(factor));
        // The law itself takes a logarithm of R/a: its last bit is the only thing that may differ.
        nearly(&one, &other, 1e-12)?;
    }

    /// Scaling, resistors only: bit for bit.
    #[test]
    fn scaling_is_exact_for_resistors(links in prop::collection::vec(0.01..1.0, 1..30), load in 50.0..500.0, k in -9_i32..=9) {
        let at = |factor: f64| {
            let case = OneLoop {
                law: resistor(load * factor),
                links: links.iter().map(|r| r * factor).collect(),
                feeds: vec![(0, 0.25 * factor)],
                share: 0.5,
                volts: 24.0,
            };
            let (mut spec, tape) = case.network();
            spec.sources[0].output_resistance = ohms(0.125 * factor);
            all_volts(spec, tape)
        };
        prop_assert_eq!(at(1.0), at(2_f64.powi(k)));
    }

    /// Mirror: the tape seen from its other end has the mirrored solution.
    #[test]
    fn mirror(tape in any_tape(30, 4)) {
        let (spec, id) = tape.network();
        let forward = all_volts(spec, id);
        let (spec, id) = tape.mirrored().network();
        let mut back = all_volts(spec, id);
        back.iter_mut().for_each(|v| v.reverse());
        nearly(&forward, &back, 2e-9)?;
    }

    /// Order: nodes and links declared the other way round give the same solution.
    #[test]
    fn order_of_declaration(tape in any_tape(20, 3)) {
        let (spec, id) = tape.network();
        let mut turned = spec.clone();
        let last = turned.nodes.len() - 1;
        turned.nodes.reverse();
        turned.links.reverse();
        let flip = |n: &mut NodeId| n.0 = last - n.0;
        turned.links.iter_mut().for_each(|l| { flip(&mut l.from); flip(&mut l.to); });
        turned.sources.iter_mut().for_each(|s| { flip(&mut s.plus); flip(&mut s.minus); });
        for rail in turned.tapes.iter_mut().flat_map(|t| std::iter::once(&mut t.common).chain(t.emitters.iter_mut().map(|e| &mut e.rail))) {
            rail.attachments.iter_mut().for_each(|a| flip(&mut a.node));
        }
        nearly(&all_volts(spec, id), &all_volts(turned, id), 2e-9)?;
    }

    /// Refinement: a cell that draws nothing, put into the middle of every link, changes nothing; nor does a zero link.
    #[test]
    fn idle_cells_change_nothing(tape in any_tape(20, 3), zero in any::<bool>()) {
        let (spec, id) = tape.network();
        let before = all_volts(spec, id);
        let mut fine = tape.clone();
        fine.cells = 2 * tape.cells - 1;
        for (_, links, feeders) in &mut fine.rails {
            let halves = |&r: &f64| if zero { [r, 0.0] } else { [0.5 * r, 0.5 * r] };
            *links = links.iter().flat_map(halves).collect();
            feeders.iter_mut().for_each(|f| f.0 *= 2);
        }
        let (mut spec, id) = fine.network();
        let none = spec.law(law(Load::Open));
        for emitter in &mut spec.tapes[id.0].emitters {
            emitter.exceptions = (0..fine.cells).filter(|k| k % 2 == 1).map(|k| (k, none)).collect();
        }
        let mut after = all_volts(spec, id);
        after.iter_mut().for_each(|v| *v = v.iter().copied().step_by(2).collect());
        nearly(&before, &after, 2e-9)?;
    }

    /// Tellegen: what the source gives is what cells take and copper heats (asserted in `solved` for every solve of these
    /// tests to 1e-9); here also at both corners, and the bound holds against a tighter solve.
    #[test]
    fn power_balances(tape in any_tape(60, 6)) {
        let (mut spec, _) = tape.network();
        spec.sources[0].tolerance = percent(3.0);
        spec.sources[0].output_resistance = ohms(0.05);
        let network = spec.check().unwrap();
        let mut work = Workspace::new();
        for corner in [Corner::Low, Corner::Nominal, Corner::High] {
            let s = network.solve(&SolveOptions { corner, ..SolveOptions::default() }, &mut work).unwrap();
            prop_assert!(s.power_imbalance().abs() <= 1e-9, "{}", s.power_imbalance());
            prop_assert!(s.volt_error_bound().value <= 1e-7);
        }
    }

    /// Parallel merge: two equal ladders on one pair of nodes are one of half the resistance and twice the current.
    #[test]
    fn two_equal_ladders_are_one(links in prop::collection::vec(0.001..0.5, 1..30), load in 100.0..1000.0, feeder in 0.01..1.0) {
        let case = |factor: f64| OneLoop {
            law: resistor(load * factor),
            links: links.iter().map(|r| r * factor).collect(),
            feeds: vec![(0, 0.0)],
            share: 0.5,
            volts: 24.0,
        };
        let behind_feeder = |case: OneLoop, both: bool| {
            let (mut spec, tape) = case.network();
            let junction = spec.node("junction");
            spec.link("main", spec.sources[0].plus, junction, ohms(feeder));
            spec.tapes[0].common.attachments[0].node = junction;
            if both {
                let mut second = spec.tapes[0].clone();
                second.name = "second".into();
                spec.tape(second);
            }
            all_volts(spec, tape)
        };
        nearly(&behind_feeder(case(1.0), true), &behind_feeder(case(0.5), false), 1e-9)?;
    }

    /// A run fed alike from both ends can be cut at its middle: no current flows there.
    #[test]
    fn cutting_at_the_centre_of_symmetry(law in any_law(), half in 1_usize..20, link in 0.001..0.5, feeder in 0.0..0.5) {
        let cells = 2 * half;
        let case = |middle: f64| OneLoop {
            law: law.clone(),
            links: (0..cells - 1).map(|k| if k + 1 == half { middle } else { link }).collect(),
            feeds: vec![(0, feeder), (cells - 1, feeder)],
            share: 0.5,
            volts: 24.0,
        };
        let (whole, tape) = case(link).network();
        let (cut, _) = case(f64::INFINITY).network();
        nearly(&all_volts(whole, tape), &all_volts(cut, tape), 2e-9)?;
    }

    /// Rail shift, one feed only: resistance moved from plus to return of the same link changes no cell.
    #[test]
    fn rail_shift_with_one_feed(case in one_loop(any_law(), 40), share in 0.0..1.0) {
        let mut case = case;
        case.feeds.truncate(1);
        let (spec, tape) = case.network();
        let before = all_volts(spec, tape);
        case.share = share;
        let (spec, tape) = case.network();
        nearly(&before, &all_volts(spec, tape), 2e-9)?;
    }

    /// Monotone, one loop and one source voltage only: all copper thicker alike, one more feed, more volts or one cell fewer
    /// never lowers a cell. (One link alone: see `one_thicker_link_can_lower_a_cell`.)
    #[test]
    fn better_feeding_never_lowers_a_cell(case in one_loop(any_law(), 40), thinner in 0.3..1.0, more in 0_usize..40, off in 0_usize..40) {
        let (spec, tape) = case.network();
        let before = all_volts(spec, tape);
        let cells = case.links.len() + 1;
        let thicker = OneLoop {
            links: case.links.iter().map(|r| r * thinner).collect(),
            feeds: case.feeds.iter().map(|&(k, r)| (k, r * thinner)).collect(),
            ..case.clone()
        };
        let mut fed = case.clone();
        fed.feeds.push((more % cells, 0.05));
        let higher = OneLoop { volts: case.volts + 0.5, ..case.clone() };
        for better in [thicker, fed, higher] {
            let (spec, tape) = better.network();
            for (a, b) in before[0].iter().zip(&all_volts(spec, tape)[0]) {
                prop_assert!(b >= &(a - 2e-9), "{a} V falls to {b} V");
            }
        }
        let (mut spec, tape) = case.network();
        let none = spec.law(law(Load::Open));
        spec.tapes[0].emitters[0].exceptions.push((off % cells, none));
        for (a, b) in before[0].iter().zip(&all_volts(spec, tape)[0]) {
            prop_assert!(b >= &(a - 2e-9), "without a cell {a} V falls to {b} V");
        }
    }
}

/// Outside the scope of the rail shift: plus from one end, return from the other.
#[test]
fn rail_shift_fails_with_opposite_ends() {
    let at = |c: f64, r: f64| {
        let mut spec = NetworkSpec::new();
        let (plus, minus) = (spec.node("plus"), spec.node("minus"));
        spec.stiff_source("supply", plus, minus, volts(24.0));
        let law = spec.law(resistor(100.0));
        let tape = spec.tape(one_emitter(
            10,
            law,
            c,
            r,
            vec![Attachment::at(0, plus)],
            vec![Attachment::at(9, minus)],
        ));
        all_volts(spec, tape)
    };
    let (even, shifted) = (at(0.5, 0.5), at(0.9, 0.1));
    let most = even[0]
        .iter()
        .zip(&shifted[0])
        .map(|(a, b)| (a - b).abs())
        .fold(0.0, f64::max);
    assert!(most > 0.1, "largest change {most} V");
}

/// Outside the scope of monotony: one link alone. The far cell draws more through the shared feeder, and the near one falls.
/// 24 V, feeder 1 ohm, cells 10 ohm: link 10 ohm, then 0. Near: 24·(1/(1 + 1/(1/10 + 1/20)))/... = 20.87 V, then 20 V.
#[test]
fn one_thicker_link_can_lower_a_cell() {
    let near = |link: f64| {
        let case = OneLoop {
            law: resistor(10.0),
            links: vec![link],
            feeds: vec![(0, 1.0)],
            share: 0.5,
            volts: 24.0,
        };
        let (spec, tape) = case.network();
        all_volts(spec, tape)[0][0]
    };
    // Parallel of 10 and 20 ohm: 6.667 ohm behind 1 ohm; parallel of 10 and 10: 5 ohm.
    assert!((near(10.0) - 24.0 * (20.0 / 3.0) / (23.0 / 3.0)).abs() < 1e-9);
    assert!((near(0.0) - 24.0 * 5.0 / 6.0).abs() < 1e-9);
}

/// Outside the scope of monotony: plus from one end, return from the other (one emitter, uniform tape).
/// Removing a cell dims another. Three cells of 10 ohm, links of 10 ohm on both rails, plus at cell 0, return at cell 2.
///
/// Loop analysis by hand: with currents a, b, c of the cells, the common carries b + c, then c; the return a, then a + b.
/// Cell voltages: 10a = 24 − 10a − 10(a + b); 10b = 24 − 10(b + c) − 10(a + b); 10c = 24 − 10(b + c) − 10c.
/// By symmetry a = c: 30a + 10b = 24 and 20a + 30b = 24, so a = 48/70 A and b = 24/70 A: 6.857 V, 3.429 V, 6.857 V.
/// Without cell 0: 30b + 10c = 24 and 10b + 30c = 24: b = c = 0.6 A, 6 V each: cell 2 falls by 12.5 %.
#[test]
fn with_opposite_ends_a_cell_removed_dims_another() {
    let at = |without: bool| {
        let mut spec = NetworkSpec::new();
        let (plus, minus) = (spec.node("plus"), spec.node("minus"));
        spec.stiff_source("supply", plus, minus, volts(24.0));
        let ten = spec.law(resistor(10.0));
        let none = spec.law(law(Load::Open));
        let mut tape = one_emitter(
            3,
            ten,
            10.0,
            10.0,
            vec![Attachment::at(0, plus)],
            vec![Attachment::at(2, minus)],
        );
        if without {
            tape.emitters[0].exceptions.push((0, none));
        }
        let tape = spec.tape(tape);
        all_volts(spec, tape).remove(0)
    };
    let (all, less) = (at(false), at(true));
    assert!(
        (all[2] - 480.0 / 70.0).abs() < 1e-9 && (all[1] - 240.0 / 70.0).abs() < 1e-9,
        "{all:?}"
    );
    assert!(
        (less[2] - 6.0).abs() < 1e-9 && (less[1] - 6.0).abs() < 1e-9,
        "{less:?}"
    );
    assert!((1.0 - less[2] / all[2] - 0.125).abs() < 1e-9);
}
