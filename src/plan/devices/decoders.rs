//! Segments on decoders.

use super::assigned::{self, Assigned, room_left, within_room};
use super::{Chosen, DecoderUnit, Output, Refused, SegmentWork, permitted_power};
use crate::choose::devices::{DecoderKind, DecoderLoad, DecoderProblem, SupplyFault};
use crate::device::DecoderSpec;
use crate::finding::Subject;
use crate::id::{PlaceId, ZoneId};
use crate::job::Job;
use crate::job::spec::{Control, InstalledKind, InstalledSpec};
use crate::order::Order as _;
use crate::plan::costing::Costing;
use crate::plan::{feeding, fixed, kinds};
use crate::quantity::{amps, volts};
use crate::rules::devices as device_rules;
use std::collections::BTreeMap;

/// Segments of one zone at one place.
struct Cluster<'j> {
    zone: usize,
    place: usize,
    own: Vec<usize>,
    kinds: Vec<&'j DecoderSpec>,
    /// Current that a decoder's supply output gives at most.
    cap: f64,
    /// Least share of the segments' currents, all lit, of the sum of their emitters' greatest.
    ///
    /// An emitter draws most when it is lit alone, so those currents add up to more than the decoder
    /// passes at once. The assignment adds them up: each is taken by the share of its segment, and the
    /// limit of an output by the least share, which is never more than the output bears.
    share: f64,
    costing: Costing,
    installed: Vec<&'j InstalledSpec>,
    /// Segments that no kind carries.
    alone: Vec<usize>,
}

/// Decoders, and switched segments, for all segments.
pub(in crate::plan) fn decoder_units<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
) -> Chosen<DecoderUnit<'j>> {
    let mut out = Chosen::default();
    let mut by_place: BTreeMap<usize, BTreeMap<usize, Vec<usize>>> = BTreeMap::new();
    for (number, segment) in segments.iter().enumerate() {
        if job.zones()[segment.zone].control == Control::Switched {
            out.devices.push(switched(segments, number));
            continue;
        }
        let zones = by_place.entry(segment.place).or_default();
        zones.entry(segment.zone).or_default().push(number);
    }
    for (place, zones) in by_place {
        let mut clusters: Vec<Cluster<'j>> = zones
            .into_iter()
            .map(|(zone, own)| cluster(job, segments, place, zone, own))
            .collect();
        clusters.retain(|c| !c.kinds.is_empty());
        at_place(job, segments, place, clusters, &mut out);
    }
    let ids = super::ids(job, segments);
    fixed::unused_decoders(job, &out.devices, &ids, &mut out.refused);
    out.devices
        .order_by_key(|b| b.segments().first().copied().unwrap_or(usize::MAX));
    out
}

pub(super) fn switched<'j>(segments: &[SegmentWork], number: usize) -> DecoderUnit<'j> {
    let segment = &segments[number];
    DecoderUnit {
        id: segment.id.clone(),
        spec: None,
        zone: segment.zone,
        place: segment.place,
        outputs: (0..segment.draw.outputs.len())
            .map(|emitter| Output {
                emitter,
                segments: vec![number],
            })
            .collect(),
        current: segment.draw.current,
        watts: segment.draw.watts,
        fixed: false,
        address: None,
    }
}

fn cluster<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
    place: usize,
    zone: usize,
    own: Vec<usize>,
) -> Cluster<'j> {
    let (spec, at) = (&job.zones()[zone], &job.places()[place]);
    // Watts that go with an ampere, at most: what a supply's power lets through in amperes.
    let watts_per_ampere = own
        .iter()
        .map(|s| segments[*s].draw.watts / segments[*s].draw.current)
        .fold(0.0, f64::max);
    let cap = kinds::supplies(job, spec, at)
        .into_iter()
        .map(|s| {
            let power = permitted_power(job, s, at) * feeding::BESIDE / watts_per_ampere;
            s.output_current.value.min(power)
        })
        .fold(0.0, f64::max);
    let kinds = kinds::decoders(job, spec, at);
    let share = own
        .iter()
        .map(|s| segments[*s].draw.share())
        .fold(1.0, f64::min);
    let holds = |s: &usize| {
        let draw = &segments[*s].draw;
        kinds.iter().any(|d| {
            let most = d.output_current.value * share;
            draw.outputs.iter().all(|a| a * draw.share() <= most)
                && draw.current <= total_current(d, cap)
        })
    };
    let (own, alone): (Vec<usize>, Vec<usize>) = own.into_iter().partition(holds);
    Cluster {
        costing: Costing::of(&kinds, |d| d.price),
        installed: installed(job, zone, place, &kinds),
        zone,
        place,
        own,
        kinds,
        cap,
        share,
        alone,
    }
}

/// What is there already for a zone at a place.
pub(super) fn installed<'j>(
    job: &'j Job,
    zone: usize,
    place: usize,
    kinds: &[&DecoderSpec],
) -> Vec<&'j InstalledSpec> {
    let (zone, place) = (&job.zones()[zone].name, &job.places()[place].name);
    let known = |name: &String| kinds.iter().any(|d| d.name == *name);
    job.installed()
        .iter()
        .filter(|i| i.place == *place && i.zone.as_ref() == Some(zone))
        .filter(|i| matches!(&i.kind, InstalledKind::Decoder(kind) if known(kind)))
        .collect()
}

/// What one decoder may pass: its own limits, and that of the supply output it hangs on.
fn total_current(spec: &DecoderSpec, cap: f64) -> f64 {
    spec.total_current
        .value
        .min(spec.terminal_current.value)
        .min(cap)
}

impl Cluster<'_> {
    fn problem(&self, job: &Job, segments: &[SegmentWork], room: Option<u32>) -> DecoderProblem {
        let (zone, place) = (&job.zones()[self.zone], &job.places()[self.place]);
        let strip = job.strip(&zone.strip);
        let rated = strip.map_or(volts(0.0), |s| s.rated);
        let load = |s: &usize| DecoderLoad {
            id: segments[*s].id.clone(),
            volts: rated,
            // An emitter that is lit in no state still has its output.
            emitters: segments[*s]
                .draw
                .outputs
                .iter()
                .enumerate()
                .map(|(e, a)| {
                    (
                        format!("{e:02}"),
                        amps((a * segments[*s].draw.share()).max(1e-6)),
                    )
                })
                .collect(),
            zone: zone.name.clone(),
            place: place.name.clone(),
            emergency: false,
        };
        DecoderProblem {
            what: self.place(job),
            loads: self.own.iter().map(load).collect(),
            kinds: self
                .kinds
                .iter()
                .map(|d| DecoderKind {
                    name: d.name.clone(),
                    volts: d.volts,
                    outputs: d.outputs,
                    output_current: d.output_current * self.share,
                    total_current: amps(total_current(d, self.cap)),
                    price: self.costing.price(d.price, f64::from(d.outputs)),
                })
                .collect(),
            rules: assigned::rules(
                place,
                room,
                self.installed
                    .iter()
                    .map(|i| {
                        let ids = self.own.iter().map(|s| &segments[*s].id);
                        let stay = ids.filter(|id| i.serves.contains(id)).cloned();
                        assigned::there(i, rated, false, stay.collect())
                    })
                    .collect(),
                place.standby.decoders(),
            ),
        }
    }

    fn place(&self, job: &Job) -> String {
        let (zone, place) = (&job.zones()[self.zone], &job.places()[self.place]);
        format!("{} at {}", zone.name, place.name)
    }

    fn about(&self, job: &Job) -> Subject {
        Subject::Decoders {
            place: PlaceId::new(&*job.places()[self.place].name),
            zone: ZoneId::new(&*job.zones()[self.zone].name),
        }
    }
}

fn at_place<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
    place: usize,
    mut clusters: Vec<Cluster<'j>>,
    out: &mut Chosen<DecoderUnit<'j>>,
) {
    for cluster in &mut clusters {
        let about = cluster.about(job);
        if let Err(faults) = cluster.problem(job, segments, None).check()
            && !cluster.installed.is_empty()
        {
            // What is fixed contradicts a limit: it is said, and left out.
            let refused = |f: &SupplyFault| {
                Refused::NotKept(device_rules::left_out(about.clone(), &f.to_string()))
            };
            out.refused.extend(faults.iter().map(refused));
            cluster.installed.clear();
        }
    }
    let solve = |cluster: &Cluster<'_>, room: Option<u32>| {
        assigned::solve(cluster.problem(job, segments, room).check())
    };
    let there = |cluster: &Cluster<'_>| cluster.installed.len();
    let most = room_left(job, place, true, clusters.iter().flat_map(|c| &c.installed));
    let found = within_room(&clusters, solve, there, most);
    for (cluster, found) in clusters.iter().zip(found) {
        let mut single = cluster.alone.clone();
        match found {
            Ok(found) if !cluster.own.is_empty() => {
                let mut told = Assigned::new(
                    (place, cluster.zone),
                    cluster.about(job),
                    format!(
                        "{}; the currents of each segment as fed here; a decoder hangs on one output of one \
                         supply and passes at most {:.2} A",
                        found.problem, cluster.cap
                    ),
                    cluster.costing,
                    &found,
                );
                told.alone = cluster.alone.len();
                out.assigned.push(told);
                let numbers = cluster.own.iter().map(|s| (&*segments[*s].id, *s));
                let numbers: BTreeMap<&str, usize> = numbers.collect();
                let decoders = found.units.iter();
                let decoders: Vec<DecoderUnit<'j>> = decoders
                    .filter_map(|unit| decoder(job, cluster, segments, &numbers, unit))
                    .collect();
                out.devices.extend(decoders);
                out.standby
                    .extend(found.spares.iter().map(|s| (place, s.kind.clone())));
            }
            Ok(_) => {}
            Err(_) if cluster.own.is_empty() => {}
            Err(why) => {
                let none = device_rules::no_assignment(cluster.about(job), &why);
                out.refused.push(Refused::Unassigned(none));
                single.extend(&cluster.own);
            }
        }
        for segment in single {
            let kind = cluster.kinds.iter().max_by(|a, b| {
                let strength = |d: &DecoderSpec| d.output_current.value;
                strength(a)
                    .total_cmp(&strength(b))
                    .then(b.name.cmp(&a.name))
            });
            out.devices.extend(kind.map(|spec| DecoderUnit {
                id: fixed::free_name(job, format!("D-{}", segments[segment].id)),
                spec: Some(*spec),
                ..switched(segments, segment)
            }));
        }
    }
}

fn decoder<'j>(
    job: &'j Job,
    cluster: &Cluster<'j>,
    segments: &[SegmentWork],
    numbers: &BTreeMap<&str, usize>,
    found: &crate::choose::devices::LoadedUnit,
) -> Option<DecoderUnit<'j>> {
    let spec = cluster.kinds.iter().find(|d| d.name == found.kind)?;
    let number_of = |id: &String| numbers.get(id.as_str()).copied();
    let outputs: Vec<Output> = found
        .outputs
        .iter()
        .filter_map(|output| {
            let (_, emitter) = output.signal.as_ref()?;
            let mut held: Vec<usize> = output.loads.iter().filter_map(number_of).collect();
            held.sort_unstable();
            Some(Output {
                emitter: emitter.parse().ok()?,
                segments: held,
            })
        })
        .collect();
    let installed = found.installed.as_ref();
    let installed = installed.and_then(|name| job.installed().iter().find(|i| i.name == *name));
    let of = (cluster.zone, cluster.place);
    decoder_unit(job, segments, of, spec, installed, outputs)
}

/// A decoder, of a zone and a place, with its outputs in use.
pub(super) fn decoder_unit<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
    (zone, place): (usize, usize),
    spec: &'j DecoderSpec,
    installed: Option<&'j InstalledSpec>,
    mut outputs: Vec<Output>,
) -> Option<DecoderUnit<'j>> {
    // Segment by segment, and its emitters in their order: so they are wired.
    outputs.order_by_key(|o| (o.segments.first().copied(), o.emitter));
    let mut decoder_unit = DecoderUnit {
        id: String::new(),
        spec: Some(spec),
        zone,
        place,
        outputs,
        current: 0.0,
        watts: 0.0,
        fixed: installed.is_some(),
        address: installed.and_then(|i| i.address),
    };
    let own = decoder_unit.segments();
    decoder_unit.id = match (installed, own.first()) {
        (Some(i), _) => i.name.clone(),
        (None, Some(first)) => fixed::free_name(job, format!("D-{}", segments[*first].id)),
        (None, None) => return None,
    };
    decoder_unit.current = own.iter().map(|s| segments[*s].draw.current).sum();
    decoder_unit.watts = own.iter().map(|s| segments[*s].draw.watts).sum();
    Some(decoder_unit)
}
