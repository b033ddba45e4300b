//! Universes and chains.

use super::books::Books;
use super::general::{not_negative, positive, within};
use super::names::{Names, check_text};
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{ChainSpec, ChainStop, UniverseSpec};
use crate::quantity::shorten;
use std::collections::{BTreeMap, BTreeSet};

/// Most stops of a chain that are read: far beyond what one line drives.
const MOST_STOPS: usize = 1024;

/// Universes.
pub(super) fn universes(universes: &[(String, &UniverseSpec)], faults: &mut Faults) {
    let mut numbers: BTreeMap<u16, &str> = BTreeMap::new();
    for (subject, universe) in universes {
        check_text(subject, "port", &universe.port, faults);
        within(
            faults,
            subject,
            "number",
            (1..=63_999).contains(&universe.number),
            format!("is {}", universe.number),
            "Universes are numbered from 1 to 63999".to_string(),
        );
        if let Some(other) = numbers.insert(universe.number, &universe.name)
            && faults.sound(subject, &["number"])
        {
            faults.say(
                FaultKind::Duplicate,
                (subject, "number"),
                format!(
                    "is {}, the number of `{}` as well",
                    universe.number,
                    shorten(other)
                ),
                "Give each universe its own number",
            );
        }
        let mut taken = BTreeSet::new();
        for (index, range) in universe.taken.iter().enumerate() {
            let here = format!("taken {}", index + 1);
            let holds = range.from >= 1 && range.from <= range.to && range.to <= 512;
            within(
                faults,
                subject,
                &here,
                holds,
                format!("goes from {} to {}", range.from, range.to),
                "Slots go from 1 to 512 (ANSI E1.11)".to_string(),
            );
            if holds && (range.from..=range.to).any(|slot| !taken.insert(slot)) {
                faults.say(
                    FaultKind::Duplicate,
                    (subject, &here),
                    "overlaps another range",
                    "Write every slot once",
                );
            }
        }
    }
}

/// Chains.
pub(super) fn chains(chains: &[(String, &ChainSpec)], books: &Books, faults: &mut Faults) {
    let mut passed: BTreeMap<(&str, &str), &str> = BTreeMap::new();
    for (subject, chain) in chains {
        books
            .universes
            .refer(subject, "universe", &chain.universe, faults);
        if let Some(terminator) = chain.terminator {
            positive(faults, subject, "terminator", terminator);
        }
        if chain.stops.is_empty() && faults.sound(subject, &["stops"]) {
            faults.say(
                FaultKind::Missing,
                (subject, "stops"),
                "is empty",
                "Write what the chain passes, in order from the port",
            );
        }
        within(
            faults,
            subject,
            "stops",
            chain.stops.len() <= MOST_STOPS,
            format!("has {} entries", chain.stops.len()),
            format!("Split the chain: at most {MOST_STOPS} are taken"),
        );
        let mut others = Names::take("device of the chain", std::iter::empty(), faults);
        for (index, stop) in chain.stops.iter().enumerate() {
            let here = format!("stops {}", index + 1);
            let field = |key: &str| format!("{here}: {key}");
            match stop {
                ChainStop::Other { name, length, .. } => {
                    others.add(subject, &field("device"), name, faults);
                    not_negative(faults, subject, &field("length"), *length);
                }
                ChainStop::Place {
                    place,
                    length,
                    between,
                } => {
                    not_negative(faults, subject, &field("length"), *length);
                    not_negative(faults, subject, &field("between"), *between);
                    if !books.places.refer(subject, &field("place"), place, faults) {
                        continue;
                    }
                    let before = passed.insert((&chain.universe, place), &chain.name);
                    if let Some(other) = before {
                        faults.say(
                            FaultKind::Duplicate,
                            (subject, &field("place")),
                            format!(
                                "is `{}`, which the chain `{}` of the same universe passes as well",
                                shorten(place),
                                shorten(other)
                            ),
                            "Pass each place once: its decoders stand on one chain",
                        );
                    }
                }
            }
        }
    }
}
