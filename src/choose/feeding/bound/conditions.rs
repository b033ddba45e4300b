//! Necessary conditions, each in constant or logarithmic time: what they refuse cannot hold.

use super::branch_needs::{BranchNeed, BranchNeeds, SLACK, Side, volts_needed};
use super::lengths::LengthBounds;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::rails::MOST_FEEDS;
use crate::choose::feeding::problem::checked::{CheckedRun, FeedOption, LOW, SourceNumbers};
use crate::choose::feeding::problem::spec::Pattern;

/// The necessary conditions of one run.
#[derive(Debug)]
pub(crate) struct Conditions {
    pub branches: BranchNeeds,
    /// Longest branch by mark and option: to the right, and to the left of segments that end there.
    pub reach_right: Vec<Vec<usize>>,
    pub reach_left: Vec<Vec<usize>>,
    /// Most increments of segments with several feeds.
    pub most: LengthBounds,
}

impl Conditions {
    pub fn new(m: &CheckedRun) -> Self {
        let branches = BranchNeeds::new(m);
        // A list is like that of the mark before.
        let reach = |side: Side, mark: usize, last: &[usize]| -> Vec<usize> {
            let (list, most) = match side {
                Side::Right if mark == m.n => (&m.options[mark], 0),
                Side::Right => (&m.options[mark], m.next_forced[mark] - mark),
                Side::Left => (&m.end_options[mark], mark),
            };
            let one = |(k, o): (usize, &FeedOption)| {
                let most = most
                    .min(m.branch)
                    .min(m.most_cells(Pattern::Start, &[o.wire]));
                let guess = last.get(k).copied().unwrap_or(1);
                let source = &m.sources[o.place];
                branches.reach(side, mark, o.core[LOW], source, most, guess)
            };
            list.iter().enumerate().map(one).collect()
        };
        let all = |side: Side| {
            let mut all: Vec<Vec<usize>> = Vec::with_capacity(m.n + 1);
            for mark in 0..=m.n {
                let next = reach(side, mark, all.last().map_or(&[], |last| last));
                all.push(next);
            }
            all
        };
        Self {
            reach_right: all(Side::Right),
            reach_left: all(Side::Left),
            branches,
            most: LengthBounds::new(m),
        }
    }

    /// A feed at `f` with branches to both sides: the longer needs its voltage, and each draws at
    /// least its own least current.
    #[inline]
    pub fn inside_may_hold(
        &self,
        m: &CheckedRun,
        f: usize,
        left: usize,
        right: usize,
        option: &FeedOption,
    ) -> bool {
        let most = &m.most;
        if left + right > most.inside[option.wire] || left.max(right) > most.beside[option.wire] {
            return false;
        }
        let b = &self.branches;
        let (Some(l), Some(r)) = (b.needs(Side::Left, f, left), b.needs(Side::Right, f, right))
        else {
            return false;
        };
        let source = &m.sources[option.place];
        let core = option.core[LOW];
        let (common, returns) = (0.5 * m.joint_common[f], 0.5 * m.joint_returns[f]);
        let light = l.iter().zip(r).all(|(l, r)| {
            let through = |n: &BranchNeed| n.volts + common * n.sum + returns * n.own;
            let together = BranchNeed {
                volts: through(l).max(through(r)),
                own: l.own + r.own,
                sum: l.sum + r.sum,
            };
            volts_needed(&together, core, source) <= source.volts[LOW] + SLACK
        });
        light && !self.one_feed_surely_breaks(m, f - left, f + right, f, option)
    }

    /// A feed at `f` of a segment that surely draws more than its limits.
    pub fn one_feed_surely_breaks(
        &self,
        m: &CheckedRun,
        from: usize,
        to: usize,
        f: usize,
        option: &FeedOption,
    ) -> bool {
        let c = Candidate::new(from, to, Pattern::Inside, &[(f, 0)]);
        let mut cores = [[0.0; 3]; MOST_FEEDS];
        cores[0] = option.core;
        let (source, joints) = (&m.sources[option.place], m.joint_sums(from, to));
        let totals = &self.most.totals;
        totals.surely_break(m, &c, source, &[option.wire], &cores, joints)
    }

    /// Whether no necessary condition refuses a candidate.
    pub fn may_hold(&self, m: &CheckedRun, c: &Candidate) -> bool {
        let n = c.cells();
        let wires: [usize; MOST_FEEDS] =
            std::array::from_fn(|feed| c.option(m, feed.min(c.count - 1)).wire);
        if n > m.most_cells(c.pattern, &wires[..c.count]) {
            return false;
        }
        match c.pattern {
            Pattern::Start => {
                self.reach_right[c.from][c.feeds[0].1] >= n
                    && !self.one_feed_surely_breaks(m, c.from, c.to, c.from, c.option(m, 0))
            }
            Pattern::End => {
                self.reach_left[c.to][c.feeds[0].1] >= n
                    && !self.one_feed_surely_breaks(m, c.from, c.to, c.to, c.option(m, 0))
            }
            Pattern::Inside => {
                let f = c.feeds[0].0;
                let (left, right) = (f - c.from, c.to - f);
                self.inside_may_hold(m, f, left, right, c.option(m, 0))
            }
            _ => {
                let (cores, joints) = (c.cores(m), m.joint_sums(c.from, c.to));
                let totals = &self.most.totals;
                !totals.surely_break(m, c, &m.sources[c.place(m)], &wires, &cores, joints)
            }
        }
    }
}

/// Margin in volt that the least permitted currents leave on average, with `feeds` feeders of `core` ohm
/// and the tape in `2·pieces` branches: the worst cell has no more.
///
/// The average drop of equal cell currents is the heat of the copper over the current, and currents
/// left free to choose their ways make the least heat (Thomson's principle): feeders alike, branches alike.
/// A branch of `L` increments takes at least `L²/3` increments' resistance on average; joints only add heat.
pub(crate) fn average(
    m: &CheckedRun,
    n: usize,
    source: &SourceNumbers,
    branches: usize,
    core: f64,
) -> f64 {
    let n = n as f64;
    let length = (n / branches as f64 - 0.5).max(0.0);
    let rail = length * length / 3.0;
    let copper = &m.corners[LOW];
    let mut margin = f64::INFINITY;
    for state in &m.states {
        let sum: f64 = state.iter().map(|e| m.least_amps[*e]).sum();
        for &e in state {
            let i = m.least_amps[e];
            let drop = source.shared() * n * sum
                + source.switch * n * i
                + core * n * (sum + i)
                + rail * (copper.common * sum + copper.rails[e] * i);
            margin = margin.min(source.volts[LOW] - drop - m.least_volts[e]);
        }
    }
    margin
}
