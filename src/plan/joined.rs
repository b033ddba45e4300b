//! Segments solved together with everything they share copper with.

use super::circuit::{Branch, Circuit, Stretch, Wire};
use super::devices::{self, Assigned, Body, Draw, Driven, Lead, SegmentWork, Unit};
use super::facts;
use super::feeding;
use super::kinds;
use super::laid::RunWork;
use super::solved::{self, State, Unsolved};
use super::worst::{BranchFigures, CircuitFigures};
use crate::choose::feeding::Conductor;
use crate::finding::Finding;
use crate::job::Job;
use crate::network::{Limit, Workspace};
use crate::quantity::Corners;
use crate::strip::TapeModel;

/// An output of a supply with its figures.
pub(super) struct Joined {
    /// Supply and output, by their places.
    pub unit: usize,
    pub output: usize,
    /// Bodies on it, in the order of the circuit's branches.
    pub bodies: Vec<usize>,
    pub figures: Result<CircuitFigures, String>,
}

/// Everything that is put together for one round of planning.
pub(super) struct Joint<'j> {
    pub segments: Vec<SegmentWork>,
    pub bodies: Vec<Body<'j>>,
    pub leads: Vec<Lead<'j>>,
    pub units: Vec<Unit<'j>>,
    pub joined: Vec<Joined>,
    /// What was proven of decoders and of supplies.
    pub assigned: [Vec<Assigned>; 2],
    /// Decoders and supplies that stand by: place, kind.
    pub standby: [Vec<(usize, String)>; 2],
    /// What there is to say about the choice of devices.
    pub findings: Vec<Finding>,
}

/// Chooses devices and solves every supply output in every state at every corner. `decoders`: those that were chosen
/// with the whole job.
pub(super) fn join<'j>(
    job: &'j Job,
    runs: &[RunWork<'j>],
    models: &[TapeModel],
    decoders: Option<&[Driven<'j>]>,
    work: &mut Workspace,
) -> Joint<'j> {
    let segments = devices::segments(job, runs);
    let decoders = match decoders {
        Some(chosen) => devices::bodies_as_parted(job, &segments, chosen),
        None => devices::bodies(job, &segments),
    };
    let bodies = decoders.devices;
    let supplies = devices::units(job, &segments, &bodies);
    let units = supplies.devices;
    let leads: Vec<Lead<'j>> = bodies.iter().map(|b| devices::lead(job, b)).collect();
    let mut joined = Vec::new();
    for (unit, own) in units.iter().enumerate() {
        for (output, list) in own.outputs.iter().enumerate() {
            if list.is_empty() {
                continue;
            }
            let circuit = circuit(job, runs, &segments, &bodies, &leads, own, list);
            let states = states(job, models, &bodies, &segments, list);
            let figures = solved::solve(&circuit, models, &states, work).map_err(|e| match e {
                Unsolved::Spec(why) => format!("the planner's network is no network: {why}"),
                Unsolved::Solve(error) => error.to_string(),
            });
            joined.push(Joined {
                unit,
                output,
                bodies: list.clone(),
                figures,
            });
        }
    }
    let mut findings = decoders.findings;
    findings.extend(supplies.findings);
    Joint {
        assigned: [decoders.assigned, supplies.assigned],
        standby: [decoders.standby, supplies.standby],
        findings,
        segments,
        bodies,
        leads,
        units,
        joined,
    }
}

/// An output with everything on it, and the states in which it is solved.
pub(super) fn of_output(
    job: &Job,
    runs: &[RunWork<'_>],
    models: &[TapeModel],
    joint: &Joint<'_>,
    joined: &Joined,
) -> (Circuit, Vec<State>) {
    let (bodies, segments) = (&joint.bodies, &joint.segments);
    let unit = &joint.units[joined.unit];
    let circuit = circuit(
        job,
        runs,
        segments,
        bodies,
        &joint.leads,
        unit,
        &joined.bodies,
    );
    (
        circuit,
        states(job, models, bodies, segments, &joined.bodies),
    )
}

fn circuit(
    job: &Job,
    runs: &[RunWork<'_>],
    segments: &[SegmentWork],
    bodies: &[Body<'_>],
    leads: &[Lead<'_>],
    unit: &Unit<'_>,
    list: &[usize],
) -> Circuit {
    let stretch = |body: &Body<'_>, number: &usize| {
        let segment = &segments[*number];
        let run = &runs[segment.run];
        let place = &job.places()[segment.place];
        let ambient = kinds::feeder_ambient(run.spec, place);
        let (from, to) = (segment.plan.from, segment.plan.to);
        Stretch {
            segment: *number,
            tape: segment.tape,
            from,
            to,
            outputs: (0..segment.draw.outputs.len())
                .map(|e| body.output_of(*number, e).unwrap_or(usize::MAX))
                .collect(),
            joints: run
                .joints
                .iter()
                .filter(|j| j.at > from && j.at < to)
                .filter(|j| j.common.value > 0.0 || j.returns.value > 0.0 || j.visible)
                .map(|j| (j.at, j.common.value, j.returns.value))
                .chain(run.reel.iter().flat_map(|reel| {
                    let ohms = reel.resistance.value;
                    let pieces = run.pieces(from, to);
                    let joints = pieces.into_iter().flat_map(|(a, b)| reel.joints(a, b));
                    joints.map(move |mark| (mark, ohms, ohms))
                }))
                .collect(),
            feeds: segment
                .plan
                .feeds
                .iter()
                .map(|feed| Wire {
                    mark: feed.at,
                    core: job
                        .cable(&feed.cable)
                        .and_then(|item| facts::wire(item, job.limits(), ambient).ok())
                        .map_or(Corners::same(f64::NAN), |f| {
                            f.per_metre.map(|r| r.value * feed.route_length.metres())
                        }),
                    conductors: feed.conductors.iter().map(|c| c.conductor).collect(),
                })
                .collect(),
        }
    };
    let polarity = |b: &Body<'_>| {
        job.strip(&job.zones()[b.zone].strip)
            .map_or(crate::network::Polarity::CommonPlus, |s| s.polarity)
    };
    Circuit {
        set_point: kinds::set_point(unit.spec),
        output_resistance: unit.spec.output_resistance.value,
        limit: Limit::None,
        polarity: list
            .first()
            .map_or(crate::network::Polarity::CommonPlus, |b| {
                polarity(&bodies[*b])
            }),
        branches: list
            .iter()
            .map(|b| Branch {
                zone: bodies[*b].zone,
                lead: leads[*b].core,
                switch: bodies[*b].spec.map_or(0.0, |s| s.switch.value),
                outputs: bodies[*b].outputs.iter().map(|o| o.emitter).collect(),
                stretches: bodies[*b]
                    .segments()
                    .iter()
                    .map(|s| stretch(&bodies[*b], s))
                    .collect(),
            })
            .collect(),
    }
}

/// All zones fully lit; then each zone in each of its sets, the others fully lit.
fn states(
    job: &Job,
    models: &[TapeModel],
    bodies: &[Body<'_>],
    segments: &[SegmentWork],
    list: &[usize],
) -> Vec<State> {
    let mut zones: Vec<(usize, Vec<Vec<usize>>)> = Vec::new();
    for body in list.iter().map(|b| &bodies[*b]) {
        if zones.iter().any(|z| z.0 == body.zone) {
            continue;
        }
        let tape = body.segments().first().map(|s| segments[*s].tape);
        if let Some(model) = tape.and_then(|t| models.get(t)) {
            zones.push((body.zone, feeding::lit_sets(&job.zones()[body.zone], model)));
        }
    }
    let full: State = zones
        .iter()
        .map(|(zone, sets)| (*zone, sets.first().cloned().unwrap_or_default()))
        .collect();
    let mut out = vec![full.clone()];
    for (at, (_, sets)) in zones.iter().enumerate() {
        for set in sets.iter().skip(1) {
            let mut state = full.clone();
            state[at].1.clone_from(set);
            out.push(state);
        }
    }
    out
}

/// Reserves to be raised: run and volts. A run needs more where a segment that held by itself
/// loses too much in the copper that it shares.
pub(super) fn reserves(job: &Job, runs: &[RunWork<'_>], joint: &Joint<'_>) -> Vec<(usize, f64)> {
    /// Beyond the shared drop, so that rounding does not bring the run back, V.
    const MARGIN: f64 = 0.002;
    let least = job.limits().least_current.value;
    let mut raise = vec![0.0_f64; runs.len()];
    for joined in &joint.joined {
        let Ok(figures) = &joined.figures else {
            continue;
        };
        let unit = &joint.units[joined.unit];
        for (branch, at) in figures.branches.iter().zip(&joined.bodies) {
            let body = &joint.bodies[*at];
            let lead = joint.leads[*at].core.low;
            for number in body.segments() {
                let segment = &joint.segments[number];
                if !runs[segment.run].holds {
                    continue;
                }
                let Some((_, own)) = figures.segments.iter().find(|s| s.0 == number) else {
                    continue;
                };
                if own.least_current.low >= least * (1.0 - 1e-9) {
                    continue;
                }
                let low = segment.plan.figures.current.low.value;
                let shared = kinds::set_point(unit.spec).low - branch.least_volts;
                let mine = low * (unit.spec.output_resistance.value + 2.0 * lead);
                let switch = body.spec.map_or(0.0, |s| s.switch.value);
                let others = segment
                    .draw
                    .outputs
                    .iter()
                    .enumerate()
                    .filter_map(|(e, one)| {
                        let all = branch.outputs.get(body.output_of(number, e)?)?;
                        Some((all - one).max(0.0) * switch)
                    })
                    .fold(0.0, f64::max);
                let needed = (shared - mine).max(0.0) + others + MARGIN;
                raise[segment.run] = raise[segment.run].max(needed);
            }
        }
    }
    raise
        .into_iter()
        .enumerate()
        .filter(|(run, needed)| *needed > runs[*run].reserve + 1e-6)
        .collect()
}

/// What segments draw with all that shares their copper, where a device then carries more than it may: run,
/// marks, draw. The devices are then chosen again for that.
pub(super) fn overloads(
    job: &Job,
    runs: &[RunWork<'_>],
    joint: &Joint<'_>,
) -> Vec<(usize, (u64, u64), Draw)> {
    let mut out = Vec::new();
    for (number, unit) in joint.units.iter().enumerate() {
        let own = || joint.joined.iter().filter(move |j| j.unit == number);
        let solved = || own().filter_map(|j| Some((j, j.figures.as_ref().ok()?)));
        let load: f64 = solved().map(|(_, f)| f.power.nominal).sum();
        let most = devices::permitted_power(job, unit.spec, &job.places()[unit.place]);
        let strained = |body: &Body<'_>, branch: &BranchFigures| {
            body.spec.is_some_and(|s| {
                let total = s.total_current.value.min(s.terminal_current.value);
                branch.current > total || branch.outputs.iter().any(|a| *a > s.output_current.value)
            })
        };
        for (joined, figures) in solved() {
            let own = || joined.bodies.iter().map(|b| &joint.bodies[*b]);
            let over = load > most
                || figures.current.high > unit.spec.output_current.value
                || own().zip(&figures.branches).any(|(b, f)| strained(b, f));
            let planned: f64 = own().map(|b| b.watts).sum();
            if !over {
                continue;
            }
            for (at, segment) in &figures.segments {
                let work = &joint.segments[*at];
                let currents = segment.feeds.iter().flat_map(|f| &f.currents);
                let mut draw = work.draw.clone();
                let mut found = Draw {
                    outputs: vec![0.0; draw.outputs.len()],
                    current: 0.0,
                    watts: draw.watts * (figures.power.nominal / planned),
                };
                for (conductor, amps) in currents {
                    match conductor {
                        Conductor::Common => found.current += amps,
                        Conductor::Return(e) => {
                            if let Some(output) = found.outputs.get_mut(*e) {
                                *output += amps;
                            }
                        }
                    }
                }
                draw.raise(&found);
                if draw != work.draw && runs[work.run].plan.is_some() {
                    out.push((work.run, (work.plan.from, work.plan.to), draw));
                }
            }
        }
    }
    out
}
