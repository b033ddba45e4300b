//! Runs as drawn and as lit.

use crate::design::{Design, Path, Run};
use crate::report::schedule::{Draft, Schedule, WATT_PER_METRE};
use crate::report::words::{listed, many, profile};

pub(in crate::report) fn runs(design: &Design) -> Schedule {
    let strip = |run: &Run| design.strip(&run.strip);
    Draft::<&Run>::new(
        "runs",
        "Runs",
        "Each run as drawn and as it lights. Drawn is lit plus dark; the dark lengths are ends, corners and gaps.",
    )
    .name("run", "Run", |r| &r.id)
    .words("zone", "Zone", |r| &r.zone)
    .words("room", "Room", |r| &r.room)
    .words("drawing", "Drawing", |r| &r.drawing)
    .words("strip", "Tape", |r| &r.strip)
    .words("colour", "Colour", move |r| {
        listed(strip(r).into_iter().flat_map(|s| s.emitters.iter().map(|e| &e.name)))
    })
    .figure("rated", "Rated", WATT_PER_METRE, 1, move |r| {
        strip(r).map(|s| s.power)
    })
    .metres("drawn", "Drawn", |r| r.drawn)
    .metres("lit", "Lit", |r| r.lit)
    .count("increments", "Increments", |r| r.increments)
    .in_file()
    .millimetres("dark_start", "Dark at start", |r| r.dark_start)
    .millimetres("dark_between", "Dark between", |r| r.dark_between)
    .millimetres("dark_end", "Dark at end", |r| r.dark_end)
    .words("path", "Path", |r| path(r.path))
    .words("profile", "Profile, cover", |r| {
        let own = r.profile.as_ref();
        own.map_or_else(String::new, |own| profile(own, r.cover.as_ref()))
    })
    .words("environment", "Environment", |r| {
        format!("{}, {}", r.environment.word(), r.ambient)
    })
    .words("service", "Service", |r| r.service.word())
    .of(|r| vec![r.id.clone()])
    .fill(&design.runs)
}

/// `2 straights, 1 inside corner`.
fn path(path: Path) -> String {
    let parts = [
        (path.straights, "straight", "straights"),
        (path.inside_corners, "inside corner", "inside corners"),
        (path.outside_corners, "outside corner", "outside corners"),
        (path.gaps, "gap", "gaps"),
    ];
    let some = parts.into_iter().filter(|(count, ..)| *count > 0);
    listed(some.map(|(count, one, more)| many(count as usize, one, more)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_names_what_it_has() {
        let mut own = Path {
            straights: 3,
            inside_corners: 1,
            outside_corners: 0,
            gaps: 2,
        };
        assert_eq!(path(own), "3 straights, 1 inside corner, 2 gaps");
        own = Path {
            straights: 1,
            inside_corners: 0,
            outside_corners: 2,
            gaps: 0,
        };
        assert_eq!(path(own), "1 straight, 2 outside corners");
    }
}
