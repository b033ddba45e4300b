//! Which decoder and which supply serves which segment.
//!
//! Segments of one zone at one place share decoders, and outputs of one decoder where the current
//! allows: what shares an output dims together. Decoders, and switched segments, of one service at one
//! place share supplies. Both are filled first-fit; supplies by falling load, with every permitted kind
//! tried and the cheapest whole set taken, each then exchanged for the cheapest kind that
//! still holds its load. That is no proof of the least price, and no output says so.

use super::feeding;
use super::kinds;
use super::laid::RunWork;
use crate::device::{DecoderSpec, SupplySpec};
use crate::exact::ExactLength;
use crate::feed;
use crate::job::Job;
use crate::job::spec::{Control, PlaceSpec, Service};
use crate::quantity::Corners;

/// A segment of a run, with what it draws by itself.
pub(super) struct SegmentWork {
    pub id: String,
    /// Run, by its place in the list of runs at work; segment of that run.
    pub run: usize,
    pub number: usize,
    pub zone: usize,
    pub tape: usize,
    /// Place, by its place in the job.
    pub place: usize,
    pub plan: feed::Segment,
    /// High corner by emitter; all together; nominal power from the source.
    pub outputs: Vec<f64>,
    pub current: f64,
    pub watts: f64,
}

/// A decoder of the plan, or the segments of a switched zone on one supply output.
pub(super) struct Body<'j> {
    pub id: String,
    pub spec: Option<&'j DecoderSpec>,
    pub zone: usize,
    pub place: usize,
    /// Segments on each group of outputs.
    pub groups: Vec<Vec<usize>>,
    pub current: f64,
    pub watts: f64,
}

/// A supply of the plan.
pub(super) struct Unit<'j> {
    pub id: String,
    pub spec: &'j SupplySpec,
    pub place: usize,
    /// Bodies on each output.
    pub outputs: Vec<Vec<usize>>,
}

/// Every segment of every run that is fed.
pub(super) fn segments(job: &Job, runs: &[RunWork<'_>]) -> Vec<SegmentWork> {
    let mut out = Vec::new();
    for (run, work) in runs.iter().enumerate() {
        let Some(plan) = &work.plan else { continue };
        for (number, segment) in plan.segments.iter().enumerate() {
            let Some(place) = job.places().iter().position(|p| p.name == segment.place) else {
                continue;
            };
            let emitters = job.strips()[work.tape].emitters.len();
            let mut outputs = vec![0.0; emitters];
            for conductor in segment.feeds.iter().flat_map(|f| &f.conductors) {
                if let feed::Conductor::Return(e) = conductor.conductor {
                    outputs[e] += conductor.current.value;
                }
            }
            out.push(SegmentWork {
                id: format!("{}.{}", work.spec.name, number + 1),
                run,
                number,
                zone: work.zone_at,
                tape: work.tape,
                place,
                outputs,
                current: segment.figures.current.high.value,
                watts: segment.figures.power.nominal.value,
                plan: segment.clone(),
            });
        }
    }
    out
}

/// Decoders, and switched groups, for all segments.
pub(super) fn bodies<'j>(job: &'j Job, segments: &[SegmentWork]) -> Vec<Body<'j>> {
    let mut out: Vec<Body<'j>> = Vec::new();
    for (number, segment) in segments.iter().enumerate() {
        let zone = &job.zones()[segment.zone];
        let place = &job.places()[segment.place];
        if zone.control == Control::Switched {
            out.push(Body {
                id: segment.id.clone(),
                spec: None,
                zone: segment.zone,
                place: segment.place,
                groups: vec![vec![number]],
                current: segment.current,
                watts: segment.watts,
            });
            continue;
        }
        // A decoder hangs on one output of one supply: it may not outgrow the largest.
        let kinds = kinds::supplies(job, zone, place);
        let most =
            |of: &dyn Fn(&SupplySpec) -> f64| kinds.iter().map(|s| of(s)).fold(0.0, f64::max);
        let amps = most(&|s| s.output_current.value);
        let watts = most(&|s| permitted_power(job, s, place));
        let held = out
            .iter_mut()
            .filter(|b| b.zone == segment.zone && b.place == segment.place)
            .filter(|b| {
                b.current + segment.current <= amps
                    && b.watts + segment.watts <= watts * feeding::BESIDE
            })
            .any(|body| fits(body, segments, number));
        if held {
            continue;
        }
        let kinds = kinds::decoders(job, zone, place);
        let takes = |d: &&&DecoderSpec| {
            segment.outputs.iter().all(|a| *a <= d.output_current.value)
                && segment.current <= d.total_current.value.min(d.terminal_current.value)
        };
        let Some(spec) = kinds.iter().find(takes).or(kinds.last()).copied() else {
            continue;
        };
        out.push(Body {
            id: format!("D-{}", segment.id),
            spec: Some(spec),
            zone: segment.zone,
            place: segment.place,
            groups: vec![vec![number]],
            current: segment.current,
            watts: segment.watts,
        });
    }
    out
}

/// Puts a segment on a decoder if it has room: on an output in use first, then on free ones.
fn fits(body: &mut Body<'_>, segments: &[SegmentWork], number: usize) -> bool {
    let Some(spec) = body.spec else { return false };
    let segment = &segments[number];
    let most = spec.total_current.value.min(spec.terminal_current.value);
    if !(body.current + segment.current <= most) {
        return false;
    }
    let room = |group: &Vec<usize>| {
        segment.outputs.iter().enumerate().all(|(e, amps)| {
            let held: f64 = group
                .iter()
                .map(|s| segments[*s].outputs.get(e).copied().unwrap_or(0.0))
                .sum();
            held + amps <= spec.output_current.value
        })
    };
    let at = body.groups.iter().position(room);
    let groups = spec.outputs as usize / segment.outputs.len().max(1);
    match at {
        Some(at) => body.groups[at].push(number),
        None if body.groups.len() < groups && room(&Vec::new()) => body.groups.push(vec![number]),
        None => return false,
    }
    body.current += segment.current;
    body.watts += segment.watts;
    true
}

/// What one supply may give at a place: power by the load factor, where its derating is known.
pub(super) fn permitted_power(job: &Job, spec: &SupplySpec, place: &PlaceSpec) -> f64 {
    let share = kinds::derating(spec, place.ambient).unwrap_or(1.0);
    job.limits().load_factor.value * spec.power.value * share
}

/// Supplies for all bodies.
pub(super) fn units<'j>(job: &'j Job, bodies: &[Body<'j>]) -> Vec<Unit<'j>> {
    let mut out: Vec<Unit<'j>> = Vec::new();
    for (at, place) in job.places().iter().enumerate() {
        for service in [Service::Normal, Service::Emergency, Service::Both] {
            let mut own: Vec<usize> = (0..bodies.len())
                .filter(|b| {
                    bodies[*b].place == at && job.zones()[bodies[*b].zone].service == service
                })
                .collect();
            if own.is_empty() {
                continue;
            }
            own.sort_by(|a, b| bodies[*b].watts.total_cmp(&bodies[*a].watts).then(a.cmp(b)));
            out.extend(pack(job, bodies, &own, at, place));
        }
    }
    // Named after the first segment they feed, so that a change elsewhere renames nothing.
    for unit in &mut out {
        let first = unit.outputs.iter().flatten().min().copied();
        unit.id = format!(
            "PS-{}",
            first.map_or("", |b| bodies[b].id.trim_start_matches("D-"))
        );
    }
    out.sort_by_key(|u| (u.place, u.outputs.iter().flatten().min().copied()));
    out
}

fn pack<'j>(
    job: &'j Job,
    bodies: &[Body<'j>],
    own: &[usize],
    at: usize,
    place: &PlaceSpec,
) -> Vec<Unit<'j>> {
    let may = |body: usize| kinds::supplies(job, &job.zones()[bodies[body].zone], place);
    let takes = |spec: &SupplySpec, held: &[Vec<usize>], output: usize, body: usize| {
        let b = &bodies[body];
        let watts: f64 = held.iter().flatten().map(|h| bodies[*h].watts).sum();
        let amps: f64 = held[output].iter().map(|h| bodies[*h].current).sum();
        let polarity = |b: &Body<'_>| job.strip(&job.zones()[b.zone].strip).map(|s| s.polarity);
        watts + b.watts <= permitted_power(job, spec, place) * feeding::BESIDE
            && amps + b.current <= spec.output_current.value * (1.0 + 1e-9)
            && held[output]
                .iter()
                .all(|h| polarity(&bodies[*h]) == polarity(b))
            && may(body).iter().any(|s| s.name == spec.name)
    };
    let fill = |spec: &'j SupplySpec| -> (Vec<Unit<'j>>, Vec<usize>) {
        let mut units: Vec<Unit<'j>> = Vec::new();
        let mut left = Vec::new();
        for &body in own {
            let slot = units.iter().enumerate().find_map(|(u, unit)| {
                let o = (0..unit.outputs.len()).find(|o| takes(spec, &unit.outputs, *o, body))?;
                Some((u, o))
            });
            let fresh = vec![Vec::new(); spec.outputs.max(1) as usize];
            match slot {
                Some((u, o)) => units[u].outputs[o].push(body),
                None if takes(spec, &fresh, 0, body) => {
                    let mut outputs = fresh;
                    outputs[0].push(body);
                    units.push(Unit {
                        id: String::new(),
                        spec,
                        place: at,
                        outputs,
                    });
                }
                None => left.push(body),
            }
        }
        (units, left)
    };
    let kinds: Vec<&'j SupplySpec> = job
        .supplies()
        .iter()
        .filter(|s| own.iter().any(|b| may(*b).iter().any(|m| m.name == s.name)))
        .collect();
    let price = |s: &SupplySpec| s.price.unwrap_or(s.power.value.ceil() as u64);
    let best = kinds
        .iter()
        .map(|spec| fill(spec))
        .min_by_key(|(units, left)| {
            let money: u64 = units.iter().map(|u| price(u.spec)).sum();
            (left.len(), money, units.len())
        });
    let Some((mut units, left)) = best else {
        return Vec::new();
    };
    for unit in &mut units {
        let mut cheaper: Vec<&'j SupplySpec> = kinds.clone();
        cheaper.sort_by_key(|s| (price(s), s.name.clone()));
        let holds = |spec: &&&'j SupplySpec| {
            let mut held = vec![Vec::new(); spec.outputs.max(1) as usize];
            if held.len() < unit.outputs.len() {
                return false;
            }
            unit.outputs.iter().enumerate().all(|(o, list)| {
                list.iter().all(|body| {
                    let ok = takes(spec, &held, o, *body);
                    held[o].push(*body);
                    ok
                })
            })
        };
        if let Some(spec) = cheaper.iter().find(holds).copied() {
            unit.spec = spec;
            unit.outputs
                .resize(spec.outputs.max(1) as usize, Vec::new());
        }
    }
    // What no permitted kind holds goes alone on the strongest; its load is then a finding.
    for body in left {
        let strongest = may(body)
            .into_iter()
            .max_by(|a, b| a.power.value.total_cmp(&b.power.value));
        if let Some(spec) = strongest {
            let mut outputs = vec![Vec::new(); spec.outputs.max(1) as usize];
            outputs[0].push(body);
            units.push(Unit {
                id: String::new(),
                spec,
                place: at,
                outputs,
            });
        }
    }
    units
}

/// The lead of a body: cable and one core at the corners, ohm.
pub(super) struct Lead<'j> {
    pub cable: Option<&'j crate::job::spec::CableItem>,
    pub facts: Option<super::facts::WireFacts>,
    pub core: Corners<f64>,
    pub length: ExactLength,
}

/// The thinnest lead cable that carries the current; the thickest where none is known to.
pub(super) fn lead<'j>(job: &'j Job, body: &Body<'_>) -> Lead<'j> {
    let place = &job.places()[body.place];
    if body.spec.is_none() {
        return Lead {
            cable: None,
            facts: None,
            core: Corners::same(0.0),
            length: ExactLength::ZERO,
        };
    }
    let wires = kinds::lead_wires(job, place);
    let carries =
        |f: &super::facts::WireFacts| f.ampacity.as_ref().is_ok_and(|a| a.value >= body.current);
    let at = wires
        .iter()
        .position(|(_, f)| carries(f))
        .or(wires.len().checked_sub(1));
    match at.and_then(|at| wires.into_iter().nth(at)) {
        Some((cable, facts)) => Lead {
            cable: Some(cable),
            core: facts
                .per_metre
                .map(|r| r.value * place.lead.to_length().value),
            facts: Some(facts),
            length: place.lead,
        },
        None => Lead {
            cable: None,
            facts: None,
            core: Corners::same(0.0),
            length: ExactLength::ZERO,
        },
    }
}
