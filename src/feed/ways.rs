//! Every way to feed a segment that begins at a mark, cheapest first.
//!
//! ```text
//!  one feed, at the start or inside at f:  the ends that its right branch reaches form one group; only
//!                                          the cheapest end of a group waits, and refused it makes
//!                                          way for the cheapest on either side of it
//!  at the end, at both ends, at several:   one way for each end and each choice of wires ([`ends`](super::ends))
//! ```
//! A way waits at the least it can cost; ways that can't beat one already known to hold are dropped.

use super::blocks::Lengths;
use super::by_march::Longer;
use super::candidate::{Candidate, Key, square};
use super::feeders::NO_WAY;
use super::longest::longest_from;
use super::model::{CheckedRun, FeedOption};
use super::placements::even;
use super::search::{Search, Without};
use super::spec::Pattern;
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::ops::Range;

/// A way to go on, at the least it can cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Way {
    pub key: Key,
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
        without: Without<'_>,
    ) -> Option<(Key, Candidate)> {
        self.waiting.clear();
        let within = (most < i64::MAX).then_some(Key {
            cost: most,
            feeds: u64::MAX,
            uneven: u64::MAX,
        });
        let alike = self.like_the_neighbour(x, within, without);
        let mut limit = alike.map(|way| way.key).or(within);
        self.waiting.extend(alike.map(Reverse));
        // What is like the neighbour's comes first, for it limits what follows most.
        let first = alike.map(|way| way.candidate.option(self.m, 0));
        let first = first.map(|o| self.feeders.row(o.place, o.wire));
        let others = self.feeders.rows().filter(|row| Some(*row) != first);
        for row in first.into_iter().chain(others) {
            self.one_feed(x, row, limit);
            if self.m.emitters() == 1 {
                // Segments on one feed are judged by marches, which takes little: the best limits all others.
                let best = self.first_that_holds(x, without, limit);
                limit = best.map(|way| way.key).or(limit);
                self.waiting.extend(best.map(Reverse));
            }
        }
        self.other_ends(x, limit);
        let best = self.first_that_holds(x, without, limit)?;
        Some((best.key, best.candidate))
    }

    /// Of the ways that wait the first that holds; none waits any more.
    fn first_that_holds(
        &mut self,
        x: usize,
        without: Without<'_>,
        limit: Option<Key>,
    ) -> Option<Way> {
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
        open: &mut BinaryHeap<Reverse<Way>>,
        without: Without<'_>,
        limit: Option<Key>,
    ) -> Option<Way> {
        while let Some(Reverse(way)) = open.pop() {
            if way.holds {
                return Some(way);
            }
            let permitted = self.permits(&way.candidate, without);
            let price = if permitted {
                self.oracle.price(self.m, &way.candidate)
            } else {
                None
            };
            let longer_may_hold = !(permitted && price.is_none() && self.learn(&way.candidate));
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
                if longer_may_hold {
                    self.group(x, feed, option, at + 1..last, limit);
                }
                open.extend(self.waiting.drain(..));
            }
        }
        None
    }

    /// Takes note that a candidate is refused, and says whether every longer one from the same mark on the same feed
    /// is with it.
    fn learn(&mut self, c: &Candidate) -> bool {
        let m = self.m;
        match self.oracle.speaks_for(m, c) {
            Longer::None => return false,
            Longer::BesideTheSame => return true,
            Longer::Any => {}
        }
        let (feed, option) = c.feeds[0];
        if c.pattern == Pattern::End {
            let longest = &mut self.oracle.bounds.reach_left[feed][option];
            *longest = (*longest).min(c.cells() - 1);
        } else {
            let o = c.option(m, 0);
            let row = self.feeders.row(o.place, o.wire);
            self.right_of.lower(row, feed, c.to - feed - 1);
        }
        true
    }

    /// The best way of the next break mark, begun at `x` and a little changed, where that holds: a limit for all
    /// others.
    fn like_the_neighbour(
        &mut self,
        x: usize,
        within: Option<Key>,
        without: Without<'_>,
    ) -> Option<Way> {
        let m = self.m;
        if x == 0 && without.first.is_some() || !m.fixed_segments.is_empty() {
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
        let mut alike: Vec<Way> = Vec::with_capacity(9);
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
                    + Key {
                        cost: c.price(m) - m.joint_price_before[to],
                        feeds: c.count as u64,
                        uneven: c.uneven(),
                    };
                if within.is_none_or(|most| key <= most) && self.permits(&c, without) {
                    alike.push(Way {
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
            let watts = self.oracle.price(m, &way.candidate)?;
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
        let (m, judge) = (self.m, &mut self.oracle.judge);
        let ends = self.seen_ends.entry(*c);
        let [least, most] = *ends.or_insert_with(|| judge.seen_ends(m, c));
        least >= low && most <= high
    }

    /// Whether a candidate is among those asked for.
    fn permits(&self, c: &Candidate, without: Without<'_>) -> bool {
        let m = self.m;
        let may = match m.fixed_segment(c.from, c.to) {
            Some(Some(fixed)) => fixed == c.pattern,
            _ => m.spec.patterns.contains(&c.pattern),
        };
        may && (m.fixed_feeds.is_empty() || keeps_fixed(m, c))
            && c.longest_branch() <= m.branch
            && (without.these.is_empty() || !without.these.contains(c))
            && !without
                .first
                .is_some_and(|unwanted| c.from == 0 && unwanted(c))
    }

    /// Lets a way wait; `key` is without joints of reels.
    pub(super) fn wait(
        &mut self,
        key: Key,
        candidate: Candidate,
        group: Range<usize>,
        limit: Option<Key>,
    ) {
        let reels = Key {
            cost: self.m.joined_price(candidate.from, candidate.to),
            ..Key::default()
        };
        let key = key + reels;
        if limit.is_none_or(|limit| key <= limit) {
            self.waiting.push(Reverse(Way {
                key,
                candidate,
                holds: false,
                group: (group.start, group.end),
            }));
        }
    }

    /// What a segment from `x` costs by itself, joints before `x` taken off.
    pub(super) fn own(&self, x: usize) -> i64 {
        let m = self.m;
        // A fixed segment that begins here is the only one that may.
        let fixed = m.fixed_segments.iter().any(|s| s.0 == x);
        (if fixed { 0 } else { m.spec.costs.per_segment }) - m.joint_price_before[x + 1]
    }

    /// The cheapest of a group of ends, for a feed at `feed`.
    fn group(
        &mut self,
        x: usize,
        feed: usize,
        option: usize,
        places: Range<usize>,
        limit: Option<Key>,
    ) {
        let Some((rest, place)) = self.rests.least(feed, places.clone()) else {
            return;
        };
        let m = self.m;
        let to = self.rests.at(place).0;
        let pattern = if feed == x {
            Pattern::Start
        } else {
            Pattern::Inside
        };
        let key = rest
            + Key {
                cost: self.own(x) + m.options[feed][option].cost,
                feeds: 0,
                uneven: square(feed - x),
            };
        let c = Candidate::new(x, to, pattern, &[(feed, option)]);
        self.wait(key, c, places, limit);
    }

    /// One feed from a row of feeders, at the start or inside.
    fn one_feed(&mut self, x: usize, row: usize, limit: Option<Key>) {
        let m = self.m;
        let fixed = !m.fixed_segments.is_empty();
        let has = |p: Pattern| fixed || m.patterns.contains(&p);
        let last = match (has(Pattern::Inside), has(Pattern::Start)) {
            (true, _) => m.next_forced[x] - 1,
            (false, true) => x,
            (false, false) => return,
        };
        // Beyond a fixed feed no other single feed reaches back over it.
        let next_fixed = m.fixed_feeds.iter().find(|g| **g >= x);
        let last = next_fixed.map_or(last, |g| last.min(*g));
        let first = if has(Pattern::Start) { x } else { x + 1 };
        let left = self.feeders.left_after(row, x).min(m.branch);
        let right = self.feeders.right_after(row, x);
        let last = last.min(x.saturating_add(left));
        let most = self.feeders.both_after(row, x);
        let most = most.min(m.most.inside[self.feeders.wire(row)]);
        let end = m.next_forced[x].min(x.saturating_add(most));
        // The first end whose rest is cheap enough beside feeders as cheap as any from a mark to another.
        let left = limit.map_or(NO_WAY - 1, |limit| limit.cost - self.own(x));
        let first_end = |search: &Self, feeds: Range<usize>, end: usize| {
            let feeder = search.feeders.least_in(row, feeds.start, feeds.end - 1);
            let places = search.rests.between(feeds.start, end);
            let first = search
                .rests
                .cheap(places.clone(), left.saturating_sub(feeder))
                .start;
            (first < places.end).then(|| search.rests.at(first).0)
        };
        if first > last || first_end(self, first..last + 1, end).is_none() {
            return;
        }
        for (block, feeds) in Lengths::blocks(first..last + 1) {
            let right = right.min(self.right_of.most_in(row, block));
            let both = x + self.feeders.both_after(row, feeds.start);
            let end_of_all = end.min(both).min(feeds.end - 1 + right);
            if let Some(to) = first_end(self, feeds.clone(), end_of_all) {
                for feed in feeds {
                    if feed + self.right_of.at(row, feed) >= to {
                        self.one_feed_at(x, feed, row, end, limit);
                    }
                }
                self.right_of.refresh(row, block);
            }
        }
    }

    fn one_feed_at(&mut self, x: usize, feed: usize, row: usize, end: usize, limit: Option<Key>) {
        let m = self.m;
        let right = self.right_of.at(row, feed).min(self.furthest(feed, end));
        if right == 0 || feed - x > self.feeders.left(row, feed) {
            return;
        }
        // The shortest right branch whose rest is cheap enough.
        let mut shortest = 1;
        if let Some(limit) = limit {
            let left = limit.cost - self.own(x) - self.feeders.cost(row, feed);
            let places = self.rests.between(feed, feed + right);
            if self.rests.least_cost(places.clone()) > left {
                return;
            }
            let first = self.rests.cheap(places, left).start;
            shortest = self.rests.mark(first).map_or(1, |to| to - feed);
        }
        let Some(option) = self.feeders.option(row, feed) else {
            return;
        };
        let mut right = right;
        if feed > x {
            // The left branches of a feed only grow.
            let o = &m.options[feed][option];
            let bounds = &self.oracle.bounds;
            let may_hold = |right: usize| bounds.inside_may_hold(m, feed, feed - x, right, o);
            if !may_hold(shortest) {
                self.right_of.lower(row, feed, shortest - 1);
                return;
            }
            let most = right;
            right = longest_from(shortest, most, may_hold);
            if right < most {
                self.right_of.lower(row, feed, right);
            }
        }
        let mut places = self.rests.between(feed, feed + right);
        // Of one group all have as many joints of reels.
        while places.start < places.end {
            let last = match self.rests.mark(places.start) {
                Some(first) => m.reels.alike_up_to(x, first),
                None => return,
            };
            let end = places.end.min(self.rests.between(0, last.min(m.n)).end);
            self.group(x, feed, option, places.start..end, limit);
            places.start = end;
        }
    }

    /// Longest right branch of a segment that ends at `end` at most, fed at `feed`: no other fixed feed lies in it.
    fn furthest(&self, feed: usize, end: usize) -> usize {
        let m = self.m;
        let mut last = end;
        for &g in m.fixed_feeds.iter().filter(|g| **g > feed) {
            last = last.min(if g == m.n { m.n - 1 } else { g });
        }
        last.saturating_sub(feed)
    }
}

/// Every fixed feed of the segment is among its feeds.
pub(super) fn keeps_fixed(m: &CheckedRun, c: &Candidate) -> bool {
    m.fixed_feeds.iter().all(|&f| {
        let mine = (f >= c.from && f < c.to) || (f == c.to && c.to == m.n);
        !mine || c.marks().iter().any(|(mark, _)| *mark == f)
    })
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
