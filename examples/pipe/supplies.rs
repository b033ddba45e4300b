//! `supplies`: loads to supplies, a [`SupplyProblem`] to its assignment.

use super::fault::{Kind, Refusal, write};
use super::form::read;
use evenrun::choose::devices::{
    self, Assignment, Binding, LoadedUnit, Output, RunnerUp, Spare, SupplyProblem,
};
use evenrun::progress::Progress;
use evenrun::quantity::{Amps, Watts, amps, watts};
use serde::Serialize;

/// An [`Assignment`] of supplies: its whole millionths as quantities.
#[derive(Serialize)]
struct Answer<'a> {
    units: Vec<UnitAnswer<'a>>,
    spares: &'a [Spare],
    cost: u64,
    lower_bound: u64,
    proven: bool,
    reason: &'a str,
    problem: &'a str,
    binding: &'a [Binding],
    runner_up: &'a Option<RunnerUp>,
    steps: u64,
}

#[derive(Serialize)]
struct UnitAnswer<'a> {
    installed: &'a Option<String>,
    kind: &'a str,
    place: &'a str,
    emergency: bool,
    used: Watts,
    allowed: Watts,
    outputs: Vec<OutputAnswer<'a>>,
}

#[derive(Serialize)]
struct OutputAnswer<'a> {
    loads: &'a [String],
    current: Amps,
}

impl<'a> UnitAnswer<'a> {
    fn of(unit: &'a LoadedUnit) -> Self {
        Self {
            installed: &unit.installed,
            kind: &unit.kind,
            place: &unit.place,
            emergency: unit.emergency,
            used: watts(unit.used as f64 * 1e-6).into(),
            allowed: watts(unit.allowed as f64 * 1e-6).into(),
            outputs: unit.outputs.iter().map(OutputAnswer::of).collect(),
        }
    }
}

impl<'a> OutputAnswer<'a> {
    fn of(output: &'a Output) -> Self {
        Self {
            loads: &output.loads,
            current: amps(output.microamps as f64 * 1e-6).into(),
        }
    }
}

pub fn answer(input: &str) -> Result<String, Refusal> {
    let problem = read::<SupplyProblem>(input)?
        .check()
        .map_err(Refusal::check)?;
    let found: Assignment = devices::assign(&problem, &mut Progress::silent())
        .map_err(|error| Refusal::of(Kind::Answer, error))?;
    write(&Answer {
        units: found.units.iter().map(UnitAnswer::of).collect(),
        spares: &found.spares,
        cost: found.cost,
        lower_bound: found.lower_bound,
        proven: found.proven,
        reason: &found.reason,
        problem: &found.problem,
        binding: &found.binding,
        runner_up: &found.runner_up,
        steps: found.steps,
    })
}
