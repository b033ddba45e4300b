//! What the part of a run before a mark costs at least.
//!
//! ```text
//!  least[j] = min over patterns, rows of feeders and x of  least[x] + break at x + segment from x to j
//! ```
//! A segment is as long as its necessary conditions let it be, and each of its feeders costs the least there is where it
//! may lie.

use super::blocks::Lengths;
use super::feeders::{Feeders, NO_WAY};
use crate::choose::feeding::bound::longest::{longest, longest_from};
use crate::choose::feeding::bound::most::{SEVERAL, TWO_ENDED};
use crate::choose::feeding::circuit::placements::even_span;
use crate::choose::feeding::problem::checked::{CheckedRun, STRETCH};
use crate::choose::feeding::problem::spec::Pattern;
use crate::choose::feeding::verdict::oracle::Oracle;

/// A kind that costs more than the best by this share of it, one over, need not be known better.
const FAR: i64 = 16;

/// Least cost of what lies before each mark, with a break there.
pub(crate) fn costs(m: &CheckedRun, feeders: &Feeders, oracle: &mut Oracle) -> Vec<i64> {
    if !m.fixed_segments.is_empty() || !m.fixed_feeds.is_empty() {
        return vec![0; m.n + 1];
    }
    let rows = feeders.rows().len();
    let left = |row: usize| (0..=m.n).map(move |mark| feeders.left(row, mark).min(m.branch));
    let mut all = Prefix {
        least: vec![NO_WAY; m.n + 1],
        beyond: vec![NO_WAY; m.n + 1],
        left: Lengths::new(feeders.rows().flat_map(left).collect(), m.n + 1),
        last: vec![0; rows],
        kinds: kinds(m, feeders),
        m,
        feeders,
        oracle,
    };
    all.state(0, 0);
    let (mut first, mut last) = (0, 0);
    for j in 1..=m.n {
        while m.next_forced[first] < j {
            first += 1;
        }
        if j == m.n || m.can_break[j] {
            let least = all.segment(first, last, j);
            all.state(j, least);
            last = j;
        }
    }
    all.least
}

/// The kinds of segments that are wanted.
fn kinds(m: &CheckedRun, feeders: &Feeders) -> Vec<Kind> {
    let mut all = Vec::new();
    let has = |p: &Pattern| m.patterns.contains(p);
    for row in feeders.rows() {
        let mut add = |what: What, falls: i64| {
            all.push(Kind {
                what,
                floor: 0,
                falls,
            })
        };
        // From mark to mark each feeder moves on by one at most.
        let falls = feeders.falls(row);
        if has(&Pattern::Start) || has(&Pattern::Inside) {
            add(What::OneFeed(row), 0);
        }
        if has(&Pattern::End) {
            // Its reach may be another at each mark.
            add(What::End(row), i64::MAX);
        }
        for (p, (pattern, count, _)) in SEVERAL.iter().enumerate() {
            if has(pattern) {
                add(What::Several(p, row), falls.saturating_mul(*count as i64));
            }
        }
        if TWO_ENDED.iter().any(has) {
            for wire in 0..m.wire_names.len() {
                let end = feeders.row(feeders.place(row), wire);
                add(What::Ends(row, wire), feeders.falls(end));
            }
        }
    }
    all
}

/// Least costs by mark, made from the start of the run on.
struct Prefix<'a> {
    m: &'a CheckedRun,
    feeders: &'a Feeders,
    oracle: &'a mut Oracle,
    /// Of what lies before a mark, with the break there.
    least: Vec<i64>,
    /// The same less the joints before the next mark; of any mark from each on.
    beyond: Vec<i64>,
    /// By row and mark: longest left branch of a feed there, beside the right branches asked for so far.
    left: Lengths,
    /// By row: the feed that was best for the last mark.
    last: Vec<usize>,
    kinds: Vec<Kind>,
}

/// A kind of last segment.
struct Kind {
    what: What,
    /// A chain to the last mark that ends like this costs at least so much,
    floor: i64,
    /// and one to the next at most so much less.
    falls: i64,
}

/// Rows, places among the patterns, and the wire at the end.
#[derive(Clone, Copy)]
enum What {
    OneFeed(usize),
    End(usize),
    Several(usize, usize),
    Ends(usize, usize),
}

impl Prefix<'_> {
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
    fn segment(&mut self, first: usize, last: usize, j: usize) -> i64 {
        let m = self.m;
        let first = first.max(j.saturating_sub(self.oracle.bounds.most.any()));
        // Those that begin at the last mark stated or after it are new.
        let all = self
            .feeders
            .rows()
            .map(|row| self.feeders.least_in(row, last, j));
        let newest = self.beyond[last].saturating_add(all.min().unwrap_or(0));
        let moved = (j - last) as i64;
        let mut kinds = std::mem::take(&mut self.kinds);
        let (mut best, mut leader) = (NO_WAY, 0);
        // What was best for the last mark comes first: it bounds the others.
        for k in (0..kinds.len()).rev() {
            let kind = &mut kinds[k];
            let moved = kind.floor.saturating_sub(moved.saturating_mul(kind.falls));
            kind.floor = moved.min(newest);
            if let What::OneFeed(row) = kind.what {
                // So are feeds there, however long their left branch.
                let left = self.feeders.left_after(row, last);
                let before = self.beyond[first.max(last - left.min(last))];
                let feeder = self.feeders.least_in(row, last, j);
                kind.floor = kind.floor.min(before.saturating_add(feeder));
            }
            if kind.floor >= best {
                continue;
            }
            let far = best.saturating_add(best / FAR).min(NO_WAY);
            let floor = match kind.what {
                What::OneFeed(row) => self.one_feed(first, j, row, far),
                What::End(row) => self.at_end(first, j, row, far),
                What::Several(p, row) => self.several(first, j, row, p, far),
                What::Ends(row, wire) => self.two_ends(first, j, row, wire, far),
            };
            // None is known as no way, however far beyond it.
            kind.floor = floor.min(NO_WAY);
            if kind.floor < best {
                best = kind.floor;
                leader = k;
            }
        }
        if leader + 1 < kinds.len() {
            let end = kinds.len() - 1;
            kinds.swap(leader, end);
        }
        self.kinds = kinds;
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
        for (block, own) in Lengths::blocks(from..j) {
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
        let bounds = &self.oracle.bounds;
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
        let reach = self.oracle.bounds.reach_left[j][option];
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
            let most = &mut self.oracle.bounds.most;
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
            let bounds = &mut self.oracle.bounds;
            let mut most = shortest - 1;
            for p in (0..TWO_ENDED.len()).filter(|p| m.patterns.contains(&TWO_ENDED[*p])) {
                let of = &mut bounds.most;
                most = most.max(of.two(m, &bounds.branches, p, place, wires, x, most + 1));
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
