//! Segments solved together with everything they share copper with.

use super::circuit::Parts;
use super::devices::{self, Assigned, DecoderUnit, Draw, Driven, Lead, SegmentWork, SupplyUnit};
use super::facts::TapeModels;
use super::kinds;
use super::laid::RunWork;
use super::phases;
use super::served::Served;
use crate::finding::Finding;
use crate::job::Job;
use crate::network::Workspace;
use crate::progress::{Go, Progress};
use crate::quantity::{Corner, Corners, ElectricCurrent};
use crate::segment::{
    Bands, BranchBands, BranchFigures, CircuitFigures, Conductor, NoSolution, SegmentFigures,
};
use std::collections::BTreeSet;

/// An output of a supply with its figures.
pub(super) struct Joined {
    /// Supply and output, by their places.
    pub unit: usize,
    pub output: usize,
    /// Decoder units on it, in the order of the circuit's branches.
    pub decoder_units: Vec<usize>,
    /// Why there are none, where it has no operating point.
    pub figures: Result<Corners<CircuitFigures>, String>,
    /// At the low corner but with its supply at the top of its tolerance: solved where a break that is seen has its other
    /// side on another supply.
    pub raised: Option<CircuitFigures>,
}

impl Joined {
    /// Figures of a branch, by its place.
    fn branch(&self, at: usize) -> Option<Corners<&BranchFigures>> {
        let all = self.figures.as_ref().ok()?;
        let of = |corner: Corner| all[corner].branches.get(at);
        Some(Corners {
            low: of(Corner::Low)?,
            nominal: of(Corner::Nominal)?,
            high: of(Corner::High)?,
        })
    }

    /// Its decoder units, by their places in the list of all, with their figures.
    pub fn branches(&self) -> impl Iterator<Item = (usize, Corners<&BranchFigures>)> {
        let own = self.decoder_units.iter().enumerate();
        own.filter_map(|(at, unit)| Some((*unit, self.branch(at)?)))
    }

    /// Figures of its segments with their places in the list of all.
    pub fn segments<'a>(
        &'a self,
        decoder_units: &'a [DecoderUnit<'_>],
    ) -> impl Iterator<Item = (usize, Corners<&'a SegmentFigures>)> {
        self.branches()
            .filter_map(|(unit, branch)| Some((branch, decoder_units.get(unit)?)))
            .flat_map(|(branch, decoder_unit)| {
                let numbers = decoder_unit.segments().into_iter().enumerate();
                numbers.filter_map(move |(at, number)| {
                    let of = |corner: Corner| branch[corner].segments.get(at);
                    let figures = Corners {
                        low: of(Corner::Low)?,
                        nominal: of(Corner::Nominal)?,
                        high: of(Corner::High)?,
                    };
                    Some((number, figures))
                })
            })
    }
}

/// What is read on site, in bands.
pub(super) struct Readings {
    /// Currents of outputs, in the order of [`Joint::joined`].
    pub currents: Vec<Option<Corners<ElectricCurrent>>>,
    /// Of each decoder or switched group, by its place.
    pub branches: Vec<Option<BranchBands>>,
}

/// Everything that is put together for one round of planning.
pub(super) struct Joint<'j> {
    pub segments: Vec<SegmentWork>,
    pub decoder_units: Vec<DecoderUnit<'j>>,
    pub leads: Vec<Lead<'j>>,
    pub units: Vec<SupplyUnit<'j>>,
    /// Outputs in the order of their supplies.
    pub joined: Vec<Joined>,
    pub served: Served,
    /// What was proven of decoders and of supplies.
    pub assigned: [Vec<Assigned>; 2],
    /// Decoders and supplies that stand by: place, kind.
    pub standby: [Vec<(usize, String)>; 2],
    /// What there is to say about the choice of devices.
    pub findings: Vec<Finding>,
}

/// Chooses devices and solves every supply output in every state at every corner. `decoders`: those that were chosen
/// with the whole job. Once `progress` is cancelled, outputs are left out.
pub(super) fn join<'j>(
    job: &'j Job,
    runs: &[RunWork<'j>],
    models: &TapeModels,
    decoders: Option<&[Driven<'j>]>,
    work: &mut Workspace,
    progress: &mut Progress<'_>,
) -> Joint<'j> {
    let segments = devices::segments(job, runs);
    let decoders = match decoders {
        Some(chosen) => devices::decoder_units_as_parted(job, &segments, chosen),
        None => devices::decoder_units(job, &segments),
    };
    let decoder_units = decoders.devices;
    let supplies = devices::units(job, &segments, &decoder_units);
    let mut units = supplies.devices;
    devices::bring_together(job, runs, &segments, &decoder_units, &mut units);
    let leads: Vec<Lead<'j>> = decoder_units
        .iter()
        .map(|b| devices::lead(job, b))
        .collect();
    let parts = Parts {
        job,
        runs,
        models,
        segments: &segments,
        decoder_units: &decoder_units,
        leads: &leads,
    };
    let mut joined = Vec::new();
    for (unit, own) in units.iter().enumerate() {
        if progress.step(phases::SOLVING, unit as u64, units.len() as u64) == Go::Cancel {
            break;
        }
        for (output, list) in own.outputs.iter().enumerate() {
            if list.is_empty() {
                continue;
            }
            let figures = figures(&parts, own, list, work);
            joined.push(Joined {
                unit,
                output,
                decoder_units: list.clone(),
                figures,
                raised: None,
            });
        }
    }
    let refused = decoders.refused.into_iter().chain(supplies.refused);
    let findings = refused.map(devices::Refused::finding).collect();
    let served = Served::of(segments.len(), &decoder_units, &joined);
    if job.limits().visible_step.is_some() {
        for at in parted_by_breaks(runs, &segments, &joined, &served) {
            let own = &joined[at];
            joined[at].raised = raised(&parts, &units[own.unit], &own.decoder_units, work);
        }
    }
    Joint {
        served,
        assigned: [decoders.assigned, supplies.assigned],
        standby: [decoders.standby, supplies.standby],
        findings,
        segments,
        decoder_units,
        leads,
        units,
        joined,
    }
}

fn figures(
    parts: &Parts<'_, '_>,
    unit: &SupplyUnit<'_>,
    list: &[usize],
    work: &mut Workspace,
) -> Result<Corners<CircuitFigures>, String> {
    let planners =
        |why: &dyn std::fmt::Display| format!("the planner's network is not valid: {why}");
    let circuit = parts
        .circuit(unit, list)?
        .check()
        .map_err(|e| planners(&e))?;
    circuit.solve(work).map_err(|error| match error.why {
        NoSolution::Network(_) | NoSolution::NoState => planners(&error),
        NoSolution::Solve(error) => error.to_string(),
    })
}

/// Outputs with a side of a break that is seen, the other side of which is on another supply.
fn parted_by_breaks(
    runs: &[RunWork<'_>],
    segments: &[SegmentWork],
    joined: &[Joined],
    served: &Served,
) -> BTreeSet<usize> {
    let output = |number: usize| Some(served.decoder_unit(served.segment(number)?.0)?.0);
    let mut out = BTreeSet::new();
    for behind in 1..segments.len() {
        let (left, right) = (&segments[behind - 1], &segments[behind]);
        if left.run == right.run
            && runs[left.run].is_seen(left.plan.to)
            && let (Some(a), Some(b)) = (output(behind - 1), output(behind))
            && joined[a].unit != joined[b].unit
        {
            out.extend([a, b]);
        }
    }
    out
}

/// An output at the low corner, its supply at the top of its tolerance.
fn raised(
    parts: &Parts<'_, '_>,
    unit: &SupplyUnit<'_>,
    list: &[usize],
    work: &mut Workspace,
) -> Option<CircuitFigures> {
    let mut circuit = parts.circuit(unit, list).ok()?;
    circuit.set_point = Corners::same(circuit.set_point.high);
    circuit.check().ok()?.solve_at(Corner::Low, work).ok()
}

impl<'j> Joint<'j> {
    /// What is read on site; nothing where there is no operating point.
    pub fn readings(
        &self,
        job: &'j Job,
        runs: &[RunWork<'j>],
        models: &TapeModels,
        work: &mut Workspace,
    ) -> Readings {
        let parts = self.parts(job, runs, models);
        let mut out = Readings {
            currents: Vec::with_capacity(self.joined.len()),
            branches: vec![None; self.decoder_units.len()],
        };
        let mut bands = |joined: &Joined| -> Option<Bands> {
            joined.figures.as_ref().ok()?;
            let circuit = parts.circuit(&self.units[joined.unit], &joined.decoder_units);
            circuit.ok()?.check().ok()?.bands(work).ok()
        };
        for joined in &self.joined {
            let found = bands(joined);
            out.currents.push(found.as_ref().map(|bands| bands.current));
            let branches = found.into_iter().flat_map(|bands| bands.branches);
            for (at, own) in joined.decoder_units.iter().zip(branches) {
                out.branches[*at] = Some(own);
            }
        }
        out
    }

    /// The supply that a segment hangs on, by its place.
    pub fn supply_of(&self, segment: usize) -> Option<usize> {
        let decoder_unit = self.served.segment(segment)?.0;
        Some(self.output_of(decoder_unit)?.unit)
    }

    /// Figures of a segment at the low corner but with its supply at the top of its tolerance, where they are asked for.
    pub fn raised(&self, segment: usize) -> Option<&SegmentFigures> {
        let (decoder_unit, at) = self.served.segment(segment)?;
        let (output, branch) = self.served.decoder_unit(decoder_unit)?;
        let figures = self.joined.get(output)?.raised.as_ref()?;
        figures.branches.get(branch)?.segments.get(at)
    }

    /// The outputs of a supply that were solved.
    pub fn outputs_of(&self, unit: usize) -> &[Joined] {
        let first = self.joined.partition_point(|j| j.unit < unit);
        let own = &self.joined[first..];
        &own[..own.partition_point(|j| j.unit == unit)]
    }

    /// The output that a decoder unit hangs on.
    pub fn output_of(&self, decoder_unit: usize) -> Option<&Joined> {
        self.joined.get(self.served.decoder_unit(decoder_unit)?.0)
    }

    /// Figures of a decoder unit.
    pub fn branch(&self, decoder_unit: usize) -> Option<Corners<&BranchFigures>> {
        let (output, branch) = self.served.decoder_unit(decoder_unit)?;
        self.joined.get(output)?.branch(branch)
    }

    /// Figures of a segment.
    pub fn figures(&self, segment: usize) -> Option<Corners<&SegmentFigures>> {
        let (unit, at) = self.served.segment(segment)?;
        let branch = self.branch(unit)?;
        Some(Corners {
            low: branch.low.segments.get(at)?,
            nominal: branch.nominal.segments.get(at)?,
            high: branch.high.segments.get(at)?,
        })
    }

    /// What its circuits are made of.
    pub fn parts<'a>(
        &'a self,
        job: &'j Job,
        runs: &'a [RunWork<'j>],
        models: &'a TapeModels,
    ) -> Parts<'a, 'j> {
        Parts {
            job,
            runs,
            models,
            segments: &self.segments,
            decoder_units: &self.decoder_units,
            leads: &self.leads,
        }
    }
}

/// Reserves to be raised: run and volts. A run needs more where a segment that held by itself
/// loses too much in the copper that it shares.
pub(super) fn reserves(runs: &[RunWork<'_>], joint: &Joint<'_>) -> Vec<(usize, f64)> {
    /// Beyond the shared drop, so that rounding does not bring the run back, V.
    const MARGIN: f64 = 0.002;
    let mut raise = vec![0.0_f64; runs.len()];
    for joined in &joint.joined {
        let unit = &joint.units[joined.unit];
        for (at, branch) in joined.branches() {
            let decoder_unit = &joint.decoder_units[at];
            let lead = joint.leads[at].core.low;
            for (number, own) in decoder_unit
                .segments()
                .into_iter()
                .zip(&branch.low.segments)
            {
                let segment = &joint.segments[number];
                let run = &runs[segment.run];
                if !run.holds || run.stuck {
                    continue;
                }
                let least = run.aim.least_current;
                if own.least_current.value >= least * (1.0 - 1e-9) {
                    continue;
                }
                let low = segment.plan.figures.low.current.value;
                let shared = kinds::set_point(unit.spec).low - branch.low.least_volts.value;
                let mine = low * (unit.spec.output_resistance.value + 2.0 * lead);
                let switch = decoder_unit.spec.map_or(0.0, |s| s.switch.value);
                let others = segment
                    .draw
                    .outputs
                    .iter()
                    .enumerate()
                    .filter_map(|(e, one)| {
                        let all = branch
                            .high
                            .outputs
                            .get(decoder_unit.output_of(number, e)?)?;
                        Some((all.value - one).max(0.0) * switch)
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

/// Outputs of supplies where the supply, the output or a decoder on it carries more than it may.
fn over<'a>(
    job: &'a Job,
    joint: &'a Joint<'_>,
) -> impl Iterator<Item = (&'a Joined, &'a Corners<CircuitFigures>)> {
    let strained = |decoder_unit: &DecoderUnit<'_>, branch: &BranchFigures| {
        decoder_unit.spec.is_some_and(|s| {
            let total = s.total_current.value.min(s.terminal_current.value);
            branch.current.value > total || branch.outputs.iter().any(|a| *a > s.output_current)
        })
    };
    let units = joint.units.iter().enumerate();
    units.flat_map(move |(number, unit)| {
        let outputs = joint.outputs_of(number).iter();
        let solved = outputs.filter_map(|j| Some((j, j.figures.as_ref().ok()?)));
        let load: f64 = solved.clone().map(|(_, f)| f.nominal.power.value).sum();
        let most = devices::permitted_power(job, unit.spec, &job.places()[unit.place]);
        solved.filter(move |(joined, figures)| {
            let own = joined.decoder_units.iter();
            let own = own.map(|b| &joint.decoder_units[*b]);
            load > most
                || figures.high.current > unit.spec.output_current
                || own.zip(&figures.high.branches).any(|(b, f)| strained(b, f))
        })
    })
}

/// Segments on something that carries more than it may.
pub(super) fn over_rating(job: &Job, joint: &Joint<'_>) -> BTreeSet<usize> {
    let all = over(job, joint).flat_map(|(joined, _)| &joined.decoder_units);
    all.flat_map(|b| joint.decoder_units[*b].segments())
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
    for (joined, figures) in over(job, joint) {
        let own = joined.decoder_units.iter();
        let planned: f64 = own.map(|b| joint.decoder_units[*b].watts).sum();
        for (at, segment) in joined.segments(&joint.decoder_units) {
            let work = &joint.segments[at];
            let currents = segment.high.feeders.iter().flat_map(|f| &f.currents);
            let mut draw = work.draw.clone();
            let mut found = Draw {
                outputs: vec![0.0; draw.outputs.len()],
                current: 0.0,
                watts: draw.watts * (figures.nominal.power.value / planned),
            };
            for (conductor, amps) in currents {
                match conductor {
                    Conductor::Common => found.current += amps.value,
                    Conductor::Return(e) => {
                        if let Some(output) = found.outputs.get_mut(*e) {
                            *output += amps.value;
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
    out
}
