//! Segments whose price depends on their end: fed at the end, at both ends, or at several marks.
//!
//! For each choice of pattern, place and wires two numbers bound the ends worth a look: the longest segment that
//! no necessary condition refuses in this stretch of the run ([`lengths`](crate::choose::feeding::bound::lengths)), and the first end whose
//! rest is cheap enough to beat what is known to hold.

use super::chain::Search;
use super::feeders::NO_WAY;
use crate::choose::feeding::bound::lengths::{SEVERAL, TWO_ENDED};
use crate::choose::feeding::circuit::candidate::{Candidate, Rank, square};
use crate::choose::feeding::circuit::placements::{even, listed};
use crate::choose::feeding::problem::checked::FeedOption;
use crate::choose::feeding::problem::spec::Pattern;
use std::ops::Range;

impl Search<'_> {
    /// All segments from `x` that are not of one feed at the start or inside.
    pub(crate) fn other_ends(&mut self, x: usize, limit: Option<Rank>) {
        let m = self.m;
        let fixed = !m.fixed_segments.is_empty();
        let has = |p: Pattern| fixed || m.patterns.contains(&p);
        if has(Pattern::End) {
            self.at_end(x, limit);
        }
        let two = TWO_ENDED.map(has);
        if two.contains(&true) {
            self.two_ends(x, two, limit);
        }
        let several = SEVERAL.map(|(pattern, ..)| has(pattern));
        if !several.contains(&true) {
            return;
        }
        match &m.listed_inside {
            Some(_) => self.at_listed(x, several, limit),
            None => self.at_even(x, several, limit),
        }
    }

    /// Places of the ends up to `most` increments away whose rest leaves something for `least` and more.
    fn worth(&self, x: usize, most: usize, least: i64, limit: Option<Rank>) -> Range<usize> {
        let m = self.m;
        let last = m.next_forced[x].min(x.saturating_add(most));
        let all = self.rests.between(x, last);
        let Some(limit) = limit else { return all };
        let left = limit.cost.saturating_sub(self.own(x).saturating_add(least));
        if self.rests.least_cost(all.clone()) > left {
            return 0..0;
        }
        self.rests.cheap(all, left)
    }

    /// Increments up to the first end that is worth a look.
    fn shortest(&self, x: usize, most: usize, least: i64, limit: Option<Rank>) -> Option<usize> {
        let places = self.worth(x, most, least, limit);
        let to = self.rests.mark(places.start)?;
        (places.start < places.end).then(|| to - x)
    }

    fn base(&self, x: usize, place: usize) -> Option<(usize, Rank)> {
        let (to, rest) = self.rests.at(place);
        let own = Rank {
            cost: self.own(x),
            feeds: 0,
            uneven: 0,
        };
        rest.map(|rest| (to, rest + own))
    }

    fn at_end(&mut self, x: usize, limit: Option<Rank>) {
        let m = self.m;
        for row in self.feeders.rows() {
            let longest = self.feeders.left_after_at_end(row, x + 1).min(m.branch);
            let least = self.feeders.least(row, x + 1);
            for place in self.worth(x, longest, least, limit).rev() {
                let Some((to, base)) = self.base(x, place) else {
                    continue;
                };
                let Some(option) = self.feeders.option_at_end(row, to) else {
                    continue;
                };
                if self.verdicts.bounds.reach_left[to][option] < to - x {
                    continue;
                }
                let c = Candidate::new(x, to, Pattern::End, &[(to, option)]);
                let key = base
                    + Rank {
                        cost: self.feeders.cost_at_end(row, to),
                        feeds: 1,
                        uneven: square(to - x),
                    };
                self.wait(key, c, 0..0, limit);
            }
        }
    }

    /// Both ends, and the two opposite ways, as far as they are wanted.
    fn two_ends(&mut self, x: usize, wanted: [bool; 3], limit: Option<Rank>) {
        let m = self.m;
        let any = self.verdicts.bounds.most.any();
        let starts = m.options[x].iter().map(|left| left.cost).min();
        let ends = self
            .feeders
            .rows()
            .map(|row| self.feeders.least(row, x + 1))
            .min();
        let least = starts
            .zip(ends)
            .map_or(NO_WAY, |(a, b)| a.saturating_add(b));
        if self.worth(x, any, least, limit).is_empty() {
            return;
        }
        for (a, left) in m.options[x].iter().enumerate() {
            for wire in 0..m.wire_names.len() {
                let row = self.feeders.row(left.place, wire);
                let least = left.cost.saturating_add(self.feeders.least(row, x + 1));
                let wires = [left.wire, wire];
                let patterns = (0..wanted.len()).filter(|p| wanted[*p]);
                let known = |p| self.verdicts.bounds.most.known_two(p, left.place, wires, x);
                let most = patterns.clone().map(known).max().unwrap_or(0);
                if self.worth(x, most, least, limit).is_empty() {
                    continue;
                }
                for p in patterns {
                    self.two_ends_through(x, p, (a, left), row, least, limit);
                }
            }
        }
    }

    fn two_ends_through(
        &mut self,
        x: usize,
        p: usize,
        (a, left): (usize, &FeedOption),
        row: usize,
        least: i64,
        limit: Option<Rank>,
    ) {
        let m = self.m;
        let wires = [left.wire, self.feeders.wire(row)];
        let bounds = &mut self.verdicts.bounds;
        let known = bounds.most.known_two(p, left.place, wires, x);
        let Some(shortest) = self.shortest(x, known, least, limit) else {
            return;
        };
        let bounds = &mut self.verdicts.bounds;
        let most = bounds.most.two(m, p, left.place, wires, x, shortest);
        for place in self.worth(x, most, least, limit).rev() {
            let Some((to, base)) = self.base(x, place) else {
                continue;
            };
            let Some(b) = self.feeders.option_at_end(row, to) else {
                continue;
            };
            let c = Candidate::new(x, to, TWO_ENDED[p], &[(x, a), (to, b)]);
            let key = base
                + Rank {
                    cost: left.cost + self.feeders.cost_at_end(row, to),
                    feeds: 2,
                    uneven: c.uneven(),
                };
            self.wait(key, c, 0..0, limit);
        }
    }

    /// Two or three feeds at the even places of a segment: one wire for all.
    fn at_even(&mut self, x: usize, wanted: [bool; 3], limit: Option<Rank>) {
        let m = self.m;
        let any = self.verdicts.bounds.most.any();
        for row in self.feeders.rows() {
            let least = self.feeders.least(row, x);
            if self
                .worth(x, any, least.saturating_mul(2), limit)
                .is_empty()
            {
                continue;
            }
            let (source, wire) = (self.feeders.place(row), self.feeders.wire(row));
            for p in (0..wanted.len()).filter(|p| wanted[*p]) {
                let (pattern, count, _) = SEVERAL[p];
                let least = least.saturating_mul(count as i64);
                let known = self.verdicts.bounds.most.known_several(p, source, wire, x);
                let Some(shortest) = self.shortest(x, known, least, limit) else {
                    continue;
                };
                let bounds = &mut self.verdicts.bounds;
                let most = bounds.most.several(m, p, source, wire, x, shortest);
                for place in self.worth(x, most, least, limit).rev() {
                    let Some((to, base)) = self.base(x, place) else {
                        continue;
                    };
                    for marks in even(pattern, x, to).into_iter().flatten() {
                        self.with_one_wire(x, to, base, pattern, &marks[..count], row, limit);
                    }
                }
            }
        }
    }

    /// Two or three feeds at any of a few listed marks: one wire for all.
    fn at_listed(&mut self, x: usize, wanted: [bool; 3], limit: Option<Rank>) {
        let m = self.m;
        let least = self.feeders.rows().map(|row| self.feeders.least(row, x));
        let least = 2 * least.min().unwrap_or(NO_WAY);
        for place in self.worth(x, m.n, least, limit).rev() {
            let Some((to, base)) = self.base(x, place) else {
                continue;
            };
            for p in (0..wanted.len()).filter(|p| wanted[*p]) {
                let pattern = SEVERAL[p].0;
                for (marks, count) in listed(m, pattern, x, to) {
                    for row in self.feeders.rows() {
                        self.with_one_wire(x, to, base, pattern, &marks[..count], row, limit);
                    }
                }
            }
        }
    }

    #[allow(clippy::too_many_arguments)]
    fn with_one_wire(
        &mut self,
        x: usize,
        to: usize,
        base: Rank,
        pattern: Pattern,
        marks: &[usize],
        row: usize,
        limit: Option<Rank>,
    ) {
        let mut feeds = [(0, 0); 3];
        let mut cost = 0;
        for (slot, &mark) in feeds.iter_mut().zip(marks) {
            let (at, own) = if mark == to {
                let at = self.feeders.option_at_end(row, to);
                (at, self.feeders.cost_at_end(row, to))
            } else {
                let at = self.feeders.option(row, mark);
                (at, self.feeders.cost(row, mark))
            };
            let Some(at) = at else { return };
            *slot = (mark, at);
            cost += own;
        }
        if limit.is_some_and(|limit| base.cost + cost > limit.cost) {
            return;
        }
        let c = Candidate::new(x, to, pattern, &feeds[..marks.len()]);
        let key = base
            + Rank {
                cost,
                feeds: marks.len() as u64,
                uneven: c.uneven(),
            };
        self.wait(key, c, 0..0, limit);
    }
}
