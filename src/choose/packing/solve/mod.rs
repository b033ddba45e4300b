//! First answers, bound, then the proof: over the pool of patterns that may still matter
//! where that is small, else pattern by pattern.

mod large;

use super::branch::Branch;
use super::fill::{By, Open, greedy, rounded};
use super::pool::gather;
use super::price::{Dual, Relaxed, Rest, by_area, relax};
use super::search::{Attempt, Search};
use super::sums::Sums;
use super::{Known, Pattern, Problem, Work, few};
use std::rc::Rc;

/// What the search found.
#[derive(Debug, Clone)]
pub struct Outcome {
    /// The cheapest answer found: cost, and one pattern per bin. None: no answer found.
    pub best: Option<(u64, Vec<Pattern>)>,
    /// No answer costs less.
    pub lower: u64,
    /// Whether `best` is proven cheapest or, without an answer, that there is none.
    pub proven: bool,
    /// Bound before the search, in cost.
    pub root: u64,
    /// Whether that bound is only what the capacities of bins come to.
    pub by_capacity: bool,
    /// Steps spent.
    pub steps: u64,
    /// Whether the caller cancelled.
    pub cancelled: bool,
}

/// Patterns of a pool that is searched whole.
const POOL: usize = 8_000;

/// Steps for the search over sets of few items.
const BITS: u64 = 10_000;

/// Different items of several dimensions up to which the linear relaxation is solved.
const RELAXED: usize = 240;

/// An answer and its cost.
type Answer = (u64, Vec<Pattern>);

/// Finds the cheapest answer within `steps` of work. `tick(done, of)` is called now
/// and then; it returns false to stop.
pub fn solve(
    problem: &Problem<'_>,
    known: Known,
    steps: u64,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Outcome {
    Run::new(problem, known, steps, tick).solve(true)
}

/// A first answer with the bound of the linear relaxation, and no search.
pub fn first(
    problem: &Problem<'_>,
    known: Known,
    steps: u64,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Outcome {
    Run::new(problem, known, steps, tick).solve(false)
}

struct Run<'a, 'p, 'f> {
    search: Search<'a, 'p, 'f>,
    best: Option<Answer>,
    lower: u64,
    most: u64,
}

impl<'a, 'p, 'f> Run<'a, 'p, 'f> {
    fn new(
        problem: &'p Problem<'f>,
        known: Known,
        steps: u64,
        tick: &'a mut dyn FnMut(u64, u64) -> bool,
    ) -> Self {
        let dearest = problem
            .bins
            .iter()
            .map(|b| b.cost)
            .max()
            .unwrap_or(0)
            .max(1);
        // Sums of duals stay below 2^62: 2^17 items at most, 2^43 for the dearest bin.
        let scale = 1i64 << (43u32.saturating_sub(64 - dearest.leading_zeros()).min(40));
        Self {
            search: Search::new(problem, scale, steps, tick),
            best: None,
            lower: known.least,
            most: known.most,
        }
    }

    fn solve(&mut self, search: bool) -> Outcome {
        if let Some(outcome) = self.by_bits() {
            return outcome;
        }
        let problem = self.search.problem;
        let open = problem.demand.iter().filter(|&&n| n > 0).count();
        if search && !problem.plain && open > RELAXED {
            return self.large();
        }
        let (root, used) = self.first();
        let root_bound = self.lower;
        let proven = self.is_closed()
            || (search
                && (self.by_pool(&root)
                    || self.by_filling()
                    || self.by_diving(&used)
                    || self.by_patterns(&root)));
        Outcome {
            best: self.best.take(),
            lower: self.lower,
            proven,
            root: root_bound,
            by_capacity: false,
            steps: self.search.total - self.search.work.left,
            cancelled: self.search.cancelled,
        }
    }

    /// The search over sets of few items; none where it does not end the matter.
    fn by_bits(&mut self) -> Option<Outcome> {
        let (problem, total) = (self.search.problem, self.search.total);
        let known = Known {
            least: self.lower,
            most: self.most,
        };
        let mut work = self.search.work.part(BITS.min(total / 4));
        let found = few::solve(problem, known, &mut work);
        self.search.work.give_back(work);
        let found = found?;
        self.keep(found.best);
        self.lower = self.lower.max(found.lower);
        (found.complete).then(|| Outcome {
            best: self.best.take(),
            lower: self.lower,
            proven: true,
            root: found.root,
            by_capacity: true,
            steps: total - self.search.work.left,
            cancelled: false,
        })
    }

    fn keep(&mut self, found: Option<Answer>) {
        if let Some((cost, patterns)) = found
            && self.best.as_ref().is_none_or(|(least, _)| cost < *least)
        {
            self.best = Some((cost, patterns));
        }
    }

    fn cost(&self) -> Option<u64> {
        self.best.as_ref().map(|(cost, _)| *cost)
    }

    fn is_closed(&self) -> bool {
        self.lower > self.most || self.cost().is_some_and(|cost| cost <= self.lower)
    }

    fn raise(&mut self, bound: i64) {
        let whole = (bound.max(0) as u64).div_ceil(self.search.scale as u64);
        self.lower = self.lower.max(whole);
    }

    /// Bins filled one after the other, the linear relaxation, and its solution rounded.
    fn first(&mut self) -> (Rc<Dual>, Vec<(Pattern, f64)>) {
        let (problem, scale, total) = (self.search.problem, self.search.scale, self.search.total);
        let all = Open::all(problem);
        let mut work = self.search.work.part(total / 4);
        let found = greedy(problem, all.clone(), By::Size, &mut work);
        self.keep(found);
        self.search.work.give_back(work);
        let rest = Rest {
            items: &all.items,
            limits: &all.limits,
        };
        let area = by_area(problem, rest, scale);
        self.raise(area.bound);
        if self.is_closed() {
            return (Rc::new(area), Vec::new());
        }
        let end = self.most.saturating_add(1);
        let enough = self.cost().map_or(end, |cost| cost.min(end));
        if let Some((_, patterns)) = &self.best {
            self.search.pool.extend(patterns.iter().cloned());
            self.search.pool.sort();
            self.search.pool.dedup();
        }
        let mut work = self.search.work.part(total / 2);
        let relaxed = relax(
            problem,
            rest,
            scale,
            enough,
            &mut self.search.pool,
            &mut work,
        );
        self.search.work.give_back(work);
        self.raise(relaxed.dual.bound);
        self.round(&relaxed);
        (Rc::new(relaxed.dual), relaxed.used)
    }

    fn round(&mut self, relaxed: &Relaxed) {
        let (problem, total) = (self.search.problem, self.search.total);
        for up_from in [1.0, 0.5, 0.3, 0.7] {
            for by in [By::Size, By::Dual(&relaxed.dual, self.search.scale)] {
                if self.is_closed() {
                    return;
                }
                let mut work = self.search.work.part(total / 32);
                let found = rounded(problem, relaxed, by, up_from, &mut work);
                self.keep(found);
                self.search.work.give_back(work);
            }
        }
    }

    /// Branch and cut over the patterns that an answer cheaper than the best may use.
    fn by_pool(&mut self, root: &Dual) -> bool {
        let (problem, scale) = (self.search.problem, self.search.scale);
        let high = self
            .cost()
            .unwrap_or_else(|| self.search.most().saturating_add(1))
            .min(self.most.saturating_add(1));
        let sums = Sums::of(problem, self.lower, high);
        self.lower = sums.from(self.lower).min(high);
        let mut raise = (high - self.lower).div_ceil(16).max(1);
        let mut target = self.lower;
        loop {
            let high = self.cost().map_or(high, |cost| cost.min(high));
            let Some(most) = sums.below(high).filter(|&most| most >= self.lower) else {
                self.lower = self.lower.max(high);
                return true;
            };
            target = target.max(self.lower).min(most);
            let limit = i128::from(target) * i128::from(scale) - i128::from(root.bound);
            let slack = i64::try_from(limit.max(0))
                .unwrap_or(i64::MAX)
                .min(i64::MAX / 4);
            let mut work = self.search.work.part(self.search.total / 8);
            let pool = gather(problem, root, scale, slack, POOL, &mut work);
            self.search.work.give_back(work);
            let Some(pool) = pool else { return false };
            let mut work = self.search.work.part(self.search.total / 4);
            let total = self.search.total;
            let outside = self.search.work.left;
            let tick = &mut self.search.tick;
            let branch = Branch::new(problem, pool, scale, &sums, target);
            let found = branch.run(&mut work, &mut |work: &Work| {
                tick(total - outside - work.left, total)
            });
            self.search.work.give_back(work);
            self.search.cancelled |= found.cancelled;
            let better = found.best.is_some();
            self.keep(found.best);
            self.lower = self.lower.max(sums.from(found.lower));
            if self.is_closed() || self.search.cancelled {
                return self.is_closed();
            }
            if !found.complete {
                return false;
            }
            if !better {
                target = target.saturating_add(raise);
                raise = raise.saturating_mul(2);
            }
        }
    }

    /// Pattern by pattern from the lower bound upward.
    fn by_patterns(&mut self, root: &Rc<Dual>) -> bool {
        if self.search.cancelled {
            return false;
        }
        let all = Open::all(self.search.problem);
        let mut raise = match self.cost() {
            Some(cost) => cost.saturating_sub(self.lower).div_ceil(32).max(1),
            None => u64::MAX,
        };
        let mut target = self.lower;
        loop {
            match self.cost() {
                Some(cost) if cost <= self.lower => return true,
                Some(cost) => target = target.min(cost - 1),
                None => target = self.search.most().min(self.most),
            }
            match self.search.attempt(&all, root, target) {
                Attempt::Found(cost, patterns) => self.keep(Some((cost, patterns))),
                Attempt::Nothing => {
                    if self.best.is_none() {
                        return true;
                    }
                    self.lower = target + 1;
                    target = target.saturating_add(raise);
                    raise = raise.saturating_mul(2);
                }
                Attempt::GaveUp => return false,
            }
        }
    }
}
