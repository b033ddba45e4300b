//! Answers for many items: bins are filled or fixed until few enough are left.

use super::{Answer, Outcome, Run, solve};
use crate::choose::packing::fill::{By, Open, fill, greedy};
use crate::choose::packing::price::{Rest, by_area, relax};
use crate::choose::packing::sums::Sums;
use crate::choose::packing::{Known, Pattern, Problem, Work, few};

/// Items that are left to the linear relaxation where there are too many.
const LEFT: u64 = 200;

/// Items that are left to the search over sets when bins are filled first.
const FEW: [u64; 4] = [16, 20, 24, 30];

/// Items that a dive leaves to a search.
const LAST: u64 = 40;

impl Run<'_, '_, '_> {
    /// Too many items for the linear relaxation: bins are filled until few enough are left. The bound
    /// is that of the capacities.
    pub(super) fn large(&mut self) -> Outcome {
        let (problem, total) = (self.search.problem, self.search.total);
        let all = Open::all(problem);
        let rest_of = Rest {
            items: &all.items,
            limits: &all.limits,
        };
        self.raise(by_area(problem, rest_of, self.search.scale).bound);
        if problem.setups.is_empty() {
            let mut open = all;
            let mut work = self.search.work.part(total / 2);
            let found = fill(problem, &mut open, By::Size, LEFT, &mut work);
            self.search.work.give_back(work);
            if let Some((cost, mut patterns)) = found {
                let last = rest(problem, open);
                let steps = self.search.work.left;
                let outcome = solve(&last, Known::NOTHING, steps, self.search.tick);
                self.search.work.spend(outcome.steps);
                self.search.cancelled |= outcome.cancelled;
                self.keep(outcome.best.map(|(more, others)| {
                    patterns.extend(others);
                    (cost + more, patterns)
                }));
            }
        } else {
            let mut work = self.search.work.part(total);
            let found = greedy(problem, all, By::Size, &mut work);
            self.search.work.give_back(work);
            self.keep(found);
        }
        if let Some(cost) = self.cost() {
            let sums = Sums::of(problem, self.lower, cost);
            self.lower = sums.from(self.lower).min(cost);
        }
        Outcome {
            best: self.best.take(),
            lower: self.lower,
            proven: false,
            root: self.lower,
            by_capacity: true,
            steps: total - self.search.work.left,
            cancelled: self.search.cancelled,
        }
    }

    /// Fills bins as full as can be around the largest items, and searches the few that are left.
    pub(super) fn by_filling(&mut self) -> bool {
        let (problem, total) = (self.search.problem, self.search.total);
        if self.search.cancelled || !problem.setups.is_empty() {
            return false;
        }
        for until in FEW {
            let mut work = self.search.work.part(total / 8);
            let mut open = Open::all(problem);
            let found = fill(problem, &mut open, By::Size, until, &mut work);
            let most = self.cost().map_or(u64::MAX, |cost| cost - 1).min(self.most);
            let rest = found.and_then(|(cost, patterns)| {
                let known = Known {
                    least: 0,
                    most: most.checked_sub(cost)?,
                };
                let last = rest(problem, open);
                let (more, others) = few::solve(&last, known, &mut work)?.best?;
                Some((cost + more, [patterns, others].concat()))
            });
            self.search.work.give_back(work);
            self.keep(rest);
            if self.is_closed() {
                return true;
            }
        }
        false
    }

    /// Fixes what the linear relaxation uses most, solves it again for the rest, and so on; the
    /// last few items are searched.
    pub(super) fn by_diving(&mut self, used: &[(Pattern, f64)]) -> bool {
        let (problem, scale) = (self.search.problem, self.search.scale);
        for share in [4, 8] {
            if self.search.cancelled || !problem.setups.is_empty() {
                return false;
            }
            let mut work = self.search.work.part(self.search.total / 4);
            let pool = &mut self.search.pool;
            let found = dive(problem, scale, share, used.to_vec(), pool, &mut work);
            self.search.work.give_back(work);
            self.keep(found);
            if self.is_closed() {
                return true;
            }
        }
        false
    }
}

/// What is open as a problem of its own; no setups.
fn rest<'f>(problem: &Problem<'f>, open: Open) -> Problem<'f> {
    Problem {
        demand: open.items,
        bins: problem.bins.clone(),
        limits: open.limits,
        setups: Vec::new(),
        fit: problem.fit,
        plain: problem.plain,
    }
}

/// An answer by fixing about one in `share` of the items at a time.
fn dive(
    problem: &Problem<'_>,
    scale: i64,
    share: u64,
    mut used: Vec<(Pattern, f64)>,
    pool: &mut Vec<Pattern>,
    work: &mut Work,
) -> Option<Answer> {
    let count = Open::count;
    let mut open = Open::all(problem);
    let mut total = 0;
    let mut chosen = Vec::new();
    while count(&open) > LAST {
        used.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        let before = count(&open);
        let enough = before - (before / share).max(1);
        for (pattern, x) in used.drain(..) {
            let times = libm::floor(x + 0.4).max(1.0) as u64;
            for _ in 0..times {
                let fits = pattern.take.iter().all(|&(i, n)| open.items[i] >= n)
                    && open.allows(problem, pattern.bin);
                if !fits || (x < 1.0 && count(&open) <= enough) {
                    break;
                }
                total += open.apply(problem, &pattern).0;
                chosen.push(pattern.clone());
            }
        }
        if count(&open) == before {
            return None;
        }
        if count(&open) > LAST {
            let rest = Rest {
                items: &open.items,
                limits: &open.limits,
            };
            used = relax(problem, rest, scale, u64::MAX, pool, work).used;
            if work.left == 0 {
                return None;
            }
        }
    }
    let last = rest(problem, open);
    let mut silent = |_, _| true;
    let mut run = Run::new(&last, Known::NOTHING, work.left / 2, &mut silent);
    let (root, _) = run.first();
    if !run.is_closed() {
        run.by_pool(&root);
    }
    work.spend(run.search.total - run.search.work.left);
    let (cost, patterns) = run.best?;
    chosen.extend(patterns);
    Some((total + cost, chosen))
}
