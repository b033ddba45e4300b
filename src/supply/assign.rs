//! The assignment in words: outputs, spares, limits that bind, the next best kind.

use super::check::{CheckedSupply, Limit, MOST_LOADS};
use super::fit::{Part, least_outputs};
use super::result::{Assignment, Binding, Body, Output, RunnerUp, Spare};
use super::solve::{Sum, Used, Without, solve};
use super::{Spares, SupplyError};
use crate::progress::{Go, Progress};
use std::collections::{BTreeMap, BTreeSet};

/// Loads up to which the limits that bind and the next best kind are looked for.
const EXPLAINED: usize = 200;

/// Assigns loads to supplies, or emitters to outputs of decoders: exact where the work
/// limit allows, else with the gap shown.
///
/// Loads of different places, voltages or emergency tags never share a body, so they are
/// separate problems unless a [`super::Room`] couples them. More than 240 different loads
/// that may share are dealt into parts; the bound is then that of their shares alone.
/// Time: bounded by the effort; memory: the square of 240 per part.
///
/// # Errors
/// [`SupplyError`]: the rooms are not enough, nothing was found within the work limit, or
/// the caller cancelled before anything was found.
pub fn assign(
    problem: &CheckedSupply,
    progress: &mut Progress<'_>,
) -> Result<Assignment, SupplyError> {
    debug_assert!(problem.items.len() <= MOST_LOADS);
    let mut tick = |done: u64, of: u64| progress.step("assigning loads", done, of) == Go::On;
    let sum = solve(problem, Without::default(), problem.effort, &mut tick)?;
    let mut binding = Vec::new();
    let mut runner_up = None;
    if problem.items.len() <= EXPLAINED && !sum.cancelled {
        let effort = problem.effort / 16;
        let mut limits = vec![Limit::Body, Limit::Outputs];
        limits.extend((!problem.separate.is_empty()).then_some(Limit::Separation));
        limits.extend((!problem.rooms.is_empty()).then_some(Limit::Room));
        for limit in limits {
            let without = Without {
                limit: Some(limit),
                kind: None,
            };
            if let Ok(found) = solve(problem, without, effort, &mut tick)
                && found.cost < sum.cost
            {
                binding.push(Binding {
                    limit,
                    cost_without: found.cost,
                });
            }
        }
        let bought = sum
            .used
            .iter()
            .filter(|u| u.installed.is_none())
            .map(|u| u.kind);
        for kind in bought.collect::<BTreeSet<usize>>() {
            let without = Without {
                limit: None,
                kind: Some(kind),
            };
            let Ok(found) = solve(problem, without, effort, &mut tick) else {
                continue;
            };
            let better = runner_up
                .as_ref()
                .is_none_or(|r: &RunnerUp| found.cost < r.cost);
            if let (true, Some(kind)) = (better, problem.kinds.get(kind)) {
                let differs = format!("without the kind `{}`, best found", kind.name);
                runner_up = Some(RunnerUp {
                    cost: found.cost,
                    differs,
                });
            }
        }
    }
    let mut used: Vec<&Used> = sum.used.iter().collect();
    used.sort_by(|a, b| {
        let key = |u: &Used| (u.installed.is_none(), u.installed, u.kind);
        (&a.group, key(a), &a.items).cmp(&(&b.group, key(b), &b.items))
    });
    let spare = |(group, kind): &(super::check::Group, usize)| {
        let kind = problem.kinds.get(*kind)?.name.clone();
        Some(Spare {
            kind,
            place: group.0.clone(),
            emergency: group.1,
        })
    };
    Ok(Assignment {
        what: problem.what.clone(),
        problem: words(problem),
        bodies: used.into_iter().filter_map(|u| body(problem, u)).collect(),
        spares: sum.spares.iter().filter_map(spare).collect(),
        cost: sum.cost,
        lower_bound: sum.lower,
        proven: sum.lower == sum.cost,
        reason: reason(&sum),
        binding,
        runner_up,
        steps: sum.steps,
        cancelled: sum.cancelled,
    })
}

fn body(problem: &CheckedSupply, used: &Used) -> Option<Body> {
    let kind = problem.kinds.get(used.kind)?;
    let mut items: Vec<_> = used
        .items
        .iter()
        .filter_map(|&at| problem.items.get(at))
        .collect();
    items.sort_by(|a, b| a.id.cmp(&b.id));
    let parts: Vec<(&str, Part)> = items
        .iter()
        .flat_map(|i| i.parts.iter().map(move |&p| (i.id.as_str(), p)))
        .collect();
    let bare: Vec<Part> = parts.iter().map(|(_, p)| *p).collect();
    let places = least_outputs(&bare, kind.output, kind.outputs as usize).outputs?;
    let mut outputs: BTreeMap<usize, Output> = BTreeMap::new();
    for ((id, part), output) in parts.into_iter().zip(places) {
        let output = outputs.entry(output).or_insert_with(|| Output {
            loads: Vec::new(),
            signal: problem.signals.get(part.signal).cloned().flatten(),
            microamps: 0,
        });
        output.loads.push(id.to_owned());
        output.microamps += part.microamps;
    }
    let installed = used.installed.and_then(|at| problem.installed.get(at));
    Some(Body {
        installed: installed.map(|p| p.name.clone()),
        kind: kind.name.clone(),
        place: used.group.0.clone(),
        emergency: used.group.1,
        outputs: outputs.into_values().collect(),
        used: items.iter().map(|i| i.body).sum(),
        allowed: kind.body,
    })
}

fn words(problem: &CheckedSupply) -> String {
    let least = if problem.kinds.iter().all(|k| k.price == 0) {
        "fewest bodies"
    } else {
        "least price"
    };
    let spares = match problem.spares {
        Spares::None => "",
        Spares::OneOfEachKind => ", one spare of each kind in use standing by",
    };
    format!(
        "{least} for {} {} of {}, each whole, within its place, voltage and emergency tag{spares}",
        problem.items.len(),
        problem.words,
        problem.what
    )
}

fn reason(sum: &Sum) -> String {
    let by = if sum.in_parts {
        "the shares of power and current that loads take"
    } else if sum.by_search {
        "search through the ways to load a body"
    } else {
        "the linear relaxation over all ways to load a body"
    };
    let rest = if sum.lower == sum.cost {
        ""
    } else {
        "; the rest of the gap is open"
    };
    format!("less than {} is excluded by {by}{rest}", sum.lower)
}
