//! The search: largest open item first, pattern by pattern, from the lower bound upward.

use super::fill::Open;
use super::oracle::Oracle;
use super::pool::cheaper_bin;
use super::price::{Dual, Rest, relax};
use super::{Pattern, Problem, Work};
use std::collections::HashMap;
use std::rc::Rc;

const REMEMBERED: usize = 200_000;
const CHILDREN: usize = 30_000;
/// Nodes below one node before its next children get a relaxation of their own.
const PATIENCE: u64 = 250;

/// How an attempt ended.
pub enum Attempt {
    /// An answer and its cost.
    Found(u64, Vec<Pattern>),
    /// There is none.
    Nothing,
    /// The work ran out.
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

/// The search, and what it remembers from one attempt to the next.
pub struct Search<'a, 'p, 'f> {
    /// The problem.
    pub problem: &'p Problem<'f>,
    /// Of dual values.
    pub scale: i64,
    /// Patterns that linear relaxations were made of.
    pub pool: Vec<Pattern>,
    /// What is left to spend.
    pub work: Work,
    /// What there was.
    pub total: u64,
    /// Called now and then with what is spent and what there was; false to stop.
    pub tick: &'a mut dyn FnMut(u64, u64) -> bool,
    /// Whether it said so.
    pub cancelled: bool,
    failed: HashMap<Box<[u8]>, u64>,
}

impl<'a, 'p, 'f> Search<'a, 'p, 'f> {
    /// Nothing done yet.
    pub fn new(
        problem: &'p Problem<'f>,
        scale: i64,
        steps: u64,
        tick: &'a mut dyn FnMut(u64, u64) -> bool,
    ) -> Self {
        Self {
            problem,
            scale,
            pool: Vec::new(),
            work: Work { left: steps },
            total: steps,
            tick,
            cancelled: false,
            failed: HashMap::new(),
        }
    }

    /// No answer costs more than this, setups included.
    pub fn most(&self) -> u64 {
        let items: u64 = self.problem.demand.iter().map(|&n| u64::from(n)).sum();
        let dearest = self.problem.bins.iter().map(|b| b.cost).max().unwrap_or(0);
        let setups: u64 = self.problem.setups.iter().map(|(cost, _)| cost).sum();
        items.saturating_mul(dearest).saturating_add(setups)
    }

    /// Looks for an answer that costs at most `target`.
    pub fn attempt(&mut self, all: &Open, root: &Rc<Dual>, target: u64) -> Attempt {
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
            let oracle = Oracle::new(problem, k, &frame.dual.item, &open.items, false);
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
