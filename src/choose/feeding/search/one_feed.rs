//! Segments on one feed at their start or inside it: by rows of feeders, block by block of marks.
//!
//! ```text
//!  x ├────┤f├──────┤ to     what the rest may cost says how near an end may lie at least; what the feeder
//!     left    right         carries, how far
//! ```

use super::branch_lengths::BranchLengths;
use super::chain::Search;
use super::feeders::NO_WAY;
use crate::choose::feeding::bound::longest::longest_from;
use crate::choose::feeding::circuit::candidate::{Candidate, Rank, square};
use crate::choose::feeding::problem::spec::Pattern;
use std::ops::Range;

impl Search<'_> {
    /// The cheapest of a group of ends, for a feed at `feed`.
    pub(crate) fn group(
        &mut self,
        x: usize,
        feed: usize,
        option: usize,
        places: Range<usize>,
        limit: Option<Rank>,
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
            + Rank {
                cost: self.own(x) + m.options[feed][option].cost,
                feeds: 0,
                uneven: square(feed - x),
            };
        let c = Candidate::new(x, to, pattern, &[(feed, option)]);
        self.wait(key, c, places, limit);
    }

    /// One feed from a row of feeders, at the start or inside.
    pub(crate) fn one_feed(&mut self, x: usize, row: usize, limit: Option<Rank>) {
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
        for (block, feeds) in BranchLengths::blocks(first..last + 1) {
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

    fn one_feed_at(&mut self, x: usize, feed: usize, row: usize, end: usize, limit: Option<Rank>) {
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
            let bounds = &self.verdicts.bounds;
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
