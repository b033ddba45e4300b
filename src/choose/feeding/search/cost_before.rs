//! What the part of a run before a mark costs at least.
//!
//! ```text
//!  least[j] = min over patterns, rows of feeders and x of  least[x] + break at x + segment from x to j
//! ```
//! A segment is as long as its necessary conditions let it be, and each of its feeders costs the least there is where it
//! may lie.

use super::branch_lengths::BranchLengths;
use super::feeders::{FeederTable, NO_WAY};
use crate::choose::feeding::bound::lengths::{SEVERAL, TWO_ENDED};
use crate::choose::feeding::bound::longest::{longest, longest_from};
use crate::choose::feeding::circuit::placements::even_span;
use crate::choose::feeding::problem::accelerations::Acceleration;
use crate::choose::feeding::problem::checked::{CheckedRun, STRETCH};
use crate::choose::feeding::problem::spec::Pattern;
use crate::choose::feeding::verdict::verdicts::SegmentVerdicts;

/// Least cost of what lies before each mark, with a break there.
pub(crate) fn costs(
    m: &CheckedRun,
    feeders: &FeederTable,
    verdicts: &mut SegmentVerdicts,
) -> Vec<i64> {
    if !m.uses(Acceleration::CostBefore)
        || !m.fixed_segments.is_empty()
        || !m.fixed_feeds.is_empty()
    {
        return vec![0; m.n + 1];
    }
    let rows = feeders.rows().len();
    let left = |row: usize| (0..=m.n).map(move |mark| feeders.left(row, mark).min(m.branch));
    let mut all = CostBefore {
        least: vec![NO_WAY; m.n + 1],
        beyond: vec![NO_WAY; m.n + 1],
        left: BranchLengths::new(feeders.rows().flat_map(left).collect(), m.n + 1),
        last: vec![0; rows],
        kinds: kinds(m, feeders),
        m,
        feeders,
        verdicts,
    };
    all.state(0, 0);
    let mut first = 0;
    for j in 1..=m.n {
        while m.next_forced[first] < j {
            first += 1;
        }
        if j == m.n || m.can_break[j] {
            let least = all.segment(first, j);
            all.state(j, least);
        }
    }
    all.least
}

/// The kinds of segments that are wanted.
fn kinds(m: &CheckedRun, feeders: &FeederTable) -> Vec<Kind> {
    let mut all = Vec::new();
    let has = |p: &Pattern| m.patterns.contains(p);
    for row in feeders.rows() {
        if has(&Pattern::Start) || has(&Pattern::Inside) {
            all.push(Kind::OneFeed(row));
        }
        if has(&Pattern::End) {
            all.push(Kind::End(row));
        }
        let several = (0..SEVERAL.len()).filter(|p| has(&SEVERAL[*p].0));
        all.extend(several.map(|p| Kind::Several(p, row)));
        if TWO_ENDED.iter().any(has) {
            all.extend((0..m.wire_names.len()).map(|wire| Kind::Ends(row, wire)));
        }
    }
    all
}

/// Least costs by mark, made from the start of the run on.
struct CostBefore<'a> {
    m: &'a CheckedRun,
    feeders: &'a FeederTable,
    verdicts: &'a mut SegmentVerdicts,
    /// Of what lies before a mark, with the break there.
    least: Vec<i64>,
    /// The same less the joints before the next mark; of any mark from each on.
    beyond: Vec<i64>,
    /// By row and mark: longest left branch of a feed there, beside the right branches asked for so far.
    left: BranchLengths,
    /// By row: the feed that was best for the last mark.
    last: Vec<usize>,
    kinds: Vec<Kind>,
}

/// A kind of last segment: rows, places among the patterns, and the wire at the end.
#[derive(Clone, Copy)]
enum Kind {
    OneFeed(usize),
    End(usize),
    Several(usize, usize),
    Ends(usize, usize),
}

impl CostBefore<'_> {
    fn state(&mut self, mark: usize, least: i64) {
        let m = self.m;
        if mark == m.n {
            self.least[mark] = least;
            return;
        }
        self.least[mark] = least.saturating_add(m.break_cost[mark]);
        let beyond = self.least[mark] - m.joint_price_before[mark + 1];
        self.beyond[mark] = beyond;
        for before in self.beyond[..mark].iter_mut().rev() {
            if *before <= beyond {
                break;
            }
            *before = beyond;
        }
    }

    /// Least cost of a chain whose last segment begins at `first` or after it and ends at `j`.
    fn segment(&mut self, first: usize, j: usize) -> i64 {
        let m = self.m;
        let first = first.max(j.saturating_sub(self.verdicts.bounds.most.any()));
        let mut best = NO_WAY;
        // What was best for the last mark comes first: it bounds the others.
        let mut leader = 0;
        for k in (0..self.kinds.len()).rev() {
            let cost = match self.kinds[k] {
                Kind::OneFeed(row) => self.one_feed(first, j, row, best),
                Kind::End(row) => self.at_end(first, j, row, best),
                Kind::Several(p, row) => self.several(first, j, row, p, best),
                Kind::Ends(row, wire) => self.two_ends(first, j, row, wire, best),
            };
            if cost < best {
                (best, leader) = (cost, k);
            }
        }
        if leader + 1 < self.kinds.len() {
            let end = self.kinds.len() - 1;
            self.kinds.swap(leader, end);
        }
        let own = m
            .spec
            .costs
            .per_segment
            .saturating_add(m.joint_price_before[j]);
        best.saturating_add(own).min(NO_WAY)
    }

    /// One feed at the start or inside.
    fn one_feed(&mut self, first: usize, j: usize, row: usize, mut best: i64) -> i64 {
        let feeders = self.feeders;
        let most = self.m.most.inside[feeders.wire(row)];
        let earliest = |f: usize| first.max(j.saturating_sub(feeders.both_after(row, f).min(most)));
        let right = feeders.right_after(row, first);
        let from = earliest(first).max(j.saturating_sub(right));
        let guess = self.last[row] + 1;
        if (from..j).contains(&guess) && earliest(guess) <= guess {
            best = self.feed(earliest(guess), j, row, guess, best);
        }
        for (block, own) in BranchLengths::blocks(from..j) {
            let first = earliest(own.start);
            let x = first.max(own.start.saturating_sub(self.left.most_in(row, block)));
            let feeder = feeders.least_in(row, own.start, own.end - 1);
            if x < own.end && self.beyond[x].saturating_add(feeder) < best {
                for f in own {
                    if first <= f {
                        best = self.feed(first, j, row, f, best);
                    }
                }
                self.left.refresh(row, block);
            }
        }
        best
    }

    fn feed(&mut self, first: usize, j: usize, row: usize, f: usize, best: i64) -> i64 {
        let m = self.m;
        let cost = self.feeders.cost(row, f);
        let left = self.left.at(row, f).min(f);
        let beyond = &self.beyond;
        let start = first.max(f - left);
        if beyond[start].saturating_add(cost) >= best {
            return best;
        }
        let Some(option) = self.feeders.option(row, f) else {
            return best;
        };
        let o = &m.options[f][option];
        let bounds = &self.verdicts.bounds;
        let may = |left: usize| match left {
            0 => bounds.reach_right[f][option] >= j - f,
            _ => bounds.inside_may_hold(m, f, left, j - f, o),
        };
        // The shortest left branch that costs less than the best; a longer one costs no more.
        let less = beyond[start..=f].partition_point(|before| before + cost < best);
        let shortest = f - (start + less - 1);
        if !may(shortest) {
            self.left.lower(row, f, shortest.max(1) - 1);
            return best;
        }
        let left = longest_from(shortest, left, may);
        self.left.lower(row, f, left);
        self.last[row] = f;
        self.beyond[first.max(f - left)] + cost
    }

    fn at_end(&self, first: usize, j: usize, row: usize, best: i64) -> i64 {
        let Some(option) = self.feeders.option_at_end(row, j) else {
            return best;
        };
        let reach = self.verdicts.bounds.reach_left[j][option];
        let x = first.max(j - reach.min(j));
        if x == j {
            return best;
        }
        best.min(self.beyond[x] + self.feeders.cost_at_end(row, j))
    }

    /// Several feeds through one wire.
    fn several(&mut self, first: usize, j: usize, row: usize, p: usize, mut best: i64) -> i64 {
        let (m, feeders) = (self.m, self.feeders);
        let (place, wire) = (feeders.place(row), feeders.wire(row));
        let (pattern, count, _) = SEVERAL[p];
        for (x, last) in stretches(first, j) {
            let feeds = feeders.least_in(row, x, j).saturating_mul(count as i64);
            let part = &self.beyond[x..=last];
            let less = part.partition_point(|before| before.saturating_add(feeds) < best);
            if less == 0 {
                // So do all that begin later.
                break;
            }
            let most = &mut self.verdicts.bounds.most;
            if m.listed_inside.is_some() {
                // Listed feeds lie anywhere.
                let begin = x.max(j - most.any().min(j));
                best = best.min(self.beyond[begin].saturating_add(feeds));
                continue;
            }
            // Shorter ones cost more.
            let shortest = j - (x + less - 1);
            let most = most.several(m, p, place, wire, x, shortest);
            let mut begin = x.max(j - most.min(j));
            let mut size = 1;
            while begin <= last && self.beyond[begin].saturating_add(feeds) < best {
                let end = last.min(begin + size - 1);
                let marks = even_span(pattern, begin, end, j);
                let least = |(a, b): &(usize, usize)| feeders.least_in(row, *a, *b);
                let cost = marks[..count]
                    .iter()
                    .map(least)
                    .fold(0, i64::saturating_add);
                best = best.min(self.beyond[begin].saturating_add(cost));
                begin = end + 1;
                size *= 2;
            }
        }
        best
    }

    /// A feed at each end.
    fn two_ends(&mut self, first: usize, j: usize, left: usize, wire: usize, mut best: i64) -> i64 {
        let (m, feeders) = (self.m, self.feeders);
        let place = feeders.place(left);
        let at_end = feeders.cost_at_end(feeders.row(place, wire), j);
        let wires = [feeders.wire(left), wire];
        for (x, last) in stretches(first, j) {
            let beyond = &self.beyond;
            let cost = |begin: usize| {
                let feeds = at_end.saturating_add(feeders.least_in(left, begin, last));
                beyond[begin].saturating_add(feeds)
            };
            let later = at_end.saturating_add(feeders.least(left, x));
            if beyond[x].saturating_add(later) >= best {
                break;
            }
            if cost(x) >= best {
                continue;
            }
            let shortest = j - x - longest(last - x, |more| cost(x + more) < best);
            let bounds = &mut self.verdicts.bounds;
            let mut most = shortest - 1;
            for p in (0..TWO_ENDED.len()).filter(|p| m.patterns.contains(&TWO_ENDED[*p])) {
                let of = &mut bounds.most;
                most = most.max(of.two(m, p, place, wires, x, most + 1));
            }
            if most >= shortest {
                best = best.min(cost(x.max(j.saturating_sub(most))));
            }
        }
        best
    }
}

/// First and last marks of the parts of stretches from `first` up to the mark before `j`.
fn stretches(first: usize, j: usize) -> impl Iterator<Item = (usize, usize)> {
    let begins = std::iter::successors(Some(first), |x| Some(x - x % STRETCH + STRETCH));
    begins
        .take_while(move |x| *x < j)
        .map(move |x| (x, (x - x % STRETCH + STRETCH - 1).min(j - 1)))
}
