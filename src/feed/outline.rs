//! What a chain costs at least before and after each mark: the marks that no cheapest chain passes are left out.
//!
//! ```text
//!  after[x]  = min over kinds of feeding: their feeders' least cost from x on + min of after[j], x < j ≤ x + reach
//!  before[j] = the same from the start of the run
//! ```
//! A kind is a number of feeds and their wires; its reach is the longest segment that leaves the worst cell its
//! volts on average ([`average`](super::bound::average)). A mark where `before + after` is above the cost of a
//! chain that holds is on no cheaper chain.

use super::bound::{average, longest};
use super::march::SLACK;
use super::model::{CheckedRun, LOW};
use super::most::Most;
use super::spec::Pattern;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Marks for which one reach serves.
const STRETCH: usize = 16;

/// Costs at least, minor units; `i64::MAX / 16` where there is no way.
#[derive(Debug)]
pub(super) struct Outline {
    /// Least cost of a feeder at or after a mark, by place, wire and mark.
    pub feeders: Vec<i64>,
    pub before: Vec<i64>,
    pub after: Vec<i64>,
}

/// No way.
const NONE: i64 = i64::MAX / 16;

/// A kind of feeding: wires of its feeders by place, and how many.
struct Kind {
    place: usize,
    wires: [usize; 3],
    feeds: usize,
}

impl Outline {
    pub fn new(m: &CheckedRun, most: &Most) -> Self {
        let n = m.n;
        let costs = least_costs(m);
        let kinds = kinds(m);
        let each = n + 1;
        let wires = m.wire_names.len();
        let cost = |kind: &Kind, x: usize| {
            let of = |wire: usize| costs[(kind.place * wires + wire) * each + x];
            let feeders = kind.wires[..kind.feeds].iter().map(|w| of(*w));
            feeders.fold(0_i64, i64::saturating_add)
        };
        // Cheap kinds first; of kinds that cost no less only those that reach further are kept.
        let mut ways: Vec<(i64, usize)> = Vec::new();
        let mut starts = vec![0; n + 1];
        let mut reaches = vec![0; kinds.len()];
        for (x, start) in starts.iter_mut().enumerate().take(n) {
            if x % STRETCH == 0 {
                for (reach, kind) in reaches.iter_mut().zip(&kinds) {
                    *reach = kind.reach(m, most, x);
                }
            }
            let first = ways.len();
            let own = if m.fixed_segments.is_empty() {
                m.spec.costs.per_segment
            } else {
                0
            };
            if m.can_break[x] {
                let here = kinds.iter().zip(&reaches).map(|(kind, reach)| {
                    let end = x.saturating_add(*reach).min(m.next_forced[x]);
                    (cost(kind, x).saturating_add(own).min(NONE), end)
                });
                ways.extend(here.filter(|(cost, end)| *end > x && *cost < NONE));
                let here = &mut ways[first..];
                here.sort_unstable_by_key(|(cost, end)| (*cost, Reverse(*end)));
                let mut kept = first;
                for k in first..ways.len() {
                    if kept == first || ways[k].1 > ways[kept - 1].1 {
                        ways[kept] = ways[k];
                        kept += 1;
                    }
                }
                ways.truncate(kept);
            }
            *start = first;
        }
        starts[n] = ways.len();
        let from = |x: usize| &ways[starts[x]..starts[x + 1]];
        Self {
            before: before(m, from),
            after: after(m, from),
            feeders: costs,
        }
    }
}

fn after<'a>(m: &CheckedRun, from: impl Fn(usize) -> &'a [(i64, usize)]) -> Vec<i64> {
    let mut after = vec![NONE; m.n + 1];
    after[m.n] = 0;
    // Marks with a lesser rest than every mark before them, the furthest first.
    let mut records: Vec<(usize, i64)> = vec![(m.n, 0)];
    for x in (0..m.n).rev() {
        if !m.can_break[x] {
            continue;
        }
        let least = from(x).iter().map(|(cost, end)| {
            let nearer = records.partition_point(|(mark, _)| mark > end);
            records.get(nearer).map_or(NONE, |(_, rest)| cost + rest)
        });
        after[x] = least.min().unwrap_or(NONE).min(NONE);
        let own = after[x].saturating_add(m.break_cost[x]);
        while records.last().is_some_and(|(_, rest)| *rest >= own) {
            records.pop();
        }
        records.push((x, own));
    }
    after
}

fn before<'a>(m: &CheckedRun, from: impl Fn(usize) -> &'a [(i64, usize)]) -> Vec<i64> {
    let mut before = vec![NONE; m.n + 1];
    before[0] = 0;
    let mut open: BinaryHeap<Reverse<(i64, usize)>> = BinaryHeap::new();
    for (x, own) in before.iter_mut().enumerate() {
        while open.peek().is_some_and(|Reverse((_, end))| *end < x) {
            open.pop();
        }
        if x > 0 && m.can_break[x] {
            let least = open.peek().map_or(NONE, |Reverse((cost, _))| *cost);
            *own = least.saturating_add(m.break_cost[x]).min(NONE);
        }
        let own = *own;
        if x < m.n && own < NONE {
            open.extend(
                from(x)
                    .iter()
                    .map(|(cost, end)| Reverse((own + cost, *end))),
            );
        }
    }
    before
}

/// Least cost of a feeder at or after a mark, by place, wire and mark.
fn least_costs(m: &CheckedRun) -> Vec<i64> {
    let (each, wires) = (m.n + 1, m.wire_names.len());
    let mut costs = vec![NONE; m.sources.len() * wires * each];
    for lists in [&m.options, &m.end_options] {
        for (mark, list) in lists.iter().enumerate() {
            for o in list {
                let at = &mut costs[(o.place * wires + o.wire) * each + mark];
                *at = (*at).min(o.cost);
            }
        }
    }
    for row in costs.chunks_mut(each) {
        for mark in (0..m.n).rev() {
            row[mark] = row[mark].min(row[mark + 1]);
        }
    }
    costs
}

fn kinds(m: &CheckedRun) -> Vec<Kind> {
    let fixed = !m.fixed_segments.is_empty();
    let has = |all: &[Pattern]| fixed || all.iter().any(|p| m.patterns.contains(p));
    let one = has(&[
        Pattern::Start,
        Pattern::End,
        Pattern::Inside,
        // No less copper, for no less money, than one feed of the thicker wire.
        Pattern::CommonAtStart,
        Pattern::CommonAtEnd,
    ]);
    let two = has(&[Pattern::BothEnds, Pattern::TwoInside]);
    let three = has(&[Pattern::BothEndsAndInside, Pattern::ThreeInside]);
    let wires = m.wire_names.len();
    let mut kinds = Vec::new();
    for place in 0..m.sources.len() {
        for w in 0..wires {
            let mut push = |wires: [usize; 3], feeds: usize| {
                kinds.push(Kind {
                    place,
                    wires,
                    feeds,
                });
            };
            if one {
                push([w; 3], 1);
            }
            if two {
                (w..wires).for_each(|other| push([w, other, other], 2));
            }
            if three {
                push([w; 3], 3);
            }
        }
    }
    kinds
}

impl Kind {
    /// Most increments of a segment that begins at `x` or later.
    fn reach(&self, m: &CheckedRun, most: &Most, x: usize) -> usize {
        let Some(route) = most.least_from(m, self.place, x) else {
            return 0;
        };
        let cores = self.wires[..self.feeds]
            .iter()
            .map(|w| m.core(*w, route)[LOW]);
        let siemens: f64 = cores.map(|core| 1.0 / core.max(f64::MIN_POSITIVE)).sum();
        let source = &m.sources[self.place];
        let all = if self.feeds == 1 {
            most.any().min(m.most_cells)
        } else {
            most.any()
        };
        longest(all.min(m.n - x), |n| {
            average(m, n, source, 2 * self.feeds, 1.0 / siemens) >= -SLACK
        })
    }
}
