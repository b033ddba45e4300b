//! DMX slots, a line each.

use crate::design::{Design, Slot, SlotUse};
use crate::report::schedule::{Draft, Schedule};
use crate::report::words::listed;

pub(in crate::report) fn addresses(design: &Design) -> Schedule {
    Draft::<&Slot>::new(
        "addresses",
        "Addresses",
        "For the programmer: a line for each DMX slot. Slots count from 1, offsets within a device from 0.",
    )
    .name("universe", "Universe", |r| r.universe)
    .count("slot", "Slot", |r| u64::from(r.slot))
    .words("device", "Device", |r| &r.device)
    .count("offset", "Offset", |r| u64::from(r.offset))
    .words("function", "Function", |r| match &r.sets {
        SlotUse::Unused => "not used".to_string(),
        SlotUse::Level(emitter) => emitter.to_string(),
        SlotUse::Fine(emitter) => format!("{emitter}, fine"),
    })
    .words("zone", "Zone", |r| &r.zone)
    .words("runs", "Runs", |r| listed(&r.runs))
    .of(|r| r.runs.clone())
    .fill(&design.slots)
}
