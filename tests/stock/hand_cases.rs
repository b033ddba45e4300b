//! Cases that can be checked by hand.

use crate::build::{mm, plan, spec, try_plan};
use evenrun::choose::stock::{
    Batches, Joints, Limit, Objective, Offcut, StockError, StockLength, StockSpec,
};
use evenrun::exact::CutPitch;
use evenrun::quantity::{milliohms, ohms};

/// Ten of 1.050 m and ten of 0.950 m from 2 m: with a 4 mm kerf no two of different length
/// share a bar (2.004 m), 10 + 5 bars; without, 10. The area alone asks for 10 both times.
#[test]
fn kerf_parts_what_would_just_fit() {
    let mut lengths = vec![1050; 10];
    lengths.extend([950; 10]);
    let with = plan(&spec(4, &[(2000, 1)], &lengths));
    assert_eq!(
        (with.bars_bought, with.lower_bound, with.proven),
        (15, 15, true)
    );
    let without = plan(&spec(0, &[(2000, 1)], &lengths));
    assert_eq!(
        (without.bars_bought, without.lower_bound, without.proven),
        (10, 10, true)
    );
}

/// Two of 998 mm and one kerf of 4 mm fill 2000 mm; a third cut is not needed.
#[test]
fn the_last_piece_needs_no_cut_when_nothing_is_left() {
    let full = plan(&spec(4, &[(2000, 1)], &[998, 998]));
    assert_eq!(full.bars_bought, 1);
    assert_eq!(full.bars[0].offcut, mm(0));
    assert_eq!(full.bars[0].dust, mm(4));
    let over = plan(&spec(4, &[(2000, 1)], &[998, 999]));
    assert_eq!(over.bars_bought, 2);
    // 500 + 4 + 500 of 2000: the offcut loses one more cut.
    let rest = plan(&spec(4, &[(2000, 1)], &[500, 500]));
    assert_eq!((rest.bars[0].offcut, rest.bars[0].dust), (mm(992), mm(8)));
}

#[test]
fn mitre_allowances_lengthen_the_cut() {
    let mut mitred = spec(0, &[(2000, 1)], &[1000, 1000]);
    assert_eq!(plan(&mitred).bars_bought, 1);
    mitred.pieces[0].end_allowance = mm(1);
    assert_eq!(plan(&mitred).bars_bought, 2);
}

/// Two 3 m bars at 310 cost 620; one 5 m bar at 480 holds both pieces.
#[test]
fn the_cheaper_mix_of_stock_lengths_wins() {
    let mut mix = spec(0, &[(3000, 310), (5000, 480)], &[2400, 2500]);
    mix.objective = Objective::LeastCost;
    let best = plan(&mix);
    assert_eq!((best.cost, best.proven), (480, true));
    let runner_up = best.runner_up.expect("there is another stock length");
    assert_eq!(runner_up.value, Some(620));
    mix.stock[1].count = Some(0);
    assert_eq!(plan(&mix).cost, 620);
}

#[test]
fn limited_stock_is_not_overdrawn() {
    let mut limited = spec(0, &[(2000, 1), (1000, 5)], &[900; 5]);
    limited.stock[0].count = Some(2);
    limited.objective = Objective::LeastCost;
    let best = plan(&limited);
    assert_eq!((best.cost, best.proven), (2 + 5, true));
    limited.stock[1].count = Some(0);
    let error = try_plan(&limited).expect_err("two bars hold four pieces");
    assert!(
        matches!(error, StockError::NotEnough { pieces: 5, .. }),
        "{error}"
    );
}

#[test]
fn an_offcut_on_hand_saves_a_bar() {
    let mut spec = spec(4, &[(2000, 100)], &[1500, 1500, 700]);
    assert_eq!(plan(&spec).bars_bought, 3);
    spec.offcuts.push(Offcut {
        name: "rack 7".into(),
        length: mm(702),
        batch: None,
    });
    let best = plan(&spec);
    assert_eq!((best.bars_bought, best.cost, best.proven), (2, 200, true));
    assert!(best.bars.iter().any(|b| b.on_hand && b.stock == "rack 7"));
}

#[test]
fn offcuts_from_a_stated_length_are_kept_and_no_waste() {
    let mut spec = spec(0, &[(2000, 1)], &[1200, 1200, 400, 400]);
    spec.keep_from = Some(mm(800));
    let best = plan(&spec);
    // 1200 + 400 + 400 leaves 0 and 1200 leaves 800: nothing is wasted.
    assert_eq!(
        (best.bars_bought, best.waste, best.kept),
        (2, mm(0), mm(800))
    );
    assert!(best.least_waste);
}

/// 24 cuts a metre: 120 increments to the 5 m reel; three pieces of 40 increments fill it,
/// though each is printed as 1.666666667 m.
#[test]
fn tape_counts_in_increments() {
    let pitch: CutPitch = "24 per m".parse().expect("a pitch");
    let mut tape = StockSpec::new("tape");
    tape.increment = Some(pitch);
    tape.stock.push(StockLength::new("reel", mm(5000), 1));
    for n in 0..3 {
        tape.pieces.push(evenrun::choose::stock::Piece::new(
            format!("r{n}"),
            pitch.length_of(40),
        ));
    }
    let best = plan(&tape);
    assert_eq!((best.bars_bought, best.proven), (1, true));
    assert_eq!(best.waste, mm(0));
}

/// 12 m from 5 m reels: two full ones and 2 m; with a second run of 3 m the third reel is full.
#[test]
fn a_run_longer_than_the_reel_is_joined() {
    let mut tape = spec(0, &[(5000, 900)], &[12_000, 3_000]);
    tape.joints = Joints::WhenLonger { price: 50 };
    let best = plan(&tape);
    assert_eq!(
        (best.bars_bought, best.joints, best.cost, best.proven),
        (3, 2, 2_800, true)
    );
}

/// Three runs of 3 m from 5 m reels: whole, three reels; with one joint, two.
#[test]
fn a_joint_by_choice_saves_a_reel() {
    let mut tape = spec(0, &[(5000, 900)], &[3000, 3000, 3000]);
    assert_eq!(plan(&tape).bars_bought, 3);
    tape.joints = Joints::ByChoice { price: 50 };
    let best = plan(&tape);
    assert_eq!((best.bars_bought, best.joints, best.proven), (2, 1, true));
    // Priced above the reel the joint is not worth it.
    tape.objective = Objective::LeastCost;
    assert_eq!(plan(&tape).cost, 2 * 900 + 50);
    tape.joints = Joints::ByChoice { price: 1000 };
    let best = plan(&tape);
    assert_eq!((best.cost, best.joints, best.proven), (2700, 0, true));
}

/// Reels of two batches; a sight line of 6 m needs two reels of one batch, and the only
/// batch with two is the dear one.
#[test]
fn a_sight_line_stays_on_one_batch() {
    let mut tape = spec(0, &[], &[3000, 3000, 3000]);
    for (name, price, count, batch) in [("a", 500, Some(1), "A"), ("b", 800, None, "B")] {
        let mut reel = StockLength::new(name, mm(5000), price);
        (reel.count, reel.batch) = (count, Some(batch.into()));
        tape.stock.push(reel);
    }
    tape.objective = Objective::LeastCost;
    tape.pieces[0].line = Some("cove".into());
    tape.pieces[1].line = Some("cove".into());
    let free = plan(&tape);
    assert_eq!((free.cost, free.proven), (500 + 1600, true));
    tape.batches = Batches::OnePerLine;
    let held = plan(&tape);
    assert_eq!(
        (held.cost, held.batch_changes, held.proven),
        (500 + 1600, 0, true)
    );
    tape.pieces[2].line = Some("cove".into());
    let held = plan(&tape);
    assert_eq!(
        (held.cost, held.batch_changes, held.proven),
        (2400, 0, true)
    );
    // A change of batch for 100 is cheaper than a dear reel for 300 more.
    tape.batches = Batches::Priced(100);
    let priced = plan(&tape);
    assert_eq!((priced.cost, priced.batch_changes), (500 + 1600 + 100, 1));
}

/// 12 m from 5 m reels has two joints: 2 · 15 mΩ on the way to its far end; the whole run has none.
#[test]
fn joints_are_listed_with_what_they_add() {
    let mut tape = spec(0, &[(5000, 900)], &[12_000, 3_000]);
    tape.joints = Joints::WhenLonger { price: 50 };
    tape.joint_resistance = milliohms(15.0);
    let best = plan(&tape);
    assert_eq!(best.joined.len(), 1);
    let one = &best.joined[0];
    assert_eq!((one.piece.as_str(), one.joints), ("p00000", 2));
    assert!((one.resistance.value - 0.030).abs() < 1e-12);
    tape.joint_resistance = ohms(f64::NAN);
    let faults = tape.check().expect_err("no resistance");
    assert!(faults[0].to_string().contains("a joint has NaN ohm"));
}

/// Fewest reels first, then fewest joints: 4 m, 3 m, 3 m from 5 m reels fill two reels with one
/// joint at best, though three reels need none; and a joint never costs a reel more.
#[test]
fn reels_come_before_joints() {
    let mut tape = spec(0, &[(5000, 900)], &[4000, 3000, 3000]);
    tape.joints = Joints::ByChoice { price: 1_000_000 };
    let best = plan(&tape);
    assert_eq!((best.bars_bought, best.joints, best.proven), (2, 1, true));
    let next = best.runner_up.expect("without joints");
    assert_eq!(next.value, Some(3));
    assert!(next.differs.contains("without joints"), "{}", next.differs);
}

/// Ten of 1.050 m and ten of 0.950 m: the kerf costs five bars. Two bars of 2 m on hand for
/// three pieces: their number costs the dearer third bar.
#[test]
fn what_binds_is_named_with_what_it_costs() {
    let mut lengths = vec![1050; 10];
    lengths.extend([950; 10]);
    let best = plan(&spec(4, &[(2000, 1)], &lengths));
    let kerf = best.binding.iter().find(|b| b.limit == Limit::Kerf);
    assert_eq!(kerf.expect("the kerf binds").value_without, 10);
    let mut limited = spec(0, &[(2000, 1), (1000, 5)], &[900; 5]);
    limited.stock[0].count = Some(2);
    limited.objective = Objective::LeastCost;
    let best = plan(&limited);
    let count = best.binding.iter().find(|b| b.limit == Limit::Count);
    // Three bars of 2 m hold all five.
    assert_eq!(count.expect("the count binds").value_without, 3);
    let free = plan(&spec(0, &[(2000, 1)], &[900; 4]));
    assert!(free.binding.is_empty());
    let next = free.runner_up.expect("why not the next");
    assert!(next.differs.contains("one bar fewer does not exist"));
}
