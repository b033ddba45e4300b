//! Every segment that a small run may be made of, for a search that looks beyond the run.
//!
//! ```text
//!  marks   0 ──── 3 ──── 5 ──── 8      each span between two marks where the run may be broken,
//!          ├──────┤ ├────┤             in every way of feeding, from every place, through every wire;
//!          ├─────────────┤ ├────┤      what keeps every limit and lies on a chain that is cheap
//!          ├────────────────────┤      enough is solved in full
//! ```
//! The cheapest chain of one run is no part of the cheapest whole where devices are dear: a chain that
//! costs more may draw less from each output.

use super::solve::{SolvedChain, assemble, mismatch};
use super::steps::step_across;
use super::words;
use crate::choose::feeding::circuit::candidate::{Candidate, Rank};
use crate::choose::feeding::figures::{self, Chosen};
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::error::FeedError;
use crate::choose::feeding::result::plan::{Alternative, Proof, RunFeedPlan, Segment};
use crate::choose::feeding::search::chain::Chain;
use crate::choose::feeding::verdict::solver::SegmentSolver;
use crate::network::Workspace;
use crate::order::Order as _;
use crate::progress::{Go, Progress};

/// How much may be tried before a run counts as large.
#[derive(Debug, Clone, Copy)]
pub(crate) struct ListLimits {
    /// Candidates that are judged.
    pub candidates: usize,
    /// Segments that are solved in full.
    pub segments: usize,
}

/// A segment that keeps every limit by itself.
#[derive(Debug, Clone)]
pub(crate) struct SolvedSegment {
    candidate: Candidate,
    chosen: Chosen,
    /// What it adds to a chain, minor units: its price, and the break at its end.
    pub cost: i64,
}

/// The segments of a run, by first mark, last mark and cost.
#[derive(Debug, Clone)]
pub(crate) struct SegmentList {
    run: CheckedRun,
    pub segments: Vec<SolvedSegment>,
    /// Candidates that were judged.
    pub judged: usize,
}

impl SolvedSegment {
    pub fn segment(&self) -> &Segment {
        &self.chosen.segment
    }
}

impl CheckedRun {
    /// Every segment that keeps every limit and lies on a chain of at most `most` minor units; none where the
    /// run is not small.
    ///
    /// # Errors
    /// [`FeedError::Stopped`], [`FeedError::Mismatch`].
    pub(crate) fn every_segment(
        self,
        most: i64,
        small: ListLimits,
        progress: &mut Progress<'_>,
    ) -> Result<Option<SegmentList>, FeedError> {
        // Watts are no price of a device job.
        if self.spec.costs.energy.is_some() {
            return Ok(None);
        }
        let Some(all) = candidates(&self, small.candidates) else {
            return Ok(None);
        };
        let judged = all.len();
        let mut solver = SegmentSolver::default();
        let mut holding = Vec::new();
        for (done, c) in all.into_iter().enumerate() {
            ask(&self, progress, done, judged)?;
            if solver.broken(&self, &c).is_none() {
                holding.push((c, c.price(&self) + self.break_cost[c.to]));
            }
        }
        let cheap = on_cheap_chains(self.n, &holding, most);
        if cheap.len() > small.segments {
            return Ok(None);
        }
        let mut work = Workspace::new();
        let mut segments = Vec::with_capacity(cheap.len());
        for (done, (candidate, cost)) in cheap.iter().copied().enumerate() {
            ask(&self, progress, done, cheap.len())?;
            let chosen = figures::choose(&self, &candidate, &mut work)
                .map_err(|what| mismatch(&self, &candidate, what))?;
            if let Some(f) = chosen.measured.iter().find(|f| !f.holds_within(1e-6)) {
                return Err(mismatch(&self, &candidate, words::measured(&self, f)));
            }
            segments.push(SolvedSegment {
                candidate,
                chosen,
                cost,
            });
        }
        segments.order_by_key(|h| {
            let c = h.candidate;
            (c.from, c.to, h.cost, c.count, c.uneven(), c)
        });
        Ok(Some(SegmentList {
            run: self,
            segments,
            judged,
        }))
    }
}

impl SegmentList {
    /// Whether a step of light across a break may show anywhere.
    pub fn seen(&self) -> bool {
        self.run.limits.visible_step.is_some() && self.run.visible.contains(&true)
    }

    /// Whether no step shows where one segment ends and another begins.
    pub fn meet(&self, left: &SolvedSegment, right: &SolvedSegment) -> bool {
        step_across(&self.run, left.candidate.to, &left.chosen, &right.chosen)
            .is_none_or(|f| f.holds())
    }

    /// The plan of a chain of segments, by their places in the list.
    pub fn plan(
        &self,
        chain: &[usize],
        lower: i64,
        proof: Proof,
        runner_up: Option<Alternative>,
    ) -> RunFeedPlan {
        let own = || chain.iter().map(|at| &self.segments[*at]);
        let key = own().fold(Rank::default(), |key, h| {
            key + Rank {
                cost: h.cost,
                feeds: h.candidate.count as u64,
                uneven: h.candidate.uneven(),
            }
        });
        let found = SolvedChain {
            chain: Chain {
                key,
                segments: own().map(|h| h.candidate).collect(),
            },
            chosen: own().map(|h| h.chosen.clone()).collect(),
            lower,
            stopped: None,
        };
        assemble(&self.run, found, proof, runner_up, None, self.judged as u64)
    }
}

fn ask(
    m: &CheckedRun,
    progress: &mut Progress<'_>,
    done: usize,
    of: usize,
) -> Result<(), FeedError> {
    if progress.step("listing segments", done as u64, of as u64) == Go::Cancel {
        return Err(FeedError::Stopped {
            run: m.spec.run.clone(),
            evaluated: done as u64,
        });
    }
    Ok(())
}

/// Every candidate that the run permits, none where there are more than `most`.
fn candidates(m: &CheckedRun, most: usize) -> Option<Vec<Candidate>> {
    let mut all = Vec::new();
    for from in (0..m.n).filter(|k| m.can_break[*k]) {
        for to in (from + 1..=m.next_forced[from]).filter(|k| m.can_break[*k]) {
            let patterns = match m.fixed_segment(from, to) {
                Some(Some(fixed)) => &[fixed][..],
                _ => &m.spec.patterns,
            };
            for pattern in patterns {
                all.extend(Candidate::every(m, from, to, *pattern).take(most + 1 - all.len()));
            }
            if all.len() > most {
                return None;
            }
        }
    }
    all.retain(|c| m.fixed_feeds.is_empty() || c.keeps_fixed(m));
    Some(all)
}

/// Those that lie on a chain over the whole run of at most `most`.
fn on_cheap_chains(n: usize, all: &[(Candidate, i64)], most: i64) -> Vec<(Candidate, i64)> {
    let mut order: Vec<&(Candidate, i64)> = all.iter().collect();
    order.order_by_key(|(c, _)| (c.from, c.to));
    let mut before: Vec<Option<i64>> = vec![None; n + 1];
    let mut after = before.clone();
    (before[0], after[n]) = (Some(0), Some(0));
    let lower = |slot: &mut Option<i64>, cost: i64| {
        *slot = Some(slot.map_or(cost, |old| old.min(cost)));
    };
    for (c, cost) in &order {
        if let Some(so_far) = before[c.from] {
            lower(&mut before[c.to], so_far + cost);
        }
    }
    for (c, cost) in order.iter().rev() {
        if let Some(rest) = after[c.to] {
            lower(&mut after[c.from], rest + cost);
        }
    }
    let through = |c: &Candidate, cost: i64| Some(before[c.from]? + cost + after[c.to]?);
    all.iter()
        .filter(|(c, cost)| through(c, *cost).is_some_and(|sum| sum <= most))
        .copied()
        .collect()
}
