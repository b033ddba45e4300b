//! Devices of a fixed address that clash or run over, and devices without an address.

use super::super::sources::{E1_11_SLOTS, E1_31};
use super::super::timing::SLOTS;
use super::model::{Footprint, Start};
use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject, Value};
use crate::id::DeviceId;

const RUNS_OVER: Case = Case::judged("overrun", "{slots} slots from {first} end at slot {figure}")
    .figure("slot {figure}")
    .limit("slot {limit}")
    .remedy("start lower, or in another universe");

pub(in crate::dmx) const OVERRUN: Rule = Rule {
    id: "address-overrun",
    title: "Slots past the end of a universe",
    asks: "Does every device of a fixed address end at slot 512 or before?",
    source: E1_11_SLOTS,
    needs: &[],
    cases: &[&RUNS_OVER],
};

/// Slots that run past the last one.
pub(super) fn overrun(device: &Footprint, start: Start, last: u64) -> Finding {
    OVERRUN
        .fails(&RUNS_OVER, at(device, start))
        .figure(Figure::count(last))
        .limit(Limit::AtMost(slot(SLOTS)))
        .fact("slots", Figure::count(device.total()))
        .fact("first", slot(start.address))
}

/// Words of slots that are another's too.
const fn meets(key: &'static str, says: &'static str) -> Case {
    Case::plain(key, says)
        .figure("slots {first} to {last}")
        .limit("slots of its own")
        .remedy("move one of them, or say that they share on purpose")
}
const RESERVED: Case = meets("reserved", "slots {first} to {last} meet reserved slots");
const DEVICE: Case = meets("device", "slots {first} to {last} meet those of {other}");

pub(in crate::dmx) const CLASH: Rule = Rule {
    id: "address-clash",
    title: "Slots of two devices",
    asks: "Has every device of a fixed address its slots to itself, unless it shares them on purpose?",
    source: E1_11_SLOTS,
    needs: &[],
    cases: &[&RESERVED, &DEVICE],
};

/// Slots that are reserved, or another device's too.
pub(super) fn clash(device: &Footprint, start: Start, last: u16, other: Option<&str>) -> Finding {
    let case = if other.is_some() { &DEVICE } else { &RESERVED };
    let finding = CLASH
        .fails(case, at(device, start))
        .fact("first", slot(start.address))
        .fact("last", slot(last));
    match other {
        Some(other) => finding.fact("other", Value::name(other)),
        None => finding,
    }
}

const NONE_LEFT: Case = Case::judged(
    "none_left",
    "no free slots are left for it up to the last universe",
)
.figure("")
.limit("universe {limit}")
.remedy("start in a lower universe");

pub(in crate::dmx) const NONE_FREE: Rule = Rule {
    id: "address-none-free",
    title: "Free slots for every device",
    asks: "Are there free slots for every device up to the last universe?",
    source: E1_31,
    needs: &[],
    cases: &[&NONE_LEFT],
};

/// No slots for a device up to the last universe.
pub(super) fn none_free(device: &Footprint, last_universe: u16) -> Finding {
    NONE_FREE
        .fails(&NONE_LEFT, Subject::from(&*device.name))
        .limit(Limit::AtMost(slot(last_universe)))
}

fn at(device: &Footprint, start: Start) -> Subject {
    Subject::Address {
        device: DeviceId::new(&*device.name),
        universe: start.universe,
        slot: start.address,
    }
}

fn slot(number: u16) -> Figure {
    Figure::count(u64::from(number))
}
