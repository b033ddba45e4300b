//! Outputs of decoders.

use crate::design::{DecoderOutput, Design};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{AMPERE, Draft, Schedule};
use crate::report::words::listed;
use std::collections::BTreeMap;

pub(in crate::report) fn outputs(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let named: BTreeMap<_, bool> = design
        .decoders
        .iter()
        .filter_map(|decoder| Some((&decoder.id, design.decoder_kind(&decoder.kind)?.named)))
        .collect();
    Draft::<&DecoderOutput>::new(
        "outputs",
        "Outputs",
        "What each output of a decoder switches, and its current worst case, high.",
    )
    .name("decoder", "Decoder", |r| &r.decoder)
    .count("output", "Output", |r| r.output)
    .words("emitter", "Emitter", |r| &r.emitter)
    .words("zone", "Zone", |r| &r.zone)
    .words("segments", "Segments", |r| listed(&r.segments))
    .figure("current", "Current", AMPERE, 2, |r| r.current)
    .figure_or("limit", "Limit", AMPERE, 2, "to be chosen", |r| {
        named
            .get(&r.decoder)
            .is_none_or(|named| *named)
            .then_some(r.limit)
    })
    .of(|r| {
        let own = r.segments.iter().flat_map(|segment| runs.segment(segment));
        own.collect()
    })
    .fill(&design.decoder_outputs)
}
