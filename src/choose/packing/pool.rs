//! The patterns that a better answer may use, as columns.

use super::oracle::Oracle;
use super::price::Dual;
use super::{Pattern, Problem, Work};

/// What a column stands for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Of {
    /// A bin filled so.
    Pattern(Pattern),
    /// The cost paid once.
    Setup,
}

/// A column in whole numbers.
#[derive(Debug, Clone)]
pub struct Column {
    /// What it stands for.
    pub of: Of,
    /// Cost of one.
    pub cost: u64,
    /// Row and coefficient: items, then limits (negative), then setups.
    pub entries: Vec<(usize, i64)>,
    /// Some best answer uses it at most so often.
    pub most: i64,
}

/// All patterns that nothing can be added to and whose reduced cost is at most `slack`.
/// Every answer that costs at most the bound of `dual` plus `slack` can be made of them: fill
/// its bins up, which lowers their reduced cost. None where there are more than `cap` or the
/// work runs out.
pub fn gather(
    problem: &Problem<'_>,
    dual: &Dual,
    scale: i64,
    slack: i64,
    cap: usize,
    work: &mut Work,
) -> Option<Vec<Pattern>> {
    let mut found = Vec::new();
    for (k, bin) in problem.bins.iter().enumerate() {
        if bin.rows.iter().any(|&r| problem.limits[r] == 0) {
            continue;
        }
        let paid = bin.cost as i64 * scale + bin.rows.iter().map(|&r| dual.row[r]).sum::<i64>();
        let oracle = Oracle::new(problem, k, &dual.item, &problem.demand, false);
        let least = paid.saturating_sub(slack);
        if !oracle.maximal(&problem.demand, least, cap, work, &mut found) {
            return None;
        }
    }
    if problem.plain {
        found.retain(|pattern| !cheaper_bin(problem, pattern));
    }
    Some(found)
}

/// Whether the same content goes into a bin that is no dearer and never runs out.
pub fn cheaper_bin(problem: &Problem<'_>, pattern: &Pattern) -> bool {
    let own = &problem.bins[pattern.bin];
    let weights = pattern.take.iter();
    let used: u64 = weights.map(|&(i, n)| own.weight[0][i] * u64::from(n)).sum();
    problem.bins.iter().enumerate().any(|(k, other)| {
        other.rows.is_empty()
            && other.capacity[0] >= used
            && (other.cost, k) < (own.cost, pattern.bin)
    })
}

/// Right sides of the rows: items, limits, setups.
pub fn right(problem: &Problem<'_>) -> Vec<i64> {
    let items = problem.demand.iter().map(|&n| i64::from(n));
    let limits = problem.limits.iter().map(|&n| -i64::from(n));
    let setups = problem.setups.iter().map(|_| 0);
    items.chain(limits).chain(setups).collect()
}

/// Patterns and setups as columns.
pub fn columns(problem: &Problem<'_>, patterns: Vec<Pattern>) -> Vec<Column> {
    let (items, limits) = (problem.demand.len(), problem.limits.len());
    let all: i64 = problem.demand.iter().map(|&n| i64::from(n)).sum();
    let mut columns = Vec::with_capacity(patterns.len() + problem.setups.len());
    for (setup, &(cost, row)) in problem.setups.iter().enumerate() {
        let mut entries = vec![(items + limits + setup, all)];
        entries.extend(row.map(|row| (items + row, -1)));
        columns.push(Column {
            of: Of::Setup,
            cost,
            entries,
            most: 1,
        });
    }
    for pattern in patterns {
        let bin = &problem.bins[pattern.bin];
        let mut entries: Vec<(usize, i64)> = Vec::with_capacity(pattern.take.len() + 2);
        entries.extend(pattern.take.iter().map(|&(i, n)| (i, i64::from(n))));
        for (at, row) in bin.rows.iter().enumerate() {
            if !bin.rows[..at].contains(row) {
                let times = bin.rows.iter().filter(|r| *r == row).count() as i64;
                entries.push((items + row, -times));
            }
        }
        entries.extend(bin.setup.map(|setup| (items + limits + setup, -1)));
        let most = pattern.take.iter();
        let most = most.map(|&(i, n)| i64::from(problem.demand[i].div_ceil(n.max(1))));
        columns.push(Column {
            cost: bin.cost,
            entries,
            most: most.max().unwrap_or(0),
            of: Of::Pattern(pattern),
        });
    }
    columns
}
