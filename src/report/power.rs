//! Schedules of the power side: cables, supplies, protection, energy.

use super::references::References;
use super::schedule::{AMPERE, CELSIUS, Draft, KILOGRAM, METRE, PER_CENT, Schedule, VOLT, WATT};
use crate::plan::model::{CableRow, EnergyRow, Plan, ProtectionRow, SupplyRow};
use crate::quantity::in_celsius;

pub(super) fn cables(plan: &Plan, references: &References<'_>) -> Schedule {
    Draft::<CableRow>::new(
        "cables",
        "Cables",
        "Route is one way along the cable. Current is that of the busiest core at the high corner; drop is over the loop \
         at the low corner, worst emitter. Longest route: the \
         longest at which every cell still has its least current, and its balance, with all else as planned; \
         a dash where none binds within 1 km.",
    )
    .name("cable", "Cable", |r| r.id.clone())
    .words("from", "From", |r| r.from.clone())
    .words("to", "To", |r| r.to.clone())
    .words("kind", "Kind", |r| r.kind.clone())
    .words("size", "Cores and size", |r| r.size.clone())
    .figure("route", "Route", METRE, 2, |r| r.route.length().value)
    .words("basis", "Basis", |r| r.basis.clone())
    .figure_or("longest_route", "Longest route", METRE, 2, "-", |r| {
        r.longest.map(|route| route.length().value)
    })
    .figure("current", "Current", AMPERE, 2, |r| r.current.value)
    .words("busiest_core", "Busiest core", |r| r.busiest.clone())
    .figure_or("ampacity", "Ampacity", AMPERE, 2, "none", |r| {
        r.ampacity.as_ref().ok().map(|a| a.value)
    })
    .words("ampacity_source", "Source", |r| {
        references.mark(&r.ampacity_source)
    })
    .figure("ambient", "Ambient", CELSIUS, 0, |r| in_celsius(r.ambient))
    .figure("drop", "Drop", VOLT, 2, |r| r.drop.value)
    .figure("drop_share", "Drop", PER_CENT, 1, |r| {
        r.drop_share.value * 100.0
    })
    .words("energy_class", "Energy class", |r| r.energy_class.clone())
    .figure("copper", "Copper", KILOGRAM, 3, |r| r.copper.value)
    .beneath("functions", "Cores", |r| r.functions.clone())
    .beneath("not_evaluated", "Not evaluated", |r| {
        r.ampacity
            .as_ref()
            .err()
            .map_or_else(String::new, |reason| format!("ampacity: {reason}"))
    })
    .fill(&plan.cables)
    .note(
        "Energy class is inherited from the source as the job states it; verify it on the source's label. What protects \
         each conductor, and its fault currents, stand under Protection.",
    )
}

/// Whether a device is ordered, in a word.
pub(super) fn bought(fixed: bool) -> String {
    if fixed { "fixed" } else { "new" }.to_string()
}

pub(super) fn supplies(plan: &Plan) -> Schedule {
    Draft::<SupplyRow>::new(
        "supplies",
        "Supplies",
        "Derated is what the supply may give at the ambient assumed for its place. Share is the greatest load as a part of that.",
    )
    .name("supply", "Supply", |r| r.id.clone())
    .words("place", "Place", |r| r.place.clone())
    .words("kind", "Kind", |r| r.kind.clone())
    .figure("set_point", "Set to", VOLT, 2, |r| r.set_point.value)
    .figure("rated", "Rated", WATT, 1, |r| r.rated.value)
    .figure("ambient", "Ambient", CELSIUS, 0, |r| in_celsius(r.ambient))
    .figure("derated", "Derated", WATT, 1, |r| r.derated.value)
    .figure("load_low", "Load low", WATT, 1, |r| r.load.low.value)
    .figure("load_nominal", "Load nom.", WATT, 1, |r| r.load.nominal.value)
    .figure("load_high", "Load high", WATT, 1, |r| r.load.high.value)
    .figure("share", "Share", PER_CENT, 1, |r| r.share.value * 100.0)
    .figure_or("heat", "Heat", WATT, 1, "not stated", |r| {
        r.heat.map(|heat| heat.value)
    })
    .words("shock_class", "Shock class", |r| r.shock_class.clone())
    .words("energy_class", "Energy class", |r| r.energy_class.clone())
    .words("bought", "Bought", |r| bought(r.fixed))
    .beneath("feeds", "Feeds", |r| r.feeds.clone())
    .beneath("why", "Why", |r| r.why.clone())
    .fill(&plan.supplies)
    .note(
        "Shock class and energy class are two marks, taken here as the job states them: verify both on each label. \
         SELV limits shock, not fire.",
    )
}

pub(super) fn protection(plan: &Plan) -> Schedule {
    Draft::<ProtectionRow>::new(
        "protection",
        "Protection",
        "Every conductor, the rails of the tape among them: what it carries, what it may carry, what the source can push, \
         and the current of a short at its near end (high corner) and far end (low corner).",
    )
    .name("conductor", "Conductor", |r| r.conductor.clone())
    .figure("load", "Load", AMPERE, 2, |r| r.load.value)
    .words("device", "Device", |r| r.device.clone())
    .figure_or("ampacity", "Ampacity", AMPERE, 2, "none", |r| {
        r.ampacity.as_ref().ok().map(|a| a.value)
    })
    .words("source_limit", "Source limit", |r| r.source_limit.clone())
    .figure_or("fault_near", "Fault near", AMPERE, 1, "not run", |r| {
        r.fault_near.map(|fault| fault.value)
    })
    .figure_or("fault_far", "Fault far", AMPERE, 1, "not run", |r| {
        r.fault_far.map(|fault| fault.value)
    })
    .words("answer", "Answer", |r| r.verdict.clone())
    .beneath("not_evaluated", "Not evaluated", |r| {
        let mut missing = Vec::new();
        if let Err(reason) = &r.ampacity {
            missing.push(format!("ampacity: {reason}"));
        }
        if r.fault_near.is_none() {
            missing.push("fault at the near end".to_string());
        }
        if r.fault_far.is_none() {
            missing.push("fault at the far end".to_string());
        }
        missing.join("; ")
    })
    .fill(&plan.protection)
    .note(
        "Final choice of breakers and fuses is for the licensed person. A joint that heats or arcs draws no fault \
         current and is invisible here.",
    )
}

pub(super) fn energy(plan: &Plan) -> Schedule {
    let schedule = Draft::<EnergyRow>::new(
        "energy",
        "Energy by zone",
        "Connected load with everything on, nominal. Wiring is what copper and switches lose; mains holds the losses of \
         the supplies too, where every supply concerned states an efficiency.",
    )
    .name("zone", "Zone", |r| r.zone.clone())
    .metres("lit", "Lit", |r| r.length)
    .figure("tape", "Tape", WATT, 1, |r| r.tape.value)
    .figure("wiring", "Wiring", WATT, 1, |r| r.wiring.value)
    .figure_or("mains", "Mains", WATT, 1, "not stated", |r| {
        r.mains.map(|mains| mains.value)
    })
    .fill(&plan.energy);
    if plan.energy.is_empty() {
        return schedule;
    }
    let tape: f64 = plan.energy.iter().map(|row| row.tape.value).sum();
    let wiring: f64 = plan.energy.iter().map(|row| row.wiring.value).sum();
    let mains = plan
        .energy
        .iter()
        .try_fold(0.0, |sum, row| row.mains.map(|mains| sum + mains.value))
        .map_or_else(
            || "mains not stated for every zone".to_string(),
            |mains| format!("mains {mains:.1} W"),
        );
    schedule.note(format!(
        "All zones: tape {tape:.1} W, wiring {wiring:.1} W, {mains}."
    ))
}
