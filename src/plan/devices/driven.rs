//! Segments on decoders that were chosen with the whole job.

use super::decoders::{decoder_unit, switched};
use super::{Chosen, DecoderUnit, Output, SegmentWork};
use crate::device::DecoderSpec;
use crate::job::Job;
use crate::job::spec::{Control, InstalledSpec};
use crate::order::Order as _;
use crate::plan::fixed;
use std::collections::BTreeMap;

/// A decoder with the segments on it, by their places in the list of all.
#[derive(Debug, Clone)]
pub(in crate::plan) struct Driven<'j> {
    pub spec: &'j DecoderSpec,
    pub zone: usize,
    pub place: usize,
    pub installed: Option<&'j InstalledSpec>,
    pub segments: Vec<usize>,
}

/// Segments on the fewest outputs of a kind, none where it has too few.
pub(super) fn outputs(
    segments: &[SegmentWork],
    own: &[usize],
    spec: &DecoderSpec,
) -> Option<Vec<Output>> {
    let emitters = own.first().map_or(0, |s| segments[*s].draw.outputs.len());
    let mut out = Vec::new();
    for emitter in 0..emitters {
        let amps: Vec<f64> = own
            .iter()
            .map(|s| segments[*s].draw.outputs[emitter])
            .collect();
        let slots = pack(&amps, spec.output_current.value)?;
        let count = slots.iter().max().map_or(0, |last| last + 1);
        for slot in 0..count {
            let held = own.iter().zip(&slots).filter(|(_, s)| **s == slot);
            out.push(Output {
                emitter,
                segments: held.map(|(s, _)| *s).collect(),
            });
        }
    }
    (out.len() <= spec.outputs as usize).then_some(out)
}

/// Places of loads on as few outputs as bear them, none where one alone is too much.
fn pack(amps: &[f64], most: f64) -> Option<Vec<usize>> {
    if !amps.iter().all(|a| *a <= most) {
        return None;
    }
    (0..=amps.len()).find_map(|count| {
        let mut slots = Vec::new();
        fill(amps, most, &mut vec![0.0; count], &mut slots).then_some(slots)
    })
}

fn fill(amps: &[f64], most: f64, sums: &mut [f64], slots: &mut Vec<usize>) -> bool {
    let Some(next) = amps.get(slots.len()) else {
        return true;
    };
    for slot in 0..sums.len() {
        let before = sums[slot];
        if before + next <= most {
            sums[slot] = before + next;
            slots.push(slot);
            if fill(amps, most, sums, slots) {
                return true;
            }
            slots.pop();
            sums[slot] = before;
        }
        // One empty output is like another.
        if before == 0.0 {
            break;
        }
    }
    false
}

/// Each segment as if it hung on a supply by itself: what any decoders leave to the supplies at least.
pub(in crate::plan) fn bare<'j>(segments: &[SegmentWork]) -> Vec<DecoderUnit<'j>> {
    (0..segments.len()).map(|s| switched(segments, s)).collect()
}

/// The decoder_units of a parting, switched segments among them.
pub(in crate::plan) fn parted<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
    decoders: &[Driven<'j>],
) -> Vec<DecoderUnit<'j>> {
    let mut out: Vec<DecoderUnit<'j>> = decoders
        .iter()
        .filter_map(|d| {
            let outputs = outputs(segments, &d.segments, d.spec)?;
            decoder_unit(
                job,
                segments,
                (d.zone, d.place),
                d.spec,
                d.installed,
                outputs,
            )
        })
        .collect();
    let dims = |s: &usize| job.zones()[segments[*s].zone].control != Control::Switched;
    let switches = (0..segments.len()).filter(|s| !dims(s));
    out.extend(switches.map(|s| switched(segments, s)));
    out.order_by_key(|b| b.segments().first().copied().unwrap_or(usize::MAX));
    out
}

/// As [`decoder_units`](super::decoder_units), on decoders that were chosen with the whole job.
pub(in crate::plan) fn decoder_units_as_parted<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
    decoders: &[Driven<'j>],
) -> Chosen<DecoderUnit<'j>> {
    let mut out = super::decoder_units(job, segments);
    out.devices = parted(job, segments, decoders);
    out.refused.clear();
    out.standby.clear();
    let ids = super::ids(job, segments);
    fixed::unused_decoders(job, &out.devices, &ids, &mut out.refused);
    for told in &mut out.assigned {
        let own = || decoders.iter().filter(|d| (d.place, d.zone) == told.of);
        let bought = own().filter(|d| d.installed.is_none());
        let mut cost: u64 = bought.filter_map(|d| d.spec.price).sum();
        if job.places()[told.of.0].standby.decoders() {
            let kinds: BTreeMap<&str, u64> = own()
                .map(|d| (d.spec.name.as_str(), d.spec.price.unwrap_or(0)))
                .collect();
            cost += kinds.values().sum::<u64>();
            let standby = kinds.keys().map(|kind| (told.of.0, (*kind).to_string()));
            out.standby.extend(standby);
        }
        told.take_with_the_whole(cost);
    }
    out
}
