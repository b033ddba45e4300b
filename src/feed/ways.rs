//! Every way to feed a segment that begins at a mark, cheapest first.
//!
//! ```text
//!  one feed, at the start or inside at f:  the ends that its right branch reaches form one group; only
//!                                          the cheapest end of a group waits, and refused it makes
//!                                          way for the cheapest on either side of it
//!  at the end, at both ends, at several:   one way for each end and each choice of wires ([`ends`](super::ends))
//! ```
//! A way waits at the least it can cost; ways that can't beat one already known to hold are dropped.

use super::candidate::{Candidate, Key, square};
use super::model::{CheckedRun, FeedOption};
use super::placements::even;
use super::search::{Search, Without};
use super::spec::Pattern;
use std::cmp::Reverse;
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
    /// The cheapest way on from `x` that costs at most `most`; of equals the first in the order of keys and
    /// candidates.
    pub fn way_on(
        &mut self,
        x: usize,
        most: i64,
        without: Without<'_>,
    ) -> Option<(Key, Candidate)> {
        self.open.clear();
        let mut limit = (most < i64::MAX).then_some(Key {
            cost: most,
            feeds: u64::MAX,
            uneven: u64::MAX,
        });
        if let Some(way) = self.like_the_neighbour(x, without) {
            limit = Some(limit.map_or(way.key, |limit| limit.min(way.key)));
            self.open.push(Reverse(way));
        }
        self.one_feed(x, limit);
        self.other_ends(x, limit);
        if self.open.len() > self.most_open {
            return None;
        }
        while let Some(Reverse(way)) = self.open.pop() {
            if way.holds {
                return Some((way.key, way.candidate));
            }
            let permitted = self.permits(&way.candidate, without);
            let price = if permitted {
                self.oracle.price(self.m, &way.candidate)
            } else {
                None
            };
            let longer_may_hold = !(permitted && price.is_none() && self.learn(&way.candidate));
            if let Some(watts) = price {
                let mut dearer = way;
                dearer.key.cost = dearer.key.cost.saturating_add(watts);
                dearer.holds = true;
                if watts == 0 {
                    return Some((dearer.key, dearer.candidate));
                }
                self.open.push(Reverse(dearer));
            }
            let (first, last) = way.group;
            if first < last {
                let at = self.rests.between(x, way.candidate.to).end - 1;
                let (feed, option) = way.candidate.feeds[0];
                self.group(x, feed, option, first..at, limit);
                if longer_may_hold {
                    self.group(x, feed, option, at + 1..last, limit);
                }
            }
        }
        None
    }

    /// Takes note that a candidate is refused, and says whether every longer one on the same feed is with it: with
    /// one emitter on one feed an increment more lowers every cell and adds to the current of every link on the way.
    fn learn(&mut self, c: &Candidate) -> bool {
        let m = self.m;
        if m.emitters() > 1
            || c.count > 1
            || m.limits.visible_step.is_some()
            || self.oracle.is_exhausted(m)
        {
            return false;
        }
        let (feed, option) = c.feeds[0];
        let (longest, length) = if c.pattern == Pattern::End {
            let reach = &mut self.oracle.bounds.reach_left;
            (&mut reach[feed][option], c.cells())
        } else {
            (&mut self.right_of[feed][option], c.to - feed)
        };
        *longest = (*longest).min(length - 1);
        true
    }

    /// The best way of the mark after `x`, longer by one increment or moved by one, where one of these holds:
    /// a limit for all others.
    fn like_the_neighbour(&mut self, x: usize, without: Without<'_>) -> Option<Way> {
        let m = self.m;
        let (_, model) = self.best(x + 1)?;
        if x == 0 && without.first.is_some() || !m.fixed_segments.is_empty() {
            return None;
        }
        if m.listed_inside.is_some() && model.pattern > Pattern::BothEnds {
            return None;
        }
        let mut alike: Vec<Way> = Vec::with_capacity(4);
        for (to, back) in [(model.to - 1, 1), (model.to, 1), (model.to, 0)] {
            if to <= x || to > m.next_forced[x] || self.rests.between(to - 1, to).is_empty() {
                continue;
            }
            let Some(c) = moved(m, &model, x, to, back) else {
                continue;
            };
            let Some(rest) = self.rests.at(self.rests.between(x, to).end - 1).1 else {
                continue;
            };
            let key = rest
                + Key {
                    cost: c.price(m) - m.joint_price_before[to],
                    feeds: c.count as u64,
                    uneven: c.uneven(),
                };
            if self.permits(&c, without) {
                alike.push(Way {
                    key,
                    candidate: c,
                    holds: true,
                    group: (0, 0),
                });
            }
        }
        alike.sort_unstable();
        alike.into_iter().find_map(|mut way| {
            let watts = self.oracle.price(m, &way.candidate)?;
            way.key.cost = way.key.cost.saturating_add(watts);
            Some(way)
        })
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

    pub(super) fn wait(
        &mut self,
        key: Key,
        candidate: Candidate,
        group: Range<usize>,
        limit: Option<Key>,
    ) {
        if limit.is_none_or(|limit| key <= limit) && self.open.len() <= self.most_open {
            self.open.push(Reverse(Way {
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
        let to = self.rests.at(place as usize).0;
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

    /// One feed, at the start or inside.
    fn one_feed(&mut self, x: usize, limit: Option<Key>) {
        let m = self.m;
        let fixed = !m.fixed_segments.is_empty();
        let has = |p: Pattern| fixed || m.patterns.contains(&p);
        let own = self.own(x);
        let last_feed = match (has(Pattern::Inside), has(Pattern::Start)) {
            (true, _) => m.next_forced[x] - 1,
            (false, true) => x,
            (false, false) => return,
        };
        let left = self.longest.min(m.branch);
        let last_feed = last_feed.min(x.saturating_add(left));
        let first = if has(Pattern::Start) { x } else { x + 1 };
        for feed in first..=last_feed {
            // Beyond a fixed feed no other single feed reaches back over it.
            if m.fixed_feeds.iter().any(|g| *g >= x && *g < feed) {
                break;
            }
            let any = self.right_any[feed];
            if any == 0 {
                continue;
            }
            if let Some(limit) = limit {
                let places = self.rests.between(feed, feed + any);
                match self.rests.least(feed, places) {
                    Some((rest, _)) if rest.cost + own + self.least_at[feed] <= limit.cost => {}
                    _ => continue,
                }
            }
            let most = self.furthest(x, feed);
            for option in 0..m.options[feed].len() {
                let right = self.right_of[feed][option].min(most);
                if right == 0 {
                    continue;
                }
                let places = self.rests.between(feed, feed + right);
                if let Some(limit) = limit {
                    let cost = own + m.options[feed][option].cost;
                    match self.rests.least(feed, places) {
                        Some((rest, _)) if rest.cost + cost <= limit.cost => {}
                        _ => continue,
                    }
                }
                let right = if feed == x {
                    right
                } else {
                    self.right_beside(feed, option, feed - x).min(most)
                };
                let places = self.rests.between(feed, feed + right);
                self.group(x, feed, option, places, limit);
            }
            if feed > x {
                self.right_any[feed] = self.right_of[feed].iter().copied().max().unwrap_or(0);
            }
        }
    }

    /// Longest right branch of a segment from `x` fed at `feed` that neither a forced break, nor a
    /// fixed feed, nor the current it would draw at least forbids.
    fn furthest(&self, x: usize, feed: usize) -> usize {
        let m = self.m;
        let mut last = m.next_forced[x].min(x.saturating_add(m.most_in_any()));
        for &g in m.fixed_feeds.iter().filter(|g| **g > feed) {
            last = last.min(if g == m.n { m.n - 1 } else { g });
        }
        last.saturating_sub(feed)
    }

    /// Longest right branch that may hold beside a left branch; the left branches of a feed only grow.
    fn right_beside(&mut self, feed: usize, option: usize, left: usize) -> usize {
        let m = self.m;
        let right = &mut self.right_of[feed][option];
        while *right > 0
            && !self
                .oracle
                .bounds
                .inside_may_hold(m, feed, left, *right, &m.options[feed][option])
        {
            *right -= 1;
        }
        *right
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
/// `back` marks before.
fn moved(m: &CheckedRun, model: &Candidate, x: usize, to: usize, back: usize) -> Option<Candidate> {
    let marks = match model.pattern {
        Pattern::Start => [x, 0, 0],
        Pattern::End => [to, 0, 0],
        Pattern::Inside => [model.feeds[0].0 - back, 0, 0],
        Pattern::CommonAtStart | Pattern::CommonAtEnd | Pattern::BothEnds => [x, to, 0],
        _ => even(model.pattern, x, to)[0]?,
    };
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
    (model.pattern != Pattern::Inside || (x + 1..to).contains(&marks[0])).then_some(c)
}
