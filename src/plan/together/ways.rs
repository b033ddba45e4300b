//! The ways to cut and place one run, and what each of its segments may be.
//!
//! ```text
//!  way:   0 ─── A, from box ─── 5 ─── B, from riser ─── 8
//!         each span: its segments that hold, of which none costs more and draws no less than another
//! ```

use super::SMALL;
use crate::choose::feeding::SegmentList;
use crate::job::Job;
use crate::plan::devices::{self, Draw, SegmentWork};
use crate::plan::facts::TapeModels;
use crate::plan::feeding;
use crate::plan::laid::RunWork;
use crate::progress::Progress;
use std::collections::BTreeMap;

/// Most ways to cut and place one run.
const MOST_WAYS: usize = 200;

/// A segment that may be chosen.
pub(super) struct Choice {
    /// Its place among the segments of the run.
    pub at: usize,
    pub cost: i64,
    pub draw: Draw,
}

/// Two marks and a place, and the segments there are between and from them.
pub(super) struct Span {
    from: u64,
    to: u64,
    /// Place, by its place in the job.
    place: usize,
    /// Cheapest first.
    pub choices: Vec<Choice>,
    /// The least of each of their figures.
    draw: Draw,
}

/// A chain of spans over the whole run.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Way {
    /// With the cheapest segment of each span, minor units.
    pub cost: i64,
    pub spans: Vec<usize>,
}

/// Everything that one run may be.
pub(super) struct RunWays {
    pub every: SegmentList,
    pub spans: Vec<Span>,
    /// Cheapest first.
    pub ways: Vec<Way>,
    run: usize,
    id: String,
    zone: usize,
    tape: usize,
}

impl RunWays {
    /// All that costs at most `most`, none where the run is not small, nothing costs so little or `progress` is cancelled.
    pub fn list(
        job: &Job,
        runs: &[RunWork<'_>],
        run: usize,
        most: i64,
        tapes: &TapeModels,
        progress: &mut Progress<'_>,
    ) -> Option<Self> {
        let work = &runs[run];
        let problem = feeding::problem(job, work, tapes).ok()?.check().ok()?;
        let every = problem.every_segment(most, SMALL, progress).ok()??;
        let emitters = job.strips()[work.tape].emitters.len();
        let mut spans: Vec<Span> = Vec::new();
        for (at, held) in every.segments.iter().enumerate() {
            let segment = held.segment();
            let Some(place) = job.places().iter().position(|p| p.name == segment.place) else {
                continue;
            };
            let mut draw = devices::draw(segment, emitters);
            if let Some(more) = work.drawn.get(&(segment.from, segment.to)) {
                draw.raise(more);
            }
            let own = (segment.from, segment.to, place);
            let slot = spans
                .iter()
                .position(|s| (s.from, s.to, s.place) == own)
                .unwrap_or(spans.len());
            if slot == spans.len() {
                spans.push(Span {
                    from: segment.from,
                    to: segment.to,
                    place,
                    choices: Vec::new(),
                    draw: draw.clone(),
                });
            }
            let span = &mut spans[slot];
            // What comes later costs no less. Where neighbours are seen beside each other, they may part by more.
            let beaten = span.choices.iter().any(|other| no_more(&other.draw, &draw));
            if beaten && !every.seen() {
                continue;
            }
            span.draw = least(&span.draw, &draw);
            span.choices.push(Choice {
                at,
                cost: held.cost,
                draw,
            });
        }
        let mut ways = Vec::new();
        let end = work.layout.increments();
        let rest = rest(&spans, end);
        if !chains(&spans, &rest, 0, most, &mut Vec::new(), &mut ways) {
            return None;
        }
        ways.sort();
        if ways.is_empty() {
            return None;
        }
        Some(Self {
            every,
            spans,
            ways,
            run,
            id: work.spec.name.clone(),
            zone: work.zone_at,
            tape: work.tape,
        })
    }

    /// The segments of a way at the least that each may draw.
    pub fn at_least(&self, way: &Way) -> impl Iterator<Item = SegmentWork> {
        way.spans.iter().enumerate().map(|(number, span)| {
            let span = &self.spans[*span];
            self.work(number, span, span.choices[0].at, span.draw.clone())
        })
    }

    /// The segments of a way, with the choice taken in each span.
    pub fn taken(&self, way: &Way, choices: &[usize]) -> impl Iterator<Item = SegmentWork> {
        let own = way.spans.iter().zip(choices).enumerate();
        own.map(|(number, (span, choice))| {
            let span = &self.spans[*span];
            let choice = &span.choices[*choice];
            self.work(number, span, choice.at, choice.draw.clone())
        })
    }

    /// Whether no step of light shows between the segments of a way.
    pub fn meets(&self, way: &Way, choices: &[usize]) -> bool {
        let at = |(span, choice): (&usize, &usize)| {
            &self.every.segments[self.spans[*span].choices[*choice].at]
        };
        let all: Vec<_> = way.spans.iter().zip(choices).map(at).collect();
        all.windows(2).all(|pair| self.every.meet(pair[0], pair[1]))
    }

    fn work(&self, number: usize, span: &Span, at: usize, draw: Draw) -> SegmentWork {
        SegmentWork {
            id: devices::segment_id(&self.id, number),
            run: self.run,
            number,
            zone: self.zone,
            tape: self.tape,
            place: span.place,
            plan: self.every.segments[at].segment().clone(),
            draw,
        }
    }
}

/// Every chain of spans from a mark on that leaves something of `left`; false where there are too many.
fn chains(
    spans: &[Span],
    rest: &BTreeMap<u64, i64>,
    from: u64,
    left: i64,
    chain: &mut Vec<usize>,
    ways: &mut Vec<Way>,
) -> bool {
    if rest.keys().next_back() == Some(&from) {
        ways.push(Way {
            cost: chain.iter().map(|s| spans[*s].choices[0].cost).sum(),
            spans: chain.clone(),
        });
        return ways.len() <= MOST_WAYS;
    }
    for (at, span) in spans.iter().enumerate().filter(|(_, s)| s.from == from) {
        let left = left - span.choices[0].cost;
        if rest.get(&span.to).is_none_or(|rest| *rest > left) {
            continue;
        }
        chain.push(at);
        let few = chains(spans, rest, span.to, left, chain, ways);
        chain.pop();
        if !few {
            return false;
        }
    }
    true
}

/// Least cost of a chain to the end from each mark that has one.
fn rest(spans: &[Span], end: u64) -> BTreeMap<u64, i64> {
    let mut rest = BTreeMap::from([(end, 0)]);
    let mut order: Vec<&Span> = spans.iter().collect();
    order.sort_by_key(|s| std::cmp::Reverse(s.from));
    for span in order {
        if let Some(after) = rest.get(&span.to) {
            let cost = span.choices[0].cost + after;
            let own = rest.entry(span.from).or_insert(cost);
            *own = cost.min(*own);
        }
    }
    rest
}

/// Whether one draws no more than another in anything.
fn no_more(one: &Draw, other: &Draw) -> bool {
    let each = one.outputs.iter().zip(&other.outputs);
    one.current <= other.current
        && one.watts <= other.watts
        && each.into_iter().all(|(a, b)| a <= b)
}

fn least(one: &Draw, other: &Draw) -> Draw {
    let each = one.outputs.iter().zip(&other.outputs);
    Draw {
        outputs: each.map(|(a, b)| a.min(*b)).collect(),
        current: one.current.min(other.current),
        watts: one.watts.min(other.watts),
    }
}
