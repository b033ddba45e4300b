//! A job with some products in the place of others.

use crate::job::Job;
use crate::job::spec::{CandidateSpec, JobSpec, Swap};
use crate::order::Order as _;
use crate::quantity::ElectricPotential;

/// The job of a candidate: the same, with its products exchanged and no candidates of its own.
pub(super) fn exchange(job: &Job, candidate: &CandidateSpec) -> JobSpec {
    let mut spec = job.spec().clone();
    spec.candidates.clear();
    for zone in &mut spec.zones {
        swap_one(&candidate.strips, &mut zone.strip);
        swap_all(&candidate.supplies, &mut zone.supplies);
        swap_all(&candidate.decoders, &mut zone.decoders);
    }
    for place in &mut spec.places {
        swap_all(&candidate.supplies, &mut place.supplies);
        swap_all(&candidate.decoders, &mut place.decoders);
    }
    spec
}

fn swap_one(swaps: &[Swap], name: &mut String) {
    if let Some(swap) = swaps.iter().find(|s| s.instead_of == *name) {
        name.clone_from(&swap.take);
    }
}

/// Two names that are exchanged for one leave one.
fn swap_all(swaps: &[Swap], names: &mut Vec<String>) {
    let mut kept: Vec<String> = Vec::with_capacity(names.len());
    for mut name in names.drain(..) {
        swap_one(swaps, &mut name);
        if !kept.contains(&name) {
            kept.push(name);
        }
    }
    *names = kept;
}

/// What is exchanged, in words.
pub(super) fn words(candidate: &CandidateSpec) -> Vec<String> {
    [
        ("tape", &candidate.strips),
        ("supply", &candidate.supplies),
        ("decoder", &candidate.decoders),
    ]
    .into_iter()
    .flat_map(|(kind, swaps)| {
        swaps
            .iter()
            .map(move |s| format!("{kind} \"{}\" in the place of \"{}\"", s.take, s.instead_of))
    })
    .collect()
}

/// Rated voltages of the tapes in use, lowest first.
pub(super) fn volts(spec: &JobSpec) -> Vec<ElectricPotential> {
    let mut all: Vec<ElectricPotential> = spec
        .zones
        .iter()
        .filter_map(|zone| spec.strips.iter().find(|s| s.name == zone.strip))
        .map(|strip| strip.rated)
        .collect();
    all.order_by(|a, b| a.value.total_cmp(&b.value));
    all.dedup();
    all
}
