//! Hostile problems: each ends in faults, in a plan or in a finding, and none in a panic.

use super::Dice;
use super::brute::Case;
use evenrun::choose::feeding::{
    EnergyCost, FixedFeed, FixedSegment, Joint, JointCut, MOST_PRICE, Positions, Reel, RunProblem,
};
use evenrun::exact::ExactLength;
use evenrun::quantity::{amps, fraction, ohms, seconds, volts};

const NUMBERS: [f64; 10] = [
    f64::NAN,
    f64::INFINITY,
    f64::NEG_INFINITY,
    -1.0,
    0.0,
    f64::MIN_POSITIVE,
    1e-9,
    1e6,
    1e300,
    f64::MAX,
];
const PRICES: [i64; 7] = [i64::MIN, -1, 0, 1, MOST_PRICE, MOST_PRICE + 1, i64::MAX];
const MARKS: [u64; 6] = [0, 1, 3, 6, 7, u64::MAX];
const LENGTHS: [i64; 6] = [i64::MIN, -1, 0, 1, 1_000_000_000_000, i64::MAX];

/// Makes one field of a sound problem hostile.
fn spoil(run: &mut RunProblem, dice: &mut Dice) {
    let number = NUMBERS[dice.next(NUMBERS.len() as u64) as usize];
    let price = PRICES[dice.next(PRICES.len() as u64) as usize];
    let mark = MARKS[dice.next(MARKS.len() as u64) as usize];
    let other = MARKS[dice.next(MARKS.len() as u64) as usize];
    let length = ExactLength::from_nanometres(LENGTHS[dice.next(LENGTHS.len() as u64) as usize]);
    match dice.next(26) {
        0 => run.increments = mark,
        1 => run.limits.least_current = fraction(number),
        2 => run.limits.visible_step = Some(fraction(number)),
        3 => run.limits.rail_current = Some(amps(number)),
        4 => run.limits.segment_current = Some(amps(number)),
        5 => run.limits.branch = Some(mark),
        6 => run.limits.feeder_length = Some(length),
        7 => run.source.set_point.low = volts(number),
        8 => run.source.output_resistance = ohms(number),
        9 => run.source.reserve = volts(number),
        10 => run.tape.common.low = ohms(number),
        11 => run.tape.emitters[0].rail.high = ohms(number),
        12 => run.tape.rated = volts(number),
        13 => run.costs.per_segment = price,
        14 => run.costs.per_feed = price,
        15 => run.costs.per_break = price,
        16 => run.costs.energy = Some(EnergyCost::new(seconds(number), price)),
        17 => run.wires[0].price_per_metre = price,
        18 => run.places[0].to_start = Some(length),
        19 => run.places[0].slack = length,
        20 => run.places[0].to_marks.push((mark, length)),
        21 => run.reel = Some(Reel::new(mark, ohms(number), price)),
        22 => run.breaks = Positions::At(vec![mark, other]),
        23 => run.fixed.segments.push(FixedSegment::new(mark, other)),
        24 => run.fixed.feeds.push(FixedFeed::new(mark)),
        _ => run.joints.push(Joint {
            price,
            cut: JointCut::Forced,
            parts_tape: true,
            ..Joint::new(mark, ohms(number))
        }),
    }
}

#[test]
fn no_problem_makes_the_search_panic() {
    let mut dice = Dice(0xBAD_C0DE);
    let (mut refused, mut solved) = (0, 0);
    for _ in 0..4_000 {
        let mut problem = Case::random(&mut dice).problem();
        problem.effort = dice.next(200);
        for _ in 0..1 + dice.next(3) {
            spoil(&mut problem, &mut dice);
        }
        match problem.check() {
            Err(faults) => {
                assert!(!faults.0.is_empty());
                refused += 1;
            }
            Ok(run) => {
                run.plan().expect("nobody stops it, and the solver agrees");
                solved += 1;
            }
        }
    }
    assert!(refused > 400 && solved > 400, "{refused}, {solved}");
}
