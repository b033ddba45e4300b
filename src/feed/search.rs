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
use super::feeders::Feeders;
use super::figures::Chosen;
use super::model::CheckedRun;
use super::oracle::Oracle;
use super::rests::Rests;
use super::ways::Way;
use crate::progress::{Go, Progress};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

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
    pub feeders: Feeders,
    /// By row of feeders and mark: longest right branch that may hold beside the left branches tried so far.
    pub right_of: Vec<usize>,
    /// Ways on from the mark that is looked at.
    pub waiting: Vec<Reverse<Way>>,
    /// Segments of chains found so far, solved in full.
    pub chosen: BTreeMap<Candidate, Chosen>,
    /// The best ways on are known from every mark, nothing left out.
    known: bool,
    best: Vec<Option<(Key, Candidate)>>,
}

impl<'a> Search<'a> {
    pub fn new(m: &'a CheckedRun) -> Self {
        let oracle = Oracle::new(m);
        Self {
            m,
            feeders: Feeders::new(m, &oracle.bounds),
            oracle,
            rests: Rests::default(),
            right_of: Vec::new(),
            waiting: Vec::new(),
            chosen: BTreeMap::new(),
            known: false,
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
        if !(self.known && plain) {
            self.solve(without, progress)?;
            self.known = plain;
        }
        let first = match without.first {
            Some(_) => self.way_on(0, without),
            None => self.best[0],
        };
        Ok(self.chain_from(first))
    }

    /// The best ways on from all marks.
    fn solve(
        &mut self,
        without: Without<'_>,
        progress: &mut Progress<'_>,
    ) -> Result<(), FeedError> {
        let m = self.m;
        let n = m.n;
        let plain = Without {
            first: None,
            ..without
        };
        self.rests = Rests::new(n, |k| m.can_break[k]);
        self.best.clear();
        self.best.resize(n + 1, None);
        self.rests.state(m, n, Some(Key::default()));
        self.right_of = self.feeders.longest_right(m, &self.oracle.bounds);
        for x in (0..n).rev().filter(|x| *x == 0 || m.can_break[*x]) {
            let step = progress.step("break and feed", (n - x) as u64, n as u64);
            if step == Go::Cancel {
                return Err(FeedError::Stopped {
                    run: m.spec.run.clone(),
                    evaluated: self.oracle.judge.evaluated,
                });
            }
            self.best[x] = self.way_on(x, plain);
            if x > 0 {
                self.rests.state(m, x, self.best[x].map(|(key, _)| key));
            }
        }
        Ok(())
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
