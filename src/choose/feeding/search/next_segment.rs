//! Every way to feed a segment that begins at a mark, cheapest first.
//!
//! ```text
//!  one feed, at the start or inside at f:  the ends that its right branch reaches form one group; only
//!                                          the cheapest end of a group waits, and refused it makes
//!                                          way for the cheapest on either side of it
//!  at the end, at both ends, at several:   one way for each end and each choice of wires
//! ```
//! The first are of the room [`one_feed`](super::one_feed), the others of [`several_feeds`](super::several_feeds).
//! A way waits at the least it can cost; ways that can't beat one already known to hold are dropped.

use super::chain::{Exclusions, Search};
use crate::choose::feeding::circuit::candidate::{Candidate, Rank};
use crate::choose::feeding::circuit::placements::even;
use crate::choose::feeding::problem::accelerations::Acceleration;
use crate::choose::feeding::problem::checked::{CheckedRun, FeedOption};
use crate::choose::feeding::problem::spec::Pattern;
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::ops::Range;

/// A way to go on, at the least it can cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct NextSegment {
    pub key: Rank,
    pub candidate: Candidate,
    /// The key is what it costs, all told, and it holds.
    holds: bool,
    /// Places of the break marks among which it is the cheapest end.
    group: (usize, usize),
}

impl Search<'_> {
    /// The cheapest way on from `x` that costs at most `most`; of equals the first in the order of keys and candidates.
    pub fn way_on(
        &mut self,
        x: usize,
        most: i64,
        without: Exclusions<'_>,
    ) -> Option<(Rank, Candidate)> {
        self.waiting.clear();
        let within = (most < i64::MAX).then_some(Rank {
            cost: most,
            feeds: u64::MAX,
            uneven: u64::MAX,
        });
        let alike = self.like_the_neighbour(x, within, without);
        let limit = alike.map(|way| way.key).or(within);
        self.waiting.extend(alike.map(Reverse));
        for row in self.feeders.rows() {
            self.one_feed(x, row, limit);
        }
        self.other_ends(x, limit);
        let best = self.first_that_holds(x, without, limit)?;
        Some((best.key, best.candidate))
    }

    /// Of the ways that wait the first that holds; none waits any more.
    fn first_that_holds(
        &mut self,
        x: usize,
        without: Exclusions<'_>,
        limit: Option<Rank>,
    ) -> Option<NextSegment> {
        if self.waiting.is_empty() {
            return None;
        }
        let mut open = BinaryHeap::from(std::mem::take(&mut self.waiting));
        let found = self.next_that_holds(x, &mut open, without, limit);
        // The room is used again.
        self.waiting = open.into_vec();
        self.waiting.clear();
        found
    }

    fn next_that_holds(
        &mut self,
        x: usize,
        open: &mut BinaryHeap<Reverse<NextSegment>>,
        without: Exclusions<'_>,
        limit: Option<Rank>,
    ) -> Option<NextSegment> {
        while let Some(Reverse(way)) = open.pop() {
            if way.holds {
                return Some(way);
            }
            let price = self
                .permits(&way.candidate, without)
                .then(|| self.verdicts.price(self.m, &way.candidate))
                .flatten();
            let price = price.filter(|_| self.is_within(&way.candidate));
            if let Some(watts) = price {
                let mut dearer = way;
                dearer.key.cost = dearer.key.cost.saturating_add(watts);
                dearer.holds = true;
                if watts == 0 {
                    return Some(dearer);
                }
                open.push(Reverse(dearer));
            }
            let (first, last) = way.group;
            if first < last {
                let at = self.rests.between(x, way.candidate.to).end - 1;
                let (feed, option) = way.candidate.feeds[0];
                self.group(x, feed, option, first..at, limit);
                self.group(x, feed, option, at + 1..last, limit);
                open.extend(self.waiting.drain(..));
            }
        }
        None
    }

    /// The best way of the next break mark, begun at `x` and a little changed, where that holds: a limit for all
    /// others.
    fn like_the_neighbour(
        &mut self,
        x: usize,
        within: Option<Rank>,
        without: Exclusions<'_>,
    ) -> Option<NextSegment> {
        let m = self.m;
        if !m.uses(Acceleration::LikeTheNeighbour)
            || x == 0 && without.first.is_some()
            || !m.fixed_segments.is_empty()
        {
            return None;
        }
        let next = self.rests.mark(self.rests.between(0, x).end)?;
        let (_, model) = self.best(next)?;
        if m.listed_inside.is_some() && model.pattern > Pattern::BothEnds {
            return None;
        }
        let moves: &[isize] = match model.pattern {
            Pattern::Inside => &[x as isize - next as isize, 0, 1],
            _ => &[0],
        };
        let place = self.rests.between(x, model.to).end - 1;
        let mut alike: Vec<NextSegment> = Vec::with_capacity(9);
        for to in (place.saturating_sub(1)..place + 2).filter_map(|place| self.rests.mark(place)) {
            let Some(rest) = self.rests.from(to) else {
                continue;
            };
            if to <= x || to > m.next_forced[x] {
                continue;
            }
            for by in moves {
                let Some(c) = moved(m, &model, x, to, *by) else {
                    continue;
                };
                let key = rest
                    + Rank {
                        cost: c.price(m) - m.joint_price_before[to],
                        feeds: c.count as u64,
                        uneven: c.uneven(),
                    };
                if within.is_none_or(|most| key <= most) && self.permits(&c, without) {
                    alike.push(NextSegment {
                        key,
                        candidate: c,
                        holds: true,
                        group: (0, 0),
                    });
                }
            }
        }
        alike.sort_unstable();
        alike.into_iter().find_map(|mut way| {
            let watts = self.verdicts.price(m, &way.candidate)?;
            if !self.is_within(&way.candidate) {
                return None;
            }
            way.key.cost = way.key.cost.saturating_add(watts);
            Some(way)
        })
    }

    /// Whether its ends beside breaks that are seen have the currents asked for.
    fn is_within(&mut self, c: &Candidate) -> bool {
        let Some([low, high]) = self.window else {
            return true;
        };
        let (m, solver) = (self.m, &mut self.verdicts.solver);
        let ends = self.seen_ends.entry(*c);
        let [least, most] = *ends.or_insert_with(|| solver.seen_ends(m, c));
        least >= low && most <= high
    }

    /// Whether a candidate is among those asked for.
    fn permits(&self, c: &Candidate, without: Exclusions<'_>) -> bool {
        let m = self.m;
        let may = match m.fixed_segment(c.from, c.to) {
            Some(Some(fixed)) => fixed == c.pattern,
            _ => m.spec.patterns.contains(&c.pattern),
        };
        may && (m.fixed_feeds.is_empty() || c.keeps_fixed(m))
            && c.longest_branch() <= m.branch
            && (without.these.is_empty() || !without.these.contains(c))
            && !without
                .first
                .is_some_and(|unwanted| c.from == 0 && unwanted(c))
    }

    /// Lets a way wait; `key` is without joints of reels.
    pub(crate) fn wait(
        &mut self,
        key: Rank,
        candidate: Candidate,
        group: Range<usize>,
        limit: Option<Rank>,
    ) {
        let reels = Rank {
            cost: self.m.joined_price(candidate.from, candidate.to),
            ..Rank::default()
        };
        let key = key + reels;
        if limit.is_none_or(|limit| key <= limit) {
            self.waiting.push(Reverse(NextSegment {
                key,
                candidate,
                holds: false,
                group: (group.start, group.end),
            }));
        }
    }

    /// What a segment from `x` costs by itself, joints before `x` taken off.
    pub(crate) fn own(&self, x: usize) -> i64 {
        let m = self.m;
        // A fixed segment that begins here is the only one that may.
        let fixed = m.fixed_segments.iter().any(|s| s.0 == x);
        (if fixed { 0 } else { m.spec.costs.per_segment }) - m.joint_price_before[x + 1]
    }
}

/// A segment from `x` to `to` that is fed like `model`: at its ends and at even places as these lie, inside
/// `by` marks beyond.
fn moved(m: &CheckedRun, model: &Candidate, x: usize, to: usize, by: isize) -> Option<Candidate> {
    let marks = match model.pattern {
        Pattern::Start => [x, 0, 0],
        Pattern::End => [to, 0, 0],
        Pattern::Inside => [model.feeds[0].0.checked_add_signed(by)?, 0, 0],
        Pattern::CommonAtStart | Pattern::CommonAtEnd | Pattern::BothEnds => [x, to, 0],
        _ => even(model.pattern, x, to)[0]?,
    };
    if model.pattern == Pattern::Inside && !(x + 1..to).contains(&marks[0]) {
        return None;
    }
    let mut c = Candidate {
        from: x,
        to,
        ..*model
    };
    for (feed, mark) in marks.into_iter().enumerate().take(model.count) {
        let wanted = model.option(m, feed);
        let alike = |o: &FeedOption| o.place == wanted.place && o.wire == wanted.wire;
        c.feeds[feed] = (mark, m.options_at(mark, to).iter().position(alike)?);
    }
    Some(c)
}
