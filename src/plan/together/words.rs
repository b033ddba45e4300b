//! What was proven of a whole job, in words.

use super::search::Answer;
use super::taken::Cost;
use super::ways::RunWays;
use crate::choose::feeding::Segment;
use crate::job::Job;
use crate::plan::aim::Aim;
use crate::plan::laid::RunWork;
use crate::quantity::{Currency, Money, fraction, show, volts};

/// The problem that bound and proof are about.
pub(super) fn problem(runs: &[RunWork<'_>], lists: &[RunWays]) -> String {
    let each = runs.iter().zip(lists).map(|(run, list)| {
        format!(
            "{} {} of {}",
            run.spec.name,
            list.every.segments.len(),
            list.every.judged
        )
    });
    format!(
        "feeding of every run, decoders and supplies together: any chain of the segments that each run's own problem permits \
         and that hold ({} candidates hold and are cheap enough to matter), on decoders and on outputs of supplies in any \
         way that zone and place permit; each segment held by itself, from the weakest of those kinds, with nothing \
         reserved for copper that it shares; leads have no price",
        each.collect::<Vec<_>>().join(", ")
    )
}

/// What the bound rests on.
pub(super) fn reason(
    lists: &[RunWays],
    answer: &Answer<'_>,
    taken: i64,
    apart: Cost,
    currency: &Currency,
) -> String {
    let ways: Vec<String> = lists.iter().map(|l| l.ways.len().to_string()).collect();
    let ways = ways.join(" × ");
    let how = if answer.spent {
        format!(
            "the work was spent when {} whole plans of {ways} ways to cut and place the runs had been priced; no \
             other costs less than {}",
            answer.priced,
            minor(answer.lower, currency)
        )
    } else {
        format!(
            "of {ways} ways to cut and place the runs {} whole plans were priced, and each other costs no less by its \
             feeding and the least devices for it",
            answer.priced
        )
    };
    match apart {
        Cost::Holds(apart) if apart > taken => {
            let more = minor(apart - taken, currency);
            format!("{how}; run by run it costs {more} more")
        }
        Cost::Holds(_) => format!("{how}; run by run it costs the same"),
        Cost::Refused(_) => format!("{how}; run by run no devices hold it"),
    }
}

/// The best that cuts or places some run otherwise than the plan.
pub(super) fn next(
    runs: &[RunWork<'_>],
    lists: &[RunWays],
    answer: &Answer<'_>,
    currency: &Currency,
) -> String {
    let words = |run: &RunWork<'_>, segments: &mut dyn Iterator<Item = &Segment>| {
        let spans: Vec<String> = segments
            .map(|s| {
                let at = |mark| run.layout.pitch().length_of(mark);
                format!("{} to {} from {}", at(s.from), at(s.to), s.place)
            })
            .collect();
        format!("{} {}", run.spec.name, spans.join(" and "))
    };
    let own: Vec<String> = runs
        .iter()
        .map(|run| words(run, &mut run.plan.iter().flat_map(|p| &p.segments)))
        .collect();
    let all = answer.found.iter().map(|found| {
        let each = runs.iter().zip(lists).zip(&found.chains);
        let words = each.map(|((run, list), chain)| {
            let segments = chain.iter().map(|at| list.every.segments[*at].segment());
            words(run, &mut segments.into_iter())
        });
        (words.collect::<Vec<_>>(), found.cost)
    });
    all.filter(|(words, _)| *words != own)
        .map(|(words, cost)| format!("{}: {}", words.join("; "), minor(cost, currency)))
        .next()
        .unwrap_or_default()
}

/// What shared copper did to the choice, in words.
pub(in crate::plan) fn afterwards(job: &Job, runs: &[RunWork<'_>]) -> String {
    let mut reserved: Vec<String> = Vec::new();
    for run in runs {
        let (name, stated) = (&run.spec.name, Aim::of(job));
        if run.reserve > 0.0 {
            reserved.push(format!("{} of run {name}", show(volts(run.reserve))));
        }
        if run.aim.least_current > stated.least_current {
            let least = show(fraction(run.aim.least_current));
            reserved.push(format!("a least current of {least} in run {name}"));
        }
        if let Some(step) = run
            .aim
            .visible_step
            .filter(|_| run.aim.visible_step != stated.visible_step)
        {
            let step = show(fraction(step));
            reserved.push(format!("a step of light of at most {step} in run {name}"));
        }
    }
    let drawn = runs.iter().any(|r| !r.drawn.is_empty());
    match (reserved.is_empty(), drawn) {
        (true, false) => "solved with all the copper it shares, the plan needs no more".to_string(),
        (true, true) => {
            "with the copper it shares some of it draws more, for which devices were chosen again"
                .to_string()
        }
        (false, _) => format!(
            "the copper it shares needs a reserve, {}, with which it was chosen again: the bound is without it",
            reserved.join(", ")
        ),
    }
}

fn minor(units: i64, currency: &Currency) -> String {
    currency.words(Money::from_minor_units(units))
}
