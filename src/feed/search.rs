//! Cheapest chain of segments over the cut marks, by dynamic programming from the end of the run.
//!
//! The candidates are those that no cheap necessary condition refuses ([`march`](super::march),
//! [`bound`](super::bound)), less those that a full evaluation has refused. So the chain found costs
//! no more than any that keeps the limits, and when its segments all hold in full it is a cheapest.
//!
//! ```text
//!  best[x] = min over segments from x to j of price + best[j]
//!  feeds at an end:  one loop over j for each x
//!  feed inside at f: for each left length the longest right length that fits shrinks as the left
//!                    grows, so one walk of two pointers and a running minimum serve all pairs
//! ```

use super::candidate::{Candidate, Key};
use super::judge::Judge;
use super::lessons::Lessons;
use super::march::{Branches, Side};
use super::model::{CheckedRun, LOW};
use super::spec::Pattern;
use std::collections::{BTreeMap, BTreeSet};

/// A chain of segments.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chain {
    pub key: Key,
    pub segments: Vec<Candidate>,
}

/// What is known of the candidates of one run, and the best chains found so far.
pub(super) struct Search<'a> {
    pub m: &'a CheckedRun,
    pub branches: Branches,
    /// Longest branch by mark and option: to the right, and to the left of segments that end there.
    pub reach_right: Vec<Vec<usize>>,
    pub reach_left: Vec<Vec<usize>>,
    pub one_loop: bool,
    pub least_option: i64,
    /// What refused candidates teach.
    pub lessons: Lessons,
    /// Evaluated candidates: price of the watts they lose, or none where a limit breaks.
    pub known: BTreeMap<Candidate, Option<i64>>,
    /// Cost of the very first chain, which only necessary conditions had thinned out.
    pub cheapest_bound: i64,
    /// Evaluate candidates as they are met.
    pub eager: bool,
    pub judge: Judge,
    best: Vec<Option<(Key, Candidate)>>,
}

impl<'a> Search<'a> {
    pub fn new(m: &'a CheckedRun) -> Self {
        let branches = Branches::new(m);
        let reach = |side: Side, mark: usize| {
            let (list, most) = match side {
                Side::Right => (&m.options[mark], m.next_forced[mark] - mark),
                Side::Left => (&m.end_options[mark], mark),
            };
            let most = if mark == m.n && side == Side::Right {
                0
            } else {
                most
            };
            list.iter()
                .map(|o| branches.reach(side, mark, o.core[LOW], &m.sources[o.place], most))
                .collect()
        };
        let all = m.options.iter().chain(&m.end_options).flatten();
        Self {
            reach_right: (0..=m.n).map(|mark| reach(Side::Right, mark)).collect(),
            reach_left: (0..=m.n).map(|mark| reach(Side::Left, mark)).collect(),
            one_loop: m.one_loop(),
            least_option: all.map(|o| o.cost).min().unwrap_or(0),
            m,
            branches,
            lessons: Lessons::default(),
            known: BTreeMap::new(),
            cheapest_bound: i64::MAX,
            eager: false,
            judge: Judge::default(),
            best: Vec::new(),
        }
    }

    /// The cheapest chain without the `local` exclusions.
    pub fn cheapest(&mut self, local: &BTreeSet<Candidate>) -> Option<Chain> {
        let n = self.m.n;
        self.best.clear();
        self.best.resize(n + 1, None);
        for x in (0..n).rev() {
            if x > 0 && self.m.next_forced[x - 1] != x {
                // A feed inside a segment that has x within it: both sides are known when x is reached.
                self.inside(x, local);
            }
            if self.m.can_break[x] {
                self.from(x, local, None);
            }
        }
        let chain = self.chain_from(0);
        if let Some(chain) = &chain {
            self.cheapest_bound = self.cheapest_bound.min(chain.key.cost);
        }
        chain
    }

    fn chain_from(&self, start: usize) -> Option<Chain> {
        let mut segments = Vec::new();
        let (key, first) = self.best.get(start).copied().flatten()?;
        segments.push(first);
        let mut at = first.to;
        while at < self.m.n {
            let (_, next) = self.best[at]?;
            segments.push(next);
            at = next.to;
        }
        Some(Chain { key, segments })
    }

    /// The cheapest chain whose first segment is of another kind, after [`Self::cheapest`].
    pub fn other_start(
        &mut self,
        local: &BTreeSet<Candidate>,
        not: &dyn Fn(&Candidate) -> bool,
    ) -> Option<Chain> {
        let saved = self.best[0].take();
        for f in (1..self.m.next_forced[0]).rev() {
            self.inside_towards(f, local, Some(not));
        }
        self.from(0, local, Some(not));
        let chain = self.chain_from(0);
        self.best[0] = saved;
        chain
    }

    pub fn rest(&self, j: usize) -> Option<Key> {
        if j == self.m.n {
            Some(Key::default())
        } else {
            self.best[j].map(|b| b.0)
        }
    }

    /// Takes the candidate if it is better than what is known from its start. Whether nothing
    /// forbids it.
    pub fn offer(
        &mut self,
        candidate: Candidate,
        key: Key,
        local: &BTreeSet<Candidate>,
        not: Option<&dyn Fn(&Candidate) -> bool>,
    ) -> bool {
        if self.is_worse(&candidate, key) {
            return true;
        }
        if !local.is_empty() && local.contains(&candidate) || not.is_some_and(|not| not(&candidate))
        {
            return false;
        }
        let watts = match self.known.get(&candidate) {
            Some(known) => *known,
            None if self.lessons.refuse(self.m, &candidate) => None,
            // With the effort spent only what was evaluated counts.
            None if self.is_exhausted() => None,
            None if self.eager => self.evaluate(&candidate),
            None => Some(0),
        };
        let Some(watts) = watts else { return false };
        let mut key = key;
        key.cost = key.cost.saturating_add(watts);
        if !self.is_worse(&candidate, key) {
            self.best[candidate.from] = Some((key, candidate));
        }
        // Watts lost may make the cheapest in copper dearer than another.
        watts == 0
    }

    fn is_worse(&self, candidate: &Candidate, key: Key) -> bool {
        self.best[candidate.from]
            .as_ref()
            .is_some_and(|(best, held)| (*best, held) <= (key, candidate))
    }

    pub fn may(&self, from: usize, to: usize, pattern: Pattern) -> bool {
        match self.m.fixed_segment(from, to) {
            Some(Some(fixed)) => fixed == pattern,
            _ => self.m.spec.patterns.contains(&pattern),
        }
    }

    /// Every fixed feed of the segment is among its feeds.
    pub fn keeps_fixed(&self, c: &Candidate) -> bool {
        keeps_fixed(self.m, c)
    }

    /// Whether anything as cheap as `least` could still improve on the best from `x`.
    pub fn hopeless(&self, x: usize, least: Key) -> bool {
        self.best[x].is_some_and(|(best, _)| best < least)
    }
}

/// Every fixed feed of the segment is among its feeds.
pub(super) fn keeps_fixed(m: &CheckedRun, c: &Candidate) -> bool {
    m.fixed_feeds.iter().all(|&f| {
        let mine = (f >= c.from && f < c.to) || (f == c.to && c.to == m.n);
        !mine || c.marks().iter().any(|(mark, _)| *mark == f)
    })
}
