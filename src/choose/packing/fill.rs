//! First answers: bins filled one after the other.

use super::oracle::Oracle;
use super::price::{Dual, Relaxed};
use super::{Pattern, Problem, Work};

/// Items and limits left while bins are filled.
#[derive(Clone)]
pub struct Open {
    /// Items.
    pub items: Vec<u32>,
    /// Limit rows.
    pub limits: Vec<u32>,
    /// Setups already paid.
    pub paid: Vec<bool>,
}

impl Open {
    /// Everything open.
    pub fn all(problem: &Problem<'_>) -> Self {
        Self {
            items: problem.demand.clone(),
            limits: problem.limits.clone(),
            paid: vec![false; problem.setups.len()],
        }
    }

    /// Whether one more such bin may be used.
    pub fn allows(&self, problem: &Problem<'_>, bin: usize) -> bool {
        let kind = &problem.bins[bin];
        let mut need = vec![0u32; self.limits.len()];
        for &row in &kind.rows {
            need[row] += 1;
        }
        if let Some(row) = self.unpaid(problem, bin).and_then(|(_, row)| row) {
            need[row] += 1;
        }
        need.iter().zip(&self.limits).all(|(n, left)| n <= left)
    }

    /// Setup that the next such bin would pay: (cost, row).
    pub fn unpaid(&self, problem: &Problem<'_>, bin: usize) -> Option<(u64, Option<usize>)> {
        let setup = problem.bins[bin].setup?;
        (!self.paid[setup]).then(|| problem.setups[setup])
    }

    /// Uses a pattern once; what it costs with its setup, and whether it paid one.
    pub fn apply(&mut self, problem: &Problem<'_>, pattern: &Pattern) -> (u64, bool) {
        let setup = self.unpaid(problem, pattern.bin);
        let mut cost = problem.bins[pattern.bin].cost;
        for &(item, n) in &pattern.take {
            self.items[item] -= n;
        }
        for &row in &problem.bins[pattern.bin].rows {
            self.limits[row] -= 1;
        }
        if let (Some((price, row)), Some(id)) = (setup, problem.bins[pattern.bin].setup) {
            cost += price;
            self.paid[id] = true;
            if let Some(row) = row {
                self.limits[row] -= 1;
            }
        }
        (cost, setup.is_some())
    }

    /// Takes [`Open::apply`] back.
    pub fn undo(&mut self, problem: &Problem<'_>, pattern: &Pattern, paid: bool) {
        for &(item, n) in &pattern.take {
            self.items[item] += n;
        }
        for &row in &problem.bins[pattern.bin].rows {
            self.limits[row] += 1;
        }
        if let (true, Some(id)) = (paid, problem.bins[pattern.bin].setup) {
            self.paid[id] = false;
            if let Some(row) = problem.setups[id].1 {
                self.limits[row] += 1;
            }
        }
    }

    /// How many items are left.
    pub fn count(&self) -> u64 {
        self.items.iter().map(|&n| u64::from(n)).sum()
    }

    /// Whether nothing is left.
    pub fn is_done(&self) -> bool {
        self.items.iter().all(|&n| n == 0)
    }
}

/// How the next bin is chosen.
#[derive(Clone, Copy)]
pub enum By<'a> {
    /// Fullest for its cost.
    Size,
    /// Least reduced cost.
    Dual(&'a Dual, i64),
}

/// Fills bins around the largest open item until nothing is open; none if stuck.
pub fn greedy(
    problem: &Problem<'_>,
    mut open: Open,
    by: By<'_>,
    work: &mut Work,
) -> Option<(u64, Vec<Pattern>)> {
    fill(problem, &mut open, by, 0, work)
}

/// Fills bins around the largest open item until at most so many items are open; none if stuck.
pub fn fill(
    problem: &Problem<'_>,
    open: &mut Open,
    by: By<'_>,
    until: u64,
    work: &mut Work,
) -> Option<(u64, Vec<Pattern>)> {
    let mut total = 0u64;
    let mut chosen = Vec::new();
    while open.count() > until {
        let item = open.items.iter().position(|&n| n > 0)?;
        let mut best: Option<((u128, u128), Pattern)> = None;
        for (k, bin) in problem.bins.iter().enumerate() {
            if problem.blocked(k, item) || !open.allows(problem, k) {
                continue;
            }
            let setup = open.unpaid(problem, k).map_or(0, |(cost, _)| cost);
            let worth = match by {
                By::Size => bin.weight[0]
                    .iter()
                    .map(|&w| i64::try_from(w).unwrap_or(0))
                    .collect(),
                By::Dual(dual, _) => dual.item.clone(),
            };
            let oracle = Oracle::new(problem, k, &worth, &open.items, true);
            let mut part = work.part(4_000);
            let found = oracle.best(&open.items, Some(item), i64::MIN / 2, &mut part);
            work.give_back(part);
            if found.take.is_empty() {
                continue;
            }
            let pattern = Pattern {
                bin: k,
                take: found.take,
            };
            let cost = bin.cost + setup;
            let score = match by {
                By::Size => {
                    let filled: u128 = pattern
                        .take
                        .iter()
                        .map(|&(i, n)| u128::from(bin.weight[0][i]) * u128::from(n))
                        .sum();
                    (u128::from(cost), filled.max(1))
                }
                By::Dual(dual, scale) => {
                    let rows: i64 = bin.rows.iter().map(|&r| dual.row[r]).sum();
                    let paid = (bin.cost + setup) as i64 * scale + rows;
                    (
                        (i128::from(paid) - i128::from(found.value)).max(0) as u128,
                        1,
                    )
                }
            };
            let better = best
                .as_ref()
                .is_none_or(|(least, _)| score.0 * least.1 < least.0 * score.1);
            if better {
                best = Some((score, pattern));
            }
        }
        let (_, pattern) = best?;
        loop {
            total += open.apply(problem, &pattern).0;
            chosen.push(pattern.clone());
            let again = pattern.take.iter().all(|&(i, n)| open.items[i] >= n)
                && open.allows(problem, pattern.bin);
            if !again || open.count() <= until {
                break;
            }
        }
        if work.left == 0 {
            return None;
        }
    }
    Some((total, chosen))
}

/// Whole parts of the fractional solution first, then [`greedy`] for the rest.
pub fn rounded(
    problem: &Problem<'_>,
    relaxed: &Relaxed,
    by: By<'_>,
    up_from: f64,
    work: &mut Work,
) -> Option<(u64, Vec<Pattern>)> {
    let mut open = Open::all(problem);
    let mut total = 0u64;
    let mut chosen = Vec::new();
    let mut used = relaxed.used.clone();
    used.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
    for (pattern, x) in used {
        let times = if x - libm::floor(x) >= up_from {
            libm::ceil(x)
        } else {
            libm::floor(x)
        };
        for _ in 0..times as u64 {
            let fits = pattern.take.iter().all(|&(i, n)| open.items[i] >= n)
                && open.allows(problem, pattern.bin);
            if !fits {
                break;
            }
            total += open.apply(problem, &pattern).0;
            chosen.push(pattern.clone());
        }
    }
    let (rest, more) = greedy(problem, open, by, work)?;
    chosen.extend(more);
    Some((total + rest, chosen))
}
