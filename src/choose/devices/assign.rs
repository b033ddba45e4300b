//! The assignment in words: outputs, spares, limits that bind, the next best kind.

use super::check::{CheckedSupply, Group, MOST_LOADS};
use super::cluster::{Cluster, Start};
use super::explain::Explain;
use super::outputs::{Part, least_outputs};
use super::result::{Assignment, LoadedUnit, Output, Spare};
use super::solve::{Effort, Ground, Solved, Used, Without, solve};
use super::{Spares, SupplyError};
use crate::choose::packing::Known;
use crate::progress::{Go, Progress};

/// Loads up to which the limits that bind and the next best kind are looked for.
const EXPLAINED: usize = 200;

/// Assigns loads to supplies, or emitters to outputs of decoders: exact where the work
/// limit allows, else with the gap shown.
///
/// Loads of different places, voltages or emergency tags never share a unit, so they are
/// separate problems unless a [`super::Room`] couples them. Of more than 240 different loads that
/// may share units are filled until 200 are left, and the bound is that of what units carry
/// together; more than 1200 are dealt into parts.
/// Time: bounded by the effort; memory: the square of 1200 per part at most.
///
/// # Errors
/// [`SupplyError`]: the rooms are not enough, nothing was found within the work limit, or
/// the caller cancelled before anything was found. An example: the [page of the room](crate::choose::devices).
pub fn assign(
    problem: &CheckedSupply,
    progress: &mut Progress<'_>,
) -> Result<Assignment, SupplyError> {
    debug_assert!(problem.items.len() <= MOST_LOADS);
    let mut tick = |done: u64, of: u64| progress.step("assigning loads", done, of) == Go::On;
    let start = Start::of(problem)?;
    let clusters = start.clusters(problem, 0..problem.groups.len(), false);
    let steps = (problem.effort / clusters.len().max(1) as u64).max(20_000);
    let mut all: Vec<(Cluster, Solved)> = Vec::with_capacity(clusters.len());
    for cluster in clusters {
        let mut effort = Effort {
            known: Known::NOTHING,
            steps,
            tick: &mut tick,
        };
        let found = solve(problem, &start, &cluster, Without::default(), &mut effort)?;
        all.push((cluster, found.unwrap_or_default()));
    }
    let sum = |of: fn(&Solved) -> u64| all.iter().map(|(_, solved)| of(solved)).sum::<u64>();
    let cost = start.cost + sum(|solved| solved.cost);
    let lower = (start.cost + sum(|solved| solved.lower)).min(cost);
    let cancelled = all.iter().any(|(_, solved)| solved.cancelled);
    let (mut binding, mut runner_up) = (Vec::new(), None);
    if problem.items.len() <= EXPLAINED && !cancelled {
        let explain = Explain {
            problem,
            start: &start,
            clusters: &all,
            cost,
            steps: (problem.effort / 16 / all.len().max(1) as u64).max(20_000),
        };
        binding = explain.binding(&mut tick);
        runner_up = explain.runner_up(&mut tick);
    }
    let ground = all.iter().map(|(_, solved)| solved.ground).max();
    Ok(Assignment {
        what: problem.what.clone(),
        problem: words(problem),
        units: units(problem, &start, &all),
        spares: spares(problem, &start, &all),
        cost,
        lower_bound: lower,
        proven: lower == cost,
        reason: reason(ground.unwrap_or_default(), cost, lower),
        binding,
        runner_up,
        steps: sum(|solved| solved.steps),
        cancelled,
    })
}

/// Units in use: by group, installed ones first.
fn units(problem: &CheckedSupply, start: &Start, all: &[(Cluster, Solved)]) -> Vec<LoadedUnit> {
    let mut used: Vec<Used> = Vec::new();
    for (installed, (unit, kept)) in problem.installed.iter().zip(&start.kept).enumerate() {
        used.push(Used {
            kind: unit.kind,
            installed: Some(installed),
            group: unit.group,
            items: kept.clone(),
        });
    }
    for unit in all.iter().flat_map(|(_, solved)| &solved.used) {
        match unit.installed.and_then(|at| used.get_mut(at)) {
            Some(there) => there.items.extend_from_slice(&unit.items),
            None => used.push(unit.clone()),
        }
    }
    used.retain(|unit| !unit.items.is_empty());
    used.sort_by(|a, b| {
        let key = |u: &Used| (u.group, u.installed.is_none(), u.installed, u.kind);
        key(a).cmp(&key(b)).then_with(|| a.items.cmp(&b.items))
    });
    used.iter().filter_map(|used| unit(problem, used)).collect()
}

fn spares(problem: &CheckedSupply, start: &Start, all: &[(Cluster, Solved)]) -> Vec<Spare> {
    let bought = all.iter().flat_map(|(_, solved)| &solved.spares);
    let mut spares: Vec<(usize, usize)> = start.spares.iter().chain(bought).copied().collect();
    spares.sort_unstable();
    let spare = |(group, kind): (usize, usize)| {
        let Group {
            place, emergency, ..
        } = problem.groups[group];
        Spare {
            kind: problem.kinds[kind].name.clone(),
            place: problem.places[place].0.clone(),
            emergency,
        }
    };
    spares.into_iter().map(spare).collect()
}

fn unit(problem: &CheckedSupply, used: &Used) -> Option<LoadedUnit> {
    let kind = problem.kinds.get(used.kind)?;
    let mut items: Vec<_> = used
        .items
        .iter()
        .filter_map(|&at| problem.items.get(at))
        .collect();
    items.sort_by(|a, b| a.id.cmp(&b.id));
    let parts = items.iter().flat_map(|item| item.parts.iter().copied());
    let parts: Vec<Part> = parts.collect();
    let places = least_outputs(&parts, kind.output, kind.outputs as usize).outputs?;
    let count = places.iter().max().map_or(0, |last| last + 1);
    let mut outputs = vec![
        Output {
            loads: Vec::new(),
            signal: None,
            microamps: 0,
        };
        count
    ];
    let ids = items
        .iter()
        .flat_map(|item| item.parts.iter().map(|_| &item.id));
    for ((id, part), at) in ids.zip(&parts).zip(places) {
        let output = &mut outputs[at];
        if output.loads.is_empty() {
            output.signal = problem.signals.get(part.signal).cloned().flatten();
        }
        output.loads.push(id.clone());
        output.microamps += part.microamps;
    }
    outputs.retain(|output| !output.loads.is_empty());
    let installed = used.installed.and_then(|at| problem.installed.get(at));
    let group = problem.groups[used.group];
    Some(LoadedUnit {
        installed: installed.map(|p| p.name.clone()),
        kind: kind.name.clone(),
        place: problem.places[group.place].0.clone(),
        emergency: group.emergency,
        outputs,
        used: items.iter().map(|i| i.whole).sum(),
        allowed: kind.whole,
    })
}

fn words(problem: &CheckedSupply) -> String {
    let least = if problem.kinds.iter().all(|k| k.price == 0) {
        "fewest units"
    } else {
        "least price"
    };
    let spares = match problem.spares {
        Spares::None => "",
        Spares::OneOfEachKind => ", one spare of each kind in use standing by",
    };
    format!(
        "{least} for {} {} to {} of {}, each whole, within its place, voltage and emergency tag{spares}",
        problem.items.len(),
        if problem.items.len() == 1 {
            "load"
        } else {
            "loads"
        },
        problem.words,
        problem.what
    )
}

fn reason(ground: Ground, cost: u64, lower: u64) -> String {
    let by = match ground {
        Ground::Parts => "the shares of power and current that loads take",
        Ground::Search => "search through the ways to load a unit",
        Ground::Relaxation => "the linear relaxation over all ways to load a unit",
        Ground::Capacity => "the power and current that so many units carry together",
    };
    let rest = if lower == cost {
        ""
    } else {
        "; the rest of the gap is open"
    };
    format!("less than {lower} is excluded by {by}{rest}")
}
