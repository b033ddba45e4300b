//! Against going through all answers.

use super::*;
use crate::choose::packing::{Anything, BLOCKED, Bin, Fit};
use proptest::prelude::*;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// At most so many items of a bin, and never two of a pair.
struct Picky {
    most: u32,
    pair: (usize, usize),
    filling: RefCell<(usize, Vec<usize>)>,
}

impl Fit for Picky {
    fn fits(&self, _: usize, content: &[(usize, u32)]) -> bool {
        let has = |item: usize| content.iter().any(|&(i, _)| i == item);
        let count: u32 = content.iter().map(|&(_, n)| n).sum();
        count <= self.most && !(has(self.pair.0) && has(self.pair.1))
    }

    fn start(&self, bin: usize) {
        *self.filling.borrow_mut() = (bin, Vec::new());
    }

    fn add(&self, item: usize) -> bool {
        let (bin, items) = &mut *self.filling.borrow_mut();
        items.push(item);
        let content: Vec<(usize, u32)> = items.iter().map(|&i| (i, 1)).collect();
        let fits = self.fits(*bin, &content);
        if !fits {
            items.pop();
        }
        fits
    }

    fn remove(&self) {
        self.filling.borrow_mut().1.pop();
    }
}

/// What is open, left of the limits, and paid already; its least cost.
type Costs = BTreeMap<(Vec<u32>, Vec<u32>, u64), u64>;

/// Least cost by trying every content of the bin of the first open item.
fn least(
    problem: &Problem<'_>,
    open: &mut Vec<u32>,
    limits: &mut Vec<u32>,
    paid: u64,
    known: &mut Costs,
) -> u64 {
    let Some(first) = open.iter().position(|&n| n > 0) else {
        return 0;
    };
    let key = (open.clone(), limits.clone(), paid);
    if let Some(&cost) = known.get(&key) {
        return cost;
    }
    let mut best = u64::MAX / 4;
    for (kind, bin) in problem.bins.iter().enumerate() {
        let mut rows = bin.rows.clone();
        let mut cost = bin.cost;
        let fresh = bin.setup.filter(|setup| paid >> setup & 1 == 0);
        if let Some(setup) = fresh {
            cost += problem.setups[setup].0;
            rows.extend(problem.setups[setup].1);
        }
        let before = limits.clone();
        let allowed = rows.iter().all(|&row| {
            let has = limits[row] > 0;
            limits[row] = limits[row].saturating_sub(1);
            has
        });
        let choices: u32 = open.iter().map(|n| n + 1).product();
        for choice in 0..if allowed { choices } else { 0 } {
            let mut rest = choice;
            let mut content = Vec::new();
            for (item, &n) in open.iter().enumerate() {
                let count = rest % (n + 1);
                rest /= n + 1;
                if count > 0 {
                    content.push((item, count));
                }
            }
            let room = bin
                .weight
                .iter()
                .zip(&bin.capacity)
                .all(|(weight, &capacity)| {
                    let sum: u64 = content
                        .iter()
                        .map(|&(i, n)| weight[i].min(1 << 40) * u64::from(n))
                        .sum();
                    sum <= capacity
                });
            let has_first = content.first().is_some_and(|&(item, _)| item == first);
            if !has_first || !room || !problem.fit.fits(kind, &content) {
                continue;
            }
            for &(item, n) in &content {
                open[item] -= n;
            }
            let now = paid | fresh.map_or(0, |setup| 1 << setup);
            best = best.min(cost + least(problem, open, limits, now, known));
            for &(item, n) in &content {
                open[item] += n;
            }
        }
        *limits = before;
    }
    known.insert(key, best);
    best
}

fn compare(problem: &Problem<'_>) -> Result<(), TestCaseError> {
    let mut limits = problem.limits.clone();
    let mut demand = problem.demand.clone();
    let optimum = least(problem, &mut demand, &mut limits, 0, &mut Costs::new());
    let run = |most: u64| {
        let known = Known { least: 0, most };
        let mut work = Work { left: 1_000_000 };
        solve(problem, known, &mut work).expect("the problem is small")
    };
    let found = run(u64::MAX);
    prop_assert!(found.complete && found.root <= found.lower);
    if optimum >= u64::MAX / 4 {
        prop_assert!(found.best.is_none());
        return Ok(());
    }
    let (cost, patterns) = found.best.expect("there is an answer");
    prop_assert_eq!((cost, found.lower), (optimum, optimum));
    for pattern in &patterns {
        prop_assert!(problem.fit.fits(pattern.bin, &pattern.take));
    }
    prop_assert_eq!(
        problem.answer(patterns).map(|(cost, _)| cost),
        Some(optimum)
    );
    // Asked for no more than that it is found again, asked for less nothing is.
    prop_assert_eq!(run(optimum).best.map(|(cost, _)| cost), Some(optimum));
    if optimum > 0 {
        let none = run(optimum - 1);
        prop_assert!(none.complete && none.best.is_none() && none.lower == optimum);
    }
    Ok(())
}

/// Mostly one.
fn several() -> impl Strategy<Value = u32> {
    prop::sample::select(vec![1, 1, 1, 2])
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    /// Two dimensions, limits, setups, blocked items, and a rule beyond the capacities.
    #[test]
    fn equals_going_through_all_answers(
        items in prop::collection::vec((several(), 1u64..12, 1u64..12), 1..9),
        kinds in prop::collection::vec(
            (0u64..9, 8u64..22, 8u64..22, 0usize..4, 0usize..3, 0usize..9), 1..4),
        limits in (1u32..6, 1u32..4),
        setups in (0u64..5, 0u64..5, any::<bool>()),
        rule in (2u32..5, 0usize..4, 0usize..4),
    ) {
        let mut items = items;
        items.sort_by_key(|item| std::cmp::Reverse((item.1, item.2)));
        let bin = |&(cost, first, second, rows, setup, blocked): &(u64, u64, u64, usize, usize, usize)| {
            let mut weights: Vec<u64> = items.iter().map(|item| item.1).collect();
            if let Some(weight) = weights.get_mut(blocked) {
                *weight = BLOCKED;
            }
            Bin {
                cost,
                capacity: vec![first, second],
                weight: [weights, items.iter().map(|item| item.2).collect()].into(),
                rows: [vec![], vec![0], vec![1], vec![0, 0]][rows].clone(),
                setup: (setup > 0).then(|| setup - 1),
            }
        };
        let picky = Picky {
            most: rule.0,
            pair: (rule.1, rule.2 + usize::from(rule.1 == rule.2)),
            filling: RefCell::default(),
        };
        compare(&Problem {
            demand: items.iter().map(|item| item.0).collect(),
            bins: kinds.iter().map(bin).collect(),
            limits: vec![limits.0, limits.1],
            setups: vec![(setups.0, None), (setups.1, setups.2.then_some(0))],
            fit: &picky,
            plain: false,
        })?;
    }

    /// One dimension that says all, where larger items take the place of smaller ones.
    #[test]
    fn equals_going_through_all_cuttings(
        items in prop::collection::vec((several(), 1u64..30), 1..9),
        kinds in prop::collection::vec((0u64..9, 20u64..50, 0usize..3), 1..4),
        limits in (1u32..4, 1u32..3),
    ) {
        let mut items = items;
        items.sort_by_key(|item| std::cmp::Reverse(item.1));
        items.dedup_by_key(|item| item.1);
        let bin = |&(cost, capacity, rows): &(u64, u64, usize)| Bin {
            cost,
            capacity: vec![capacity],
            weight: [items.iter().map(|item| item.1).collect()].into(),
            rows: [vec![], vec![0], vec![1]][rows].clone(),
            setup: None,
        };
        compare(&Problem {
            demand: items.iter().map(|item| item.0).collect(),
            bins: kinds.iter().map(bin).collect(),
            limits: vec![limits.0, limits.1],
            setups: Vec::new(),
            fit: &Anything,
            plain: true,
        })?;
    }
}
