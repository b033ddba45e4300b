//! Cheapest chain of segments over the break marks, by dynamic programming from the end of the run.
//!
//! ```text
//!  best[x] = min over the segments from x to j that keep every limit of price + best[j]
//! ```
//! At each mark the ways on are examined cheapest first ([`ways`](super::ways)), and the first that keeps every
//! limit is taken: no way that was not examined costs less. So each `best[x]` is proven when it is stated,
//! and the chain from the start of the run is a cheapest.

use super::candidate::{Candidate, Key};
use super::error::FeedError;
use super::model::CheckedRun;
use super::oracle::Oracle;
use super::outline::Outline;
use super::rests::Rests;
use super::ways::Way;
use crate::progress::{Go, Progress};
use std::cmp::Reverse;
use std::collections::{BTreeSet, BinaryHeap};

/// Shares of the least cost by which a first chain may exceed it, tried in this order.
const SLACKS: [i64; 4] = [64, 16, 4, 1];

/// Most ways from a mark that may wait while a first chain is looked for: more cost more than the chain spares.
const FEW: usize = 4096;

/// A chain of segments.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chain {
    pub key: Key,
    pub segments: Vec<Candidate>,
}

/// Which segments are not wanted, by kind.
pub(super) type Unwanted<'a> = Option<&'a dyn Fn(&Candidate) -> bool>;

/// What a chain must do without.
#[derive(Clone, Copy)]
pub(super) struct Without<'a> {
    /// These segments.
    pub these: &'a BTreeSet<Candidate>,
    /// First segments of this kind.
    pub first: Unwanted<'a>,
}

/// What is known of the candidates of one run, and the best chains found so far.
pub(super) struct Search<'a> {
    pub m: &'a CheckedRun,
    pub oracle: Oracle,
    pub rests: Rests,
    /// Least cost of an option by mark, for segments that begin there or contain it.
    pub least_at: Vec<i64>,
    /// Place among the options of a mark, by mark, place and wire; and for segments that end there.
    option_at: Vec<Option<usize>>,
    option_at_end: Vec<Option<usize>>,
    pub least_option: i64,
    /// Longest branch that any source reaches.
    pub longest: usize,
    /// By mark and option: longest right branch that may hold beside the left branches tried so far.
    pub right_of: Vec<Vec<usize>>,
    /// Greatest of these by mark.
    pub right_any: Vec<usize>,
    pub open: BinaryHeap<Reverse<Way>>,
    /// How many ways may wait; where more would, none is given.
    pub most_open: usize,
    outline: Outline,
    /// What every chain may cost of which the best ways on are known, nothing left out.
    known_within: Option<i64>,
    best: Vec<Option<(Key, Candidate)>>,
}

impl<'a> Search<'a> {
    pub fn new(m: &'a CheckedRun) -> Self {
        let least = |list: &Vec<super::model::FeedOption>| {
            list.iter().map(|o| o.cost).min().unwrap_or(i64::MAX / 4)
        };
        let least_at: Vec<i64> = m.options.iter().map(least).collect();
        let least_end = m.end_options.iter().map(least);
        let least_option = least_at.iter().copied().chain(least_end).min().unwrap_or(0);
        let each = m.sources.len() * m.wire_names.len();
        let index = |lists: &[Vec<super::model::FeedOption>]| {
            let mut all = vec![None; lists.len() * each];
            for (mark, list) in lists.iter().enumerate() {
                for (at, o) in list.iter().enumerate() {
                    all[mark * each + o.place * m.wire_names.len() + o.wire] = Some(at);
                }
            }
            all
        };
        let oracle = Oracle::new(m);
        Self {
            m,
            longest: oracle.bounds.branches.longest(),
            outline: Outline::new(m, &oracle.bounds),
            oracle,
            rests: Rests::default(),
            least_option,
            least_at,
            option_at: index(&m.options),
            option_at_end: index(&m.end_options),
            right_of: Vec::new(),
            right_any: Vec::new(),
            open: BinaryHeap::new(),
            most_open: usize::MAX,
            known_within: None,
            best: Vec::new(),
        }
    }

    /// The cheapest chain without some segments.
    ///
    /// # Errors
    /// [`FeedError::Stopped`].
    pub fn cheapest(
        &mut self,
        without: Without<'_>,
        progress: &mut Progress<'_>,
    ) -> Result<Option<Chain>, FeedError> {
        let plain = without.these.is_empty();
        if let Some(most) = self.known_within.filter(|_| plain)
            && let first @ Some(_) = self.way_on(0, most, without)
        {
            return Ok(self.chain_from(first));
        }
        self.most_open = FEW;
        let most = self.dive(without);
        self.most_open = usize::MAX;
        self.solve(without, most, progress)?;
        self.known_within = plain.then_some(most);
        if without.first.is_none() {
            return Ok(self.chain_from(self.best[0]));
        }
        let first = self.way_on(0, most, without);
        Ok(self.chain_from(first))
    }

    /// The cost of some chain that holds, or more than any: at each mark it takes the way that is best if the rest
    /// costs no more than it must, where one costs little more.
    fn dive(&mut self, without: Without<'_>) -> i64 {
        let m = self.m;
        self.known_within = None;
        self.best.clear();
        self.best.resize(m.n + 1, None);
        self.rests = Rests::new(m.n, |k| m.can_break[k]);
        for &mark in &self.rests.breaks.clone() {
            let least = Key {
                cost: self.outline.after[mark],
                ..Key::default()
            };
            self.rests.state(m, mark, least);
        }
        let mut cost = 0_i64;
        let mut at = 0;
        while at < m.n {
            self.forget_branches();
            for feed in at..m.n.min(at.saturating_add(self.longest + 1)) {
                let reach = if feed == at {
                    self.furthest_end(at)
                } else {
                    self.right_any[feed]
                };
                self.rests.prepare(feed, reach);
            }
            let least = self.outline.after[at];
            let found = SLACKS.iter().find_map(|share| {
                let most = least.saturating_add(least / share);
                self.forget_branches();
                self.way_on(at, most, without)
            });
            let Some((key, way)) = found else {
                return i64::MAX;
            };
            cost = cost.saturating_add(key.cost - self.outline.after[way.to]);
            at = way.to;
        }
        cost
    }

    fn forget_branches(&mut self) {
        self.right_of.clone_from(&self.oracle.bounds.reach_right);
        let greatest = |all: &Vec<usize>| all.iter().copied().max().unwrap_or(0);
        self.right_any = self.right_of.iter().map(greatest).collect();
    }

    /// The best ways on from all marks that a chain of at most `most` may pass.
    fn solve(
        &mut self,
        without: Without<'_>,
        most: i64,
        progress: &mut Progress<'_>,
    ) -> Result<(), FeedError> {
        let m = self.m;
        let n = m.n;
        let plain = Without {
            first: None,
            ..without
        };
        let outline = &self.outline;
        let passes =
            |k: usize| m.can_break[k] && outline.before[k].saturating_add(outline.after[k]) <= most;
        self.rests = Rests::new(n, passes);
        self.best.clear();
        self.best.resize(n + 1, None);
        self.rests.state(m, n, Key::default());
        self.forget_branches();
        for x in (0..n).rev() {
            let step = progress.step("break and feed", (n - x) as u64, n as u64);
            if step == Go::Cancel {
                return Err(FeedError::Stopped {
                    run: m.spec.run.clone(),
                    evaluated: self.oracle.judge.evaluated,
                });
            }
            let passed = x == 0 || self.rests.between(x - 1, x).len() == 1;
            let reach = if passed {
                self.furthest_end(x)
            } else {
                self.right_any[x]
            };
            self.rests.prepare(x, reach);
            if passed {
                self.best[x] = self.way_on(x, most.saturating_sub(self.outline.before[x]), plain);
                if x > 0
                    && let Some((key, _)) = self.best[x]
                {
                    self.rests.state(m, x, key);
                }
            }
        }
        Ok(())
    }

    /// Most increments of any segment from `x` that may hold.
    fn furthest_end(&self, x: usize) -> usize {
        let bounds = &self.oracle.bounds;
        let most = self.longest.max(bounds.most.any());
        most.min(self.m.next_forced[x] - x)
    }

    /// Least cost of a feeder of a wire at or after a mark.
    pub fn least_on(&self, place: usize, wire: usize, mark: usize) -> i64 {
        let wires = self.m.wire_names.len();
        self.outline.feeders[(place * wires + wire) * (self.m.n + 1) + mark]
    }

    /// Which option of a mark is of a place and a wire.
    pub fn option_at(&self, mark: usize, place: usize, wire: usize) -> Option<usize> {
        let wires = self.m.wire_names.len();
        self.option_at[(mark * self.m.sources.len() + place) * wires + wire]
    }

    /// The same for segments that end at the mark.
    pub fn option_at_end(&self, mark: usize, place: usize, wire: usize) -> Option<usize> {
        let wires = self.m.wire_names.len();
        self.option_at_end[(mark * self.m.sources.len() + place) * wires + wire]
    }

    /// The best way on from a mark, if it is known.
    pub fn best(&self, x: usize) -> Option<(Key, Candidate)> {
        self.best.get(x).copied().flatten()
    }

    fn chain_from(&self, first: Option<(Key, Candidate)>) -> Option<Chain> {
        let (key, first) = first?;
        let mut segments = vec![first];
        let mut at = first.to;
        while at < self.m.n {
            let (_, next) = self.best[at]?;
            segments.push(next);
            at = next.to;
        }
        Some(Chain { key, segments })
    }
}
