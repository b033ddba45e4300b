//! Cheapest of all whole plans, by the least that each may cost.
//!
//! ```text
//!  bound = feeding of the runs chosen + least feeding of the others + devices for those chosen at least
//!
//!  nothing chosen ─► way of run A ─► ways of A and B ─► … ─► every run: segments in full, decoders, supplies
//! ```
//! What is open is taken in the order of its bound. When the least bound reaches the best whole plan, that plan
//! is the cheapest.

use super::priced::Pricer;
use super::ways::{RunWays, Way};
use crate::job::Job;
use crate::job::plan::devices::{Driven, SegmentWork};
use crate::progress::{Go, Progress};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Most whole plans that are priced before the proof is given up.
const MOST_PRICED: u64 = 3_000;
/// Most that are priced for the next best, once the best is proven.
const FOR_THE_NEXT: u64 = 200;
/// Whole plans that are kept: the best, the next best, and one more, as one may be what was there before.
const KEPT: usize = 3;

/// A whole plan.
pub(super) struct Found<'j> {
    pub cost: i64,
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
    /// Most that may be priced.
    most: u64,
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
            most: MOST_PRICED,
        }
    }

    /// Searches; `devices` is what all devices cost at least. None when stopped.
    pub fn go(mut self, devices: i64, progress: &mut Progress<'_>) -> Option<Answer<'j>> {
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
                self.most = self.most.min(self.priced + FOR_THE_NEXT);
            }
            let spent = self.pricer.assigned.max(self.priced) >= self.most;
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
        while let Some(Reverse((cost, choices, first))) = open.pop() {
            let limit = best
                .as_ref()
                .map_or(self.limit(), |b| b.cost.min(self.limit()));
            if cost + node.devices >= limit {
                break;
            }
            if self.priced >= self.most {
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
            if let Some(found) = self.price(&runs, cost, &choices, limit) {
                best = Some(found);
            }
        }
        if let Some(best) = best {
            let at = self.found.partition_point(|f| f.cost <= best.cost);
            self.found.insert(at, best);
            self.found.truncate(KEPT);
        }
    }

    /// The devices of one whole plan, if it costs less than `limit`.
    fn price(
        &mut self,
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
            chains: parts.iter().map(chain).collect(),
            decoders: devices.decoders,
        })
    }
}
