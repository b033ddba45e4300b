//! Supplies with what they carry.

use crate::design::{Design, Fed, Load, Output, Supply};
use crate::id::SupplyId;
use crate::quantity::{Corners, Share, Watts};
use crate::report::of_runs::OfRuns;
use crate::report::schedule::{CELSIUS, Draft, PER_CENT, Schedule, VOLT, WATT};
use crate::report::words::{joined, listed};
use std::collections::BTreeMap;

pub(in crate::report) fn supplies(design: &Design, runs: &OfRuns<'_>) -> Schedule {
    let kind = |supply: &Supply| design.supply_kind(&supply.kind);
    let mut outputs: BTreeMap<&SupplyId, Vec<&Output>> = BTreeMap::new();
    for output in &design.outputs {
        outputs.entry(&output.supply).or_default().push(output);
    }
    Draft::<&Supply>::new(
        "supplies",
        "Supplies",
        "Derated is the rating of the supply at the ambient assumed for its place. Share is the greatest load as a part of that.",
    )
    .name("supply", "Supply", |r| &r.id)
    .words("place", "Place", |r| &r.place)
    .words("kind", "Kind", |r| &r.kind)
    .figure("set_point", "Set to", VOLT, 2, move |r| {
        kind(r).map(|k| k.set_point)
    })
    .figure("rated", "Rated", WATT, 1, move |r| kind(r).map(|k| k.power))
    .figure("ambient", "Ambient", CELSIUS, 0, |r| {
        design.place(&r.place).map(|place| place.ambient)
    })
    .figure("derated", "Derated", WATT, 1, |r| r.derated)
    .corners_or(
        "load",
        ["Load low", "Load nom.", "Load high"],
        WATT,
        1,
        "no figure",
        |r| load(r),
    )
    .figure("share", "Share", PER_CENT, 1, |r| share(r))
    .figure_or("heat", "Heat", WATT, 1, "not stated", move |r| {
        let efficiency = kind(r)?.efficiency?;
        match &r.load {
            Load::Power(power) => {
                Watts::finite(power.nominal.si() * (1.0 / efficiency.si() - 1.0))
            }
            Load::Standby | Load::Not(_) => None,
        }
    })
    .words("shock_class", "Shock class", move |r| {
        kind(r).map_or("", |k| k.shock.word())
    })
    .words("energy_class", "Energy class", move |r| {
        kind(r).map_or("", |k| k.energy.word())
    })
    .words("bought", "Bought", |r| if r.fixed { "fixed" } else { "new" })
    .beneath("feeds", "Feeds", move |r| match &r.load {
        Load::Standby => "nothing: standby for any of its type here".to_string(),
        Load::Power(_) | Load::Not(_) => {
            let own = outputs.get(&r.id).map_or(&[][..], Vec::as_slice);
            joined(own.iter().map(|output| feeds(output)), "; ")
        }
    })
    .beneath("why", "Why", |r| &r.why)
    .beneath("access", "Access", |r| {
        design.place(&r.place).map_or("", |place| place.access.as_str())
    })
    .of(|r| runs.supply(&r.id))
    .fill(&design.supplies)
    .note(
        "Shock class and energy class are two marks, taken here as the job states them: verify both on each label. \
         SELV limits shock, not fire.",
    )
}

fn load(supply: &Supply) -> Option<Corners<Watts>> {
    supply.load.power()
}

/// The nominal load as a share of its derated rating; none where it was not solved.
pub(in crate::report) fn share(supply: &Supply) -> Option<Share> {
    match &supply.load {
        Load::Standby => Share::finite(0.0),
        Load::Power(power) => Share::finite(power.nominal.si() / supply.derated.si()),
        Load::Not(_) => None,
    }
}

/// `output 1: D-C3.1`.
fn feeds(output: &Output) -> String {
    let names = output.feeds.iter().map(|fed| match fed {
        Fed::Decoder(decoder) => decoder.to_string(),
        Fed::Switched { name, .. } => name.to_string(),
    });
    format!("output {}: {}", output.output, listed(names))
}
