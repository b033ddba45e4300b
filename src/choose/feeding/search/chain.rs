//! Cheapest chain of segments over the break marks, by dynamic programming from the end of the run.
//!
//! ```text
//!  best[x] = min over the segments from x to j that keep every limit of price + best[j]
//! ```
//! At each mark the ways on are examined cheapest first ([`next_segment`](super::next_segment)), and the first that keeps every
//! limit is taken: no way that was not examined costs less. So each `best[x]` is proven when it is stated,
//! and the chain from the start of the run is a cheapest.
//!
//! What lies before a mark costs something at least ([`cost_before`](super::cost_before)), and so does the whole run. Chains that exceed
//! that by little are looked for first, then by more: no mark is examined from which the rest would cost too much, and what
//! was found within less stays. Where the bound is far off, a chain with breaks at few marks says how much is enough.

use super::branch_lengths::BranchLengths;
use super::cost_before;
use super::cost_to_go::CostToGo;
use super::feeders::{FeederTable, NO_WAY};
use super::next_segment::NextSegment;
use crate::choose::feeding::circuit::candidate::{Candidate, Rank};
use crate::choose::feeding::figures::Chosen;
use crate::choose::feeding::problem::accelerations::Acceleration;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::error::FeedError;
use crate::choose::feeding::verdict::seen_ends::Window;
use crate::choose::feeding::verdict::verdicts::SegmentVerdicts;
use crate::progress::{Go, Progress};
use rustc_hash::FxHashMap;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

// What follows decides how long the search takes, never what it finds.

/// A first chain may break the run at about so many marks, and no nearer together than [`APART`].
const FEW: usize = 16;
const APART: usize = 8;

/// The share of its cost by which chains may exceed the first one and still be known: the next best is often among them.
const MORE: i64 = 32;

/// Chains are first looked for among those that exceed the least by so many of its parts.
const PARTS: i64 = 48;
const STEPS: [i64; 4] = [2, 3, 4, 6];

/// A chain of segments.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Chain {
    pub key: Rank,
    pub segments: Vec<Candidate>,
}

/// Which segments are not wanted, by kind.
pub(crate) type Unwanted<'a> = Option<&'a dyn Fn(&Candidate) -> bool>;

/// What a chain must do without.
#[derive(Clone, Copy)]
pub(crate) struct Exclusions<'a> {
    /// These segments.
    pub these: &'a BTreeSet<Candidate>,
    /// First segments of this kind.
    pub first: Unwanted<'a>,
}

/// What is known of the candidates of one run, and the best chains found so far.
pub(crate) struct Search<'a> {
    pub m: &'a CheckedRun,
    pub verdicts: SegmentVerdicts,
    pub rests: CostToGo,
    pub feeders: FeederTable,
    /// By row of feeders and mark: longest right branch that may hold beside the left branches tried so far.
    pub right_of: BranchLengths,
    /// No chain that costs more is wanted.
    pub most: i64,
    /// Only segments whose ends beside breaks that are seen have such relative currents.
    pub window: Option<Window>,
    /// Relative currents there, of segments that were asked for.
    pub seen_ends: FxHashMap<Candidate, Window>,
    /// No arrangement was found, and not all were tried.
    pub gave_up: bool,
    /// Ways on from the mark that is looked at.
    pub waiting: Vec<Reverse<NextSegment>>,
    /// Segments of chains found so far, solved in full.
    pub chosen: BTreeMap<Candidate, Chosen>,
    /// What a chain may cost of which the best ways on are known, nothing left out.
    known_within: Option<i64>,
    /// What comes before a mark costs at least this.
    before: Vec<i64>,
    best: Vec<Option<(Rank, Candidate)>>,
}

impl<'a> Search<'a> {
    pub fn new(m: &'a CheckedRun) -> Self {
        let verdicts = SegmentVerdicts::new(m);
        let feeders = FeederTable::new(m, &verdicts.bounds);
        Self {
            m,
            before: Vec::new(),
            feeders,
            verdicts,
            rests: CostToGo::default(),
            right_of: BranchLengths::default(),
            waiting: Vec::new(),
            most: i64::MAX,
            window: None,
            seen_ends: FxHashMap::default(),
            gave_up: false,
            chosen: BTreeMap::new(),
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
        without: Exclusions<'_>,
        progress: &mut Progress<'_>,
    ) -> Result<Option<Chain>, FeedError> {
        let least = self.least_before();
        if least >= NO_WAY {
            return Ok(None);
        }
        let mut known = self.known_within.filter(|_| without.these.is_empty());
        let costs = STEPS.map(|step| least.saturating_add(least / PARTS * step));
        let all = self.most;
        let stepped = self.m.uses(Acceleration::CostSteps);
        let mut costs = costs.into_iter().filter(|cost| stepped && *cost < all);
        loop {
            let next = costs.by_ref().find(|cost| Some(*cost) > known);
            if let Some(within) = known {
                // A chain that costs more than all that are known may be dearer than others, but no more is wanted.
                let first = self.way_on(0, next.unwrap_or(all), without);
                match first {
                    Some((key, _)) if key.cost <= within => return Ok(self.chain_from(first)),
                    Some((key, _)) => return self.within(key.cost, true, without, progress),
                    None if within >= all => return Ok(None),
                    None => {}
                }
            }
            let Some(most) = next else {
                let most = self.with_few_breaks(without, progress)?;
                return self.within(most, known.is_some(), without, progress);
            };
            self.solve(without, most, 1, known.is_some(), progress)?;
            self.known_within = without.these.is_empty().then_some(most);
            known = Some(most);
        }
    }

    /// The cheapest chain where `most` is known to be enough; what is known of less is kept where `more` is asked.
    fn within(
        &mut self,
        most: i64,
        more: bool,
        without: Exclusions<'_>,
        progress: &mut Progress<'_>,
    ) -> Result<Option<Chain>, FeedError> {
        self.solve(without, most, 1, more, progress)?;
        self.known_within = without.these.is_empty().then_some(most);
        let first = self.way_on(0, most, without);
        Ok(self.chain_from(first))
    }

    /// What the run costs at least.
    fn least_before(&mut self) -> i64 {
        if self.before.is_empty() {
            self.before = cost_before::costs(self.m, &self.feeders, &mut self.verdicts);
        }
        self.before[self.m.n]
    }

    /// The same where what is known may not be used.
    ///
    /// # Errors
    /// [`FeedError::Stopped`].
    pub fn cheapest_afresh(
        &mut self,
        without: Exclusions<'_>,
        progress: &mut Progress<'_>,
    ) -> Result<Option<Chain>, FeedError> {
        self.known_within = None;
        let chain = self.cheapest(without, progress);
        self.known_within = None;
        chain
    }

    /// What a chain needs not exceed: a little more than the cheapest with breaks at few marks costs. Cheaper ones pass
    /// no mark from which the rest costs more.
    fn with_few_breaks(
        &mut self,
        without: Exclusions<'_>,
        progress: &mut Progress<'_>,
    ) -> Result<i64, FeedError> {
        if !self.m.uses(Acceleration::FewBreaks) {
            return Ok(self.most);
        }
        if self.verdicts.relaxed {
            // What may hold by necessary conditions alone bounds nothing.
            return Ok(i64::MAX);
        }
        let each = self.m.n.div_ceil(FEW).max(APART);
        if (1..self.m.n).all(|mark| self.m.can_break[mark] == self.is_few(mark, each)) {
            // There are few at all.
            return Ok(self.most);
        }
        let kept = std::mem::take(&mut self.best);
        self.solve(without, self.most, each, false, progress)?;
        let first = self.way_on(0, self.most, without);
        self.best = kept;
        let more = |(key, _): (Rank, Candidate)| key.cost.saturating_add(key.cost / MORE);
        Ok(first.map_or(i64::MAX, more).min(self.most))
    }

    /// Whether the run may be broken at a mark, where breaks lie `apart` marks or are forced.
    fn is_few(&self, mark: usize, apart: usize) -> bool {
        let forced = self.m.next_forced[mark - 1] == mark;
        self.m.can_break[mark] && (forced || mark.is_multiple_of(apart))
    }

    /// The best ways on from all marks that may lie on a chain of at most `most`; with breaks `apart` marks, or where
    /// they are forced. What is known of less is kept where `more` is asked.
    fn solve(
        &mut self,
        without: Exclusions<'_>,
        most: i64,
        apart: usize,
        more: bool,
        progress: &mut Progress<'_>,
    ) -> Result<(), FeedError> {
        let m = self.m;
        let n = m.n;
        let plain = Exclusions {
            first: None,
            ..without
        };
        self.rests = CostToGo::new(n, |mark| self.is_few(mark, apart));
        if !more {
            self.best.clear();
            self.best.resize(n + 1, None);
        }
        self.rests.state(m, n, Some(Rank::default()));
        let right = self.feeders.longest_right(m, &self.verdicts.bounds);
        self.right_of = BranchLengths::new(right, n + 1);
        for x in (1..n).rev() {
            if !self.is_few(x, apart) {
                continue;
            }
            // Few breaks are no step on the way.
            let done = if apart > 1 { 0 } else { n - x };
            if progress.step("break and feed", done as u64, n as u64) == Go::Cancel {
                return Err(FeedError::Stopped {
                    run: m.spec.run.clone(),
                    evaluated: self.verdicts.solver.evaluated,
                });
            }
            let left = most.saturating_sub(self.before[x]);
            // What was found within less is a cheapest.
            if self.best[x].is_none() {
                let found = self.way_on(x, left, plain);
                // With its watts it may cost too much.
                self.best[x] = found.filter(|(key, _)| key.cost <= left);
            }
            self.rests.state(m, x, self.best[x].map(|(key, _)| key));
        }
        Ok(())
    }

    /// The best way on from a mark, if it is known.
    pub fn best(&self, x: usize) -> Option<(Rank, Candidate)> {
        self.best.get(x).copied().flatten()
    }

    fn chain_from(&self, first: Option<(Rank, Candidate)>) -> Option<Chain> {
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
