//! Schedules for those who buy and those who measure: materials, readings.

use super::schedule::{AMPERE, Draft, Schedule, VOLT, three};
use crate::plan::model::{MaterialRow, Plan, ReadingRow};

pub(super) fn materials(plan: &Plan) -> Schedule {
    Draft::<MaterialRow>::new(
        "materials",
        "Materials",
        "The order list: what is needed, what is added as spare, how it is sold, and what to order in packs.",
    )
    .name("item", "Item", |r| r.item.clone())
    .words("needed", "Needed", |r| r.needed.clone())
    .words("spare", "Spare", |r| r.spare.clone())
    .words("pack", "Sold as", |r| r.pack.clone())
    .words("order", "Order", |r| r.order.clone())
    .words("used", "Used in", |r| r.used.clone())
    .fill(&plan.materials)
}

pub(super) fn readings(plan: &Plan) -> Schedule {
    Draft::<ReadingRow>::new(
        "readings",
        "Readings to expect on site",
        "Measure as the condition says. A reading between low and high passes; mark it, or mark it out and look at the \
         likely causes. A meter averages chopped volts: readings are valid at full level only.",
    )
    .name("point", "Point", |r| r.point.clone())
    .corners(
        "volts",
        ["Volts low", "Volts nom.", "Volts high"],
        VOLT,
        2,
        |r| r.volts.map(|volts| three(volts, 1.0)),
    )
    .corners(
        "amps",
        ["Amps low", "Amps nom.", "Amps high"],
        AMPERE,
        2,
        |r| r.amps.map(|amps| three(amps, 1.0)),
    )
    .filling("reading", "Reading")
    .filling("pass_or_out", "Pass / out")
    .beneath("condition", "Condition", |r| r.condition.clone())
    .beneath("instrument", "Instrument", |r| r.instrument.clone())
    .beneath("likely", "If out, likely", |r| r.likely.clone())
    .fill(&plan.readings)
}
