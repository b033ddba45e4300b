//! What limits each run and what would help it most: the slopes of its weakest cell's current.
//!
//! ```text
//!  gain = ∂(current / nominal)/∂V · 1 V                       one volt more at the output
//!       = −Σ R · ∂(current / nominal)/∂R · 10 %               10 % less of a lead, a feeder, a switch, the rails
//! ```
//! At the low corner, in the state in which the run has its least current, with everything on its output of a supply: one
//! solve and one adjoint solve a run ([`OperatingPoint::sensitivity`](crate::segment::OperatingPoint::sensitivity)).

use super::SolvedJob;
use super::into_design::{decoder_id, feed_id, lead_id};
use super::joined::Joined;
use super::phases;
use crate::design::{Lever, LeverKind, Solved, Weakest};
use crate::finding::Figure;
use crate::id::{CableId, ProductId, SegmentId, SupplyId};
use crate::many;
use crate::network::Workspace;
use crate::progress::{Go, Progress};
use crate::quantity::{Corner, Share, fraction, volts};
use crate::segment::{Cell, CellSensitivity, CheckedCircuit};
use std::collections::BTreeMap;

/// More at the set point, V.
const VOLTS_MORE: f64 = 1.0;
/// Less of a resistance, as a share of it.
const LESS: f64 = 0.1;
/// What brings less is not named, as a share of nominal current: nothing that is printed.
const LEAST_GAIN: f64 = 5e-5;

/// Where the weakest cell of a run is, and in which state.
#[derive(Clone, Copy)]
struct At {
    run: usize,
    /// Output, by its place in the list of all; branch, segment of that branch, segment in the list of all.
    joined: usize,
    branch: usize,
    segment: usize,
    number: usize,
    cell: Cell,
    state: usize,
    current: f64,
}

impl SolvedJob<'_> {
    /// The weakest cell of each run with its levers, or why it is not known.
    pub(super) fn weakest(&self, progress: &mut Progress<'_>) -> Vec<Solved<Weakest>> {
        let mut out: Vec<Solved<Weakest>> = Vec::with_capacity(self.runs.len());
        let mut on_outputs: BTreeMap<usize, Vec<At>> = BTreeMap::new();
        let places = self.weakest_cells();
        let failed = self.failed_outputs();
        for (run, place) in places.iter().enumerate() {
            match place {
                Some(at) => {
                    on_outputs.entry(at.joined).or_default().push(*at);
                    out.push(Solved::Not("its output was not solved again".into()));
                }
                None => out.push(Solved::Not(
                    self.why_none(run, failed.get(&run).copied()).into(),
                )),
            }
        }
        let on_outputs: Vec<(usize, Vec<At>)> = on_outputs.into_iter().collect();
        let all = many::each(&on_outputs, phases::LEVERS, progress, |own, progress| {
            self.of_output(own.0, &own.1, progress)
        });
        for (run, weakest) in all.into_iter().flatten() {
            if let Some(own) = out.get_mut(run) {
                *own = Solved::Figures(weakest);
            }
        }
        out
    }

    /// The cell with the least current of each run that is solved all over.
    fn weakest_cells(&self) -> Vec<Option<At>> {
        let mut out: Vec<Option<At>> = vec![None; self.runs.len()];
        let mut left = vec![0_usize; self.runs.len()];
        for segment in &self.joint.segments {
            left[segment.run] += 1;
        }
        for (joined, own) in self.joint.joined.iter().enumerate() {
            let Ok(figures) = &own.figures else { continue };
            let branches = own
                .decoder_units
                .iter()
                .zip(&figures.low.branches)
                .enumerate();
            for (branch, (body, found)) in branches {
                let numbers = self.joint.decoder_units[*body].segments();
                for (segment, (number, found)) in numbers.iter().zip(&found.segments).enumerate() {
                    let run = self.joint.segments[*number].run;
                    left[run] -= 1;
                    let current = found.least_current.value;
                    if out[run].is_none_or(|known| current < known.current) {
                        out[run] = Some(At {
                            run,
                            joined,
                            branch,
                            segment,
                            number: *number,
                            cell: found.weakest,
                            state: found.weakest_state,
                            current,
                        });
                    }
                }
            }
        }
        for (own, left) in out.iter_mut().zip(left) {
            if left > 0 {
                *own = None;
            }
        }
        out
    }

    /// Why an output that a run is on has no operating point, by the run.
    fn failed_outputs(&self) -> BTreeMap<usize, &str> {
        let mut out = BTreeMap::new();
        for joined in &self.joint.joined {
            let Err(why) = &joined.figures else { continue };
            let units = joined.decoder_units.iter();
            for segment in units.flat_map(|unit| self.joint.decoder_units[*unit].segments()) {
                let run = self.joint.segments[segment].run;
                out.entry(run).or_insert(why.as_str());
            }
        }
        out
    }

    fn why_none(&self, run: usize, failed: Option<&str>) -> String {
        if self.runs[run].plan.is_none() {
            return "the run is not fed".to_string();
        }
        failed.map_or_else(
            || "a segment of the run is on no supply".to_string(),
            |why| format!("its output has no operating point: {why}"),
        )
    }

    /// Runs on one output, as far as the caller lets them.
    fn of_output(
        &self,
        joined: usize,
        own: &[At],
        progress: &mut Progress<'_>,
    ) -> Vec<(usize, Weakest)> {
        let joined = &self.joint.joined[joined];
        let parts = self.joint.parts(self.job, &self.runs, self.models);
        let circuit = parts.circuit(&self.joint.units[joined.unit], &joined.decoder_units);
        let Some(circuit) = circuit.ok().and_then(|circuit| circuit.check().ok()) else {
            return Vec::new();
        };
        let mut work = Workspace::new();
        let mut out = Vec::with_capacity(own.len());
        for at in own {
            if progress.step(phases::LEVERS, 0, 1) == Go::Cancel {
                break;
            }
            let found = self.of_run(joined, &circuit, at, &mut work);
            out.extend(found.map(|weakest| (at.run, weakest)));
        }
        out
    }

    fn of_run(
        &self,
        joined: &Joined,
        circuit: &CheckedCircuit<'_>,
        at: &At,
        work: &mut Workspace,
    ) -> Option<Weakest> {
        let solved = circuit.operating_point(Corner::Low, at.state, work, |point| {
            point.sensitivity(at.branch, at.segment, at.cell)
        });
        let slopes = solved.ok()??;
        let segment = &self.joint.segments[at.number];
        let mut levers = self.levers(joined, at, &slopes);
        levers.sort_by(|a, b| {
            let gain = b.gain.si().total_cmp(&a.gain.si());
            gain.then_with(|| a.what.cmp(&b.what))
        });
        let pitch = self.job.strips()[segment.tape].pitch;
        Some(Weakest {
            segment: SegmentId::new(&*segment.id),
            emitter: self.emitter(segment.tape, at.cell.emitter),
            position: pitch.length_of(at.cell.increment),
            current: Share::finite(slopes.current.value)?,
            levers,
        })
    }

    /// Everything on the output that brings something.
    fn levers(&self, joined: &Joined, at: &At, slopes: &CellSensitivity) -> Vec<Lever> {
        let mut out = Vec::new();
        let mut add = |what: LeverKind, change: Figure, gain: f64| {
            if gain >= LEAST_GAIN {
                out.extend(Share::finite(gain).map(|gain| Lever { what, change, gain }));
            }
        };
        let supply = SupplyId::new(&*self.joint.units[joined.unit].id);
        let output = joined.output as u64 + 1;
        let less = || Figure::from(fraction(-LESS));
        add(
            LeverKind::SetPoint {
                supply: supply.clone(),
                output,
            },
            volts(VOLTS_MORE).into(),
            slopes.per_volt * VOLTS_MORE,
        );
        add(
            LeverKind::OutputResistance { supply, output },
            less(),
            -slopes.output * LESS,
        );
        // The rails of all segments of the run together: its tape is one product.
        let mut rails = 0.0;
        for (body, own) in joined.decoder_units.iter().zip(&slopes.branches) {
            let body = &self.joint.decoder_units[*body];
            if body.spec.is_some() {
                add(LeverKind::Lead(lead_id(&body.id)), less(), -own.lead * LESS);
                for (number, switch) in own.switches.iter().enumerate() {
                    let switch_of = LeverKind::Switch {
                        decoder: decoder_id(&body.id),
                        output: number as u64 + 1,
                    };
                    add(switch_of, less(), -switch * LESS);
                }
            }
            for (number, own) in body.segments().into_iter().zip(&own.segments) {
                let segment = &self.joint.segments[number];
                if segment.run == at.run {
                    rails += own.rails;
                }
                for (feed, feeder) in own.feeders.iter().enumerate() {
                    let cable = CableId::new(feed_id(&segment.id, feed).as_str());
                    add(LeverKind::Feeder(cable), less(), -feeder * LESS);
                }
            }
        }
        let tape = self.joint.segments[at.number].tape;
        let strip = ProductId::new(&*self.job.strips()[tape].name);
        add(LeverKind::Rails(strip), less(), -rails * LESS);
        out
    }
}
