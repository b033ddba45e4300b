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

use super::solve::{Found, assemble, mismatch};
use super::steps::step_across;
use super::words;
use crate::choose::feeding::circuit::candidate::{Candidate, Key};
use crate::choose::feeding::circuit::placements::{even, listed};
use crate::choose::feeding::figures::{self, Chosen};
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::error::FeedError;
use crate::choose::feeding::problem::spec::Pattern;
use crate::choose::feeding::result::plan::{Alternative, Proof, RunFeedPlan, Segment};
use crate::choose::feeding::search::chain::Chain;
use crate::choose::feeding::search::ways::keeps_fixed;
use crate::choose::feeding::verdict::judge::Judge;
use crate::network::Workspace;
use crate::order::Order as _;
use crate::progress::{Go, Progress};

/// How much may be tried before a run counts as large.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Small {
    /// Candidates that are judged.
    pub candidates: usize,
    /// Segments that are solved in full.
    pub segments: usize,
}

/// A segment that keeps every limit by itself.
#[derive(Debug, Clone)]
pub(crate) struct Held {
    candidate: Candidate,
    chosen: Chosen,
    /// What it adds to a chain, minor units: its price, and the break at its end.
    pub cost: i64,
}

/// The segments of a run, by first mark, last mark and cost.
#[derive(Debug, Clone)]
pub(crate) struct Every {
    run: CheckedRun,
    pub segments: Vec<Held>,
    /// Candidates that were judged.
    pub judged: usize,
}

impl Held {
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
        small: Small,
        progress: &mut Progress<'_>,
    ) -> Result<Option<Every>, FeedError> {
        // Watts are no price of a device job.
        if self.spec.costs.energy.is_some() {
            return Ok(None);
        }
        let Some(all) = candidates(&self, small.candidates) else {
            return Ok(None);
        };
        let judged = all.len();
        let mut judge = Judge::default();
        let mut holding = Vec::new();
        for (done, c) in all.into_iter().enumerate() {
            ask(&self, progress, done, judged)?;
            if judge.broken(&self, &c).is_none() {
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
            segments.push(Held {
                candidate,
                chosen,
                cost,
            });
        }
        segments.order_by_key(|h| {
            let c = h.candidate;
            (c.from, c.to, h.cost, c.count, c.uneven(), c)
        });
        Ok(Some(Every {
            run: self,
            segments,
            judged,
        }))
    }
}

impl Every {
    /// Whether a step of light across a break may show anywhere.
    pub fn seen(&self) -> bool {
        self.run.limits.visible_step.is_some() && self.run.visible.contains(&true)
    }

    /// Whether no step shows where one segment ends and another begins.
    pub fn meet(&self, left: &Held, right: &Held) -> bool {
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
        let key = own().fold(Key::default(), |key, h| {
            key + Key {
                cost: h.cost,
                feeds: h.candidate.count as u64,
                uneven: h.candidate.uneven(),
            }
        });
        let found = Found {
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
                Some(Some(fixed)) => vec![fixed],
                _ => m.spec.patterns.clone(),
            };
            for pattern in patterns {
                let feeds = |feeds: &[(usize, usize)]| Candidate::new(from, to, pattern, feeds);
                match pattern {
                    Pattern::Start => {
                        all.extend((0..m.options[from].len()).map(|o| feeds(&[(from, o)])))
                    }
                    Pattern::End => {
                        all.extend((0..m.end_options[to].len()).map(|o| feeds(&[(to, o)])))
                    }
                    Pattern::Inside => {
                        for f in from + 1..to {
                            all.extend((0..m.options[f].len()).map(|o| feeds(&[(f, o)])));
                        }
                    }
                    Pattern::CommonAtStart | Pattern::CommonAtEnd | Pattern::BothEnds => {
                        for (a, left) in m.options[from].iter().enumerate() {
                            for (b, right) in m.end_options[to].iter().enumerate() {
                                if left.place == right.place {
                                    all.push(feeds(&[(from, a), (to, b)]));
                                }
                            }
                        }
                    }
                    Pattern::TwoInside | Pattern::BothEndsAndInside | Pattern::ThreeInside => {
                        several(m, pattern, from, to, most, &mut all);
                    }
                }
            }
            if all.len() > most {
                return None;
            }
        }
    }
    all.retain(|c| m.fixed_feeds.is_empty() || keeps_fixed(m, c));
    Some(all)
}

/// Two and three feeds: one place and one wire for all.
fn several(
    m: &CheckedRun,
    pattern: Pattern,
    from: usize,
    to: usize,
    most: usize,
    all: &mut Vec<Candidate>,
) {
    let count = if pattern == Pattern::TwoInside { 2 } else { 3 };
    let marks: Vec<[usize; 3]> = match &m.listed_inside {
        Some(_) => listed(m, pattern, from, to)
            .into_iter()
            .map(|l| l.0)
            .collect(),
        None => even(pattern, from, to).into_iter().flatten().collect(),
    };
    for marks in marks {
        let marks = &marks[..count];
        for option in m.options_at(marks[0], to) {
            let same = |mark: usize| {
                let list = m.options_at(mark, to);
                list.iter()
                    .position(|o| o.place == option.place && o.wire == option.wire)
                    .map(|at| (mark, at))
            };
            let feeds: Option<Vec<(usize, usize)>> = marks.iter().map(|mark| same(*mark)).collect();
            all.extend(feeds.map(|feeds| Candidate::new(from, to, pattern, &feeds)));
        }
        if all.len() > most {
            return;
        }
    }
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
