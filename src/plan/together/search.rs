//! Cheapest of all whole plans, by the least that each may cost.
//!
//! ```text
//!  bound = feeding of the runs chosen + least feeding of the others + devices for those chosen at least
//!
//!  nothing chosen ─► way of run A ─► ways of A and B ─► … ─► every run: segments in full, decoders, supplies
//! ```
//! First the way of one run after the other is changed as long as the whole gets cheaper: so something good is known early.
//! Then what is open is taken in the order of its bound. When the least bound reaches the best whole plan, that plan is
//! the cheapest; where the work is spent before, the least bound still holds.

use super::priced::Pricer;
use super::ways::{RunWays, Way};
use crate::job::Job;
use crate::plan::devices::{Driven, SegmentWork};
use crate::progress::{Go, Progress};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Most whole plans that are priced before the proof is given up.
const MOST_PRICED: u64 = 10_000;
/// Most that are priced while one run after the other is changed; and most of them with the same ways.
const MOST_CHANGED: u64 = 3_000;
const OF_THE_SAME: u64 = 4;
/// Most that are priced for the next best, once the best is proven.
const FOR_THE_NEXT: u64 = 200;
/// Whole plans that are kept: the best, the next best, and one more, as one may be what was there before.
const KEPT: usize = 3;

/// A whole plan.
pub(super) struct Found<'j> {
    pub cost: i64,
    /// Way of each run, by its place in the list.
    ways: Vec<usize>,
    /// Segments of each run, by their places among its segments.
    pub chains: Vec<Vec<usize>>,
    pub decoders: Vec<Driven<'j>>,
}

/// What the search says.
pub(super) struct Answer<'j> {
    /// Cheapest first, each with other ways of some run.
    pub found: Vec<Found<'j>>,
    /// Nothing costs less.
    pub lower: i64,
    /// Whole plans that were priced.
    pub priced: u64,
    /// The work was spent before the proof.
    pub spent: bool,
}

/// Ways of the first runs.
#[derive(Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Node {
    bound: i64,
    /// Runs that are not chosen yet.
    left: usize,
    ways: Vec<usize>,
    /// Least price of devices for those chosen.
    devices: i64,
    /// Whether that was found for these very ways.
    own: bool,
}

/// The search.
pub(super) struct Search<'a, 'j> {
    job: &'j Job,
    runs: &'a [RunWays],
    pricer: Pricer<'j>,
    /// Least feeding of the runs from each on.
    rest: Vec<i64>,
    /// Whole plans up to this cost are complete in the lists of ways.
    top: i64,
    found: Vec<Found<'j>>,
    /// Least that something which was given up may cost.
    given_up: i64,
    priced: u64,
    /// Most that may be priced, and most of them with the same ways.
    most: u64,
    of_the_same: u64,
}

impl<'a, 'j> Search<'a, 'j> {
    pub fn new(job: &'j Job, runs: &'a [RunWays], top: i64) -> Self {
        let mut rest = vec![0];
        for run in runs.iter().rev() {
            let least = run.ways.first().map_or(0, |w| w.cost);
            rest.insert(0, rest[0] + least);
        }
        Self {
            job,
            runs,
            pricer: Pricer::new(job),
            rest,
            top,
            found: Vec::new(),
            given_up: i64::MAX,
            priced: 0,
            most: MOST_CHANGED,
            of_the_same: OF_THE_SAME,
        }
    }

    /// Searches; `devices` is what all devices cost at least. None when stopped.
    pub fn go(mut self, devices: i64, progress: &mut Progress<'_>) -> Option<Answer<'j>> {
        if !self.change_runs(devices, progress) {
            return None;
        }
        self.given_up = i64::MAX;
        self.most = self.worked() + MOST_PRICED;
        self.of_the_same = u64::MAX;
        let mut open = BinaryHeap::from([Reverse(Node {
            bound: self.rest[0] + devices,
            left: self.runs.len(),
            ways: Vec::new(),
            devices,
            own: true,
        })]);
        let (mut lower, mut proven) = (self.top, false);
        while let Some(Reverse(node)) = open.pop() {
            let step = progress.step("choosing together", self.priced, MOST_PRICED);
            if step == Go::Cancel {
                return None;
            }
            if !proven
                && self
                    .found
                    .first()
                    .is_some_and(|best| best.cost <= node.bound)
            {
                (lower, proven) = (node.bound, true);
                self.most = self.most.min(self.worked() + FOR_THE_NEXT);
            }
            let spent = self.worked() >= self.most;
            if node.bound >= self.limit() || spent {
                if !proven {
                    lower = node.bound;
                }
                break;
            }
            self.follow(node, &mut open);
        }
        let best = self.found.first().map_or(i64::MAX, |best| best.cost);
        let lower = lower.min(best).min(self.given_up);
        Some(Answer {
            lower,
            priced: self.priced,
            spent: lower < best,
            found: self.found,
        })
    }

    /// Whole plans priced or supplies assigned, whichever is more.
    fn worked(&self) -> u64 {
        self.pricer.assigned.max(self.priced)
    }

    /// Starts with the cheapest way of each run, and changes the way of one run after the other as long as the whole gets
    /// cheaper. False when stopped.
    fn change_runs(&mut self, devices: i64, progress: &mut Progress<'_>) -> bool {
        let mut ways = vec![0; self.runs.len()];
        self.try_ways(&ways, devices);
        loop {
            let before = self.found.first().map(|best| best.cost);
            for run in 0..self.runs.len() {
                for way in 0..self.runs[run].ways.len() {
                    let step = progress.step("choosing together", self.priced, MOST_PRICED);
                    if step == Go::Cancel {
                        return false;
                    }
                    if self.worked() >= self.most {
                        return true;
                    }
                    if way != ways[run] {
                        let mut changed = ways.clone();
                        changed[run] = way;
                        self.try_ways(&changed, devices);
                    }
                }
                if let Some(best) = self.found.first() {
                    ways.clone_from(&best.ways);
                }
            }
            if self.found.first().map(|best| best.cost) == before {
                return true;
            }
        }
    }

    /// The whole plan with these ways, if it may be cheaper than what is known.
    fn try_ways(&mut self, ways: &[usize], devices: i64) {
        let feeding: i64 = self.ways(ways).map(|(_, way)| way.cost).sum();
        let mut node = Node {
            bound: feeding + devices,
            left: 0,
            ways: ways.to_vec(),
            devices,
            own: true,
        };
        let best = |found: &[Found<'_>]| found.first().map_or(i64::MAX, |best| best.cost);
        if node.bound >= best(&self.found) {
            return;
        }
        let Some(least) = self.devices(&node) else {
            return;
        };
        node.devices = devices.max(least);
        node.bound = feeding + node.devices;
        if node.bound < best(&self.found) {
            self.whole(&node);
        }
    }

    /// What a plan must cost less than to tell anything.
    fn limit(&self) -> i64 {
        self.found.get(1).map_or(self.top + 1, |next| next.cost)
    }

    fn follow(&mut self, mut node: Node, open: &mut BinaryHeap<Reverse<Node>>) {
        if !node.own {
            node.own = true;
            let Some(devices) = self.devices(&node) else {
                return;
            };
            let more = (devices - node.devices).max(0);
            node.devices += more;
            node.bound += more;
            if more > 0 {
                open.push(Reverse(node));
                return;
            }
        }
        if node.left == 0 {
            self.whole(&node);
            return;
        }
        let run = &self.runs[node.ways.len()];
        let least = run.ways.first().map_or(0, |w| w.cost);
        for (number, way) in run.ways.iter().enumerate() {
            let bound = node.bound + way.cost - least;
            if bound >= self.limit() {
                break;
            }
            let mut ways = node.ways.clone();
            ways.push(number);
            open.push(Reverse(Node {
                bound,
                left: node.left - 1,
                ways,
                devices: node.devices,
                own: false,
            }));
        }
    }

    fn ways<'n>(
        &self,
        chosen: &'n [usize],
    ) -> impl Iterator<Item = (&'a RunWays, &'a Way)> + use<'a, 'n, 'j> {
        let own = self.runs.iter().zip(chosen);
        own.map(|(run, way)| (run, &run.ways[*way]))
    }

    /// Least price of devices for the ways chosen, none where no devices hold them.
    fn devices(&mut self, node: &Node) -> Option<i64> {
        // What is installed may wait for a segment of a run that is not chosen yet.
        if node.left > 0 && !self.job.installed().is_empty() {
            return Some(node.devices);
        }
        let own = self.ways(&node.ways);
        let segments: Vec<SegmentWork> = own.flat_map(|(run, way)| run.at_least(way)).collect();
        self.pricer.lower(&segments)
    }

    /// The cheapest whole plan with a way of each run: its segments in the order of what they cost.
    fn whole(&mut self, node: &Node) {
        let runs: Vec<_> = self.ways(&node.ways).collect();
        // Cost of each choice of each segment, over all runs.
        let costs: Vec<Vec<i64>> = runs
            .iter()
            .flat_map(|(run, way)| way.spans.iter().map(|s| &run.spans[*s].choices))
            .map(|choices| choices.iter().map(|c| c.cost).collect())
            .collect();
        let cheapest: i64 = costs.iter().map(|c| c[0]).sum();
        let mut open = BinaryHeap::from([Reverse((cheapest, vec![0; costs.len()], 0))]);
        let mut best: Option<Found<'j>> = None;
        let priced = self.priced;
        while let Some(Reverse((cost, choices, first))) = open.pop() {
            let limit = best
                .as_ref()
                .map_or(self.limit(), |b| b.cost.min(self.limit()));
            if cost + node.devices >= limit {
                break;
            }
            if self.worked() >= self.most || self.priced - priced >= self.of_the_same {
                self.given_up = self.given_up.min(cost + node.devices);
                break;
            }
            for at in first..costs.len() {
                let next = choices[at] + 1;
                if let Some(dearer) = costs[at].get(next) {
                    let more = dearer - costs[at][next - 1];
                    let mut choices = choices.clone();
                    choices[at] = next;
                    open.push(Reverse((cost + more, choices, at)));
                }
            }
            if let Some(found) = self.price(node, &runs, cost, &choices, limit) {
                best = Some(found);
            }
        }
        if let Some(best) = best {
            self.found.retain(|f| f.ways != best.ways);
            let at = self.found.partition_point(|f| f.cost <= best.cost);
            self.found.insert(at, best);
            self.found.truncate(KEPT);
        }
    }

    /// The devices of one whole plan, if it costs less than `limit`.
    fn price(
        &mut self,
        node: &Node,
        runs: &[(&RunWays, &Way)],
        cost: i64,
        choices: &[usize],
        limit: i64,
    ) -> Option<Found<'j>> {
        let mut rest = choices;
        let mut parts = Vec::with_capacity(runs.len());
        for (run, way) in runs {
            let (own, others) = rest.split_at(way.spans.len());
            rest = others;
            if !run.meets(way, own) {
                return None;
            }
            parts.push((*run, *way, own));
        }
        self.priced += 1;
        let segments: Vec<SegmentWork> = parts
            .iter()
            .flat_map(|(run, way, own)| run.taken(way, own))
            .collect();
        let (devices, lower) = self.pricer.price(&segments, limit - cost);
        let reached = devices.as_ref().map_or(limit, |d| cost + d.cost);
        if cost.saturating_add(lower) < reached {
            self.given_up = self.given_up.min(cost + lower);
        }
        let devices = devices?;
        let chain = |(run, way, own): &(&RunWays, &Way, &[usize])| {
            let each = way.spans.iter().zip(*own);
            each.map(|(span, choice)| run.spans[*span].choices[*choice].at)
                .collect()
        };
        Some(Found {
            cost: cost + devices.cost,
            ways: node.ways.clone(),
            chains: parts.iter().map(chain).collect(),
            decoders: devices.decoders,
        })
    }
}
