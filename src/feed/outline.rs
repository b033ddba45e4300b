//! What a chain costs at least before and after each mark: the marks that no cheapest chain passes are left out.
//!
//! ```text
//!  after[x]  = min over kinds of feeding and lengths n up to their reach: least cost of such a segment from x to
//!              x + n, with the least feeders at or after where they may lie, and after[x + n]
//!  before[j] = the same from the start of the run
//! ```
//! A kind is a way of feeding and its wires; its reach is the longest segment that leaves the worst cell its
//! volts on average ([`average`](super::bound::average)), or on one feed with even branches. A mark where
//! `before + after` is above the cost of a chain that holds is on no cheaper chain.

use super::bound::{Bounds, average, longest, two_ends, two_feeds_one_loop};
use super::march::SLACK;
use super::model::{CheckedRun, LOW};
use super::most::TWO_ENDED;
use super::placements::even;
use super::spec::Pattern;

/// Marks for which one reach serves.
const STRETCH: usize = 32;

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

/// Where the feeders of a kind lie.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Fed {
    /// One mark.
    Once,
    /// Both ends, whichever conductors.
    AtEnds,
    /// Two marks inside.
    Twice,
    /// Three marks.
    Thrice,
}

/// A kind of feeding: wires of its feeders by place.
#[derive(Debug, Clone, Copy)]
struct Kind {
    fed: Fed,
    place: usize,
    wires: [usize; 2],
    /// Most increments that hang on the right of one feed.
    right: usize,
}

/// Costs and reaches of kinds, by what no segment undercuts.
struct Costs<'a> {
    m: &'a CheckedRun,
    feeders: &'a [i64],
    /// Feeds inside lie at the even places of a segment.
    even: bool,
    own: i64,
}

impl Costs<'_> {
    fn feeder(&self, kind: &Kind, wire: usize, mark: usize) -> i64 {
        let row = kind.place * self.m.wire_names.len() + wire;
        self.feeders[row * (self.m.n + 1) + mark.min(self.m.n)]
    }

    /// Least cost of a segment of a kind from `x` over `n` increments or more.
    fn segment(&self, kind: &Kind, x: usize, n: usize) -> i64 {
        let [a, b] = kind.wires;
        let (quarter, sixth) = match (self.even, n) {
            (true, 1..) => ((n + 2) / 4, (n + 3) / 6),
            _ => (0, 0),
        };
        let later = if self.even { n } else { 0 };
        let at = |wire: usize, offset: usize| self.feeder(kind, wire, x + offset);
        let feeders = match kind.fed {
            Fed::Once => at(a, n.saturating_sub(kind.right)),
            Fed::AtEnds => (at(a, 0) + at(b, n)).min(at(b, 0) + at(a, n)),
            Fed::Twice => at(a, quarter) + at(a, later - quarter),
            Fed::Thrice => at(a, 0) + at(a, later / 2) + at(a, later - sixth),
        };
        self.own + feeders
    }
}

impl Outline {
    pub fn new(m: &CheckedRun, bounds: &Bounds) -> Self {
        let n = m.n;
        let feeders = least_costs(m);
        let costs = Costs {
            m,
            feeders: &feeders,
            even: m.listed_inside.is_none(),
            own: if m.fixed_segments.is_empty() {
                m.spec.costs.per_segment
            } else {
                0
            },
        };
        let kinds = kinds(m, bounds);
        // Kinds worth a look and their reaches, by stretch.
        let stretches: Vec<Vec<(Kind, usize)>> = (0..n)
            .step_by(STRETCH)
            .map(|x| {
                let with_reach = kinds
                    .iter()
                    .map(|kind| (*kind, kind.reach(m, bounds, x)))
                    .filter(|(_, reach)| *reach > 0);
                undominated(&costs, with_reach.collect())
            })
            .collect();
        let from = |x: usize| stretches[x / STRETCH].as_slice();
        Self {
            before: before(&costs, from),
            after: after(&costs, from),
            feeders,
        }
    }
}

/// Drops the kinds whose feeders lie like those of another that cost no more anywhere and reach no less.
fn undominated(costs: &Costs<'_>, kinds: Vec<(Kind, usize)>) -> Vec<(Kind, usize)> {
    let each = costs.m.n + 1;
    let row = |place: usize, wire: usize| {
        let at = (place * costs.m.wire_names.len() + wire) * each;
        &costs.feeders[at..at + each]
    };
    let no_dearer = |a: &Kind, b: &Kind, slot: usize| {
        a.place == b.place && a.wires[slot] == b.wires[slot]
            || row(a.place, a.wires[slot])
                .iter()
                .zip(row(b.place, b.wires[slot]))
                .all(|(a, b)| a <= b)
    };
    let mut kept: Vec<(Kind, usize)> = Vec::with_capacity(kinds.len());
    for (kind, reach) in kinds {
        let beaten = kept.iter().any(|(other, further)| {
            other.fed == kind.fed
                && *further >= reach
                && other.right >= kind.right
                && (0..2).all(|slot| no_dearer(other, &kind, slot))
        });
        if !beaten {
            kept.push((kind, reach));
        }
    }
    kept
}

/// Marks whose least is kept together.
const BLOCK: usize = 8;

fn after<'a>(costs: &Costs<'_>, from: impl Fn(usize) -> &'a [(Kind, usize)]) -> Vec<i64> {
    let m = costs.m;
    let n = m.n;
    let mut after = vec![NONE; n + 1];
    // What the rest costs from each mark with the break there, and the least of each block of marks.
    let mut rest = vec![NONE; n + 1];
    let mut least = vec![NONE; n / BLOCK + 1];
    (after[n], rest[n], least[n / BLOCK]) = (0, 0, 0);
    for x in (0..n).rev() {
        if !m.can_break[x] {
            continue;
        }
        let mut best = NONE;
        for (kind, reach) in from(x) {
            let end = x.saturating_add(*reach).min(m.next_forced[x]);
            let blocks = least.iter().enumerate().take(end / BLOCK + 1);
            for (block, least) in blocks.skip((x + 1) / BLOCK).filter(|(_, l)| **l < NONE) {
                let first = (block * BLOCK).max(x + 1);
                let ends = if end >= block * BLOCK + BLOCK - 1 {
                    *least
                } else {
                    rest[first..=end].iter().copied().min().unwrap_or(NONE)
                };
                best = best.min(costs.segment(kind, x, first - x) + ends);
            }
        }
        after[x] = best.min(NONE);
        rest[x] = after[x].saturating_add(m.break_cost[x]).min(NONE);
        least[x / BLOCK] = least[x / BLOCK].min(rest[x]);
    }
    after
}

fn before<'a>(costs: &Costs<'_>, from: impl Fn(usize) -> &'a [(Kind, usize)]) -> Vec<i64> {
    let m = costs.m;
    let n = m.n;
    let mut before = vec![NONE; n + 1];
    before[0] = 0;
    // Least cost with which a segment may end anywhere in a block.
    let mut least = vec![NONE; n / BLOCK + 1];
    for x in 0..n {
        if x > 0 {
            let so_far = before[x].min(least[x / BLOCK]);
            before[x] = if m.can_break[x] {
                so_far.saturating_add(m.break_cost[x]).min(NONE)
            } else {
                NONE
            };
        }
        if before[x] >= NONE {
            continue;
        }
        for (kind, reach) in from(x) {
            let end = x.saturating_add(*reach).min(m.next_forced[x]);
            let blocks = least.iter_mut().enumerate().take(end / BLOCK + 1);
            for (block, least) in blocks.skip((x + 1) / BLOCK) {
                let first = (block * BLOCK).max(x + 1);
                let cost = before[x] + costs.segment(kind, x, first - x);
                if end >= block * BLOCK + BLOCK - 1 && first == block * BLOCK {
                    *least = cost.min(*least);
                } else {
                    let last = end.min(block * BLOCK + BLOCK - 1);
                    for own in &mut before[first..=last] {
                        *own = (*own).min(cost);
                    }
                }
            }
        }
    }
    before[n] = before[n].min(least[n / BLOCK]);
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

fn kinds(m: &CheckedRun, bounds: &Bounds) -> Vec<Kind> {
    let fixed = !m.fixed_segments.is_empty();
    let has = |all: &[Pattern]| fixed || all.iter().any(|p| m.patterns.contains(p));
    let once = has(&[Pattern::Start, Pattern::End, Pattern::Inside]);
    let at_ends = has(&[
        Pattern::BothEnds,
        Pattern::CommonAtStart,
        Pattern::CommonAtEnd,
    ]);
    let twice = has(&[Pattern::TwoInside]);
    let thrice = has(&[Pattern::BothEndsAndInside, Pattern::ThreeInside]);
    let wires = m.wire_names.len();
    let mut kinds = Vec::new();
    for place in 0..m.sources.len() {
        for w in 0..wires {
            let mut push = |fed: Fed, other: usize, right: usize| {
                kinds.push(Kind {
                    fed,
                    place,
                    wires: [w, other],
                    right,
                });
            };
            if once {
                push(Fed::Once, w, bounds.longest_right(m, place, w));
            }
            if at_ends {
                (w..wires).for_each(|other| push(Fed::AtEnds, other, 0));
            }
            if twice {
                push(Fed::Twice, w, 0);
            }
            if thrice {
                push(Fed::Thrice, w, 0);
            }
        }
    }
    kinds
}

impl Kind {
    /// Most increments of a segment that begins at `x` or later.
    fn reach(&self, m: &CheckedRun, bounds: &Bounds, x: usize) -> usize {
        let Some(route) = bounds.most.least_from(m, self.place, x) else {
            return 0;
        };
        let [a, b] = self.wires.map(|w| m.core(w, route)[LOW]);
        let source = &m.sources[self.place];
        let (pattern, feeds) = match self.fed {
            Fed::Once => (Pattern::Inside, 1),
            Fed::AtEnds => (Pattern::BothEnds, 2),
            Fed::Twice => (Pattern::TwoInside, 2),
            Fed::Thrice => (Pattern::ThreeInside, 3),
        };
        let [first, second] = self.wires;
        let all = m.most_cells(pattern, &[first, second, second][..feeds]);
        let most = all.min(m.n - x);
        let in_branches = |branches: usize, core: f64| {
            longest(most, |n| average(m, n, source, branches, core) >= -SLACK)
        };
        let evenly = |feeds: usize| {
            longest(most, |n| {
                bounds.branches.even_need(n, feeds, a, source) <= source.volts[LOW] + SLACK
            })
        };
        let plain = m.uniform;
        match self.fed {
            Fed::Once if plain => evenly(1),
            Fed::Twice if plain && m.one_loop => self.twice(m, bounds, x, most),
            Fed::Thrice if plain && m.one_loop => evenly(3),
            Fed::AtEnds if plain && m.one_loop => self.at_ends(m, bounds, x, most),
            Fed::Once => in_branches(2, a),
            // Opposite ends take no less than both through both.
            Fed::AtEnds => in_branches(4, a * b / (a + b).max(f64::MIN_POSITIVE)),
            Fed::Twice => in_branches(4, 0.5 * a),
            Fed::Thrice => in_branches(6, a / 3.0),
        }
    }

    /// Least resistance of a feeder of a wire from `mark` on.
    fn core(&self, m: &CheckedRun, bounds: &Bounds, wire: usize, mark: usize) -> f64 {
        let route = bounds.most.least_from(m, self.place, mark);
        route.map_or(f64::INFINITY, |route| m.core(wire, route)[LOW])
    }

    /// The same with two feeds inside, where all folds to one loop.
    fn twice(&self, m: &CheckedRun, bounds: &Bounds, x: usize, most: usize) -> usize {
        let source = &m.sources[self.place];
        longest(most, |n| match even(Pattern::TwoInside, 0, n)[0] {
            Some([first, last, _]) if m.listed_inside.is_none() => {
                let cores = [first, last].map(|k| self.core(m, bounds, self.wires[0], x + k));
                let tails = [first, n - last];
                two_feeds_one_loop(m, &bounds.branches, [first, last], tails, source, cores)
            }
            // Too short, or anywhere.
            _ => {
                let core = self.core(m, bounds, self.wires[0], x);
                bounds.branches.even_need(n, 2, core, source) <= source.volts[LOW] + SLACK
            }
        })
    }

    /// The same with feeds at both ends, where all folds to one loop.
    fn at_ends(&self, m: &CheckedRun, bounds: &Bounds, x: usize, most: usize) -> usize {
        let source = &m.sources[self.place];
        let core = |wire: usize, mark: usize| self.core(m, bounds, wire, mark);
        let kinds = TWO_ENDED
            .into_iter()
            .filter(|p| !m.fixed_segments.is_empty() || m.patterns.contains(p));
        let [a, b] = self.wires;
        let reaches = kinds.flat_map(|kind| {
            [(a, b), (b, a)].map(|(left, right)| {
                longest(most, |n| {
                    let cores = [core(left, x), core(right, x + n)];
                    two_ends(m, kind, n, source, cores) >= -SLACK
                        && (kind != Pattern::BothEnds
                            || two_feeds_one_loop(
                                m,
                                &bounds.branches,
                                [0, n],
                                [0, 0],
                                source,
                                cores,
                            ))
                })
            })
        });
        reaches.max().unwrap_or(0)
    }
}
