//! Decoders.

use crate::design::{Decoder, Design};
use crate::device::SignalLoss;
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{AMPERE, Draft, HERTZ, PER_CENT, Schedule};
use crate::report::words::isolation;

pub(in crate::report) fn decoders(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let kind = |decoder: &Decoder| design.decoder_kind(&decoder.kind);
    let label = move |decoder: &Decoder| kind(decoder).filter(|kind| kind.named);
    Draft::<&Decoder>::new(
        "decoders",
        "Decoders",
        "Current is the total of the outputs worst case, high. Shortest pulse is its share of a period: light does not go \
         lower but to dark.",
    )
    .name("decoder", "Decoder", |r| &r.id)
    .words("place", "Place", |r| &r.place)
    .words("kind", "Kind", |r| &r.kind)
    .count_or("universe", "Universe", "-", |r| {
        r.address.map(|at| u64::from(at.universe))
    })
    .count_or("address", "Address", "-", |r| {
        r.address.map(|at| u64::from(at.first))
    })
    .count("slots", "Slots", |r| {
        r.address.map_or(0, |at| u64::from(at.slots))
    })
    .words("outputs", "Outputs", move |r| {
        let present = kind(r).map_or(0, |k| k.outputs);
        format!("{} of {present}", r.outputs_used)
    })
    .figure("current", "Current", AMPERE, 2, |r| r.current)
    .figure_or("limit", "Limit", AMPERE, 2, "to be chosen", move |r| {
        label(r).map(|_| r.current_limit)
    })
    .figure_or("frequency", "PWM", HERTZ, 0, "to be chosen", move |r| {
        label(r).map(|k| k.frequency)
    })
    .count_or("bits", "Bits", "to be chosen", move |r| {
        label(r).map(|k| u64::from(k.bits))
    })
    .figure_or("shortest", "Shortest pulse", PER_CENT, 2, "not stated", move |r| {
        kind(r).and_then(|k| k.shortest_on)
    })
    .words("curve", "Curve", |r| {
        r.curve.map_or("", |curve| curve.words())
    })
    .words("signal_loss", "Signal lost", move |r| {
        kind(r).map_or("", |k| signal_lost(k.signal_loss))
    })
    .words("isolated", "Data port", move |r| {
        kind(r).map_or("", |k| isolation(k.port))
    })
    .words("supply", "Fed by", |r| {
        let supply = r.supply.as_ref();
        supply.map_or_else(String::new, |(supply, output)| {
            format!("{supply}, output {output}")
        })
    })
    .of(|r| runs.decoder(&r.id))
    .fill(&design.decoders)
}

fn signal_lost(does: SignalLoss) -> &'static str {
    match does {
        SignalLoss::Hold => "holds the last levels",
        SignalLoss::Dark => "goes dark",
        SignalLoss::Full => "goes to full",
        SignalLoss::Unknown => "not stated",
    }
}
