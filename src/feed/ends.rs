//! Segments whose price depends on their end: fed at the end, at both ends, or at several marks.
//!
//! For each choice of pattern, place and wires two numbers bound the ends worth a look: the longest segment that
//! no necessary condition refuses in this stretch of the run ([`most`](super::most)), and the first end whose
//! rest is cheap enough to beat what is known to hold.

use super::candidate::{Candidate, Key, square};
use super::most::{SEVERAL, TWO_ENDED};
use super::placements::{even, listed};
use super::search::Search;
use super::spec::Pattern;
use std::ops::Range;

impl Search<'_> {
    /// All segments from `x` that are not of one feed at the start or inside.
    pub(super) fn other_ends(&mut self, x: usize, limit: Option<Key>) {
        let m = self.m;
        let fixed = !m.fixed_segments.is_empty();
        let has = |p: Pattern| fixed || m.patterns.contains(&p);
        if has(Pattern::End) {
            self.at_end(x, limit);
        }
        for (p, pattern) in TWO_ENDED.into_iter().enumerate() {
            if has(pattern) && !m.options[x].is_empty() {
                self.two_ends(x, p, limit);
            }
        }
        for (p, (pattern, ..)) in SEVERAL.into_iter().enumerate() {
            if !has(pattern) {
                continue;
            }
            match &m.listed_inside {
                Some(_) => self.at_listed(x, pattern, limit),
                None => self.at_even(x, p, limit),
            }
        }
    }

    /// Places of the ends up to `most` increments away whose rest leaves something for `least` and more.
    fn worth(&self, x: usize, most: usize, least: i64, limit: Option<Key>) -> Range<usize> {
        let m = self.m;
        let last = m.next_forced[x].min(x.saturating_add(most));
        let all = self.rests.between(x, last);
        let Some(limit) = limit else { return all };
        let left = limit.cost.saturating_sub(self.own(x).saturating_add(least));
        self.rests.cheap(x, all, left)
    }

    fn base(&self, x: usize, place: usize) -> Option<(usize, Key)> {
        let (to, rest) = self.rests.at(place);
        let own = Key {
            cost: self.own(x),
            feeds: 0,
            uneven: 0,
        };
        rest.map(|rest| (to, rest + own))
    }

    fn at_end(&mut self, x: usize, limit: Option<Key>) {
        let m = self.m;
        let longest = self.longest.min(m.branch);
        for place in self.worth(x, longest, self.least_option, limit).rev() {
            let Some((to, base)) = self.base(x, place) else {
                continue;
            };
            for option in 0..m.end_options[to].len() {
                if self.oracle.bounds.reach_left[to][option] < to - x {
                    continue;
                }
                let c = Candidate::new(x, to, Pattern::End, &[(to, option)]);
                let key = base
                    + Key {
                        cost: m.end_options[to][option].cost,
                        feeds: 1,
                        uneven: square(to - x),
                    };
                self.wait(key, c, 0..0, limit);
            }
        }
    }

    /// Both ends, and the two opposite ways.
    fn two_ends(&mut self, x: usize, p: usize, limit: Option<Key>) {
        let m = self.m;
        for (a, left) in m.options[x].iter().enumerate() {
            for wire in 0..m.wire_names.len() {
                let most = |search: &mut Self| {
                    let most = &mut search.oracle.bounds.most;
                    most.two(
                        m,
                        &search.oracle.bounds.branches,
                        p,
                        left.place,
                        [left.wire, wire],
                        x,
                    )
                };
                let known = self
                    .oracle
                    .bounds
                    .most
                    .known_two(p, left.place, [left.wire, wire], x);
                let least = left.cost + self.least_on(left.place, wire, x + 1);
                if self.worth(x, known, least, limit).is_empty() {
                    continue;
                }
                let most = most(self);
                for place in self.worth(x, most, least, limit).rev() {
                    let Some((to, base)) = self.base(x, place) else {
                        continue;
                    };
                    let Some(b) = self.option_at_end(to, left.place, wire) else {
                        continue;
                    };
                    let c = Candidate::new(x, to, TWO_ENDED[p], &[(x, a), (to, b)]);
                    let key = base
                        + Key {
                            cost: left.cost + m.end_options[to][b].cost,
                            feeds: 2,
                            uneven: c.uneven(),
                        };
                    self.wait(key, c, 0..0, limit);
                }
            }
        }
    }

    /// Two or three feeds at the even places of a segment: one wire for all.
    fn at_even(&mut self, x: usize, p: usize, limit: Option<Key>) {
        let m = self.m;
        let (pattern, count, _) = SEVERAL[p];
        for source in 0..m.sources.len() {
            for wire in 0..m.wire_names.len() {
                let least = self.least_on(source, wire, x).saturating_mul(count as i64);
                let known = self.oracle.bounds.most.known_several(p, source, wire, x);
                if self.worth(x, known, least, limit).is_empty() {
                    continue;
                }
                let bounds = &mut self.oracle.bounds;
                let most = bounds
                    .most
                    .several(m, &mut self.oracle.judge, p, source, wire, x);
                for place in self.worth(x, most, least, limit).rev() {
                    let Some((to, base)) = self.base(x, place) else {
                        continue;
                    };
                    for marks in even(pattern, x, to).into_iter().flatten() {
                        self.with_one_wire(
                            x,
                            to,
                            base,
                            pattern,
                            &marks[..count],
                            source,
                            wire,
                            limit,
                        );
                    }
                }
            }
        }
    }

    /// Two or three feeds at any of a few listed marks: one wire for all.
    fn at_listed(&mut self, x: usize, pattern: Pattern, limit: Option<Key>) {
        let m = self.m;
        let least = 2 * self.least_option;
        for place in self.worth(x, m.n, least, limit).rev() {
            let Some((to, base)) = self.base(x, place) else {
                continue;
            };
            for (marks, count) in listed(m, pattern, x, to) {
                for source in 0..m.sources.len() {
                    for wire in 0..m.wire_names.len() {
                        let marks = &marks[..count];
                        self.with_one_wire(x, to, base, pattern, marks, source, wire, limit);
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
        base: Key,
        pattern: Pattern,
        marks: &[usize],
        source: usize,
        wire: usize,
        limit: Option<Key>,
    ) {
        let m = self.m;
        let mut feeds = [(0, 0); 3];
        let mut cost = 0;
        for (slot, &mark) in feeds.iter_mut().zip(marks) {
            let at = if mark == to {
                self.option_at_end(to, source, wire)
            } else {
                self.option_at(mark, source, wire)
            };
            let Some(at) = at else { return };
            *slot = (mark, at);
            cost += m.options_at(mark, to)[at].cost;
        }
        if limit.is_some_and(|limit| base.cost + cost > limit.cost) {
            return;
        }
        let c = Candidate::new(x, to, pattern, &feeds[..marks.len()]);
        let key = base
            + Key {
                cost,
                feeds: marks.len() as u64,
                uneven: c.uneven(),
            };
        self.wait(key, c, 0..0, limit);
    }
}
