//! From a run of the job to its feed problem, and its answer.

use super::facts::{self, WireFacts};
use crate::device::{DecoderSpec, SupplySpec};
use crate::exact::ExactLength;
use crate::feed::{
    CandidateWire, CostModel, FeedErrors, FeedLimits, Fixed, Joint, JointCut, LitStates, Pattern,
    PlaceRoutes, Positions, RunFeedPlan, RunOutcome, RunProblem, SourceModel,
};
use crate::finding::Finding;
use crate::job::Job;
use crate::job::spec::{CableItem, Control, PlaceSpec, RunSpec, Together, ZoneSpec};
use crate::layout::spec::{RunPoint, Sight};
use crate::layout::{BendLimits, Layout, PathJointKind, findings as layout_findings, lay};
use crate::progress::Progress;
use crate::quantity::{
    Corners, ElectricalResistance, ThermodynamicTemperature, amps, ohms, square_millimetres, volts,
};
use crate::source::Source;
use crate::strip::TapeModel;
use std::collections::BTreeMap;

/// Most segments evaluated in full for one run.
const EFFORT: u64 = 5_000;
/// Share of a device's current that one run plans with: the device chosen in the end may have
/// less resistance than the worst that the run was planned for, and so carry a little more.
pub(super) const BESIDE: f64 = 0.99;
/// Set points within this share of the rated voltage count as the same voltage (common practice).
const SAME_VOLTAGE: f64 = 0.05;

/// A run with its layout and, once found, its feeding.
pub(super) struct RunWork<'j> {
    pub spec: &'j RunSpec,
    pub zone: &'j ZoneSpec,
    /// Places of zone and tape in the lists of the job.
    pub zone_at: usize,
    pub tape: usize,
    pub layout: Layout,
    pub joints: Vec<Joint>,
    pub plan: Option<RunFeedPlan>,
    /// Findings of the search for the plan that is held now.
    pub findings: Vec<Finding>,
    /// Volts that copper shared with other segments takes.
    pub reserve: f64,
    /// Whether every limit held when the run was fed by itself.
    pub holds: bool,
}

/// Runs that can be laid out; the others are findings.
pub(super) fn lay_out<'j>(
    job: &'j Job,
    tapes: &[Option<TapeModel>],
    findings: &mut Vec<Finding>,
) -> Vec<RunWork<'j>> {
    let mut out = Vec::new();
    for spec in job.runs() {
        let Some(zone_at) = job.zones().iter().position(|z| z.name == spec.zone) else {
            continue;
        };
        let zone = &job.zones()[zone_at];
        let Some(tape) = job.strips().iter().position(|s| s.name == zone.strip) else {
            continue;
        };
        if tapes[tape].is_none() {
            continue;
        }
        let strip = &job.strips()[tape];
        let place = format!("run {}", spec.name);
        let layout = match lay(&spec.layout, strip.pitch) {
            Ok(layout) => layout,
            Err(error) => {
                findings.push(
                    Finding::fail("layout-none", place)
                        .says(error.to_string())
                        .figure("0 increments")
                        .limit("at least 1")
                        .source(Source::computed(
                            "whole cut increments on the path as drawn",
                        ))
                        .remedy("choose a tape with a shorter cut pitch, or draw the run longer"),
                );
                continue;
            }
        };
        let bend = BendLimits {
            radius: strip.bend_radius,
        };
        findings.extend(layout_findings(&spec.name, &spec.layout, &layout, bend));
        if let Some(needed) = spec.ingress {
            findings.push(match strip.ingress {
                Some(has) if has.covers(needed) => Finding::pass("strip-ingress", &*place)
                    .says("protection of the tape against dust and water")
                    .figure(has.to_string())
                    .limit(needed.to_string())
                    .source(Source::stated("the job")),
                Some(has) => Finding::fail("strip-ingress", &*place)
                    .says("the tape is less protected than this run needs")
                    .figure(has.to_string())
                    .limit(needed.to_string())
                    .source(Source::stated("the job"))
                    .remedy("take a tape or a cover with that code"),
                None => Finding::not_evaluated(
                    "strip-ingress",
                    &*place,
                    "the strip states no ingress code",
                )
                .says("protection of the tape against dust and water")
                .limit(needed.to_string())
                .source(Source::stated("the job"))
                .remedy("state the code of the strip"),
            });
        }
        let joints = joints(job, spec, &layout, findings);
        out.push(RunWork {
            spec,
            zone,
            zone_at,
            tape,
            layout,
            joints,
            plan: None,
            findings: Vec::new(),
            reserve: 0.0,
            holds: false,
        });
    }
    out
}

/// Joints of the path by mark; several at one mark add up.
fn joints(job: &Job, run: &RunSpec, layout: &Layout, findings: &mut Vec<Finding>) -> Vec<Joint> {
    let n = layout.increments();
    let mut by_mark: BTreeMap<u64, Joint> = BTreeMap::new();
    let mut at = |mark: u64, change: &mut dyn FnMut(&mut Joint)| {
        if mark > 0 && mark < n {
            change(by_mark.entry(mark).or_insert(Joint {
                at: mark,
                common: ohms(0.0),
                returns: ohms(0.0),
                visible: false,
                cut: JointCut::AsListed,
                price: 0,
            }));
        }
    };
    for joint in layout.joints() {
        let added: Option<ElectricalResistance> = match &joint.kind {
            PathJointKind::Open => None,
            PathJointKind::Moulded(r) => Some(*r),
            PathJointKind::Jumper(jumper) => {
                let ambient = run.ambient;
                let facts = job
                    .cable(&jumper.cable)
                    .ok_or_else(|| "unknown cable".to_string())
                    .and_then(|cable| facts::wire(cable, job.limits(), ambient));
                match facts {
                    Ok(facts) => Some(facts.per_metre.low * jumper.length.to_length()),
                    Err(why) => {
                        findings.push(
                            Finding::not_evaluated(
                                "layout-jumper",
                                format!("run {}", run.name),
                                why,
                            )
                            .says("resistance of a jumper; it is taken as an open joint")
                            .source(Source::stated("the job"))
                            .remedy("name a cable whose resistance the tables cover"),
                        );
                        None
                    }
                }
            }
        };
        at(joint.mark, &mut |j| {
            j.visible |= joint.visible;
            match added {
                Some(r) => {
                    j.common += r;
                    j.returns += r;
                }
                None => j.cut = JointCut::Forced,
            }
        });
    }
    for mark in layout.breaks() {
        at(*mark, &mut |j| j.cut = JointCut::Forced);
    }
    for mark in layout.uncut() {
        at(*mark, &mut |j| {
            if j.cut == JointCut::AsListed {
                j.cut = JointCut::Forbidden;
            }
        });
    }
    if run.layout.sight == Sight::Seen {
        // Any break of a run whose joints are seen shows a step.
        for mark in 1..n {
            at(mark, &mut |j| j.visible = true);
        }
    }
    by_mark.into_values().collect()
}

/// Kinds of supply that may feed a zone from a place.
pub(super) fn supplies<'j>(
    job: &'j Job,
    zone: &ZoneSpec,
    place: &PlaceSpec,
) -> Vec<&'j SupplySpec> {
    let rated = job.strip(&zone.strip).map_or(f64::NAN, |s| s.rated.value);
    let named = |list: &[String], name: &String| list.is_empty() || list.contains(name);
    job.supplies()
        .iter()
        .filter(|s| named(&zone.supplies, &s.name) && named(&place.supplies, &s.name))
        .filter(|s| (s.volts.value / rated - 1.0).abs() <= SAME_VOLTAGE)
        .collect()
}

/// Kinds of decoder that may serve a zone from a place.
pub(super) fn decoders<'j>(
    job: &'j Job,
    zone: &ZoneSpec,
    place: &PlaceSpec,
) -> Vec<&'j DecoderSpec> {
    let Some(strip) = job.strip(&zone.strip) else {
        return Vec::new();
    };
    let named = |list: &[String], name: &String| list.is_empty() || list.contains(name);
    let mut all: Vec<&DecoderSpec> = job
        .decoders()
        .iter()
        .filter(|d| named(&zone.decoders, &d.name) && named(&place.decoders, &d.name))
        .filter(|d| d.polarity == strip.polarity && d.outputs as usize >= strip.emitters.len())
        .filter(|d| strip.rated.value >= d.volts.0.value && strip.rated.value <= d.volts.1.value)
        .filter(|d| match zone.control {
            Control::Dmx { bits, curve } => d.levels.contains(&bits) && d.curves.contains(&curve),
            Control::Switched => false,
        })
        .collect();
    all.sort_by_key(|d| (d.price, d.name.clone()));
    all
}

/// Share of its rated power that a supply gives in an ambient: straight lines between stated points.
pub(super) fn derating(supply: &SupplySpec, ambient: ThermodynamicTemperature) -> Option<f64> {
    let rows = &supply.derating;
    let first = rows.first()?;
    if ambient.value <= first.0.value {
        return Some(first.1.value);
    }
    for pair in rows.windows(2) {
        if ambient.value <= pair[1].0.value {
            let along = (ambient.value - pair[0].0.value) / (pair[1].0.value - pair[0].0.value);
            return Some(pair[0].1.value + along * (pair[1].1.value - pair[0].1.value));
        }
    }
    None
}

/// Set point of a supply at the corners, V.
pub(super) fn set_point(supply: &SupplySpec) -> Corners<f64> {
    Corners {
        low: supply.volts.value * (1.0 - supply.tolerance.value),
        nominal: supply.volts.value,
        high: supply.volts.value * (1.0 + supply.tolerance.value),
    }
}

/// Cables of a lead between supply and decoder at a place, with their facts, thinnest first.
pub(super) fn lead_wires<'j>(job: &'j Job, place: &PlaceSpec) -> Vec<(&'j CableItem, WireFacts)> {
    let mut all: Vec<_> = job
        .cables()
        .iter()
        .filter(|c| place.lead_cables.is_empty() || place.lead_cables.contains(&c.name))
        .filter(|c| c.cores >= 2)
        .filter_map(|c| {
            facts::wire(c, job.limits(), place.ambient)
                .ok()
                .map(|f| (c, f))
        })
        .collect();
    all.sort_by(|a, b| {
        b.1.per_metre
            .low
            .value
            .total_cmp(&a.1.per_metre.low.value)
            .then(a.0.name.cmp(&b.0.name))
    });
    all
}

/// What feeders from a place start from, and the currents one segment may draw there.
fn source(job: &Job, work: &RunWork<'_>, place: &PlaceSpec) -> Option<(SourceModel, [f64; 2])> {
    let kinds = supplies(job, work.zone, place);
    let first = kinds.first()?;
    let fold = |pick: &dyn Fn(&SupplySpec) -> f64, with: fn(f64, f64) -> f64| {
        kinds.iter().map(|s| pick(s)).fold(pick(first), with)
    };
    let limits = job.limits();
    let permitted = |s: &SupplySpec| {
        let share = derating(s, place.ambient).unwrap_or(0.0);
        let load = limits.load_factor.value * s.power.value * share / s.volts.value;
        // The load factor is judged at nominal load; the search judges the high corner.
        s.output_current
            .value
            .min(load * (1.0 + limits.current_tolerance.value))
    };
    let mut segment = fold(&permitted, f64::max);
    let mut output = f64::INFINITY;
    let (mut lead, mut switch) = (0.0, 0.0);
    if let Control::Dmx { .. } = work.zone.control {
        let bodies = decoders(job, work.zone, place);
        if bodies.is_empty() {
            return None;
        }
        output = bodies
            .iter()
            .map(|d| d.output_current.value)
            .fold(0.0, f64::max);
        let body = |d: &&DecoderSpec| d.total_current.value.min(d.terminal_current.value);
        segment = segment.min(bodies.iter().map(body).fold(0.0, f64::max));
        switch = bodies.iter().map(|d| d.switch.value).fold(0.0, f64::max);
        let wires = lead_wires(job, place);
        let thickest = wires.last()?;
        lead = 2.0 * thickest.1.per_metre.low.value * place.lead.to_length().value;
    }
    let model = SourceModel {
        set_point: Corners {
            low: volts(fold(&|s| set_point(s).low, f64::min)),
            nominal: volts(fold(&|s| set_point(s).nominal, f64::min)),
            high: volts(fold(&|s| set_point(s).high, f64::max)),
        },
        output_resistance: ohms(fold(&|s| s.output_resistance.value, f64::max)),
        lead_resistance: ohms(lead),
        switch_resistance: ohms(switch),
        reserve: volts(work.reserve),
    };
    Some((model, [output, segment]))
}

/// The ambient that a feeder of a run lies in: the hotter of its two ends.
pub(super) fn feeder_ambient(run: &RunSpec, place: &PlaceSpec) -> ThermodynamicTemperature {
    if place.ambient.value > run.ambient.value {
        place.ambient
    } else {
        run.ambient
    }
}

/// Feeds one run: its plan, and what there is to say about it.
pub(super) fn feed(
    job: &Job,
    work: &mut RunWork<'_>,
    tapes: &[Option<TapeModel>],
    progress: &mut Progress<'_>,
) -> Result<(), super::Cancelled> {
    work.plan = None;
    work.holds = false;
    work.findings.clear();
    let name = format!("run {}", work.spec.name);
    let cannot = |why: String, remedy: &str| {
        Finding::fail("feed-problem", name.clone())
            .says(why)
            .figure("no feed")
            .limit("one")
            .source(Source::stated("the job"))
            .remedy(remedy.to_string())
    };
    let problem = match problem(job, work, tapes) {
        Ok(problem) => problem,
        Err((why, remedy)) => {
            work.findings.push(cannot(why, remedy));
            return Ok(());
        }
    };
    let outcome = problem
        .check()
        .map_err(|FeedErrors(all)| all)
        .and_then(|checked| checked.plan_watched(progress).map_err(|e| vec![e]));
    match outcome {
        Ok(RunOutcome::Planned(plan)) => {
            work.plan = Some(*plan);
            work.holds = true;
        }
        Ok(RunOutcome::Infeasible(answer)) => {
            work.findings.extend(answer.findings);
            work.plan = answer.best_effort;
        }
        Err(all) => {
            if all
                .iter()
                .any(|e| matches!(e, crate::feed::FeedError::Stopped { .. }))
            {
                return Err(super::Cancelled);
            }
            for error in all {
                work.findings.push(cannot(
                    error.to_string(),
                    "correct the run, its strip or its cables",
                ));
            }
        }
    }
    Ok(())
}

fn problem(
    job: &Job,
    work: &RunWork<'_>,
    tapes: &[Option<TapeModel>],
) -> Result<RunProblem, (String, &'static str)> {
    let run = work.spec;
    let limits = job.limits();
    let tape = tapes[work.tape]
        .clone()
        .ok_or(("its strip has no model".to_string(), "correct the strip"))?;
    let strip = &job.strips()[work.tape];
    let n = work.layout.increments();
    let mut places = Vec::new();
    let (mut output, mut segment) = (f64::INFINITY, f64::INFINITY);
    let mut hottest: Option<ThermodynamicTemperature> = None;
    for place in job.places() {
        if !work.zone.places.is_empty() && !work.zone.places.contains(&place.name) {
            continue;
        }
        let routes: Vec<_> = run
            .routes
            .iter()
            .filter(|r| r.place == place.name)
            .collect();
        if routes.is_empty() {
            continue;
        }
        let Some((source, [out, seg])) = source(job, work, place) else {
            continue;
        };
        // One limit serves every place: the smaller.
        output = output.min(out);
        segment = segment.min(seg);
        let ambient = feeder_ambient(run, place);
        hottest = Some(match hottest {
            Some(t) if t.value >= ambient.value => t,
            _ => ambient,
        });
        let mut to_marks: BTreeMap<u64, ExactLength> = BTreeMap::new();
        let (mut to_start, mut to_end) = (None, None);
        let shorter =
            |old: Option<ExactLength>, new| Some(old.map_or(new, |o: ExactLength| o.min(new)));
        for route in routes {
            match route.to {
                RunPoint::Start => to_start = shorter(to_start, route.length),
                RunPoint::End => to_end = shorter(to_end, route.length),
                RunPoint::At(at) => {
                    let mark = work.layout.mark_near(at);
                    let length = shorter(to_marks.get(&mark).copied(), route.length);
                    to_marks.insert(mark, length.unwrap_or(route.length));
                }
            }
        }
        places.push(PlaceRoutes {
            place: place.name.clone(),
            to_start,
            to_end,
            to_marks: to_marks.into_iter().collect(),
            slack: run.slack,
            source: Some(source),
        });
    }
    let Some(first) = places.first().and_then(|p| p.source.clone()) else {
        return Err((
            "no place with a route to it has a supply of its voltage and, where it is dimmed, a decoder for it".into(),
            "state a route from a place of its zone, and a supply and decoder that may be put there",
        ));
    };
    let ambient = hottest.unwrap_or(run.ambient);
    let mut wires = Vec::new();
    let mut refused = Vec::new();
    for name in job.cables_of(run) {
        let Some(item) = job.cable(name) else {
            continue;
        };
        if (item.cores as usize) <= tape.emitters.len() {
            continue;
        }
        match facts::wire(item, limits, ambient) {
            Ok(facts) => wires.push(CandidateWire {
                cable: item.name.clone(),
                cores: item.cores as usize,
                core: facts.per_metre,
                ampacity: facts.ampacity.ok(),
                price_per_metre: price_per_metre(item),
            }),
            Err(why) => refused.push(format!("{name}: {why}")),
        }
    }
    if wires.is_empty() {
        return Err((
            format!(
                "none of its cables has {} cores and a known resistance{}{}",
                tape.emitters.len() + 1,
                if refused.is_empty() { "" } else { ": " },
                refused.join("; ")
            ),
            "name a cable with enough cores",
        ));
    }
    let connector = [limits.connector_current, strip.pad_current]
        .into_iter()
        .flatten()
        .map(|a| a.value)
        .fold(f64::INFINITY, f64::min);
    let some = |a: f64| a.is_finite().then(|| amps(a));
    let costs = job.costs();
    let minor = |price: u64| i64::try_from(price).unwrap_or(i64::MAX);
    Ok(RunProblem {
        run: run.name.clone(),
        increments: n,
        joints: work.joints.clone(),
        breaks: Positions::Any,
        feed_points: match work.layout.feed_marks() {
            None => Positions::Any,
            Some(marks) => Positions::At(marks.to_vec()),
        },
        patterns: Pattern::ALL.to_vec(),
        places,
        wires,
        source: first,
        limits: FeedLimits {
            least_current: limits.least_current,
            visible_step: limits.visible_step,
            balance: limits.balance,
            voltage_drop: limits.voltage_drop,
            branch: None,
            rail_current: None,
            connector_current: some(connector),
            core_current: limits.core_current,
            output_current: some(output * BESIDE),
            segment_current: some(segment * BESIDE),
            feeder_length: None,
        },
        states: states(work.zone, &tape),
        costs: CostModel {
            per_segment: minor(costs.segment),
            per_feed: minor(costs.feed),
            per_break: minor(costs.cut),
            energy: None,
        },
        fixed: Fixed::default(),
        effort: EFFORT,
        tape,
    })
}

/// Price of a metre of cable; where none is stated, ten minor units a square millimetre of all
/// cores, so that the thinnest cable that holds is taken.
pub(super) fn price_per_metre(item: &CableItem) -> i64 {
    let mm2 = item.size.area().value / square_millimetres(1.0).value;
    match item.price_per_metre {
        Some(price) => i64::try_from(price).unwrap_or(i64::MAX),
        None => (mm2 * f64::from(item.cores) * 10.0).ceil() as i64,
    }
}

/// Sets of emitters lit together.
fn states(zone: &ZoneSpec, tape: &TapeModel) -> LitStates {
    match &zone.together {
        Together::AllAndEachAlone => LitStates::AllAndEachAlone,
        Together::Listed(sets) => LitStates::Listed(
            sets.iter()
                .map(|set| {
                    tape.emitters
                        .iter()
                        .map(|e| set.contains(&e.name))
                        .collect()
                })
                .collect(),
        ),
    }
}

/// The same as lists of emitters, the largest first.
pub(super) fn lit_sets(zone: &ZoneSpec, tape: &TapeModel) -> Vec<Vec<usize>> {
    let n = tape.emitters.len();
    let mut sets: Vec<Vec<usize>> = match states(zone, tape) {
        LitStates::AllAndEachAlone => std::iter::once((0..n).collect())
            .chain((0..n).map(|e| vec![e]))
            .collect(),
        LitStates::Listed(sets) => sets
            .into_iter()
            .map(|set| (0..n).filter(|e| set[*e]).collect())
            .collect(),
    };
    sets.sort_by(|a: &Vec<usize>, b| b.len().cmp(&a.len()).then(a.cmp(b)));
    sets.dedup();
    sets
}
