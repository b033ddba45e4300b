//! The loop ladder against the network solver.
use crate::build::*;
use crate::strategies::*;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

proptest! {
    #![proptest_config(config(300))]

    /// One loop, any monotone law, any links, one to three feeds: folding the rails changes nothing.
    #[test]
    fn the_loop_ladder_is_the_network(case in one_loop(any_law(), 120)) {
        let feeds: Vec<LoopFeed> = case.feeds.iter().map(|&(cell, r)| LoopFeed { cell, resistance: ohms(r) }).collect();
        let ladder = LoopLadder::new(&case.law, volts(case.volts), case.links.len() + 1, LoopLinks::Each(&case.links), &feeds).unwrap();
        let mut work = LoopWork::new();
        let fast = ladder.solve(&mut work).unwrap();
        let (spec, tape) = case.network();
        solved(spec, |s| {
            let tape = s.tape(tape).unwrap();
            for (k, v) in tape.cell_volts(0).iter().enumerate() {
                let found = fast.cell_voltage(k).unwrap().value;
                prop_assert!((found - v).abs() <= 3e-9, "cell {k}: {found} against {v}, bound {:?}", s.volt_error_bound());
            }
            Ok(())
        })?;
    }

    /// The uniform kernel against the listed one.
    #[test]
    fn uniform_links_are_equal_links(law in any_law(), cells in 2_usize..2000, link in any_ohms(), at in 0_usize..2000) {
        let feeds = [LoopFeed { cell: at % cells, resistance: ohms(link * 0.3) }];
        let each = vec![link; cells - 1];
        let (mut a, mut b) = (LoopWork::new(), LoopWork::new());
        let uniform = LoopLadder::new(&law, volts(24.0), cells, LoopLinks::Uniform(ohms(link)), &feeds).unwrap().solve(&mut a).unwrap();
        let listed = LoopLadder::new(&law, volts(24.0), cells, LoopLinks::Each(&each), &feeds).unwrap().solve(&mut b).unwrap();
        for (p, q) in uniform.drops().iter().zip(listed.drops()) {
            prop_assert!((p - q).abs() <= 3e-9, "{p} against {q}");
        }
    }
}
