//! Inputs that are wrong, large or full of ties.

use crate::build::{mm, plan, spec, try_plan};
use evenrun::choose::stock::{self, Joints, Objective, StockError, StockFault, StockSpec};
use evenrun::exact::CutPitch;
use evenrun::progress::{Go, Progress, Step};

fn faults(spec: StockSpec) -> String {
    let faults = spec.check().expect_err("the spec is bad");
    faults
        .iter()
        .map(StockFault::to_string)
        .collect::<Vec<_>>()
        .join("\n")
}

#[test]
fn a_piece_longer_than_all_stock_is_named() {
    let text = faults(spec(0, &[(2000, 1), (1000, 1)], &[500, 2001]));
    assert!(text.contains("piece `p00001` needs 2.001 m"), "{text}");
    assert!(
        text.contains("`stock 0` with 2 m") && text.contains("allow joints"),
        "{text}"
    );
    let mut joined = spec(0, &[(2000, 1)], &[2001]);
    joined.joints = Joints::WhenLonger { price: 1 };
    assert_eq!(plan(&joined).bars_bought, 2);
}

#[test]
fn an_empty_catalogue_says_so() {
    let text = faults(spec(0, &[], &[500, 600]));
    assert!(
        text.contains("2 pieces are needed and no stock length is listed"),
        "{text}"
    );
    let nothing = plan(&spec(0, &[], &[]));
    assert_eq!(
        (nothing.bars.len(), nothing.value, nothing.proven),
        (0, 0, true)
    );
}

#[test]
fn prices_out_of_range_are_refused_and_zero_is_not() {
    let text = faults(spec(0, &[(2000, -1)], &[500]));
    assert!(text.contains("stock `stock 0` has a price of -1"), "{text}");
    let text = faults(spec(0, &[(2000, i64::MAX)], &[500]));
    assert!(
        text.contains("has a price of 9223372036854775807"),
        "{text}"
    );
    let mut free = spec(0, &[(2000, 0)], &[1500, 1500]);
    free.objective = Objective::LeastCost;
    let best = plan(&free);
    assert_eq!((best.cost, best.proven, best.bars_bought), (0, true, 2));
}

#[test]
fn every_fault_is_reported_at_once() {
    let mut bad = spec(-1, &[(2000, 1), (0, 1)], &[500, -3, 700]);
    bad.pieces[2].id = "p00000".into();
    bad.pieces[2].start_allowance = mm(-5);
    let text = faults(bad);
    for part in [
        "the kerf is -1 mm",
        "stock `stock 1` is 0 mm long",
        "piece `p00001` is -3 mm long",
        "the start allowance of piece `p00000` is -5 mm",
        "the name `p00000` is used twice among pieces",
    ] {
        assert!(text.contains(part), "no `{part}` in:\n{text}");
    }
}

#[test]
fn tape_lengths_off_the_increment_are_refused() {
    let pitch: CutPitch = "50 mm".parse().expect("a pitch");
    let mut tape = spec(0, &[(5000, 1)], &[1020]);
    tape.increment = Some(pitch);
    let text = faults(tape.clone());
    assert!(
        text.contains("1.02 m, not a whole number of cut increments"),
        "{text}"
    );
    assert!(text.contains("1 m and 1.05 m"), "{text}");
    tape.kerf = mm(2);
    assert!(faults(tape).contains("tape loses nothing at a cut"));
}

#[test]
fn ten_thousand_equal_pieces_are_grouped() {
    let best = plan(&spec(4, &[(6000, 10)], &vec![733; 10_000]));
    // 8 · 737 = 5896 <= 6004: eight to the bar.
    assert_eq!((best.bars_bought, best.proven), (1250, true));
}

#[test]
fn ties_everywhere_give_one_answer() {
    let mut job = spec(0, &[(2000, 5), (2000, 5), (2000, 5)], &[1000; 40]);
    job.objective = Objective::LeastCost;
    let first = plan(&job);
    assert_eq!((first.cost, first.proven), (100, true));
    assert!(
        first.bars.iter().all(|b| b.stock == "stock 0"),
        "the first name wins a tie"
    );
    assert_eq!(first, plan(&job));
}

#[test]
fn too_many_pieces_are_refused_before_anything_is_allocated_for_them() {
    let text = faults(spec(0, &[(2000, 1)], &vec![1; 100_001]));
    assert!(
        text.contains("100001 pieces, and at most 100000 are taken"),
        "{text}"
    );
    let mut endless = spec(0, &[(1, 1)], &[100_000_000]);
    endless.joints = Joints::WhenLonger { price: 0 };
    let error = try_plan(&endless).expect_err("too many full lengths");
    assert!(matches!(error, StockError::TooMany { .. }), "{error}");
}

#[test]
fn a_cancelled_search_keeps_what_it_has() {
    let pieces: Vec<i64> = (0..60).map(|n| 281 + (n * n * 37 + n * 11) % 640).collect();
    let mut job = spec(4, &[(2000, 1999), (1500, 1511), (1100, 1123)], &pieces);
    job.objective = Objective::LeastCost;
    let mut steps = 0;
    let mut callback = |step: Step| {
        assert_eq!(step.phase, "cutting stock");
        assert!(step.done <= step.of);
        steps += 1;
        Go::Cancel
    };
    let checked = job.check().expect("a good spec");
    let found = stock::plan(&checked, &mut Progress::new(&mut callback)).expect("a first plan");
    assert!(found.cancelled == (steps > 0));
    assert!(found.proven != found.cancelled);
}
