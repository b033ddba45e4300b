//! What everything costs, and the plan that was found put in place.

use super::search::Found;
use super::ways::RunWays;
use crate::choose::feeding::{Alternative, Proof};
use crate::job::Job;
use crate::plan::devices::{self, DecoderUnit, Driven, decoder_units_as_parted};
use crate::plan::fixed;
use crate::plan::laid::RunWork;

/// Cost of everything.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Cost {
    Holds(i64),
    /// Devices do not hold all of it, have no room, or something installed cannot stay.
    Refused(i64),
}

/// Cost of everything as it is now; none where something has no price.
pub(super) fn cost(
    job: &Job,
    runs: &[RunWork<'_>],
    decoders: Option<&[Driven<'_>]>,
) -> Option<Cost> {
    let segments = devices::segments(job, runs);
    let decoder_units = match decoders {
        Some(decoders) => decoder_units_as_parted(job, &segments, decoders),
        None => devices::decoder_units(job, &segments),
    };
    let units = devices::units(job, &segments, &decoder_units.devices);
    let all = || decoder_units.assigned.iter().chain(&units.assigned);
    let (chosen_decoders, chosen_supplies) = (decoder_units.names(), units.names());
    let roomy = job.places().iter().enumerate().all(|(at, place)| {
        let here = |list: &[(usize, String)]| list.iter().filter(|s| s.0 == at).count();
        let own = |b: &&DecoderUnit<'_>| b.place == at && b.spec.is_some();
        let decoder_units =
            decoder_units.devices.iter().filter(own).count() + here(&decoder_units.standby);
        let own = units.devices.iter().filter(|u| u.place == at).count();
        let units = own + here(&units.standby);
        let within = |count: usize, most: Option<u32>| most.is_none_or(|m| count <= m as usize);
        let idle = fixed::idle_at;
        let idle = [
            idle(job, at, true, &chosen_decoders),
            idle(job, at, false, &chosen_supplies),
        ];
        within(decoder_units + idle[0], place.most_decoders)
            && within(units + idle[1], place.most_supplies)
    });
    if !all().all(|a| a.is_priced()) {
        return None;
    }
    let feeding: Option<i64> = runs.iter().map(|r| r.plan.as_ref().map(|p| p.cost)).sum();
    let cost = feeding? + all().map(|a| a.priced()[0]).sum::<i64>();
    let refused = !decoder_units.refused.is_empty() || !units.refused.is_empty();
    if refused || !roomy || all().any(|a| a.alone > 0) {
        return Some(Cost::Refused(cost));
    }
    Some(Cost::Holds(cost))
}

/// Gives the runs their plans; `otherwise` says what the job costs with each at its least. The decoders, where those that
/// are cheapest by themselves cost more in all; none where the whole plan could not be put
/// together at its cost: then everything stays as it was.
pub(super) fn take<'j>(
    job: &'j Job,
    runs: &mut [RunWork<'j>],
    lists: &[RunWays],
    best: &Found<'j>,
    otherwise: &str,
) -> Option<Option<Vec<Driven<'j>>>> {
    let own = |run: &RunWork<'_>| (run.plan.clone(), run.with_the_whole);
    let before: Vec<_> = runs.iter().map(own).collect();
    for ((run, list), chain) in runs.iter_mut().zip(lists).zip(&best.chains) {
        let Some(own) = &run.plan else { continue };
        let same = own.segments.len() == chain.len()
            && own
                .segments
                .iter()
                .zip(chain)
                .all(|(s, at)| s == list.every.segments[*at].segment());
        if same {
            continue;
        }
        let (Proof::Cheapest { problem } | Proof::Gap { problem, .. }) = &own.proof;
        let problem = problem.clone();
        let least = run.least.unwrap_or(own.lower_bound);
        let cost: i64 = chain.iter().map(|at| list.every.segments[*at].cost).sum();
        let by_itself = Alternative {
            what: "its cheapest by itself".to_string(),
            cost: least,
            why_not: otherwise.to_string(),
        };
        let proof = if cost <= least {
            Proof::Cheapest { problem }
        } else {
            let reason =
                "chosen with the whole job, which costs less so; by itself it could be cheaper";
            Proof::Gap {
                problem,
                reason: reason.to_string(),
            }
        };
        run.with_the_whole = cost > least;
        run.plan = Some(list.every.plan(chain, least, proof, Some(by_itself)));
    }
    if cost(job, runs, None) == Some(Cost::Holds(best.cost)) {
        return Some(None);
    }
    if cost(job, runs, Some(&best.decoders)) == Some(Cost::Holds(best.cost)) {
        return Some(Some(best.decoders.clone()));
    }
    for (run, before) in runs.iter_mut().zip(before) {
        (run.plan, run.with_the_whole) = before;
    }
    None
}
