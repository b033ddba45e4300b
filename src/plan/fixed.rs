//! What is already there or was chosen by hand, as the searches take it, and what is said where it cannot stay.

use super::devices::{DecoderUnit, Refused, SupplyUnit};
use super::laid::RunWork;
use crate::choose::feeding::{Fixed, FixedFeed, FixedSegment};
use crate::job::Job;
use crate::job::spec::{InstalledKind, InstalledSpec};
use crate::layout::spec::RunPoint;
use crate::rules::devices;
use std::collections::BTreeSet;

/// Segments and feeds of a run that stay, at their cut marks.
pub(super) fn of_run(work: &RunWork<'_>) -> Fixed {
    let mark = |point: RunPoint| match point {
        RunPoint::Start => 0,
        RunPoint::At(at) => work.layout.mark_near(at),
        RunPoint::End => work.layout.increments(),
    };
    Fixed {
        segments: work
            .spec
            .fixed_segments
            .iter()
            .map(|s| FixedSegment {
                from: mark(s.from),
                to: mark(s.to),
                pattern: s.fed,
            })
            .collect(),
        feeds: work
            .spec
            .fixed_feeds
            .iter()
            .map(|f| FixedFeed {
                at: mark(f.at),
                place: f.place.clone(),
                cable: f.cable.clone(),
            })
            .collect(),
    }
}

/// A name for a device that is bought: none that an installed one has.
pub(super) fn free_name(job: &Job, wanted: String) -> String {
    let taken = |name: &str| job.installed().iter().any(|i| i.name == name);
    let mut name = wanted;
    while taken(&name) {
        name.push('b');
    }
    name
}

/// Installed devices that the plan does not use: they keep their places and their slots. `decoders`: those; else supplies.
pub(super) fn idle<'j>(
    job: &'j Job,
    decoders: bool,
    used: &BTreeSet<&str>,
) -> Vec<&'j InstalledSpec> {
    let all = job.installed().iter();
    all.filter(|own| is_decoder(own) == decoders && !used.contains(own.name.as_str()))
        .collect()
}

fn is_decoder(installed: &InstalledSpec) -> bool {
    matches!(installed.kind, InstalledKind::Decoder(_))
}

/// Devices that take up the room of a place beside those in use: what is there and idle.
pub(super) fn idle_at(job: &Job, place: usize, decoders: bool, used: &BTreeSet<&str>) -> usize {
    let name = &job.places()[place].name;
    let idle = idle(job, decoders, used);
    idle.iter().filter(|own| own.place == *name).count()
}

/// Installed decoders whose segments are not on them.
pub(super) fn unused_decoders(
    job: &Job,
    decoder_units: &[DecoderUnit<'_>],
    ids: &[(String, String)],
    refused: &mut Vec<Refused>,
) {
    for installed in job.installed().iter().filter(|i| is_decoder(i)) {
        let held: Vec<&str> = decoder_units
            .iter()
            .filter(|b| b.id == installed.name)
            .flat_map(|b| b.segments())
            .filter_map(|s| ids.get(s))
            .map(|(id, _)| id.as_str())
            .collect();
        missing(installed, &held, ids, refused);
    }
}

/// Installed supplies whose segments are not on them.
pub(super) fn unused_supplies(
    job: &Job,
    units: &[SupplyUnit<'_>],
    decoder_units: &[DecoderUnit<'_>],
    ids: &[(String, String)],
    refused: &mut Vec<Refused>,
) {
    for installed in job.installed().iter().filter(|i| !is_decoder(i)) {
        let held: Vec<&str> = units
            .iter()
            .filter(|u| u.id == installed.name)
            .flat_map(|u| u.outputs.iter().flatten())
            .flat_map(|b| decoder_units[*b].segments())
            .filter_map(|s| ids.get(s))
            .map(|(id, _)| id.as_str())
            .collect();
        missing(installed, &held, ids, refused);
    }
}

/// Says of every segment that should be on a device and is not, why. `ids`: segments with their places.
fn missing(
    installed: &InstalledSpec,
    held: &[&str],
    ids: &[(String, String)],
    refused: &mut Vec<Refused>,
) {
    let device = &installed.name;
    for wanted in installed
        .serves
        .iter()
        .filter(|id| !held.contains(&id.as_str()))
    {
        let found = ids.iter().find(|(id, _)| id == wanted);
        refused.push(Refused::NotKept(match found {
            None => {
                let run = wanted.rsplit_once('.').map_or("", |(run, _)| run);
                let count = ids
                    .iter()
                    .filter(|(id, _)| id.rsplit_once('.').is_some_and(|(own, _)| own == run))
                    .count();
                devices::no_segment(device, wanted, run, count)
            }
            Some((_, from)) if *from != installed.place => {
                devices::elsewhere(device, wanted, from, &installed.place)
            }
            Some(_) => devices::too_small(device, wanted, installed.kind.name()),
        }));
    }
}
