//! Schedules of the control side: decoders, outputs, addresses, chains.

use super::schedule::{AMPERE, Draft, HERTZ, MILLIVOLT, NONE, OHM, Schedule};
use crate::plan::model::{AddressRow, ChainRow, DecoderRow, OutputRow, Plan};

pub(super) fn decoders(plan: &Plan) -> Schedule {
    Draft::<DecoderRow>::new(
        "decoders",
        "Decoders",
        "Current is the total of the outputs at the high corner.",
    )
    .name("decoder", "Decoder", |r| r.id.clone())
    .words("place", "Place", |r| r.place.clone())
    .words("kind", "Kind", |r| r.kind.clone())
    .figure_or("universe", "Universe", NONE, 0, "-", |r| {
        (r.address > 0).then(|| f64::from(r.universe))
    })
    .figure_or("address", "Address", NONE, 0, "-", |r| {
        (r.address > 0).then(|| f64::from(r.address))
    })
    .count("slots", "Slots", |r| u64::from(r.slots))
    .words("outputs", "Outputs", |r| r.outputs.clone())
    .figure("current", "Current", AMPERE, 2, |r| r.current.value)
    .figure("limit", "Limit", AMPERE, 2, |r| r.current_limit.value)
    .figure("frequency", "PWM", HERTZ, 0, |r| r.frequency.value)
    .count("bits", "Bits", |r| u64::from(r.bits))
    .words("curve", "Curve", |r| r.curve.clone())
    .words("signal_loss", "Signal lost", |r| r.signal_loss.clone())
    .words("isolated", "Isolated", |r| r.isolated.clone())
    .words("supply", "Fed by", |r| r.supply.clone())
    .fill(&plan.decoders)
}

pub(super) fn outputs(plan: &Plan) -> Schedule {
    Draft::<OutputRow>::new(
        "outputs",
        "Outputs",
        "What each output of a decoder switches, and its current at the high corner.",
    )
    .name("decoder", "Decoder", |r| r.decoder.clone())
    .count("output", "Output", |r| r.output as u64)
    .words("emitter", "Emitter", |r| r.emitter.clone())
    .words("zone", "Zone", |r| r.zone.clone())
    .words("segments", "Segments", |r| r.segments.clone())
    .figure("current", "Current", AMPERE, 2, |r| r.current.value)
    .figure("limit", "Limit", AMPERE, 2, |r| r.limit.value)
    .fill(&plan.outputs)
}

pub(super) fn addresses(plan: &Plan) -> Schedule {
    Draft::<AddressRow>::new(
        "addresses",
        "Addresses",
        "For the programmer: a line for each DMX slot. Slots count from 1, offsets within a device from 0.",
    )
    .name("universe", "Universe", |r| r.universe.to_string())
    .count("slot", "Slot", |r| u64::from(r.slot))
    .words("device", "Device", |r| r.device.clone())
    .count("offset", "Offset", |r| u64::from(r.offset))
    .words("function", "Function", |r| r.function.clone())
    .words("zone", "Zone", |r| r.zone.clone())
    .words("runs", "Runs", |r| r.runs.clone())
    .fill(&plan.addresses)
}

pub(super) fn chains(plan: &Plan) -> Schedule {
    Draft::<ChainRow>::new(
        "chains",
        "Chains",
        "Devices in the order of the data cable, from the source outwards. Lengths and unit loads add up from the source. Minus: how far the minus terminal stands above its supply's at most.",
    )
    .name("chain", "Chain", |r| r.chain.clone())
    .count("order", "Order", |r| r.order as u64)
    .words("device", "Device", |r| r.device.clone())
    .words("cable", "Cable in", |r| r.cable.clone())
    .metres("length", "Length", |r| r.length)
    .metres("from_source", "From source", |r| r.cumulative)
    .words("unit_loads", "Unit loads", |r| r.unit_loads.clone())
    .words("isolated", "Isolated", |r| r.isolated.clone())
    .figure_or("minus", "Minus", MILLIVOLT, 0, "-", |r| {
        r.minus.map(|volts| volts.value)
    })
    .figure_or("terminator", "Terminator", OHM, 0, "none", |r| {
        r.terminator.map(|ohms| ohms.value)
    })
    .fill(&plan.chains)
}
