//! Decoders and switched segments on supplies.

use super::Refused;
use super::assigned::{self, Assigned, room_left, within_room};
use super::{Chosen, DecoderUnit, SegmentWork, SupplyUnit, permitted_power};
use crate::choose::devices::{SupplyFault, SupplyKind, SupplyLoad, SupplyProblem};
use crate::device::SupplySpec;
use crate::finding::Subject;
use crate::id::PlaceId;
use crate::job::Job;
use crate::job::spec::{InstalledKind, InstalledSpec, Service};
use crate::order::Order as _;
use crate::plan::costing::Costing;
use crate::plan::{feeding, fixed, kinds};
use crate::quantity::{amps, fraction, volts, watts};
use crate::rules::devices as device_rules;
use std::collections::BTreeMap;

/// Decoder units of one service at one place that the same kinds of supply may feed.
struct Cluster<'j> {
    place: usize,
    service: Service,
    own: Vec<usize>,
    kinds: Vec<&'j SupplySpec>,
    costing: Costing,
    installed: Vec<&'j InstalledSpec>,
}

/// What may share a supply: service, polarity, kinds permitted.
type Together<'j> = (Service, bool, Vec<&'j str>);

/// Supplies for all decoder_units.
pub(in crate::plan) fn units<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
    decoder_units: &[DecoderUnit<'j>],
) -> Chosen<SupplyUnit<'j>> {
    let mut out = Chosen::default();
    let mut by_place: BTreeMap<usize, BTreeMap<Together<'j>, Vec<usize>>> = BTreeMap::new();
    for (number, decoder_unit) in decoder_units.iter().enumerate() {
        let zone = &job.zones()[decoder_unit.zone];
        let kinds = kinds::supplies(job, zone, &job.places()[decoder_unit.place]);
        let plus = job
            .strip(&zone.strip)
            .is_none_or(|s| s.polarity == crate::network::Polarity::CommonPlus);
        let names = kinds.iter().map(|s| s.name.as_str()).collect();
        let own = by_place.entry(decoder_unit.place).or_default();
        own.entry((zone.service, plus, names))
            .or_default()
            .push(number);
    }
    for (place, together) in by_place {
        at_place(job, segments, decoder_units, place, together, &mut out);
    }
    let ids = super::ids(job, segments);
    fixed::unused_supplies(job, &out.devices, decoder_units, &ids, &mut out.refused);
    number(job, &mut out.devices);
    out
}

fn first(unit: &SupplyUnit<'_>) -> usize {
    unit.outputs
        .iter()
        .flatten()
        .min()
        .copied()
        .unwrap_or(usize::MAX)
}

fn at_place<'j>(
    job: &'j Job,
    segments: &[SegmentWork],
    decoder_units: &[DecoderUnit<'j>],
    place: usize,
    together: BTreeMap<Together<'j>, Vec<usize>>,
    out: &mut Chosen<SupplyUnit<'j>>,
) {
    let here = |i: &&InstalledSpec| i.place == job.places()[place].name;
    let mut free: Vec<&'j InstalledSpec> = job.installed().iter().filter(here).collect();
    let mut clusters = Vec::new();
    for ((service, _, names), own) in together {
        let kinds: Vec<&SupplySpec> = names.iter().filter_map(|n| job.supply(n)).collect();
        if kinds.is_empty() {
            continue;
        }
        // One that serves nothing yet goes to the first that may use it.
        let (installed, rest) = free.into_iter().partition(|i| {
            let kind = matches!(&i.kind, InstalledKind::Supply(k) if names.contains(&k.as_str()));
            let serves = own.iter().any(|b| serves(i, segments, &decoder_units[*b]));
            kind && (serves || i.serves.is_empty())
        });
        free = rest;
        clusters.push(Cluster {
            place,
            service,
            own,
            costing: Costing::of(&kinds, |s| s.price),
            kinds,
            installed,
        });
    }
    for cluster in &mut clusters {
        let about = cluster.about(job);
        if let Err(faults) = cluster.problem(job, segments, decoder_units, None).check()
            && !cluster.installed.is_empty()
        {
            let refused = |f: &SupplyFault| {
                Refused::NotKept(device_rules::left_out(about.clone(), &f.to_string()))
            };
            out.refused.extend(faults.iter().map(refused));
            cluster.installed.clear();
        }
    }
    // What no permitted kind holds goes alone on the strongest; its load is then a finding.
    let mut alone: Vec<Vec<usize>> = Vec::new();
    for cluster in &mut clusters {
        let (own, single) = cluster.own.iter().partition(|b| {
            cluster
                .kinds
                .iter()
                .any(|s| cluster.holds(job, s, &decoder_units[**b]))
        });
        cluster.own = own;
        alone.push(single);
    }
    let solve = |cluster: &Cluster<'_>, room: Option<u32>| {
        assigned::solve(cluster.problem(job, segments, decoder_units, room).check())
    };
    let there = |cluster: &Cluster<'_>| cluster.installed.len();
    let most = room_left(
        job,
        place,
        false,
        clusters.iter().flat_map(|c| &c.installed),
    );
    let found = within_room(&clusters, solve, there, most);
    for ((cluster, found), mut single) in clusters.iter().zip(found).zip(alone) {
        let at = out.assigned.len();
        match found {
            Ok(found) if !cluster.own.is_empty() => {
                let problem = format!(
                    "{}; each draws what its segments draw as fed here, and {} of the power that the load \
                     factor and the ambient leave is planned with",
                    found.problem,
                    crate::quantity::show(fraction(feeding::BESIDE))
                );
                let mut told = Assigned::new(
                    (place, usize::MAX),
                    cluster.about(job),
                    problem,
                    cluster.costing,
                    &found,
                );
                told.alone = single.len();
                out.assigned.push(told);
                let numbers = cluster.own.iter().map(|b| (&*decoder_units[*b].id, *b));
                let numbers: BTreeMap<&str, usize> = numbers.collect();
                let units = found.units.iter();
                out.devices
                    .extend(units.filter_map(|found| unit(cluster, &numbers, found, at)));
                let spares = found.spares.iter();
                out.standby.extend(spares.map(|s| (place, s.kind.clone())));
            }
            Ok(_) => {}
            // Nothing was asked: what is alone is told of by its load.
            Err(_) if cluster.own.is_empty() => {}
            Err(why) => {
                let none = device_rules::no_assignment(cluster.about(job), &why);
                out.refused.push(Refused::Unassigned(none));
                single.extend(&cluster.own);
            }
        }
        let strongest = cluster
            .kinds
            .iter()
            .max_by(|a, b| a.power.value.total_cmp(&b.power.value));
        for decoder_unit in single {
            out.devices.extend(strongest.map(|spec| SupplyUnit {
                id: String::new(),
                spec,
                place,
                outputs: outputs(spec, vec![vec![decoder_unit]]),
                fixed: false,
                assigned: at,
            }));
        }
    }
}

/// Whether an installed supply is said to serve a decoder_unit: by any of its segments.
fn serves(
    installed: &InstalledSpec,
    segments: &[SegmentWork],
    decoder_unit: &DecoderUnit<'_>,
) -> bool {
    let own = decoder_unit.segments();
    own.iter()
        .any(|s| installed.serves.contains(&segments[*s].id))
}

/// Puts the supplies in the order of their places and of the first segment that each feeds, and numbers them so in each
/// place: `PS-riser cupboard-1`. Those that are there already keep their names.
pub(super) fn number(job: &Job, units: &mut [SupplyUnit<'_>]) {
    units.order_by_key(|unit| (unit.place, first(unit)));
    let mut numbers: BTreeMap<usize, usize> = BTreeMap::new();
    for unit in units.iter_mut().filter(|unit| !unit.fixed) {
        let number = numbers.entry(unit.place).or_default();
        *number += 1;
        let place = &job.places()[unit.place].name;
        unit.id = fixed::free_name(job, format!("PS-{place}-{number}"));
    }
}

fn outputs(spec: &SupplySpec, mut used: Vec<Vec<usize>>) -> Vec<Vec<usize>> {
    let count = spec.outputs.max(1) as usize;
    used.resize(count.max(used.len()), Vec::new());
    used
}

fn unit<'j>(
    cluster: &Cluster<'j>,
    numbers: &BTreeMap<&str, usize>,
    found: &crate::choose::devices::LoadedUnit,
    assigned: usize,
) -> Option<SupplyUnit<'j>> {
    let spec = *cluster.kinds.iter().find(|s| s.name == found.kind)?;
    let number = |id: &String| numbers.get(id.as_str()).copied();
    let mut used: Vec<Vec<usize>> = found
        .outputs
        .iter()
        .map(|output| {
            let mut held: Vec<usize> = output.loads.iter().filter_map(number).collect();
            held.sort_unstable();
            held
        })
        .collect();
    used.sort();
    used.iter().flatten().next()?;
    Some(SupplyUnit {
        id: match &found.installed {
            Some(name) => name.clone(),
            // Numbered once all of its place are known.
            None => String::new(),
        },
        spec,
        place: cluster.place,
        outputs: outputs(spec, used),
        fixed: found.installed.is_some(),
        assigned,
    })
}

impl Cluster<'_> {
    fn about(&self, job: &Job) -> Subject {
        Subject::Supplies {
            place: PlaceId::new(&*job.places()[self.place].name),
            service: match self.service {
                Service::Normal => None,
                other => Some(other),
            },
        }
    }

    fn holds(&self, job: &Job, spec: &SupplySpec, decoder_unit: &DecoderUnit<'_>) -> bool {
        let most = permitted_power(job, spec, &job.places()[self.place]) * feeding::BESIDE;
        decoder_unit.watts <= most && decoder_unit.current <= spec.output_current.value
    }

    fn problem(
        &self,
        job: &Job,
        segments: &[SegmentWork],
        decoder_units: &[DecoderUnit<'_>],
        room: Option<u32>,
    ) -> SupplyProblem {
        let place = &job.places()[self.place];
        // Kinds are those of one rated voltage already; set points within it count as the same.
        let rated = self
            .own
            .first()
            .and_then(|b| job.strip(&job.zones()[decoder_units[*b].zone].strip))
            .map_or(volts(0.0), |s| s.rated);
        let load = |b: &usize| SupplyLoad {
            id: decoder_units[*b].id.clone(),
            volts: rated,
            current: amps(decoder_units[*b].current),
            power: watts(decoder_units[*b].watts),
            zone: job.zones()[decoder_units[*b].zone].name.clone(),
            place: place.name.clone(),
            emergency: self.service == Service::Emergency,
        };
        SupplyProblem {
            what: place.name.clone(),
            loads: self.own.iter().map(load).collect(),
            kinds: self
                .kinds
                .iter()
                .map(|s| SupplyKind {
                    name: s.name.clone(),
                    volts: rated,
                    power: s.power * feeding::BESIDE,
                    outputs: s.outputs,
                    output_current: s.output_current,
                    derating: fraction(kinds::derating(s, place.ambient).share),
                    price: self.costing.price(s.price, s.power.value),
                })
                .collect(),
            rules: assigned::rules(
                place,
                room,
                self.installed
                    .iter()
                    .map(|i| {
                        let own = self.own.iter().map(|b| &decoder_units[*b]);
                        let stay = own.filter(|b| serves(i, segments, b)).map(|b| b.id.clone());
                        let emergency = self.service == Service::Emergency;
                        assigned::there(i, rated, emergency, stay.collect())
                    })
                    .collect(),
                place.standby.supplies(),
            ),
            load_factor: job.limits().load_factor,
        }
    }
}
