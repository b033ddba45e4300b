//! Feeding, decoders and supplies of a small job chosen together.
//!
//! ```text
//!  run A   ├──────────┤      in one segment: one decoder, but a supply of 5 A
//!          ├───┤├─────┤      in two: one more feed and decoder, two outputs of 3 A
//!  run B   ├───┤ from box    cheapest by itself, with a supply there for 3 m of tape
//!          ├───┤ from riser  a longer feeder to a supply that is there for A
//!
//!  every segment that holds ─► ways to cut and place each run ─► whole plans by their least cost
//!          (feed::every)              (ways)                     (search), each with its devices (priced)
//! ```
//! Run by run, the cheapest feeding is found first and devices for it then; a feeding that costs more may need
//! less. Here every segment of every run that keeps every limit by itself is listed, through every wire, from every
//! place; of these, and of all ways to part them among decoders, the whole plan of least cost is found:
//!
//! ```text
//!  cost = Σ segments, feeders, breaks + Σ decoders + Σ supplies       (what stands by among them)
//! ```
//! **Proven** is the least cost of this sum, with each segment held by itself from the weakest of the kinds that zone and
//! place permit. The copper that segments share is solved afterwards: where it takes more than was left, it is reserved and
//! everything is chosen again, but the bound stays that of the first choice. So the bound holds in any case, and the plan
//! is called proven only where its cost is the bound.
//!
//! The work is counted in whole plans priced and supplies assigned, not in seconds: 10 000 are about a second. Four runs with
//! many ways each may spend it: then the plan is the best that was found, with its bound.
//!
//! **Leaves out**: leads between supplies and decoders have no price; a job without a price for each kind of device,
//! with more than [`MOST_RUNS`] runs, more candidates or segments than [`SMALL`] says, or more than 200 ways to cut and
//! place a run, is planned run by run with a bound and a gap.

mod priced;
mod search;
mod taken;
mod ways;
mod words;

pub(super) use words::afterwards;

use super::bound;
use super::costing;
use super::devices::Driven;
use super::facts::TapeModels;
use super::laid::RunWork;
use super::phases::{self, Phase};
use crate::choose::feeding::ListLimits;
use crate::job::Job;
use crate::progress::Progress;
use search::Search;
use taken::{Cost, cost, take};
use ways::RunWays;

/// Most runs of a job that is chosen together.
const MOST_RUNS: usize = 4;
/// How much of one run is tried: candidates judged, segments solved in full.
const SMALL: ListLimits = ListLimits {
    candidates: 10_000,
    segments: 300,
};
/// Share of the cost run by run up to which dearer whole plans are listed, for the next best.
const BEYOND: i64 = 50;

/// What was proven of everything together.
#[derive(Clone)]
pub(super) struct Whole<'j> {
    /// The problem that bound and proof are about.
    pub problem: String,
    /// Nothing that solves it costs less.
    pub lower: i64,
    /// What the bound rests on.
    pub reason: String,
    /// The next best.
    pub runner_up: String,
    /// Decoders with their segments, where they are not the cheapest by themselves.
    pub decoders: Option<Vec<Driven<'j>>>,
}

/// Chooses everything together, where the job is small and every device has a price. `first` is what was proven
/// before anything was reserved for shared copper. Once `progress` is cancelled the runs stay as they are.
pub(super) fn choose<'j>(
    job: &'j Job,
    runs: &mut [RunWork<'j>],
    tapes: &TapeModels,
    first: Option<Whole<'j>>,
    progress: &mut Progress<'_>,
) -> Option<Whole<'j>> {
    let again = first.map(|whole| Whole {
        decoders: None,
        ..whole
    });
    let priced = costing::every_device_is_priced(job);
    let whole_runs = runs.len() == job.runs().len() && runs.iter().all(|r| r.holds);
    if runs.is_empty() || runs.len() > MOST_RUNS || !priced || !whole_runs {
        return again;
    }
    let Some(apart) = cost(job, runs, None) else {
        return again;
    };
    let devices = bound::devices(job, runs, tapes);
    let top = match apart {
        Cost::Holds(cost) => cost + cost / BEYOND,
        Cost::Refused(cost) => cost.saturating_mul(2),
    };
    let mut parts = Phase::new(progress, phases::TOGETHER, runs.len() + 1);
    let lists = lists(job, runs, tapes, top - devices, &mut parts);
    let answer = lists.as_ref().and_then(|lists| {
        parts.part(|progress| Search::new(job, lists, top).go(devices, progress))
    });
    parts.end();
    let (Some(lists), Some(answer)) = (&lists, answer) else {
        return again;
    };
    let Some(best) = answer.found.first() else {
        return again;
    };
    let decoders = if Cost::Holds(best.cost) < apart {
        let otherwise = match apart {
            Cost::Holds(apart) => format!("all runs so, the whole job costs {apart}"),
            Cost::Refused(_) => "all runs so, no devices hold them".to_string(),
        };
        match take(job, runs, lists, best, &otherwise) {
            Some(decoders) => decoders,
            None => return again,
        }
    } else {
        None
    };
    Some(match again {
        Some(whole) => Whole { decoders, ..whole },
        None => Whole {
            problem: words::problem(runs, lists),
            lower: answer.lower,
            reason: words::reason(lists, &answer, best.cost, apart, job.currency()),
            runner_up: words::next(runs, lists, &answer, job.currency()),
            decoders,
        },
    })
}

/// What each run may be where all runs together cost at most `feeding`; none where one is not small.
fn lists(
    job: &Job,
    runs: &[RunWork<'_>],
    tapes: &TapeModels,
    feeding: i64,
    parts: &mut Phase<'_, '_>,
) -> Option<Vec<RunWays>> {
    let least = |run: &RunWork<'_>| run.least.unwrap_or(0);
    let all: i64 = runs.iter().map(least).sum();
    let mut lists = Vec::with_capacity(runs.len());
    for run in 0..runs.len() {
        let most = feeding - (all - least(&runs[run]));
        lists.push(parts.part(|p| RunWays::list(job, runs, run, most, tapes, p))?);
    }
    Some(lists)
}
