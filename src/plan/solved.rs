//! What the networks of a job say: the worst of every figure over states and corners.

use super::circuit::{Circuit, Parts, StretchParts, Wire, at};
use super::facts::TapeModels;
use super::worst::{CircuitFigures, FeedFigures, SegmentFigures};
use crate::choose::feeding::Conductor;
use crate::network::{Rail, Solution, SolveError, SolveOptions, SourceState, Workspace};
use crate::quantity::Corners;

pub(super) const LOW: usize = 0;
const NOMINAL: usize = 1;
const HIGH: usize = 2;

/// A state: for each zone of the circuit, the emitters that are lit.
pub(super) type State = Vec<(usize, Vec<usize>)>;

fn put(corners: &mut Corners<f64>, corner: usize, with: impl Fn(f64) -> f64) {
    let figure = match corner {
        LOW => &mut corners.low,
        NOMINAL => &mut corners.nominal,
        _ => &mut corners.high,
    };
    *figure = with(*figure);
}

/// Least and most that keep a NaN once it is there: a limit must not pass on it.
fn least(a: f64, b: f64) -> f64 {
    if a.is_nan() || b.is_nan() {
        f64::NAN
    } else {
        a.min(b)
    }
}
fn most(a: f64, b: f64) -> f64 {
    if a.is_nan() || b.is_nan() {
        f64::NAN
    } else {
        a.max(b)
    }
}

/// Why a circuit has no figures.
#[derive(Debug)]
pub(super) enum Unsolved {
    /// The network is no network: a fault of the planner.
    Spec(String),
    /// The solver found no solution.
    Solve(SolveError),
}

/// Solves a circuit in every state at every corner.
pub(super) fn solve(
    circuit: &Circuit,
    models: &TapeModels,
    states: &[State],
    work: &mut Workspace,
) -> Result<CircuitFigures, Unsolved> {
    solve_at(&[LOW, NOMINAL, HIGH], circuit, models, states, work)
}

/// Solves a circuit in every state at some corners; figures of the others stay as they start.
pub(super) fn solve_at(
    corners: &[usize],
    circuit: &Circuit,
    models: &TapeModels,
    states: &[State],
    work: &mut Workspace,
) -> Result<CircuitFigures, Unsolved> {
    let mut out = CircuitFigures::empty(circuit, models);
    for (number, state) in states.iter().enumerate() {
        let lit = |zone: usize| -> &[usize] {
            state
                .iter()
                .find(|entry| entry.0 == zone)
                .map_or(&[], |entry| entry.1.as_slice())
        };
        for &corner in corners {
            let (spec, parts) = circuit.network(models, corner, &lit);
            let network = spec.check().map_err(|errors| {
                Unsolved::Spec(errors.first().map_or_else(String::new, ToString::to_string))
            })?;
            let solution = network
                .solve(&SolveOptions::default(), work)
                .map_err(Unsolved::Solve)?;
            let read = Reading {
                circuit,
                models,
                parts: &parts,
                solution: &solution,
                corner,
            };
            read.take(number == 0, &mut out);
        }
    }
    Ok(out)
}

struct Reading<'a> {
    circuit: &'a Circuit,
    models: &'a TapeModels,
    parts: &'a Parts,
    solution: &'a Solution<'a>,
    corner: usize,
}

impl Reading<'_> {
    fn amps(&self, link: crate::network::LinkId) -> f64 {
        self.solution
            .link_current(link)
            .map_or(f64::NAN, |a| a.value.abs())
    }

    fn across(&self, a: crate::network::NodeId, b: crate::network::NodeId) -> Option<f64> {
        let (a, b) = (
            self.solution.node_voltage(a)?,
            self.solution.node_voltage(b)?,
        );
        Some((a.value - b.value).abs())
    }

    /// Adds this solution; `first` is the state with most emitters lit.
    fn take(&self, first: bool, out: &mut CircuitFigures) {
        let source = self.parts.source;
        let amps = self
            .solution
            .source_current(source)
            .map_or(f64::NAN, |a| a.value);
        let watts = self
            .solution
            .source_power(source)
            .map_or(f64::NAN, |p| p.value);
        put(&mut out.current, self.corner, |a| most(a, amps));
        put(&mut out.power, self.corner, |p| most(p, watts));
        out.overloads |= self
            .solution
            .source_state(source)
            .is_some_and(|state| !matches!(state, SourceState::Gives | SourceState::Blocked));
        if self.corner == NOMINAL {
            let lost = self.solution.total_copper_loss().value;
            if watts > out.tape + out.lost {
                out.tape = watts - lost;
                out.lost = lost;
            }
        }
        let mut at_segment = 0;
        for (number, branch) in self.parts.branches.iter().enumerate() {
            if let Some(figures) = out.branches.get_mut(number) {
                let volts = self.across(branch.bus, branch.terminal);
                if let Some(volts) = volts {
                    if self.corner == LOW {
                        figures.least_volts = least(figures.least_volts, volts);
                    }
                    if first {
                        put(&mut figures.volts, self.corner, |_| volts);
                    }
                }
                if let Some(own) = self.circuit.branches.get(number) {
                    let core = at(&own.lead, self.corner);
                    let rise = core * self.amps(branch.leads[self.circuit.minus_side()]);
                    put(&mut figures.minus, self.corner, |v| most(v, rise));
                }
                if self.corner == HIGH {
                    figures.current = most(figures.current, self.amps(branch.leads[0]));
                    for (amps, switch) in figures.outputs.iter_mut().zip(&branch.switches) {
                        if let Some(link) = switch {
                            *amps = most(*amps, self.amps(*link));
                        }
                    }
                }
            }
            let stretches = self
                .circuit
                .branches
                .get(number)
                .into_iter()
                .flat_map(|b| &b.stretches);
            for (stretch, parts) in stretches.zip(&branch.stretches) {
                if let Some((_, figures)) = out.segments.get_mut(at_segment) {
                    self.segment(stretch, parts, first, figures);
                }
                at_segment += 1;
            }
        }
    }

    fn segment(
        &self,
        stretch: &super::circuit::Stretch,
        parts: &StretchParts,
        first: bool,
        out: &mut SegmentFigures,
    ) {
        let Some(model) = self.models.get(stretch.tape) else {
            return;
        };
        let tapes: Vec<_> = parts
            .tapes
            .iter()
            .filter_map(|t| self.solution.tape(*t))
            .collect();
        let mut relative: Vec<Vec<f64>> = Vec::with_capacity(parts.lit.len());
        let mut watts = 0.0;
        for (place, emitter) in parts.lit.iter().enumerate() {
            let Some(own) = model.emitters.get(*emitter) else {
                continue;
            };
            let nominal = own.law.nominal.current(model.rated).value;
            let mut row = Vec::new();
            for tape in &tapes {
                watts += tape.emitter_power(place).value;
                for volts in tape.cell_volts(place) {
                    put(&mut out.least_volts, self.corner, |v| least(v, *volts));
                }
                row.extend(tape.cell_amps(place).iter().map(|amps| amps / nominal));
                if self.corner == HIGH {
                    for amps in tape.rail_amps(Rail::Return(place)) {
                        out.rail_current = most(out.rail_current, amps.abs());
                    }
                }
            }
            for (cell, share) in row.iter().enumerate() {
                if self.corner == LOW && !(*share >= out.least_current.low) {
                    out.weakest = (*emitter, stretch.from + cell as u64);
                }
                put(&mut out.least_current, self.corner, |v| least(v, *share));
            }
            relative.push(row);
        }
        for tape in &tapes {
            watts += tape.rail_loss().value;
            if self.corner == HIGH {
                for amps in tape.rail_amps(Rail::Common) {
                    out.rail_current = most(out.rail_current, amps.abs());
                }
            }
        }
        put(&mut out.power, self.corner, |p| most(p, watts));
        if self.corner == NOMINAL {
            out.error_bound = most(out.error_bound, self.solution.volt_error_bound().value);
        }
        if self.corner == LOW {
            self.light(stretch, parts, &relative, out);
        }
        for ((wire, links), feed) in stretch.feeds.iter().zip(&parts.feeds).zip(&mut out.feeds) {
            self.feed(wire, links, parts, first, feed);
        }
    }

    /// Steps, edges and balance of the low corner.
    fn light(
        &self,
        stretch: &super::circuit::Stretch,
        parts: &StretchParts,
        relative: &[Vec<f64>],
        out: &mut SegmentFigures,
    ) {
        for (emitter, row) in parts.lit.iter().zip(relative) {
            for (end, share) in [(0, row.first()), (1, row.last())] {
                if let (Some(share), Some(edge)) = (share, out.edges[end].get_mut(*emitter)) {
                    *edge = Some(edge.map_or(*share, |other| least(other, *share)));
                }
            }
            for (mark, step) in &mut out.inner_steps {
                let place = usize::try_from(*mark - stretch.from).unwrap_or(0);
                if let (Some(a), Some(b)) = (
                    place.checked_sub(1).and_then(|p| row.get(p)),
                    row.get(place),
                ) {
                    *step = most(*step, step_between(*a, *b));
                }
            }
        }
        let cells = relative.iter().map(Vec::len).min().unwrap_or(0);
        if relative.len() > 1 {
            for cell in 0..cells {
                let shares = relative.iter().filter_map(|row| row.get(cell)).copied();
                let low = shares.clone().fold(f64::INFINITY, least);
                let high = shares.fold(0.0, most);
                out.balance = most(out.balance, 1.0 - low / high);
            }
        }
    }

    fn feed(
        &self,
        wire: &Wire,
        links: &[(Conductor, crate::network::LinkId, crate::network::NodeId)],
        parts: &StretchParts,
        first: bool,
        out: &mut FeedFigures,
    ) {
        let core = at(&wire.core, self.corner);
        let (mut common, mut worst, mut lost) = (0.0, 0.0, 0.0);
        for (conductor, link, _) in links {
            let amps = self.amps(*link);
            lost += core * amps * amps;
            match conductor {
                Conductor::Common => common = amps,
                Conductor::Return(_) => worst = most(worst, amps),
            }
            if self.corner == HIGH
                && let Some(entry) = out.currents.iter_mut().find(|entry| entry.0 == *conductor)
            {
                entry.1 = most(entry.1, amps);
            }
        }
        if self.corner == LOW {
            out.drop = most(out.drop, core * (common + worst));
        }
        if self.corner == NOMINAL {
            out.lost = most(out.lost, lost);
        }
        if first {
            // A conductor that does not enter here is read where it enters.
            let node = |wanted: fn(Conductor) -> bool| {
                links
                    .iter()
                    .chain(parts.feeds.iter().flatten())
                    .filter(move |l| wanted(l.0))
            };
            let plus = node(|c| c == Conductor::Common).next();
            let here = |l: &&(Conductor, crate::network::LinkId, crate::network::NodeId)| {
                links.iter().any(|own| own.2 == l.2)
                    || !links.iter().any(|own| own.0 != Conductor::Common)
            };
            let volts = node(|c| c != Conductor::Common)
                .filter(here)
                .filter_map(|l| self.across(plus?.2, l.2))
                .fold(f64::INFINITY, least);
            if volts.is_finite() {
                put(&mut out.volts, self.corner, |_| volts);
            }
        }
    }
}

/// Step between two relative currents as a share of the brighter one.
pub(super) fn step_between(a: f64, b: f64) -> f64 {
    let high = most(a, b);
    if high > 0.0 {
        (a - b).abs() / high
    } else {
        0.0
    }
}
