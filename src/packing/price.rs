//! The linear relaxation by column generation, and a lower bound in integers from it.

use super::oracle::Oracle;
use super::simplex::{Column, Master};
use super::{Pattern, Problem, Work};

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

/// Values of items in one bin: dual value less the item's own cost there.
pub fn values(problem: &Problem<'_>, bin: usize, dual: &[i64], scale: i64) -> Vec<i64> {
    let extra = &problem.bins[bin].extra;
    dual.iter()
        .enumerate()
        .map(|(i, &u)| u - extra.get(i).copied().unwrap_or(0) as i64 * scale)
        .collect()
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
                let own = bin.extra.get(i).copied().unwrap_or(0) as i64 * scale;
                let room = i128::from(bin.cost) * i128::from(scale) * i128::from(weight)
                    / i128::from(capacity.max(1));
                Some(own + room as i64)
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
    let unit = problem
        .bins
        .iter()
        .map(|b| b.cost + b.extra.iter().copied().max().unwrap_or(0))
        .max()
        .unwrap_or(1)
        .max(1) as f64;
    let column = |pattern: &Pattern| -> Column {
        let mut entries: Vec<(usize, f64)> = pattern
            .take
            .iter()
            .map(|&(i, n)| (row_of[i], f64::from(n)))
            .collect();
        entries.extend(
            problem.bins[pattern.bin]
                .rows
                .iter()
                .map(|&r| (rows.len() + r, 1.0)),
        );
        Column {
            cost: problem.cost(pattern) as f64 / unit,
            entries,
        }
    };
    let mut patterns: Vec<Pattern> = Vec::new();
    let start: Vec<(f64, f64, usize)> = rows
        .iter()
        .map(|&item| match homogeneous(problem, item, rest.items[item]) {
            Some(pattern) => {
                let count = f64::from(pattern.take[0].1);
                let cost = problem.cost(&pattern) as f64 / unit;
                patterns.push(pattern);
                (count, cost, patterns.len() - 1)
            }
            None => (1.0, 16.0, super::simplex::NO_PATTERN),
        })
        .collect();
    let demand: Vec<f64> = rows.iter().map(|&i| f64::from(rest.items[i])).collect();
    let limits: Vec<f64> = rest.limits.iter().map(|&n| f64::from(n)).collect();
    let mut master = Master::new(&demand, &limits, &start);
    let usable = pool.iter().filter(|p| {
        p.take.iter().all(|&(i, n)| n <= rest.items[i])
            && problem.bins[p.bin].rows.iter().all(|&r| rest.limits[r] > 0)
    });
    patterns.extend(usable.cloned());
    let mut columns: Vec<Column> = patterns.iter().map(&column).collect();
    let mut best = by_area(problem, rest, scale);
    let whole = |bound: i64| (bound.max(0) as u64).div_ceil(scale as u64);
    let most_rounds = 40 + 20 * rows.len();
    for _ in 0..most_rounds {
        bring_known(&mut master, &columns, work);
        let to_integer = |x: f64| (x.max(0.0) * unit * scale as f64) as i64;
        let mut item = vec![0i64; rest.items.len()];
        for (row, &i) in rows.iter().enumerate() {
            item[i] = to_integer(master.dual[row]);
        }
        let row: Vec<i64> = (0..limits.len())
            .map(|r| to_integer(-master.dual[rows.len() + r]))
            .collect();
        let mut worst = Vec::with_capacity(problem.bins.len());
        let mut any = false;
        for (k, bin) in problem.bins.iter().enumerate() {
            if bin.rows.iter().any(|&r| rest.limits[r] == 0) {
                worst.push(0);
                continue;
            }
            let floor = bin.cost as i64 * scale + bin.rows.iter().map(|&r| row[r]).sum::<i64>();
            let worth = values(problem, k, &item, scale);
            let oracle = Oracle::new(problem, k, &worth, rest.items, true);
            let mut part = work.part(60_000);
            let found = oracle.best(rest.items, None, floor, &mut part);
            work.give_back(part);
            worst.push(found.upper);
            if found.value > floor {
                let pattern = Pattern {
                    bin: k,
                    take: found.take,
                };
                let new = column(&pattern);
                if master.gain(&new) > 1e-8 {
                    any = true;
                    columns.push(new);
                    pool.push(pattern.clone());
                    patterns.push(pattern);
                }
            }
        }
        let dual = feasible(problem, rest, scale, item, row, &worst);
        if dual.bound > best.bound {
            best = dual;
        }
        let now = master.cost() * unit;
        if !any
            || whole(best.bound) >= enough
            || best.bound as f64 / scale as f64 > libm::ceil(now - 1e-6) - 1.0 + 1e-9
            || !work.spend(1)
        {
            break;
        }
    }
    let used = master
        .used()
        .filter_map(|(id, x)| patterns.get(id).map(|p| (p.clone(), x)))
        .collect();
    Relaxed { dual: best, used }
}

/// Pivots among the columns known, until none gains.
fn bring_known(master: &mut Master, columns: &[Column], work: &mut Work) {
    loop {
        let gaining = columns
            .iter()
            .enumerate()
            .map(|(id, c)| (id, master.gain(c)))
            .filter(|(_, gain)| *gain > 1e-8)
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
        let moved = match gaining {
            Some((id, _)) => master.bring(&columns[id], id),
            None => master.bring_slacks(),
        };
        if !moved || !work.spend(master.pivot_work() + columns.len() as u64 / 4) {
            return;
        }
    }
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
        let cost = problem.cost(&Pattern {
            bin: k,
            take: vec![(item, count)],
        });
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
