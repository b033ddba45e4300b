//! The linear relaxation by column generation, and a lower bound in integers from it.

use super::oracle::Oracle;
use super::simplex::{End, Lp};
use super::{Pattern, Problem, Work};

/// One more pattern per round and bin for so many items.
const AT_ONCE: usize = 8;

/// Steps for the best pattern of a bin: while others are still found, and for the bound.
const SHALLOW: u64 = 4_000;
const DEEP: u64 = 200_000;

/// Integer dual values, feasible for every pattern, and the bound they prove.
#[derive(Debug, Clone)]
pub struct Dual {
    /// Value per item, in cost times the scale.
    pub item: Vec<i64>,
    /// Price per limit row, same unit.
    pub row: Vec<i64>,
    /// Lower bound on the cost of all items left, same unit.
    pub bound: i64,
}

/// A solved relaxation.
pub struct Relaxed {
    /// The best bound met on the way.
    pub dual: Dual,
    /// Patterns of the fractional solution and how often each is used.
    pub used: Vec<(Pattern, f64)>,
}

/// What is left to place.
#[derive(Clone, Copy)]
pub struct Rest<'a> {
    /// Items.
    pub items: &'a [u32],
    /// Limit rows.
    pub limits: &'a [u32],
}

/// The bound by area alone: each item pays for its share of the cheapest room.
pub fn by_area(problem: &Problem<'_>, rest: Rest<'_>, scale: i64) -> Dual {
    let item: Vec<i64> = (0..problem.demand.len())
        .map(|i| {
            let shares = problem.bins.iter().enumerate().filter_map(|(k, bin)| {
                let (weight, capacity) = (bin.weight[0][i], bin.capacity[0]);
                if problem.blocked(k, i) || weight > capacity {
                    return None;
                }
                let room = i128::from(bin.cost) * i128::from(scale) * i128::from(weight)
                    / i128::from(capacity.max(1));
                Some(room as i64)
            });
            shares.min().unwrap_or(0)
        })
        .collect();
    let bound = total(&item, rest.items);
    Dual {
        item,
        row: vec![0; problem.limits.len()],
        bound,
    }
}

fn total(item: &[i64], rest: &[u32]) -> i64 {
    item.iter().zip(rest).map(|(u, &d)| u * i64::from(d)).sum()
}

/// Makes rounded duals feasible: `worst[k]` bounds the value of any pattern of bin `k`.
fn feasible(
    problem: &Problem<'_>,
    rest: Rest<'_>,
    scale: i64,
    mut item: Vec<i64>,
    mut row: Vec<i64>,
    worst: &[i64],
) -> Dual {
    let mut by: (i128, i128) = (1, 1);
    for (bin, &worst) in problem.bins.iter().zip(worst) {
        let paid = bin.cost as i64 * scale + bin.rows.iter().map(|&r| row[r]).sum::<i64>();
        if worst > paid {
            if let Some(&first) = bin.rows.first() {
                row[first] += worst - paid;
            } else if i128::from(paid) * by.1 < by.0 * i128::from(worst) {
                by = (i128::from(paid), i128::from(worst));
            }
        }
    }
    if by.0 < by.1 {
        for u in &mut item {
            *u = (i128::from(*u) * by.0 / by.1) as i64;
        }
    }
    let limits: i64 = row
        .iter()
        .zip(rest.limits)
        .map(|(y, &n)| y * i64::from(n))
        .sum();
    let bound = total(&item, rest.items) - limits;
    Dual { item, row, bound }
}

/// Solves the relaxation over what is left. Stops early once the bound reaches
/// `enough` (in cost), or cannot be raised to the next whole cost.
pub fn relax(
    problem: &Problem<'_>,
    rest: Rest<'_>,
    scale: i64,
    enough: u64,
    pool: &mut Vec<Pattern>,
    work: &mut Work,
) -> Relaxed {
    let rows: Vec<usize> = (0..rest.items.len())
        .filter(|&i| rest.items[i] > 0)
        .collect();
    let mut row_of = vec![usize::MAX; rest.items.len()];
    for (row, &item) in rows.iter().enumerate() {
        row_of[item] = row;
    }
    let dearest = problem.bins.iter().map(|b| b.cost).max();
    let unit = dearest.unwrap_or(1).max(1) as f64;
    let right = rows.iter().map(|&i| f64::from(rest.items[i]));
    let limits = rest.limits.iter().map(|&n| -f64::from(n));
    let mut lp = Lp::new(right.chain(limits).collect());
    // Of each column its pattern; none for a row that no unlimited bin serves.
    let mut patterns: Vec<Option<Pattern>> = Vec::new();
    let add = |lp: &mut Lp, pattern: &Pattern| {
        let bin = &problem.bins[pattern.bin];
        let items = pattern.take.iter().map(|&(i, n)| (row_of[i], f64::from(n)));
        let limits = bin.rows.iter().map(|&r| (rows.len() + r, -1.0));
        lp.column(bin.cost as f64 / unit, items.chain(limits));
    };
    for (row, &item) in rows.iter().enumerate() {
        let start = homogeneous(problem, item, rest.items[item]);
        match &start {
            Some(pattern) => add(&mut lp, pattern),
            None => {
                lp.column(16.0, std::iter::once((row, 1.0)));
            }
        }
        patterns.push(start);
    }
    let usable = pool.iter().filter(|p| {
        p.take.iter().all(|&(i, n)| n <= rest.items[i])
            && problem.bins[p.bin].rows.iter().all(|&r| rest.limits[r] > 0)
    });
    for pattern in usable {
        add(&mut lp, pattern);
        patterns.push(Some(pattern.clone()));
    }
    let mut best = by_area(problem, rest, scale);
    let whole = |bound: i64| (bound.max(0) as u64).div_ceil(scale as u64);
    let mut end = lp.dual(f64::INFINITY, lp.enough());
    let mut spent = 0;
    let mut deep = false;
    let most_rounds = 40 + 20 * rows.len();
    for _ in 0..most_rounds {
        let pivots = lp.pivots - spent;
        spent = lp.pivots;
        if end != End::Least || !work.spend(pivots * lp.pivot_work() + 1) {
            break;
        }
        let to_integer = |x: f64| (x.max(0.0) * unit * scale as f64) as i64;
        let mut item = vec![0i64; rest.items.len()];
        for (row, &i) in rows.iter().enumerate() {
            item[i] = to_integer(lp.state.dual[row]);
        }
        let limits = lp.state.dual[rows.len()..].iter();
        let row: Vec<i64> = limits.map(|&y| to_integer(y)).collect();
        let mut worst = Vec::with_capacity(problem.bins.len());
        let (mut any, mut open) = (false, false);
        for (k, bin) in problem.bins.iter().enumerate() {
            if bin.rows.iter().any(|&r| rest.limits[r] == 0) {
                worst.push(0);
                continue;
            }
            let floor = bin.cost as i64 * scale + bin.rows.iter().map(|&r| row[r]).sum::<i64>();
            let oracle = Oracle::new(problem, k, &item, rest.items, true);
            let mut part = work.part(if deep { DEEP } else { SHALLOW });
            let found = oracle.best(rest.items, None, floor, &mut part);
            work.give_back(part);
            worst.push(found.upper);
            open |= found.upper > found.value.max(floor);
            if found.value <= floor {
                continue;
            }
            // Further patterns of the items that are left save rounds.
            let mut left = rest.items.to_vec();
            let mut next = found;
            for _ in 0..=rows.len() / AT_ONCE {
                let pattern = Pattern {
                    bin: k,
                    take: next.take,
                };
                for &(i, n) in &pattern.take {
                    left[i] -= n;
                }
                add(&mut lp, &pattern);
                if lp.reduced(lp.columns() - 1) < -1e-8 {
                    any = true;
                    pool.push(pattern.clone());
                }
                patterns.push(Some(pattern));
                let mut part = work.part(2_000);
                next = oracle.best(&left, None, floor, &mut part);
                work.give_back(part);
                if next.value <= floor {
                    break;
                }
            }
        }
        let dual = feasible(problem, rest, scale, item, row, &worst);
        if dual.bound > best.bound {
            best = dual;
        }
        let now = lp.objective() * unit;
        if !any && open && !deep {
            deep = true;
            continue;
        }
        deep = false;
        if !any
            || whole(best.bound) >= enough
            || best.bound as f64 / scale as f64 > libm::ceil(now - 1e-6) - 1.0 + 1e-9
        {
            break;
        }
        end = lp.primal();
    }
    let used = lp
        .used()
        .filter_map(|(column, x)| Some((patterns.get(column)?.clone()?, x)))
        .collect();
    Relaxed { dual: best, used }
}

/// The cheapest bin per copy that is filled with one item only and not limited in number.
fn homogeneous(problem: &Problem<'_>, item: usize, most: u32) -> Option<Pattern> {
    let mut best: Option<(u64, u32, usize)> = None;
    for (k, bin) in problem.bins.iter().enumerate() {
        if !bin.rows.is_empty() || problem.blocked(k, item) {
            continue;
        }
        let mut count = most;
        for (weight, &capacity) in bin.weight.iter().zip(&bin.capacity) {
            if let Some(room) = capacity.checked_div(weight[item]) {
                count = count.min(u32::try_from(room).unwrap_or(u32::MAX));
            }
        }
        while count > 0 && !problem.plain && !problem.fit.fits(k, &[(item, count)]) {
            count -= 1;
        }
        if count == 0 {
            continue;
        }
        let cost = bin.cost;
        let cheaper = best.is_none_or(|(c, n, _)| {
            u128::from(cost) * u128::from(n) < u128::from(c) * u128::from(count)
        });
        if cheaper {
            best = Some((cost, count, k));
        }
    }
    best.map(|(_, count, bin)| Pattern {
        bin,
        take: vec![(item, count)],
    })
}
