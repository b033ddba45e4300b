//! What lies on a run: breaks, feed points, routes to it.

use super::books::Books;
use super::general::{not_negative, within};
use super::path::Line;
use crate::exact::ExactLength;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::RunSpec;
use crate::layout::spec::{FeedPoints, LayoutSpec, RouteSpec, RunPoint, Stretch};
use crate::quantity::shorten;
use std::collections::{BTreeMap, BTreeSet};

/// Routes of one place that each further one is compared with.
const MOST_COMPARED: usize = 16;

/// Most that a route may be of the way by another one and along the run, an assumption of this library: copper that goes
/// round a room is a few times as long, a slip of the unit or of three digits a hundred times and more.
const MOST_DETOUR: i64 = 10;
/// Routes up to this long are never called a slip: an assumption of this library. Copper up a wall, over a ceiling and
/// down again to a run that starts beside its place is as long.
const NEVER_A_SLIP: ExactLength = ExactLength::from_millimetres(20_000);

/// Stretches, breaks and feed points must lie on the line.
pub(super) fn positions(subject: &str, layout: &LayoutSpec, line: &Line, faults: &mut Faults) {
    let length = line.length();
    for (index, stretch) in layout.uncut.iter().enumerate() {
        let here = format!("uncut {}", index + 1);
        let holds =
            stretch.from >= ExactLength::ZERO && stretch.from <= stretch.to && stretch.to <= length;
        within(
            faults,
            subject,
            &here,
            holds,
            format!("goes from {} to {}", stretch.from, stretch.to),
            format!("It must run forward and lie on the run, 0 m to {length}"),
        );
    }
    overlaps(subject, layout, faults);
    let mut seen = BTreeSet::new();
    for at in &layout.breaks {
        within(
            faults,
            subject,
            "breaks",
            *at > ExactLength::ZERO && *at < length,
            format!("has one at {at}"),
            format!("A break lies inside the run, between 0 m and {length}"),
        );
        if !seen.insert(*at) && faults.sound(subject, &["breaks"]) {
            faults.say(
                FaultKind::Duplicate,
                (subject, "breaks"),
                format!("has {at} twice"),
                "Write each once",
            );
        }
        let barred = layout
            .uncut
            .iter()
            .find(|stretch| *at > stretch.from && *at < stretch.to);
        if let Some(stretch) = barred
            && faults.sound(subject, &["breaks"])
        {
            faults.say(
                FaultKind::Contradiction,
                (subject, "breaks"),
                format!(
                    "has one at {at}, where `uncut` forbids cuts from {} to {}",
                    stretch.from, stretch.to
                ),
                "Move the one or the other",
            );
        }
    }
    if let FeedPoints::Listed(points) = &layout.feed_points {
        if points.is_empty() && faults.sound(subject, &["feed_points"]) {
            faults.say(
                FaultKind::Missing,
                (subject, "feed_points"),
                "is empty",
                "Write \"ends\", \"anywhere\" or a list of points",
            );
        }
        let mut seen = BTreeSet::new();
        for point in points {
            on_the_run(subject, "feed_points", *point, line, faults);
            if !seen.insert(line.distance(*point)) && faults.sound(subject, &["feed_points"]) {
                faults.say(
                    FaultKind::Duplicate,
                    (subject, "feed_points"),
                    format!("names the point {} m twice", line.distance(*point).metres()),
                    "Write each once",
                );
            }
        }
    }
}

/// Stretches without cuts stand beside each other: what two of them say of the same tape is one stretch.
fn overlaps(subject: &str, layout: &LayoutSpec, faults: &mut Faults) {
    let mut all: Vec<(usize, &Stretch)> = layout.uncut.iter().enumerate().collect();
    all.sort_by_key(|(at, stretch)| (stretch.from, stretch.to, *at));
    let mut before: Option<(usize, &Stretch)> = None;
    for (at, stretch) in all {
        if let Some((other, known)) = before
            && stretch.from < known.to
        {
            let here = format!("uncut {}", at.max(other) + 1);
            if faults.sound(subject, &[&here]) {
                faults.say(
                    FaultKind::Contradiction,
                    (subject, &here),
                    format!(
                        "overlaps uncut {}: {} to {} and {} to {}",
                        at.min(other) + 1,
                        known.from,
                        known.to,
                        stretch.from,
                        stretch.to
                    ),
                    format!(
                        "Write one stretch from {} to {}",
                        known.from,
                        known.to.max(stretch.to)
                    ),
                );
            }
        }
        if before.is_none_or(|(_, known)| stretch.to > known.to) {
            before = Some((at, stretch));
        }
    }
}

/// A point must lie on tape: on the run and not inside a gap.
pub(super) fn on_the_run(
    subject: &str,
    field: &str,
    point: RunPoint,
    line: &Line,
    faults: &mut Faults,
) {
    let RunPoint::At(at) = point else {
        return;
    };
    within(
        faults,
        subject,
        field,
        at >= ExactLength::ZERO && at <= line.length(),
        format!("is {at} from the start of the run"),
        format!("It must lie on the run, 0 m to {}", line.length()),
    );
    if let Some((from, to)) = line.gap_around(at)
        && faults.sound(subject, &[field])
    {
        faults.say(
            FaultKind::Contradiction,
            (subject, field),
            format!("is {at} from the start, inside the gap from {from} to {to}"),
            "Feed where there is tape",
        );
    }
}

/// Routes to it from places of its zone.
pub(super) fn routes(
    subject: &str,
    run: &RunSpec,
    line: &Line,
    books: &Books,
    faults: &mut Faults,
) {
    if run.routes.is_empty() && faults.sound(subject, &["routes"]) {
        faults.say(
            FaultKind::Missing,
            (subject, "routes"),
            "is missing",
            "Write how far the run is from its places, like [{ from = \"riser\", to = \"start\", length = \"6.5 m\", basis = \"measured\" }]",
        );
    }
    let mut seen = BTreeSet::new();
    let mut before: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (index, route) in run.routes.iter().enumerate() {
        let here = format!("routes {}", index + 1);
        let field = |key: &str| format!("{here}: {key}");
        not_negative(faults, subject, &field("length"), route.length);
        on_the_run(subject, &field("to"), route.to, line, faults);
        if !books
            .places
            .refer(subject, &field("from"), &route.place, faults)
        {
            continue;
        }
        let of_zone = books.places_of_zone.get(&run.zone);
        if of_zone.is_some_and(|places| !places.is_empty() && !places.contains(&route.place)) {
            faults.say(
                FaultKind::Contradiction,
                (subject, &field("from")),
                format!(
                    "is `{}`, which is not a place of the zone `{}`",
                    shorten(&route.place),
                    shorten(&run.zone)
                ),
                "Leave the route out, or name the place in the zone",
            );
        }
        if !seen.insert((route.place.as_str(), line.distance(route.to))) {
            faults.say(
                FaultKind::Duplicate,
                (subject, &here),
                format!(
                    "is a second route from `{}` to the same point",
                    shorten(&route.place)
                ),
                "Write one length for each place and point",
            );
        }
        let others = before.entry(&route.place).or_default();
        if faults.sound(subject, &[&here])
            && let Some((at, other, apart)) = too_short(run, route, others, line)
        {
            faults.say(
                FaultKind::Contradiction,
                (subject, &field("length")),
                format!(
                    "is {}, and that of routes {} from `{}` is {}: the two points are {apart} apart in a straight line",
                    route.length,
                    at + 1,
                    shorten(&route.place),
                    other.length
                ),
                "Measure again: two ways from one place reach at least as far as what lies between their ends",
            );
        }
        if faults.sound(subject, &[&here])
            && let Some((at, other, by)) = too_long(run, route, others, line)
        {
            let (long, short) = if route.length > other.length {
                (index, at)
            } else {
                (at, index)
            };
            faults.say(
                FaultKind::Contradiction,
                (subject, &format!("routes {}: length", long + 1)),
                format!(
                    "is {}, and by routes {} from `{}` and along the run it is {by} to the same point",
                    route.length.max(other.length),
                    short + 1,
                    shorten(&route.place),
                ),
                format!(
                    "Read the digits and the unit again: at most {MOST_DETOUR} times that is taken (an assumption of this library)"
                ),
            );
        }
        if others.len() < MOST_COMPARED {
            others.push(index);
        }
    }
}

/// The first of other routes from one place that cannot be as short as this one is, with how far their ends are apart.
fn too_short<'r>(
    run: &'r RunSpec,
    route: &RouteSpec,
    others: &[usize],
    line: &Line,
) -> Option<(usize, &'r RouteSpec, ExactLength)> {
    others.iter().find_map(|at| {
        let other = run.routes.get(*at)?;
        let apart = line.straight_between(route.to, other.to)?;
        let reach = route.length.saturating_add(other.length);
        (reach < apart).then_some((*at, other, apart))
    })
}

/// The first of other routes from one place beside which this one is a slip of the pen, or is shown to be one by it: the other,
/// and how long the longer of the two would be by the shorter and along the run.
fn too_long<'r>(
    run: &'r RunSpec,
    route: &RouteSpec,
    others: &[usize],
    line: &Line,
) -> Option<(usize, &'r RouteSpec, ExactLength)> {
    others.iter().find_map(|at| {
        let other = run.routes.get(*at)?;
        let (from, to) = (line.distance(route.to), line.distance(other.to));
        let along = from.max(to).saturating_sub(from.min(to));
        let by = route.length.min(other.length).saturating_add(along);
        let longer = route.length.max(other.length);
        let is_slip = longer > NEVER_A_SLIP
            && by >= ExactLength::ZERO
            && longer.nanometres() / MOST_DETOUR > by.nanometres();
        is_slip.then_some((*at, other, by))
    })
}
