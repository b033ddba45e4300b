//! What is already there must be something the job knows.

use super::books::Books;
use super::on_run::on_the_run;
use super::path::Line;
use crate::exact::ExactLength;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{Control, InstalledKind, InstalledSpec, JobSpec, RunSpec, Sharing};
use crate::order::Order as _;
use crate::quantity::shorten;
use std::collections::BTreeMap;

/// Installed supplies and decoders.
pub(super) fn installed(
    list: &[(String, &InstalledSpec)],
    spec: &JobSpec,
    books: &Books,
    faults: &mut Faults,
) {
    let mut served: BTreeMap<(bool, &str), &str> = BTreeMap::new();
    for (subject, own) in list {
        books.places.refer(subject, "place", &own.place, faults);
        let decoder = match &own.kind {
            InstalledKind::Supply(kind) => {
                books.supplies.refer(subject, "supply", kind, faults);
                false
            }
            InstalledKind::Decoder(kind) => {
                books.decoders.refer(subject, "decoder", kind, faults);
                true
            }
        };
        match &own.zone {
            Some(zone) => zone_of(subject, zone, own, spec, books, faults),
            None if decoder => faults.say(
                FaultKind::Missing,
                (subject, "zone"),
                "is missing: a decoder serves one zone",
                "Name the zone it serves",
            ),
            None => {}
        }
        for (given, field) in [
            (own.zone.is_some(), "zone"),
            (own.address.is_some(), "address"),
            (own.shares_slots == Sharing::OnPurpose, "shares_slots"),
        ] {
            if given && !decoder {
                faults.say(
                    FaultKind::Contradiction,
                    (subject, field),
                    "is stated for a supply",
                    "Leave it out: only decoders have one",
                );
            }
        }
        for id in &own.serves {
            let run = id.rsplit_once('.').and_then(|(run, number)| {
                number.parse::<u32>().ok().filter(|n| *n >= 1)?;
                spec.runs.iter().find(|r| r.name == run)
            });
            if run.is_none() {
                faults.say(
                    FaultKind::UnknownName,
                    (subject, "serves"),
                    format!("`{}` is not a segment of a run of this job", shorten(id)),
                    "Write the run and the number of the segment, like \"A1.2\"",
                );
            } else if let Some(other) = served.insert((decoder, id), subject) {
                faults.say(
                    FaultKind::Contradiction,
                    (subject, "serves"),
                    format!("`{}` stays on {other} already", shorten(id)),
                    "Name it once",
                );
            }
        }
    }
}

fn zone_of(
    subject: &str,
    zone: &str,
    own: &InstalledSpec,
    spec: &JobSpec,
    books: &Books,
    faults: &mut Faults,
) {
    if !books.zones.refer(subject, "zone", zone, faults) {
        return;
    }
    let Some(zone) = spec.zones.iter().find(|z| z.name == zone) else {
        return;
    };
    if zone.control == Control::Switched {
        faults.say(
            FaultKind::Contradiction,
            (subject, "zone"),
            format!("`{}` is switched and has no decoders", shorten(&zone.name)),
            "Name a zone with a decoder",
        );
    }
    if !zone.places.contains(&own.place) && faults.sound(subject, &["place"]) {
        faults.say(
            FaultKind::Contradiction,
            (subject, "place"),
            format!(
                "`{}` is not a place of the zone `{}`",
                shorten(&own.place),
                shorten(&zone.name)
            ),
            "Add it to the places of the zone, or name another",
        );
    }
}

/// Segments that stay must leave each other room, and no forced break may lie in them: `mark` apart, what is meant is one cut mark.
fn overlapping(subject: &str, run: &RunSpec, line: &Line, mark: ExactLength, faults: &mut Faults) {
    if !faults.sound(subject, &["fixed_segments", "breaks"]) {
        return;
    }
    let ends = |at: usize| {
        let segment = run.fixed_segments.get(at)?;
        Some((line.distance(segment.from), line.distance(segment.to)))
    };
    let mut order: Vec<usize> = (0..run.fixed_segments.len()).collect();
    order.order_by_key(|at| ends(*at));
    for pair in order.windows(2) {
        let &[first, second] = pair else { continue };
        if let (Some((from, to)), Some((next, end))) = (ends(first), ends(second))
            && next.saturating_add(mark) < to
        {
            faults.say(
                FaultKind::Contradiction,
                (subject, &format!("fixed_segments {}", second + 1)),
                format!(
                    "goes from {next} to {end}, and fixed_segments {} from {from} to {to}",
                    first + 1
                ),
                "Segments that stay cannot overlap: correct the one or the other",
            );
        }
    }
    for at in &run.layout.breaks {
        let broken = order.iter().find(|index| {
            ends(**index).is_some_and(|(from, to)| {
                at.saturating_sub(mark) > from && at.saturating_add(mark) < to
            })
        });
        if let Some(index) = broken {
            faults.say(
                FaultKind::Contradiction,
                (subject, "breaks"),
                format!("has one at {at}, inside fixed_segments {}", index + 1),
                "Move the one or the other: a segment that stays is not cut",
            );
        }
    }
}

/// Segments and feeds of a run that stay.
pub(super) fn of_run(
    subject: &str,
    run: &RunSpec,
    line: &Line,
    books: &Books,
    faults: &mut Faults,
) {
    for (index, segment) in run.fixed_segments.iter().enumerate() {
        let here = format!("fixed_segments {}", index + 1);
        on_the_run(
            subject,
            &format!("{here}: from"),
            segment.from,
            line,
            faults,
        );
        on_the_run(subject, &format!("{here}: to"), segment.to, line, faults);
        if line.distance(segment.from) >= line.distance(segment.to) {
            faults.say(
                FaultKind::Contradiction,
                (subject, &here),
                "ends where it begins, or before",
                "Write from nearer to the start than to",
            );
        }
    }
    let strip = books.strip_of_zone.get(&run.zone);
    if let Some(pitch) = strip.and_then(|strip| books.pitches.get(strip)) {
        overlapping(subject, run, line, pitch.length_of(1), faults);
    }
    for (index, feed) in run.fixed_feeds.iter().enumerate() {
        let field = |key: &str| format!("fixed_feeds {}: {key}", index + 1);
        on_the_run(subject, &field("at"), feed.at, line, faults);
        if let Some(place) = &feed.place {
            books.places.refer(subject, &field("from"), place, faults);
        }
        if let Some(cable) = &feed.cable {
            books.cables.refer(subject, &field("cable"), cable, faults);
        }
    }
}
