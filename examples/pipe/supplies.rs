//! `supplies`: loads to supplies, a [`SupplyProblem`] to its assignment.

use super::fault::{Kind, Refusal, read, write};
use evenrun::choose::devices::{
    self, Assignment, Binding, Body, Output, RunnerUp, Spare, SupplyProblem,
};
use evenrun::progress::Progress;
use evenrun::quantity::{Amps, Watts, amps, watts};
use serde::Serialize;

/// An [`Assignment`] of supplies: its whole millionths as quantities.
#[derive(Serialize)]
struct Answer<'a> {
    bodies: Vec<BodyAnswer<'a>>,
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
struct BodyAnswer<'a> {
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

impl<'a> BodyAnswer<'a> {
    fn of(body: &'a Body) -> Self {
        Self {
            installed: &body.installed,
            kind: &body.kind,
            place: &body.place,
            emergency: body.emergency,
            used: watts(body.used as f64 * 1e-6).into(),
            allowed: watts(body.allowed as f64 * 1e-6).into(),
            outputs: body.outputs.iter().map(OutputAnswer::of).collect(),
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
        bodies: found.bodies.iter().map(BodyAnswer::of).collect(),
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
