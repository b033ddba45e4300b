//! The search: largest open item first, pattern by pattern, from the lower bound upward.

use super::fill::{By, Open, greedy, rounded};
use super::oracle::Oracle;
use super::price::{Dual, Rest, by_area, relax, values};
use super::{Pattern, Problem, Work};
use std::collections::HashMap;
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
    /// Bound of the linear relaxation at the root, in cost.
    pub root: u64,
    /// Steps spent.
    pub steps: u64,
    /// Whether the caller cancelled.
    pub cancelled: bool,
}

const REMEMBERED: usize = 200_000;
const CHILDREN: usize = 30_000;
/// Nodes below one node before its next children get a relaxation of their own.
const PATIENCE: u64 = 250;

enum Attempt {
    Found(u64, Vec<Pattern>),
    Nothing,
    GaveUp,
}

struct Frame {
    dual: Rc<Dual>,
    slack: i64,
    budget: u64,
    /// Reduced costs up to here have been listed.
    listed: i64,
    round: u32,
    children: Vec<(i64, Pattern)>,
    complete: bool,
    below: u64,
    /// Pattern that led here, its cost, and whether it paid a setup.
    by: Option<(Pattern, u64, bool)>,
    key: Box<[u8]>,
}

struct Search<'a, 'p, 'f> {
    problem: &'p Problem<'f>,
    scale: i64,
    pool: Vec<Pattern>,
    failed: HashMap<Box<[u8]>, u64>,
    work: Work,
    total: u64,
    tick: &'a mut dyn FnMut(u64, u64) -> bool,
    cancelled: bool,
}

/// Finds the cheapest answer within `steps` of work. `tick(done, of)` is called now
/// and then; it returns false to stop.
pub fn solve(problem: &Problem<'_>, steps: u64, tick: &mut dyn FnMut(u64, u64) -> bool) -> Outcome {
    let dearest = problem
        .bins
        .iter()
        .map(|b| {
            b.cost
                .saturating_add(b.extra.iter().copied().max().unwrap_or(0))
        })
        .max()
        .unwrap_or(0)
        .max(1);
    // Sums of duals stay below 2^62: 2^17 items at most, 2^43 for the dearest bin.
    let scale = 1i64 << (43u32.saturating_sub(64 - dearest.leading_zeros()).min(40));
    let mut search = Search {
        problem,
        scale,
        pool: Vec::new(),
        failed: HashMap::new(),
        work: Work { left: steps },
        total: steps,
        tick,
        cancelled: false,
    };
    search.run()
}

fn whole(bound: i64, scale: i64) -> u64 {
    (bound.max(0) as u64).div_ceil(scale as u64)
}

impl Search<'_, '_, '_> {
    fn run(&mut self) -> Outcome {
        let problem = self.problem;
        let mut best: Option<(u64, Vec<Pattern>)> = None;
        let keep = |found: Option<(u64, Vec<Pattern>)>, best: &mut Option<(u64, Vec<Pattern>)>| {
            if let Some((cost, patterns)) = found
                && best.as_ref().is_none_or(|(least, _)| cost < *least)
            {
                *best = Some((cost, patterns));
            }
        };
        let mut work = self.work.part(self.total / 4);
        keep(
            greedy(problem, Open::all(problem), By::Size, &mut work),
            &mut best,
        );
        self.work.give_back(work);
        let all = Open::all(problem);
        let rest = Rest {
            items: &all.items,
            limits: &all.limits,
        };
        let area = by_area(problem, rest, self.scale);
        let mut lower = whole(area.bound, self.scale);
        let mut root = Rc::new(area);
        let cost_of = |best: &Option<(u64, Vec<Pattern>)>| best.as_ref().map(|(cost, _)| *cost);
        if cost_of(&best).is_none_or(|cost| cost > lower) {
            let enough = cost_of(&best).unwrap_or(u64::MAX);
            let mut work = self.work.part(self.total / 2);
            let relaxed = relax(problem, rest, self.scale, enough, &mut self.pool, &mut work);
            self.work.give_back(work);
            lower = lower.max(whole(relaxed.dual.bound, self.scale));
            for up_from in [1.0, 0.5, 0.3, 0.7] {
                for by_size in [true, false] {
                    if cost_of(&best).is_some_and(|cost| cost <= lower) {
                        break;
                    }
                    let by = if by_size {
                        By::Size
                    } else {
                        By::Dual(&relaxed.dual, self.scale)
                    };
                    let mut work = self.work.part(self.total / 32);
                    keep(
                        rounded(problem, &relaxed, by, up_from, &mut work),
                        &mut best,
                    );
                    self.work.give_back(work);
                }
            }
            root = Rc::new(relaxed.dual);
        }
        let root_bound = lower;
        let mut proven = false;
        let mut raise = match cost_of(&best) {
            Some(cost) => cost.saturating_sub(lower).div_ceil(32).max(1),
            None => u64::MAX,
        };
        let mut target = lower;
        loop {
            if let Some(cost) = cost_of(&best) {
                if cost <= lower {
                    proven = true;
                    break;
                }
                target = target.min(cost - 1);
            } else {
                target = self.most();
            }
            match self.attempt(&all, &root, target) {
                Attempt::Found(cost, patterns) => keep(Some((cost, patterns)), &mut best),
                Attempt::Nothing => {
                    if best.is_none() {
                        proven = true;
                        break;
                    }
                    lower = target + 1;
                    target = target.saturating_add(raise);
                    raise = raise.saturating_mul(2);
                }
                Attempt::GaveUp => break,
            }
        }
        Outcome {
            best,
            lower,
            proven,
            root: root_bound,
            steps: self.total - self.work.left,
            cancelled: self.cancelled,
        }
    }

    /// No answer costs more than this, setups included.
    fn most(&self) -> u64 {
        let items: u64 = self.problem.demand.iter().map(|&n| u64::from(n)).sum();
        let dearest = self
            .problem
            .bins
            .iter()
            .map(|b| b.cost + b.extra.iter().copied().max().unwrap_or(0) * items.max(1))
            .max()
            .unwrap_or(0);
        let setups: u64 = self.problem.setups.iter().map(|(cost, _)| cost).sum();
        items.saturating_mul(dearest).saturating_add(setups)
    }

    /// Looks for an answer that costs at most `target`.
    fn attempt(&mut self, all: &Open, root: &Rc<Dual>, target: u64) -> Attempt {
        let mut open = all.clone();
        let limit = i128::from(target) * i128::from(self.scale);
        let slack = |spent: u64, bound: i64, scale: i64| -> i64 {
            let left = limit - i128::from(spent) * i128::from(scale) - i128::from(bound);
            i64::try_from(left)
                .unwrap_or(i64::MAX / 4)
                .min(i64::MAX / 4)
        };
        let mut spent = 0u64;
        let first = slack(0, root.bound, self.scale);
        if first < 0 {
            return Attempt::Nothing;
        }
        let mut frames = vec![self.frame(&open, Rc::clone(root), first, target, None)];
        let mut ticks = 0u64;
        while let Some(depth) = frames.len().checked_sub(1) {
            let frame = &mut frames[depth];
            if frame.children.is_empty() && frame.listed < frame.slack {
                self.list(&open, frame);
                if self.work.left == 0 {
                    return Attempt::GaveUp;
                }
                continue;
            }
            let Some((reduced, pattern)) = frame.children.pop() else {
                // Nothing below: remember, and go back.
                let (complete, below) = (frame.complete, frame.below);
                if let Some(done) = frames.pop() {
                    if complete && self.failed.len() < REMEMBERED {
                        let known = self.failed.entry(done.key).or_insert(0);
                        *known = (*known).max(done.budget + 1);
                    }
                    if let Some((pattern, cost, paid)) = done.by {
                        open.undo(self.problem, &pattern, paid);
                        spent -= cost;
                    }
                }
                if let Some(parent) = frames.last_mut() {
                    parent.complete &= complete;
                    parent.below += below;
                }
                if frames.is_empty() {
                    return if complete {
                        Attempt::Nothing
                    } else {
                        Attempt::GaveUp
                    };
                }
                continue;
            };
            if !self.work.spend(8) {
                return Attempt::GaveUp;
            }
            ticks += 1;
            if ticks.is_multiple_of(512) && !(self.tick)(self.total - self.work.left, self.total) {
                self.cancelled = true;
                return Attempt::GaveUp;
            }
            frame.below += 1;
            let patient = frame.below < PATIENCE;
            let mut dual = Rc::clone(&frame.dual);
            let mut left = frame.slack - reduced;
            let (cost, paid) = open.apply(self.problem, &pattern);
            spent += cost;
            if open.is_done() && spent > target {
                // Limits that were priced and not used up left the bound too low.
                open.undo(self.problem, &pattern, paid);
                spent -= cost;
                continue;
            }
            if open.is_done() {
                let mut patterns: Vec<Pattern> = frames
                    .iter()
                    .filter_map(|f| f.by.as_ref().map(|(p, _, _)| p.clone()))
                    .collect();
                patterns.push(pattern);
                return Attempt::Found(spent, patterns);
            }
            let budget = target.saturating_sub(spent);
            let key = key(&open);
            let mut hopeless = left < 0 || self.failed.get(&key).is_some_and(|&b| b > budget);
            if !hopeless && !patient {
                let rest = Rest {
                    items: &open.items,
                    limits: &open.limits,
                };
                if self.pool.len() > 4_000 {
                    self.pool.drain(..2_000);
                }
                let relaxed = relax(
                    self.problem,
                    rest,
                    self.scale,
                    budget.saturating_add(1),
                    &mut self.pool,
                    &mut self.work,
                );
                let own = slack(spent, relaxed.dual.bound, self.scale);
                if own < left {
                    left = own;
                    dual = Rc::new(relaxed.dual);
                }
                hopeless = left < 0;
            }
            if hopeless {
                open.undo(self.problem, &pattern, paid);
                spent -= cost;
                continue;
            }
            let by = Some((pattern, cost, paid));
            let child = self.frame(&open, dual, left, budget, by);
            frames.push(child);
        }
        Attempt::GaveUp
    }

    fn frame(
        &self,
        open: &Open,
        dual: Rc<Dual>,
        slack: i64,
        budget: u64,
        by: Option<(Pattern, u64, bool)>,
    ) -> Frame {
        Frame {
            dual,
            slack,
            budget,
            listed: -1,
            round: 0,
            children: Vec::new(),
            complete: true,
            below: 0,
            by,
            key: key(open),
        }
    }

    /// Lists the next patterns around the largest open item, cheapest last.
    fn list(&mut self, open: &Open, frame: &mut Frame) {
        let problem = self.problem;
        let upto = match frame.round {
            0 => frame.slack / 64,
            1 => frame.slack / 8,
            _ => frame.slack,
        };
        let from = frame.listed + 1;
        frame.round += 1;
        frame.listed = upto;
        let Some(item) = open.items.iter().position(|&n| n > 0) else {
            return;
        };
        let mut found = Vec::new();
        for (k, bin) in problem.bins.iter().enumerate() {
            if problem.blocked(k, item) || !open.allows(problem, k) {
                continue;
            }
            let setup = open.unpaid(problem, k).map_or(0, |(cost, _)| cost);
            let paid = (bin.cost + setup) as i64 * self.scale
                + bin.rows.iter().map(|&r| frame.dual.row[r]).sum::<i64>();
            let worth = values(problem, k, &frame.dual.item, self.scale);
            let oracle = Oracle::new(problem, k, &worth, &open.items, false);
            let before = found.len();
            let complete = oracle.all(
                &open.items,
                item,
                (paid.saturating_sub(upto), paid.saturating_sub(from)),
                CHILDREN,
                &mut self.work,
                &mut found,
            );
            frame.complete &= complete;
            for (value, _) in found.iter_mut().skip(before) {
                *value = paid - *value;
            }
        }
        if problem.plain {
            found.retain(|(_, pattern)| !cheaper_bin(problem, pattern));
        }
        found.sort_by(|a, b| b.0.cmp(&a.0).then_with(|| b.1.cmp(&a.1)));
        frame.children = found;
    }
}

/// Whether the same content goes into a bin that is no dearer and never runs out.
fn cheaper_bin(problem: &Problem<'_>, pattern: &Pattern) -> bool {
    let own = &problem.bins[pattern.bin];
    let used: u64 = pattern
        .take
        .iter()
        .map(|&(i, n)| own.weight[0][i] * u64::from(n))
        .sum();
    problem.bins.iter().enumerate().any(|(k, other)| {
        other.rows.is_empty()
            && other.capacity[0] >= used
            && (other.cost, k) < (own.cost, pattern.bin)
    })
}

/// What is open, as bytes.
fn key(open: &Open) -> Box<[u8]> {
    let mut bytes = Vec::with_capacity(open.items.len() + open.limits.len());
    for &n in open.items.iter().chain(&open.limits) {
        if n < 255 {
            bytes.push(n as u8);
        } else {
            bytes.push(255);
            bytes.extend_from_slice(&n.to_le_bytes());
        }
    }
    bytes.extend(open.paid.iter().map(|&p| u8::from(p)));
    bytes.into_boxed_slice()
}
