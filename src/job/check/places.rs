//! Places, the ways between them, and zones.

use super::books::Books;
use super::general::{not_negative, plausible_temperature};
use super::names::check_text;
use super::runs::enough_cores;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{Control, PlaceSpec, Together, ZoneSpec};
use crate::quantity::shorten;
use std::collections::BTreeSet;

/// Places and the ways between them.
pub(super) fn places(places: &[(String, &PlaceSpec)], books: &Books, faults: &mut Faults) {
    let mut pairs = BTreeSet::new();
    for (subject, place) in places {
        check_text(subject, "room", &place.room, faults);
        check_text(subject, "access", &place.access, faults);
        check_text(subject, "circuit", &place.circuit, faults);
        plausible_temperature(faults, subject, "ambient", place.ambient);
        books
            .supplies
            .refer_all(subject, "supplies", &place.supplies, faults);
        books
            .decoders
            .refer_all(subject, "decoders", &place.decoders, faults);
        books
            .cables
            .refer_all(subject, "lead_cables", &place.lead_cables, faults);
        if let Some(lead) = place.lead {
            not_negative(faults, subject, "lead", lead);
        }
        for (index, way) in place.ways.iter().enumerate() {
            let here = format!("ways {}", index + 1);
            let field = |key: &str| format!("{here}: {key}");
            books
                .cables
                .refer_all(subject, &field("cables"), &way.cables, faults);
            not_negative(faults, subject, &field("length"), way.length);
            if !books.places.refer(subject, &field("to"), &way.to, faults) {
                continue;
            }
            if way.to == place.name {
                faults.say(
                    FaultKind::Contradiction,
                    (subject, &field("to")),
                    "leads back to the place itself",
                    "Name another place; the lead inside a place is its `lead`",
                );
                continue;
            }
            let pair = if way.to < place.name {
                (way.to.as_str(), place.name.as_str())
            } else {
                (place.name.as_str(), way.to.as_str())
            };
            if !pairs.insert(pair) {
                faults.say(
                    FaultKind::Duplicate,
                    (subject, &here),
                    format!(
                        "is a second way between `{}` and `{}`",
                        shorten(pair.0),
                        shorten(pair.1)
                    ),
                    "Write one way for each pair of places: it counts in both directions",
                );
            }
        }
    }
}

/// Zones.
pub(super) fn zones(zones: &[(String, &ZoneSpec)], books: &Books, faults: &mut Faults) {
    for (subject, zone) in zones {
        books.strips.refer(subject, "strip", &zone.strip, faults);
        if zone.places.is_empty() && faults.sound(subject, &["places"]) {
            faults.say(
                FaultKind::Missing,
                (subject, "places"),
                "is empty",
                "Name the places in which its supplies and decoders may be put",
            );
        }
        books
            .places
            .refer_all(subject, "places", &zone.places, faults);
        books
            .supplies
            .refer_all(subject, "supplies", &zone.supplies, faults);
        books
            .decoders
            .refer_all(subject, "decoders", &zone.decoders, faults);
        books
            .cables
            .refer_all(subject, "cables", &zone.cables, faults);
        let needed = books.conductors_of_strip(&zone.strip);
        enough_cores(subject, "cables", &zone.cables, needed, books, faults);
        match &zone.universe {
            Some(name) => {
                books.universes.refer(subject, "universe", name, faults);
            }
            None if matches!(zone.control, Control::Dmx { .. }) && books.universe_count > 1 => {
                faults.say(
                    FaultKind::Missing,
                    (subject, "universe"),
                    format!("is missing: the job has {}", books.universe_count),
                    "Name the one its decoders listen to",
                );
            }
            None => {}
        }
        control(subject, zone, books, faults);
        together(subject, zone, books, faults);
    }
}

fn control(subject: &str, zone: &ZoneSpec, books: &Books, faults: &mut Faults) {
    let over_dmx = matches!(zone.control, Control::Dmx { .. });
    if over_dmx && faults.sound(subject, &["control"]) {
        if books.decoders.is_empty() {
            faults.say(
                FaultKind::Missing,
                (subject, "control"),
                "needs decoders, and the job has none",
                "Write at least one [[decoder]], or control = \"switched\"",
            );
        }
        if books.universe_count == 0 {
            faults.say(
                FaultKind::Missing,
                (subject, "universe"),
                "is missing: the job has none",
                "Write a [[universe]], or control = \"switched\"",
            );
        }
    }
    if !over_dmx && !zone.decoders.is_empty() && faults.sound(subject, &["control", "decoders"]) {
        faults.say(
            FaultKind::Contradiction,
            (subject, "decoders"),
            "names decoders for a switched zone",
            "Leave them out, or write control = \"8 bit\" or \"16 bit\"",
        );
    }
}

fn together(subject: &str, zone: &ZoneSpec, books: &Books, faults: &mut Faults) {
    let Together::Listed(sets) = &zone.together else {
        return;
    };
    if !faults.sound(subject, &["together", "strip"]) {
        return;
    }
    if sets.is_empty() || sets.iter().any(Vec::is_empty) {
        faults.say(
            FaultKind::Missing,
            (subject, "together"),
            "is empty, or has an empty set",
            "Write sets of emitters that are lit together, like [[\"warm\", \"cool\"]], or leave it out",
        );
        return;
    }
    let Some(emitters) = books.emitters.get(&zone.strip) else {
        return;
    };
    for name in sets.iter().flatten() {
        if !emitters.contains(name) {
            let known: Vec<String> = emitters
                .iter()
                .map(|e| format!("`{}`", shorten(e)))
                .collect();
            faults.say(
                FaultKind::UnknownName,
                (subject, "together"),
                format!(
                    "`{}` is not an emitter of the strip `{}`",
                    shorten(name),
                    shorten(&zone.strip)
                ),
                format!("It has {}", known.join(", ")),
            );
            return;
        }
    }
}
