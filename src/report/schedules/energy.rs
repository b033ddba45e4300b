//! Connected load by zone.

use crate::design::{Design, Energy};
use crate::quantity::Watts;
use crate::report::schedule::{Draft, Schedule, WATT};

pub(in crate::report) fn energy(design: &Design) -> Schedule {
    let schedule = Draft::<&Energy>::new(
        "energy",
        "Energy by zone",
        "Connected load with everything on, nominal. Wiring is what copper and switches lose; mains holds the losses of \
         the supplies too, where every supply concerned states an efficiency.",
    )
    .name("zone", "Zone", |r| &r.zone)
    .metres("lit", "Lit", |r| r.length)
    .figure("tape", "Tape", WATT, 1, |r| r.tape)
    .figure("wiring", "Wiring", WATT, 1, |r| r.wiring)
    .figure_or("mains", "Mains", WATT, 1, "not stated", |r| r.mains)
    .fill(&design.energy);
    if design.energy.is_empty() {
        return schedule;
    }
    let sum = |what: &str, missing: &str, of: fn(&Energy) -> Option<Watts>| {
        let each = design.energy.iter();
        each.map(|zone| of(zone).map(Watts::si))
            .sum::<Option<f64>>()
            .map_or_else(
                || format!("{what} {missing} for every zone"),
                |sum| format!("{what} {sum:.1} W"),
            )
    };
    schedule.note(format!(
        "All zones: {}, {}, {}.",
        sum("tape", "not solved", |zone| zone.tape),
        sum("wiring", "not solved", |zone| zone.wiring),
        sum("mains", "not stated", |zone| zone.mains),
    ))
}
