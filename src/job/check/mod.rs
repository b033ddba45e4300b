//! What a job must be before it can be planned: everything that is wrong, at once.

mod books;
mod candidates;
mod control;
mod fixed;
mod general;
mod names;
mod on_run;
mod path;
mod places;
mod products;
mod profiles;
mod runs;
mod tape;

use super::checked::Job;
use super::fault::{Faults, JobFaults};
use super::spec::JobSpec;
use super::subjects::Subjects;
use books::Books;
use names::Names;

/// Checks a job that a program built, or says everything that is wrong with it.
///
/// Names, references, ranges and what contradicts itself; what a run or a supply physically
/// cannot do is no fault but a finding of the plan.
///
/// Time and memory are proportional to the job's size, with a logarithm for the names.
///
/// # Errors
/// [`JobFaults`]: all faults, each with table, field, what was found and how to mend it.
pub fn check(spec: JobSpec) -> Result<Job, JobFaults> {
    finish(spec, Faults::default(), "")
}

/// Checks what was read and ends with a job or all faults, those of reading among them.
pub(super) fn finish(spec: JobSpec, mut faults: Faults, file: &str) -> Result<Job, JobFaults> {
    walk(&spec, &mut faults);
    if faults.is_empty() {
        Ok(Job::assemble(spec, faults.places, file))
    } else {
        Err(faults.into_job_faults(file))
    }
}

/// Tables with the words that messages call them by.
fn called<'s, T>(
    kind: &'static str,
    tables: &'s [T],
    name: impl Fn(&T) -> &str,
) -> Vec<(String, &'s T)> {
    let mut subjects = Subjects::default();
    tables
        .iter()
        .map(|table| (subjects.next(kind, name(table)), table))
        .collect()
}

fn book<T>(
    kind: &'static str,
    tables: &[(String, &T)],
    name: impl Fn(&T) -> &str,
    faults: &mut Faults,
) -> Names {
    Names::take(
        kind,
        tables
            .iter()
            .map(|(subject, table)| (subject.as_str(), name(table))),
        faults,
    )
}

/// Says everything that is wrong with a job's names, ranges and references.
pub(super) fn walk(spec: &JobSpec, faults: &mut Faults) {
    let strips = called("strip", &spec.strips, |t| &t.name);
    let cables = called("cable", &spec.cables, |t| &t.name);
    let supplies = called("supply", &spec.supplies, |t| &t.name);
    let decoders = called("decoder", &spec.decoders, |t| &t.name);
    let profiles = called("profile", &spec.profiles, |t| &t.name);
    let places = called("place", &spec.places, |t| &t.name);
    let zones = called("zone", &spec.zones, |t| &t.name);
    let runs = called("run", &spec.runs, |t| &t.name);
    let installed = called("installed", &spec.installed, |t| &t.name);
    let universes = called("universe", &spec.universes, |t| &t.name);
    let chains = called("chain", &spec.chains, |t| &t.name);
    let candidates = called("candidate", &spec.candidates, |t| &t.name);

    general::job(spec, faults);
    general::limits(&spec.limits.resolve(), faults);
    for (kind, count) in [
        ("strip", spec.strips.len()),
        ("cable", spec.cables.len()),
        ("supply", spec.supplies.len()),
        ("place", spec.places.len()),
        ("zone", spec.zones.len()),
        ("run", spec.runs.len()),
    ] {
        general::not_empty(kind, count, faults);
    }
    tape::strips(&strips, faults);
    products::cables(&cables, faults);
    products::supplies(&supplies, faults);
    products::decoders(&decoders, faults);
    let books = Books {
        strips: book("strip", &strips, |t| &t.name, faults),
        cables: book("cable", &cables, |t| &t.name, faults),
        supplies: book("supply", &supplies, |t| &t.name, faults),
        decoders: book("decoder", &decoders, |t| &t.name, faults),
        profiles: book("profile", &profiles, |t| &t.name, faults),
        places: book("place", &places, |t| &t.name, faults),
        zones: book("zone", &zones, |t| &t.name, faults),
        universes: book("universe", &universes, |t| &t.name, faults),
        universe_count: spec.universes.len(),
        strip_of_zone: spec
            .zones
            .iter()
            .map(|zone| (zone.name.clone(), zone.strip.clone()))
            .collect(),
        places_of_zone: spec
            .zones
            .iter()
            .map(|zone| (zone.name.clone(), zone.places.clone()))
            .collect(),
        zone_has_cables: spec
            .zones
            .iter()
            .map(|zone| (zone.name.clone(), !zone.cables.is_empty()))
            .collect(),
        emitters: strips
            .iter()
            .filter(|(subject, _)| faults.sound(subject, &["emitters"]))
            .map(|(_, strip)| {
                let names = strip.emitters.iter().map(|e| e.name.clone()).collect();
                (strip.name.clone(), names)
            })
            .collect(),
        pitches: strips
            .iter()
            .filter(|(subject, _)| faults.sound(subject, &["cut_pitch"]))
            .map(|(_, strip)| (strip.name.clone(), strip.pitch))
            .collect(),
        cores: cables
            .iter()
            .filter(|(subject, _)| faults.sound(subject, &["cores"]))
            .map(|(_, cable)| (cable.name.clone(), cable.cores))
            .collect(),
    };
    book("installed", &installed, |t| &t.name, faults);
    book("run", &runs, |t| &t.name, faults);
    book("chain", &chains, |t| &t.name, faults);
    book("candidate", &candidates, |t| &t.name, faults);
    general::prices(spec, faults);
    profiles::profiles(&profiles, faults);
    places::places(&places, &books, faults);
    places::zones(&zones, &books, faults);
    runs::runs(&runs, &books, faults);
    fixed::installed(&installed, spec, &books, faults);
    control::universes(&universes, faults);
    control::chains(&chains, &books, faults);
    candidates::candidates(&candidates, &books, faults);
}
