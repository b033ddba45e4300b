//! Every way to feed a segment, offered to the dynamic programme: at an end, at both, at several
//! marks, at one mark inside.

use super::bound;
use super::candidate::{Candidate, Key, shared, square};
use super::march::SLACK;
use super::search::Search;
use super::spec::Pattern;
use std::collections::BTreeSet;

impl Search<'_> {
    /// Segments from `x` that are fed at an end, at both, or at several marks.
    pub fn from(
        &mut self,
        x: usize,
        local: &BTreeSet<Candidate>,
        not: Option<&dyn Fn(&Candidate) -> bool>,
    ) {
        let m = self.m;
        let fixed_here = m.fixed_segments.iter().any(|s| s.0 == x);
        let has = |p: Pattern| fixed_here || m.patterns.contains(&p);
        let (has_start, has_end) = (has(Pattern::Start), has(Pattern::End));
        let (has_both, has_cas, has_cae) = (
            has(Pattern::BothEnds),
            has(Pattern::CommonAtStart),
            has(Pattern::CommonAtEnd),
        );
        let has_many = [
            Pattern::TwoInside,
            Pattern::BothEndsAndInside,
            Pattern::ThreeInside,
        ]
        .into_iter()
        .any(has);
        let segment = m.spec.costs.per_segment;
        // Long segments first: they are cheap where they hold, and a lesson refuses most that do not.
        let last = m.next_forced[x].min(x.saturating_add(m.most_cells));
        self.lessons.unproven |= last < m.next_forced[x] && m.emitters() > 1;
        for j in (x + 1..=last).rev() {
            if !m.can_break[j] {
                continue;
            }
            let Some(rest) = self.rest(j) else { continue };
            let n = j - x;
            let own = if fixed_here && m.fixed_segment(x, j).is_some() {
                0
            } else {
                segment
            };
            let base = Key {
                cost: own + m.joints_inside(x, j) + m.break_cost[j],
                feeds: 0,
                uneven: 0,
            } + rest;
            let plus = |cost: i64, feeds: u64, uneven: u64| {
                base + Key {
                    cost,
                    feeds,
                    uneven,
                }
            };
            if self.hopeless(x, plus(self.least_option, 1, 0)) {
                continue;
            }
            if has_start {
                for o in 0..self.reach_right[x].len() {
                    if self.reach_right[x][o] >= n {
                        let c = Candidate::new(x, j, Pattern::Start, &[(x, o)]);
                        let key = plus(m.options[x][o].cost, 1, square(n));
                        self.checked_offer(c, key, local, not);
                    }
                }
            }
            if has_end {
                for o in 0..self.reach_left[j].len() {
                    if self.reach_left[j][o] >= n {
                        let c = Candidate::new(x, j, Pattern::End, &[(j, o)]);
                        let key = plus(m.end_options[j][o].cost, 1, square(n));
                        self.checked_offer(c, key, local, not);
                    }
                }
            }
            if (has_both || has_cas || has_cae)
                && !self.hopeless(x, plus(2 * self.least_option, 2, shared(n)))
            {
                self.two_ends(x, j, base, [has_both, has_cas, has_cae], local, not);
            }
            if has_many && !self.hopeless(x, plus(2 * self.least_option, 2, 0)) {
                self.several(x, j, base, local, not);
            }
        }
    }

    fn checked_offer(
        &mut self,
        c: Candidate,
        key: Key,
        local: &BTreeSet<Candidate>,
        not: Option<&dyn Fn(&Candidate) -> bool>,
    ) {
        if !self.m.fixed_segments.is_empty() && !self.may(c.from, c.to, c.pattern) {
            return;
        }
        if !self.m.fixed_feeds.is_empty() && !self.keeps_fixed(&c) {
            return;
        }
        self.offer(c, key, local, not);
    }

    /// Both ends, and the two opposite ways.
    fn two_ends(
        &mut self,
        x: usize,
        j: usize,
        base: Key,
        has: [bool; 3],
        local: &BTreeSet<Candidate>,
        not: Option<&dyn Fn(&Candidate) -> bool>,
    ) {
        let m = self.m;
        let n = j - x;
        let (both, cas, cae) = (
            Pattern::BothEnds,
            Pattern::CommonAtStart,
            Pattern::CommonAtEnd,
        );
        for a in 0..m.options[x].len() {
            for b in 0..m.end_options[j].len() {
                let (left, right) = (&m.options[x][a], &m.end_options[j][b]);
                if left.place != right.place {
                    continue;
                }
                for (pattern, wanted, uneven) in [
                    (cas, has[1], square(n)),
                    (cae, has[2], square(n)),
                    (both, has[0], shared(n)),
                ] {
                    let key = base
                        + Key {
                            cost: left.cost + right.cost,
                            feeds: 2,
                            uneven,
                        };
                    if !wanted || self.hopeless(x, key) {
                        continue;
                    }
                    let most = if pattern == both {
                        m.branch.saturating_mul(2)
                    } else {
                        m.branch
                    };
                    if n > most {
                        continue;
                    }
                    let c = Candidate::new(x, j, pattern, &[(x, a), (j, b)]);
                    if self.may_hold(&c) {
                        self.checked_offer(c, key, local, not);
                    }
                }
            }
        }
    }

    /// Necessary conditions for segments with more than one feed.
    fn may_hold(&mut self, c: &Candidate) -> bool {
        let m = self.m;
        if m.uniform
            && c.count == 2
            && c.pattern != Pattern::TwoInside
            && bound::two_ends(m, c) < -SLACK
        {
            return false;
        }
        if c.pattern == Pattern::BothEnds
            && self.one_loop
            && !bound::both_ends_one_loop(m, &self.branches, c)
        {
            return false;
        }
        let simple = m.uniform && c.count == 2 && c.pattern != Pattern::TwoInside;
        simple || self.judge.margin_at_least(m, c) >= -SLACK
    }

    /// Two or three feeds inside, both ends and one inside: one wire for all.
    fn several(
        &mut self,
        x: usize,
        j: usize,
        base: Key,
        local: &BTreeSet<Candidate>,
        not: Option<&dyn Fn(&Candidate) -> bool>,
    ) {
        let m = self.m;
        for (pattern, marks) in bound::placements(m, x, j) {
            if !self.may(x, j, pattern) {
                continue;
            }
            let count = marks.1;
            let marks = &marks.0[..count];
            for o in 0..m.options[marks[0]].len() {
                let first = &m.options[marks[0]][o];
                let mut feeds = [(0, 0); 3];
                let mut cost = 0;
                let mut found = true;
                for (slot, &mark) in feeds.iter_mut().zip(marks) {
                    let list = m.options_at(mark, j);
                    match list
                        .iter()
                        .position(|l| l.place == first.place && l.wire == first.wire)
                    {
                        Some(at) => {
                            *slot = (mark, at);
                            cost += list[at].cost;
                        }
                        None => found = false,
                    }
                }
                if !found {
                    continue;
                }
                let c = Candidate::new(x, j, pattern, &feeds[..count]);
                let key = base
                    + Key {
                        cost,
                        feeds: count as u64,
                        uneven: c.uneven(),
                    };
                if self.hopeless(x, key) || c.longest_branch() > m.branch || !self.may_hold(&c) {
                    continue;
                }
                self.checked_offer(c, key, local, not);
            }
        }
    }

    pub fn inside(&mut self, f: usize, local: &BTreeSet<Candidate>) {
        self.inside_towards(f, local, None);
    }

    /// Segments with one feed at `f` inside; with `not`, only those from the start of the run.
    pub fn inside_towards(
        &mut self,
        f: usize,
        local: &BTreeSet<Candidate>,
        not: Option<&dyn Fn(&Candidate) -> bool>,
    ) {
        let m = self.m;
        if m.options[f].is_empty()
            || !m.patterns.contains(&Pattern::Inside) && m.fixed_segments.is_empty()
        {
            return;
        }
        let mut last = m.next_forced[f - 1];
        if last == f {
            return;
        }
        // No other fixed feed may lie within, nor at the start, nor at the end of the run.
        let mut first = 0;
        for &g in &m.fixed_feeds {
            if g < f {
                first = g + 1;
            } else if g > f {
                last = last.min(if g == m.n { m.n - 1 } else { g });
                break;
            }
        }
        let most_right = last.saturating_sub(f).min(m.branch);
        let from_start = not.is_some();
        if most_right == 0 || from_start && (first > 0 || f > m.branch) {
            return;
        }
        // Running minimum over right lengths: the cheapest rest, then the shortest.
        let mut running: Vec<Option<(Key, usize)>> = Vec::with_capacity(most_right + 1);
        running.push(None);
        for right in 1..=most_right {
            let j = f + right;
            let before = running[right - 1];
            let here = if m.can_break[j] { self.rest(j) } else { None }.map(|rest| {
                let key = rest
                    + Key {
                        cost: m.break_cost[j] + m.joint_price_before[j],
                        feeds: 1,
                        uneven: square(right),
                    };
                (key, j)
            });
            running.push(match (before, here) {
                (Some(b), Some(h)) => Some(b.min(h)),
                (b, h) => b.or(h),
            });
        }
        let lefts = if from_start {
            f..f + 1
        } else {
            1..(f - first).min(m.branch) + 1
        };
        for o in 0..m.options[f].len() {
            let option = &m.options[f][o];
            let source = &m.sources[option.place];
            let mut right = most_right;
            for left in lefts.clone() {
                let i = f - left;
                if m.next_forced[i] <= f {
                    break;
                }
                while right > 0
                    && (left + right > m.most_cells
                        || !bound::inside_may_hold(
                            m,
                            &self.branches,
                            f,
                            left,
                            right,
                            option,
                            source,
                        )
                        || self.lessons.refuse(
                            m,
                            &Candidate::new(f - left, f + right, Pattern::Inside, &[(f, o)]),
                        ))
                {
                    right -= 1;
                }
                if right == 0 {
                    break;
                }
                if !m.can_break[i] {
                    continue;
                }
                let fixed = m.fixed_segments.iter().find(|s| s.0 == i);
                let Some((rest, j)) = running[right] else {
                    continue;
                };
                let own = if fixed.is_some() {
                    0
                } else {
                    m.spec.costs.per_segment
                };
                let mine = Key {
                    cost: own + option.cost - m.joint_price_before[i + 1],
                    feeds: 0,
                    uneven: square(left),
                };
                let c = Candidate::new(i, j, Pattern::Inside, &[(f, o)]);
                let key = mine + rest;
                if self.hopeless(i, key) {
                    continue;
                }
                if fixed.is_none() && self.offer(c, key, local, not) {
                    continue;
                }
                // The cheapest was refused: every other length to the right.
                for right in 1..=right {
                    let j = f + right;
                    if !m.can_break[j] || !self.may(i, j, Pattern::Inside) {
                        continue;
                    }
                    let Some(rest) = self.rest(j) else { continue };
                    let key = mine
                        + rest
                        + Key {
                            cost: m.break_cost[j] + m.joint_price_before[j],
                            feeds: 1,
                            uneven: square(right),
                        };
                    self.offer(
                        Candidate::new(i, j, Pattern::Inside, &[(f, o)]),
                        key,
                        local,
                        not,
                    );
                }
            }
        }
    }
}
