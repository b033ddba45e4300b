//! Leads, feeders and jumpers.

use crate::design::{Cable, CableKind, Design, RouteKnown, Solved, Terminals};
use crate::quantity::{Metres, square_millimetres};
use crate::report::of_runs::OfRuns;
use crate::report::references::References;
use crate::report::schedule::{AMPERE, CELSIUS, Draft, KILOGRAM, METRE, PER_CENT, Schedule, VOLT};
use crate::report::words::listed;

pub(in crate::report) fn cables(
    design: &Design,
    references: &References<'_>,
    runs: &OfRuns<'_>,
) -> Schedule {
    Draft::<&Cable>::new(
        "cables",
        "Cables",
        "Route is one way along the cable. Current is that of the busiest core worst case, high; drop is over the loop, \
         the greatest of any build within the tolerances, worst emitter. Longest route: the \
         longest at which every cell still has its least current, and its balance, with all else as planned; \
         a dash where none binds within 1 km.",
    )
    .name("cable", "Cable", |r| &r.id)
    .words("from", "From", |r| terminals(&r.from))
    .words("to", "To", |r| terminals(&r.to))
    .words("kind", "Kind", |r| &r.kind)
    .words("size", "Cores and size", |r| {
        design.cable_kind(&r.kind).map_or_else(String::new, size)
    })
    .figure("route", "Route", METRE, 2, |r| {
        Metres::from(r.route.to_length())
    })
    .words("basis", "Basis", |r| match r.known {
        RouteKnown::PlaceStates => "as the place states",
        RouteKnown::PathStates => "as the path states",
        RouteKnown::As(basis) => basis.word(),
    })
    .figure_or("longest_route", "Longest route", METRE, 2, "-", |r| {
        r.longest
    })
    .figure("current", "Current", AMPERE, 2, |r| r.current)
    .words("busiest_core", "Busiest core", |r| r.busiest.to_string())
    .figure_or("ampacity", "Ampacity", AMPERE, 2, "none", |r| {
        r.ampacity.current.figures().copied()
    })
    .words("ampacity_source", "Source", |r| {
        references.mark(&r.ampacity.source)
    })
    .figure("ambient", "Ambient", CELSIUS, 0, |r| r.ambient)
    .figure("drop", "Drop", VOLT, 2, |r| r.drop)
    .figure("drop_share", "Drop", PER_CENT, 1, |r| r.drop_share)
    .words("energy_class", "Energy class", |r| r.energy.word())
    .figure("copper", "Copper", KILOGRAM, 3, |r| r.copper)
    .beneath("functions", "Cores", |r| {
        listed(
            r.cores
                .iter()
                .map(|core| format!("{} {}", core.number, core.conductor)),
        )
    })
    .beneath("not_evaluated", "Not evaluated", |r| {
        match &r.ampacity.current {
            Solved::Figures(_) => String::new(),
            Solved::Not(reason) => format!("ampacity: {reason}"),
        }
    })
    .of(|r| runs.cable(&r.id))
    .fill(&design.cables)
    .note(
        "Energy class is inherited from the source as the job states it; verify it on the source's label. What protects \
         each conductor, and its fault currents, stand under Protection.",
    )
}

/// An end of a cable.
fn terminals(terminals: &Terminals) -> String {
    match terminals {
        Terminals::Supply { supply, output } => format!("supply {supply}, output {output}"),
        Terminals::DecoderSupply(decoder) => format!("decoder {decoder}, supply terminals"),
        Terminals::Decoder { decoder, .. } => format!("decoder {decoder}"),
        Terminals::Segment { segment, at } => format!("segment {segment}, {at}"),
        Terminals::Nothing => String::new(),
    }
}

/// Cores and size as it is sold, with the area where that says it otherwise: `4 × 18 AWG (0.823 mm²)`.
fn size(kind: &CableKind) -> String {
    let (cores, size) = (kind.cores, kind.size.as_str());
    if size.contains("mm") {
        return format!("{cores} × {size}");
    }
    let mm2 = kind.area.si() / square_millimetres(1.0).value;
    format!("{cores} × {size} ({mm2:.3} mm²)")
}
