//! Which decoder and which supply serves which segment.
//!
//! ```text
//! segment ─► output of a decoder ─► output of a supply
//!    (a switched segment: straight to an output of a supply)
//! ```
//!
//! Both steps are assignments by the [`supply`](crate::choose::devices) room, each with its bound:
//! segments to decoders, for each zone at each place (what shares a decoder dims together), then
//! decoders and switched segments to supplies, for each service at each place. A decoder hangs on
//! one output of one supply, so it may not outgrow the largest. Where a small job is chosen
//! [together](super::together), every way to [part](parted) segments among decoders is weighed with its supplies.

mod assigned;
mod beside;
mod decoders;
mod driven;
mod lead;
mod parted;
mod supplies;

pub(super) use assigned::Assigned;
pub(super) use beside::bring_together;
pub(super) use decoders::decoder_units;
pub(super) use driven::{Driven, bare, decoder_units_as_parted, parted};
pub(super) use lead::{Lead, lead};
pub(super) use parted::{Parting, Parts, Spent};
pub(super) use supplies::units;

use super::laid::RunWork;
use crate::choose::feeding;
use crate::device::{DecoderSpec, SupplySpec};
use crate::finding::Finding;
use crate::job::Job;
use crate::job::spec::PlaceSpec;
use std::collections::{BTreeMap, BTreeSet};

/// What a segment draws.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Draw {
    /// High corner by emitter, A.
    pub outputs: Vec<f64>,
    /// High corner, all together, A.
    pub current: f64,
    /// Nominal, from the source, W.
    pub watts: f64,
}

impl Draw {
    /// Current with all lit, as a share of the sum of the emitters' greatest; at most 1.
    pub(in crate::plan) fn share(&self) -> f64 {
        let sum: f64 = self.outputs.iter().sum();
        if sum > self.current {
            self.current / sum
        } else {
            1.0
        }
    }

    /// At least as much as another, where that is more than rounding.
    pub(in crate::plan) fn raise(&mut self, other: &Self) {
        let more = |own: &mut f64, other: f64| {
            if other > *own * (1.0 + 1e-9) {
                *own = other;
            }
        };
        for (own, other) in self.outputs.iter_mut().zip(&other.outputs) {
            more(own, *other);
        }
        more(&mut self.current, other.current);
        more(&mut self.watts, other.watts);
    }
}

/// A segment of a run, with what it draws.
pub(super) struct SegmentWork {
    pub id: String,
    /// Run, by its place in the list of runs at work; segment of that run.
    pub run: usize,
    pub number: usize,
    pub zone: usize,
    pub tape: usize,
    /// Place, by its place in the job.
    pub place: usize,
    pub plan: feeding::Segment,
    pub draw: Draw,
}

/// An output of a decoder in use.
pub(super) struct Output {
    /// Emitter, by its place in the strip.
    pub emitter: usize,
    /// Segments, by their places in the list of all.
    pub segments: Vec<usize>,
}

/// A decoder of the plan, or a segment of a switched zone.
pub(super) struct DecoderUnit<'j> {
    pub id: String,
    pub spec: Option<&'j DecoderSpec>,
    pub zone: usize,
    pub place: usize,
    /// Outputs in use, in their order.
    pub outputs: Vec<Output>,
    pub current: f64,
    pub watts: f64,
    /// Already there, or chosen by hand.
    pub fixed: bool,
    /// First slot, where that is fixed too.
    pub address: Option<u16>,
}

impl DecoderUnit<'_> {
    /// Segments on it, in their order.
    pub(super) fn segments(&self) -> Vec<usize> {
        let mut all: Vec<usize> = self
            .outputs
            .iter()
            .flat_map(|o| o.segments.iter().copied())
            .collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Output that an emitter of a segment is on.
    pub(super) fn output_of(&self, segment: usize, emitter: usize) -> Option<usize> {
        self.outputs
            .iter()
            .position(|o| o.emitter == emitter && o.segments.contains(&segment))
    }
}

/// A supply of the plan.
pub(super) struct SupplyUnit<'j> {
    pub id: String,
    pub spec: &'j SupplySpec,
    pub place: usize,
    /// Decoder units on each output.
    pub outputs: Vec<Vec<usize>>,
    /// Already there, or chosen by hand.
    pub fixed: bool,
    /// Assignment it is from, by its place in the list.
    pub assigned: usize,
}

/// What a choice of devices could not do, with what is said about it.
pub(super) enum Refused {
    /// No devices were found for some loads, and nothing was proven about them.
    Unassigned(Finding),
    /// Something installed does not stay as the job says.
    NotKept(Finding),
}

impl Refused {
    /// What is said about it.
    pub fn finding(self) -> Finding {
        match self {
            Self::Unassigned(finding) | Self::NotKept(finding) => finding,
        }
    }
}

/// What is chosen, and what was proven about it.
pub(super) struct Chosen<T> {
    pub devices: Vec<T>,
    pub assigned: Vec<Assigned>,
    /// What is not as the job asks.
    pub refused: Vec<Refused>,
    /// What stands by: place, kind.
    pub standby: Vec<(usize, String)>,
}

impl Chosen<DecoderUnit<'_>> {
    /// Decoders that are in use, by name.
    pub fn names(&self) -> BTreeSet<&str> {
        self.devices.iter().map(|unit| unit.id.as_str()).collect()
    }
}

impl Chosen<SupplyUnit<'_>> {
    /// Supplies that are in use, by name.
    pub fn names(&self) -> BTreeSet<&str> {
        self.devices.iter().map(|unit| unit.id.as_str()).collect()
    }
}

impl<T> Default for Chosen<T> {
    fn default() -> Self {
        Self {
            devices: Vec::new(),
            assigned: Vec::new(),
            refused: Vec::new(),
            standby: Vec::new(),
        }
    }
}

/// Every segment of every run that is fed.
pub(super) fn segments(job: &Job, runs: &[RunWork<'_>]) -> Vec<SegmentWork> {
    let place_of: BTreeMap<&str, usize> = job
        .places()
        .iter()
        .enumerate()
        .map(|(at, place)| (place.name.as_str(), at))
        .collect();
    let mut out = Vec::new();
    for (run, work) in runs.iter().enumerate() {
        let Some(plan) = &work.plan else { continue };
        for (number, segment) in plan.segments.iter().enumerate() {
            let Some(&place) = place_of.get(segment.place.as_str()) else {
                continue;
            };
            let mut draw = draw(segment, job.strips()[work.tape].emitters.len());
            if let Some(more) = work.drawn.get(&(segment.from, segment.to)) {
                draw.raise(more);
            }
            out.push(SegmentWork {
                id: segment_id(&work.spec.name, number),
                run,
                number,
                zone: work.zone_at,
                tape: work.tape,
                place,
                draw,
                plan: segment.clone(),
            });
        }
    }
    out
}

/// Name of a segment, by its place in its run.
pub(super) fn segment_id(run: &str, number: usize) -> String {
    format!("{run}.{}", number + 1)
}

/// Segments with the places that they are fed from.
fn ids(job: &Job, segments: &[SegmentWork]) -> Vec<(String, String)> {
    segments
        .iter()
        .map(|s| (s.id.clone(), job.places()[s.place].name.clone()))
        .collect()
}

/// What a segment draws by itself.
pub(super) fn draw(segment: &feeding::Segment, emitters: usize) -> Draw {
    let mut outputs = vec![0.0; emitters];
    for conductor in segment.feeds.iter().flat_map(|f| &f.conductors) {
        if let feeding::Conductor::Return(e) = conductor.conductor
            && let Some(output) = outputs.get_mut(e)
        {
            *output += conductor.current.value;
        }
    }
    // The bound of the whole job counts least currents at the low corner; that corner draws more only where copper or
    // loads of its own are given for it.
    let (current, power) = (segment.figures.map(|f| f.current), &segment.source_power);
    Draw {
        outputs,
        current: current.high.value.max(current.low.value),
        watts: power.nominal.value.max(power.low.value),
    }
}

/// What one supply may give at a place: rated power, derated for the ambient, by the load factor.
pub(super) fn permitted_power(job: &Job, spec: &SupplySpec, place: &PlaceSpec) -> f64 {
    let share = super::kinds::derating(spec, place.ambient).share;
    job.limits().load_factor.value * spec.power.value * share
}
