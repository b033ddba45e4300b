//! The trade-off of a run against everything that can be built: every chain, way, wire and place.

use super::Dice;
use super::brute::{Case, solve, ways};
use evenrun::choose::feeding::{
    Arrangement, FeedError, Standing, TradeOff, TradeOffEnd, TradeOffSpec,
};
use evenrun::progress::{Go, Progress, Step};
use evenrun::quantity::fraction;

/// Price, least relative current, watts lost with all lit.
type Point = (i64, f64, f64);

const RESOLUTION: f64 = 1e-6;
/// Two solvers of one linear network.
const ROUNDING: f64 = 1e-9;

/// Keeps what no other beats in all three.
fn thin(mut all: Vec<Point>) -> Vec<Point> {
    all.sort_by(|a, b| {
        a.0.cmp(&b.0)
            .then(b.1.total_cmp(&a.1))
            .then(a.2.total_cmp(&b.2))
    });
    let mut kept: Vec<Point> = Vec::new();
    for p in all {
        if !kept.iter().any(|k| k.1 >= p.1 && k.2 <= p.2) {
            kept.push(p);
        }
    }
    kept
}

/// Everything that can be built within the limits and is not beaten.
fn everything(case: &Case) -> Vec<Point> {
    let mut best: Vec<Vec<Point>> = vec![Vec::new(); case.n + 1];
    best[case.n] = vec![(0, f64::INFINITY, 0.0)];
    for from in (0..case.n).rev() {
        let mut all = Vec::new();
        for (to, rest) in best.iter().enumerate().skip(from + 1) {
            let cut = if to < case.n { case.costs[2] } else { 0 };
            let mut own = Vec::new();
            ways(case, from, to, &mut |price, feeds| {
                let solved: Vec<_> = case
                    .states()
                    .iter()
                    .map(|lit| solve(case, from, to, feeds, lit))
                    .collect();
                let least = solved.iter().map(|s| s.0).fold(f64::INFINITY, f64::min);
                let within = |s: &(f64, f64, f64)| case.segment_amps.is_none_or(|most| s.1 <= most);
                if least >= case.least && solved.iter().all(within) {
                    let joined = case.joined_price(from, to);
                    own.push((price + case.costs[0] + cut + joined, least, solved[0].2));
                }
            });
            for a in thin(own) {
                for b in rest {
                    all.push((a.0 + b.0, a.1.min(b.1), a.2 + b.2));
                }
            }
        }
        best[from] = thin(all);
    }
    best.swap_remove(0)
}

fn light(a: &Arrangement) -> f64 {
    1.0 - a.fall_off.value
}

fn trade_off(case: &Case, spec: &TradeOffSpec) -> TradeOff {
    let run = case.problem().check().expect("sound");
    run.trade_off(spec, &mut Progress::silent())
        .expect("no contradiction")
}

#[test]
fn what_is_not_beaten_in_cost_and_light_is_what_trying_everything_says() {
    let mut dice = Dice(0xF407);
    let (mut points, mut most, mut proven) = (0, 0, 0);
    for number in 0..90 {
        let case = Case::random(&mut dice);
        let spec = TradeOffSpec {
            resolution: fraction(RESOLUTION),
            most: 400,
            watt_prices: Vec::new(),
        };
        let answer = trade_off(&case, &spec);
        let told = || format!("job {number}: {case:?}\n{:?}", answer.ends);
        assert!(
            matches!(answer.ends[..], [(0, TradeOffEnd::NothingBrighter)]),
            "{}",
            told()
        );
        let all = everything(&case);
        assert_eq!(answer.arrangements.is_empty(), all.is_empty(), "{}", told());
        for p in &all {
            let covered =
                |a: &Arrangement| a.plan.cost <= p.0 && light(a) >= p.1 - RESOLUTION - ROUNDING;
            assert!(answer.arrangements.iter().any(covered), "{p:?} {}", told());
        }
        for a in &answer.arrangements {
            let beats = |p: &Point| {
                p.0 < a.plan.cost && p.1 >= light(a) + ROUNDING
                    || p.0 <= a.plan.cost && p.1 > light(a) + RESOLUTION + ROUNDING
            };
            assert!(!all.iter().any(beats), "{} {:?}", told(), a.plan.cost);
            let is = |p: &Point| p.0 == a.plan.cost && (p.1 - light(a)).abs() <= RESOLUTION;
            assert!(all.iter().any(is), "{} {:?}", told(), a.plan.cost);
            assert_eq!(a.bought, a.plan.cost);
            proven += usize::from(a.standing == Standing::NotBeaten);
        }
        points += answer.arrangements.len();
        most = most.max(answer.arrangements.len());
    }
    // The cases reach what they are for.
    assert!(points >= 200, "{points}");
    assert!(most >= 6, "{most}");
    assert!(proven >= 60, "{proven}");
}

/// With a price of a watt nothing as bright is cheaper when its watts are counted.
#[test]
fn at_its_price_of_a_watt_nothing_as_bright_is_cheaper() {
    let mut dice = Dice(0x3A77);
    let (mut points, mut saved) = (0, 0);
    for number in 0..40 {
        let case = Case::random(&mut dice);
        let spec = TradeOffSpec {
            resolution: fraction(0.01),
            most: 60,
            watt_prices: vec![0, 60, 900],
        };
        let answer = trade_off(&case, &spec);
        let all = everything(&case);
        for a in &answer.arrangements {
            let weighed = |bought: i64, lost: f64| bought as f64 + a.watt_price as f64 * lost;
            // Watts are priced in whole minor units, segment by segment.
            let rounding = 0.5 * (2 * case.n) as f64 + 1e-6;
            let own = weighed(a.bought, a.lost.value);
            for p in all.iter().filter(|p| p.1 >= light(a) + ROUNDING) {
                let other = weighed(p.0, p.2);
                assert!(
                    other >= own - rounding,
                    "job {number}: {p:?} {own} {case:?}"
                );
            }
            // Its watts are those of the dense solver: something that was tried is no worse in all three.
            let is = |p: &Point| {
                p.0 <= a.bought && p.1 >= light(a) - ROUNDING && p.2 <= a.lost.value + 1e-6
            };
            assert!(all.iter().any(is), "job {number}: {case:?}");
        }
        let cheapest = answer.arrangements.first().map(|a| a.lost.value);
        let least = answer.arrangements.iter().map(|a| a.lost.value);
        saved += usize::from(least.fold(f64::INFINITY, f64::min) < cheapest.unwrap_or(0.0) - 0.1);
        points += answer.arrangements.len();
    }
    assert!(points >= 60, "{points}");
    assert!(saved >= 10, "{saved}");
}

#[test]
fn a_stopped_walk_gives_what_it_found_and_says_so() {
    let mut dice = Dice(0xF407);
    let mut seen = 0;
    for _ in 0..40 {
        let case = Case::random(&mut dice);
        let run = case.problem().check().expect("sound");
        let spec = TradeOffSpec {
            resolution: fraction(RESOLUTION),
            most: 400,
            ..TradeOffSpec::default()
        };
        let whole = trade_off(&case, &spec);
        let mut stop = |step: Step| if step.done >= 2 { Go::Cancel } else { Go::On };
        let part = run
            .trade_off(&spec, &mut Progress::new(&mut stop))
            .expect("an answer");
        if part.ends[0].1 != TradeOffEnd::Stopped {
            continue;
        }
        seen += 1;
        // The caller is heard each fiftieth of the walk: of 400 arrangements each eighth.
        assert!((1..=8).contains(&part.arrangements.len()));
        let last = part.arrangements.last().expect("one");
        assert!(matches!(last.standing, Standing::Unproven { .. }));
        // What is called not beaten is in the whole answer as well.
        for a in part
            .arrangements
            .iter()
            .filter(|a| a.standing == Standing::NotBeaten)
        {
            assert!(whole.arrangements.contains(a));
        }
        // So it is with a count.
        let two = TradeOffSpec { most: 2, ..spec };
        assert_eq!(trade_off(&case, &two).ends[0].1, TradeOffEnd::Count);
    }
    assert!(seen >= 10, "{seen}");
}

#[test]
fn a_spec_outside_its_ranges_is_refused() {
    let run = Case::random(&mut Dice(5)).problem().check().expect("sound");
    let refused = |spec: TradeOffSpec| {
        let answer = run.trade_off(&spec, &mut Progress::silent());
        assert!(matches!(answer, Err(FeedError::Value { .. })), "{spec:?}");
    };
    let good = TradeOffSpec::default;
    for resolution in [f64::NAN, 0.0, -1.0, 1e-7, 2.0] {
        refused(TradeOffSpec {
            resolution: fraction(resolution),
            ..good()
        });
    }
    for most in [0, 1_001] {
        refused(TradeOffSpec { most, ..good() });
    }
    for watt_prices in [vec![-1], vec![i64::MAX], vec![1; 101]] {
        refused(TradeOffSpec {
            watt_prices,
            ..good()
        });
    }
}
