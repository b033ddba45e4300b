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

use super::bound;
use super::candidate::{Candidate, Key, shared, square};
use super::judge::Judge;
use super::lessons::{self, Lessons};
use super::march::{Branches, SLACK, Side};
use super::model::{CheckedRun, HIGH, LOW};
use super::spec::Pattern;
use std::collections::{BTreeMap, BTreeSet};

/// A chain of segments.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Chain {
    pub key: Key,
    pub segments: Vec<Candidate>,
}

/// Candidates refused for good, candidates whose price had to be raised, and reach tables.
pub(super) struct Search<'a> {
    pub m: &'a CheckedRun,
    pub branches: Branches,
    /// Longest branch by mark and option: to the right, and to the left of segments that end there.
    reach_right: Vec<Vec<usize>>,
    reach_left: Vec<Vec<usize>>,
    one_loop: bool,
    least_option: i64,
    /// What refused candidates teach.
    pub lessons: Lessons,
    /// Evaluated candidates: price of the watts they lose, or none where a limit breaks.
    known: BTreeMap<Candidate, Option<i64>>,
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

    /// Whether the permitted number of evaluations is spent.
    pub fn is_exhausted(&self) -> bool {
        self.judge.evaluated >= self.m.spec.effort
    }

    /// Whether a candidate keeps every limit in full; remembers it, and what follows for longer ones.
    pub fn holds(&mut self, c: &Candidate) -> bool {
        match self.known.get(c) {
            Some(known) => known.is_some(),
            None => self.evaluate(c).is_some(),
        }
    }

    /// Evaluates in full: the price of the watts lost, or none where a limit breaks.
    fn evaluate(&mut self, c: &Candidate) -> Option<i64> {
        let m = self.m;
        let broken = self.judge.judge(m, c);
        let answer = match broken {
            Some(figure) => {
                if let Some(light) = lessons::kind(c, &figure) {
                    self.shortest_refused(c, light);
                }
                None
            }
            None => Some(m.spec.costs.energy.as_ref().map_or(0, |energy| {
                let kilowatt_hours = self.judge.lost(m, c) * energy.time.value / 3.6e6;
                (kilowatt_hours * energy.per_kilowatt_hour as f64).round() as i64
            })),
        };
        self.known.insert(*c, answer);
        answer
    }

    /// Finds by halving the shortest refused candidate of the same kind, and learns it.
    fn shortest_refused(&mut self, c: &Candidate, light: bool) {
        let m = self.m;
        // The same shape where its feeder is most in its favour: refused there, it is refused everywhere.
        let favoured = self.most_in_favour(c, light);
        let found = favoured.and_then(|f| self.judge.judge(m, &f));
        let c = match favoured {
            Some(f) if found.and_then(|x| lessons::kind(&f, &x)) == Some(light) => f,
            _ => *c,
        };
        let c = &c;
        let n = c.cells();
        let feed = c.feeds[0].0;
        let shorter = |length: usize| match c.pattern {
            Pattern::Start => Candidate {
                to: c.from + length,
                ..*c
            },
            Pattern::End => Candidate {
                from: c.to - length,
                ..*c
            },
            _ => Candidate {
                to: feed + length,
                ..*c
            },
        };
        let (mut holds, mut breaks) = match c.pattern {
            Pattern::Start | Pattern::End => (0, n),
            Pattern::Inside => (0, c.to - feed),
            _ => {
                self.lessons.learn(m, c, light);
                return;
            }
        };
        while breaks - holds > 1 {
            let middle = usize::midpoint(holds, breaks);
            let found = self.judge.judge(m, &shorter(middle));
            if found.and_then(|f| lessons::kind(c, &f)) == Some(light) {
                breaks = middle;
            } else {
                holds = middle;
            }
        }
        self.lessons.learn(m, &shorter(breaks), light);
    }

    /// The candidate of the same branches with the feeder that favours it most: the least
    /// resistance for light, the most for current.
    fn most_in_favour(&self, c: &Candidate, light: bool) -> Option<Candidate> {
        let m = self.m;
        let (mark, option) = c.feeds[0];
        let place = c.place(m);
        let (left, right) = match c.pattern {
            Pattern::Start => (0, c.cells()),
            Pattern::End => (c.cells(), 0),
            Pattern::Inside => (mark - c.from, c.to - mark),
            _ => return None,
        };
        let lists = if c.pattern == Pattern::End {
            &m.end_options
        } else {
            &m.options
        };
        let mut best = (mark, option);
        let favour = |(at, o): (usize, usize)| {
            let core = &lists[at][o].core;
            if light { -core[LOW] } else { core[HIGH] }
        };
        for (at, list) in lists.iter().enumerate().take(m.n - right + 1).skip(left) {
            for o in (0..list.len()).filter(|o| list[*o].place == place) {
                if favour((at, o)) > favour(best) {
                    best = (at, o);
                }
            }
        }
        let (at, o) = best;
        let found = Candidate::new(at - left, at + right, c.pattern, &[(at, o)]);
        (best != (mark, option) && lessons::plain(m, &found)).then_some(found)
    }

    fn rest(&self, j: usize) -> Option<Key> {
        if j == self.m.n {
            Some(Key::default())
        } else {
            self.best[j].map(|b| b.0)
        }
    }

    /// Takes the candidate if it is better than what is known from its start. Whether nothing
    /// forbids it.
    fn offer(
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

    fn may(&self, from: usize, to: usize, pattern: Pattern) -> bool {
        match self.m.fixed_segment(from, to) {
            Some(Some(fixed)) => fixed == pattern,
            _ => self.m.spec.patterns.contains(&pattern),
        }
    }

    /// Every fixed feed of the segment is among its feeds.
    fn keeps_fixed(&self, c: &Candidate) -> bool {
        keeps_fixed(self.m, c)
    }

    /// Whether anything as cheap as `least` could still improve on the best from `x`.
    fn hopeless(&self, x: usize, least: Key) -> bool {
        self.best[x].is_some_and(|(best, _)| best < least)
    }

    /// Segments from `x` that are fed at an end, at both, or at several marks.
    fn from(
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

    fn inside(&mut self, f: usize, local: &BTreeSet<Candidate>) {
        self.inside_towards(f, local, None);
    }

    /// Segments with one feed at `f` inside; with `not`, only those from the start of the run.
    fn inside_towards(
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

/// Every fixed feed of the segment is among its feeds.
pub(super) fn keeps_fixed(m: &CheckedRun, c: &Candidate) -> bool {
    m.fixed_feeds.iter().all(|&f| {
        let mine = (f >= c.from && f < c.to) || (f == c.to && c.to == m.n);
        !mine || c.marks().iter().any(|(mark, _)| *mark == f)
    })
}
