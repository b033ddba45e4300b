//! Items into bins at least cost, exactly where the work allows: the kernel of
//! `stock` and `supply`.
//!
//! ```text
//! minimise   Σ cost(bin of p) · x(p)        x(p): how often pattern p is used
//! such that  Σ take(i, p) · x(p) = demand(i)          every item is placed once
//!            Σ x(p) over bins of row r <= limit(r)    bins on hand, places for them
//! ```
//!
//! A *pattern* is what goes into one bin together. The linear relaxation over all
//! patterns is solved by column generation (Gilmore and Gomory, *A linear
//! programming approach to the cutting-stock problem*, Operations Research 9,
//! 1961); its dual values are rounded to integers and made feasible by exact
//! integer knapsacks, so the lower bound holds whatever the rounding of the
//! simplex was (Farley's scaling).
//!
//! Few items are searched without it, over sets of bits (`few`).
//!
//! An answer cheaper than the best known uses patterns only whose reduced cost is within
//! the gap. Where these are few they are listed, and a branch and cut over the list
//! ends the matter (`branch`); it starts at the lowest cost that bins can add up to (`sums`)
//! and goes upward. Where they are many, the relaxation is solved again and again with its
//! most used patterns fixed (`solve`), and the rest of the work goes into a search that places
//! the largest open item, pattern by pattern, and leaves out what the bound, the dominance
//! of fuller bins and already failed rests exclude (`search`). Work is counted in steps, never
//! in seconds.

mod branch;
mod few;
mod fill;
mod oracle;
mod pool;
mod price;
mod search;
mod simplex;
mod solve;
mod sums;

pub use solve::Outcome;

use std::rc::Rc;

/// Weight of an item that a bin may not hold.
pub const BLOCKED: u64 = u64::MAX;

/// A kind of bin.
#[derive(Debug, Clone)]
pub struct Bin {
    /// Cost of using one.
    pub cost: u64,
    /// Capacity per dimension.
    pub capacity: Vec<u64>,
    /// Weight per dimension and item; [`BLOCKED`] in the first dimension forbids the item.
    pub weight: Rc<[Vec<u64>]>,
    /// Rows of [`Problem::limits`] that one such bin counts against.
    pub rows: Vec<usize>,
    /// Index into [`Problem::setups`] that the first such bin pays.
    pub setup: Option<usize>,
}

impl Bin {
    /// Capacity in a dimension; without end in one that there is not.
    pub fn capacity(&self, dimension: usize) -> u64 {
        self.capacity.get(dimension).copied().unwrap_or(u64::MAX)
    }
}

/// What may lie together beyond the capacities; must be monotone: what fits still
/// fits when something is taken out.
pub trait Fit {
    /// Whether `content` (item, count) fits into one bin of kind `bin`.
    fn fits(&self, bin: usize, content: &[(usize, u32)]) -> bool;

    /// Begins to fill a bin of kind `bin`, one item after the other; each fits by the capacities.
    fn start(&self, bin: usize);

    /// Puts one more into the bin that is being filled, where it fits; whether it does.
    fn add(&self, item: usize) -> bool;

    /// Takes out what was put in last.
    fn remove(&self);
}

/// Only the capacities count.
pub struct Anything;

impl Fit for Anything {
    fn fits(&self, _: usize, _: &[(usize, u32)]) -> bool {
        true
    }

    fn start(&self, _: usize) {}

    fn add(&self, _: usize) -> bool {
        true
    }

    fn remove(&self) {}
}

/// The problem. Items are ordered by the caller, largest first.
pub struct Problem<'a> {
    /// How many of each item.
    pub demand: Vec<u32>,
    /// The kinds of bins.
    pub bins: Vec<Bin>,
    /// Upper limits on numbers of bins.
    pub limits: Vec<u32>,
    /// Costs paid once, by the first bin that names them: (cost, row it also counts against).
    pub setups: Vec<(u64, Option<usize>)>,
    /// What fits beside the capacities.
    pub fit: &'a dyn Fit,
    /// Whether the weight of the single dimension says all, the same in every bin:
    /// then a bin with a larger item in place of a smaller one is never worse.
    pub plain: bool,
}

/// What one bin holds: the kind, and (item, count) in the order of the items.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pattern {
    /// Kind of bin.
    pub bin: usize,
    /// Item and count.
    pub take: Vec<(usize, u32)>,
}

impl Problem<'_> {
    /// Weight of an item in a bin, first dimension.
    pub fn blocked(&self, bin: usize, item: usize) -> bool {
        self.bins
            .get(bin)
            .and_then(|b| b.weight.first())
            .and_then(|w| w.get(item))
            .is_none_or(|&w| w == BLOCKED)
    }
}

impl Problem<'_> {
    /// Patterns that may hold too much as an answer that holds everything once, with its cost;
    /// none where something is missing or a limit is broken.
    fn answer(&self, patterns: Vec<Pattern>) -> Option<(u64, Vec<Pattern>)> {
        let mut open = fill::Open::all(self);
        let mut cost = 0;
        let mut kept = Vec::with_capacity(patterns.len());
        for mut pattern in patterns {
            for (item, n) in &mut pattern.take {
                *n = (*n).min(open.items[*item]);
            }
            pattern.take.retain(|(_, n)| *n > 0);
            if pattern.take.is_empty() {
                continue;
            }
            if !open.allows(self, pattern.bin) {
                return None;
            }
            cost += open.apply(self, &pattern).0;
            kept.push(pattern);
        }
        open.is_done().then_some((cost, kept))
    }
}

/// What is known of the cost before: no answer costs less than `least`, and none that costs more
/// than `most` is of use.
#[derive(Debug, Clone, Copy)]
pub struct Known {
    /// No answer costs less.
    pub least: u64,
    /// What an answer may cost at most.
    pub most: u64,
}

impl Known {
    /// Nothing.
    pub const NOTHING: Self = Self {
        least: 0,
        most: u64::MAX,
    };
}

/// Finds the cheapest answer within `steps` of work; see [`solve::solve`]. Costs are
/// divided by their common divisor first, so that bounds round up to costs that exist.
pub fn solve(
    problem: Problem<'_>,
    known: Known,
    steps: u64,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Outcome {
    divided(problem, known, |problem, known| {
        solve::solve(problem, known, steps, tick)
    })
}

/// A first answer with a bound; see [`solve::first`].
pub fn first(
    problem: Problem<'_>,
    known: Known,
    steps: u64,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Outcome {
    divided(problem, known, |problem, known| {
        solve::first(problem, known, steps, tick)
    })
}

fn divided(
    mut problem: Problem<'_>,
    known: Known,
    run: impl FnOnce(&Problem<'_>, Known) -> Outcome,
) -> Outcome {
    let costs =
        (problem.bins.iter().map(|b| b.cost)).chain(problem.setups.iter().map(|(cost, _)| *cost));
    let divisor = costs.fold(0, common_divisor).max(1);
    for bin in &mut problem.bins {
        bin.cost /= divisor;
    }
    for (cost, _) in &mut problem.setups {
        *cost /= divisor;
    }
    let known = Known {
        least: known.least.div_ceil(divisor),
        most: known.most / divisor,
    };
    let mut outcome = run(&problem, known);
    outcome.lower = outcome.lower.saturating_mul(divisor);
    outcome.root = outcome.root.saturating_mul(divisor);
    if let Some((cost, patterns)) = &mut outcome.best {
        *cost = cost.saturating_mul(divisor);
        patterns.sort();
    }
    outcome
}

fn common_divisor(mut a: u64, mut b: u64) -> u64 {
    while b != 0 {
        (a, b) = (b, a % b);
    }
    a
}

/// A count of steps that runs out.
#[derive(Debug, Clone, Copy)]
pub struct Work {
    /// Steps left.
    pub left: u64,
}

impl Work {
    /// Spends steps; false when none are left.
    pub fn spend(&mut self, steps: u64) -> bool {
        self.left = self.left.saturating_sub(steps);
        self.left > 0
    }

    /// A part of what is left, at most `steps`.
    pub fn part(&mut self, steps: u64) -> Self {
        let taken = steps.min(self.left);
        self.left -= taken;
        Self { left: taken }
    }

    /// Gives back what a part did not use.
    pub fn give_back(&mut self, part: Self) {
        self.left += part.left;
    }
}
