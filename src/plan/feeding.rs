//! From a run of the job to its feed problem, and its answer.

use super::costing;
use super::devices::permitted_power;
use super::facts::{self, TapeModels};
use super::fixed;
use super::kinds::{decoders, feeder_ambient, feeder_current, lead_wires, set_point, supplies};
use super::lacks;
use super::laid::RunWork;
use crate::choose::feeding::{
    CandidateWire, CostModel, FeedErrors, FeedLimits, LitStates, Pattern, PlaceRoutes, Positions,
    RunOutcome, RunProblem, SourceModel, plan_each,
};
use crate::device::{DecoderSpec, SupplySpec};
use crate::exact::ExactLength;
use crate::finding::Finding;
use crate::job::Job;
use crate::job::spec::{Control, PlaceSpec, Together, ZoneSpec};
use crate::layout::spec::RunPoint;
use crate::order::Order as _;
use crate::progress::Progress;
use crate::quantity::{Corners, ThermodynamicTemperature, amps, fraction, ohms, volts};
use crate::rules::feed_problem as feed_rules;
use crate::strip::{TapeEmitter, TapeModel};
use std::collections::BTreeMap;

/// Most segments evaluated in full for one run.
const EFFORT: u64 = 1_000_000;
/// Share of a device's current that one run plans with: the device chosen in the end may have
/// less resistance than the worst that the run was planned for, and so carry a little more.
pub(super) const BESIDE: f64 = 0.99;

/// What feeders from a place start from, and the currents one segment may draw there.
fn source(job: &Job, work: &RunWork<'_>, place: &PlaceSpec) -> Option<(SourceModel, [f64; 2])> {
    let kinds = supplies(job, work.zone, place);
    let first = kinds.first()?;
    let fold = |pick: &dyn Fn(&SupplySpec) -> f64, with: fn(f64, f64) -> f64| {
        kinds.iter().map(|s| pick(s)).fold(pick(first), with)
    };
    let limits = job.limits();
    let permitted = |s: &SupplySpec| {
        let load = permitted_power(job, s, place) / s.volts.value;
        // The load factor is judged at nominal load; the search judges the high corner.
        s.output_current.value.min(
            load * (1.0 + limits.current_tolerance.value) * (1.0 + limits.current_margin.value),
        )
    };
    let mut segment = fold(&permitted, f64::max);
    let mut output = f64::INFINITY;
    let (mut lead, mut switch) = (0.0, 0.0);
    if let Control::Dmx { .. } = work.zone.control {
        let kinds = decoders(job, work.zone, place);
        if kinds.is_empty() {
            return None;
        }
        output = kinds
            .iter()
            .map(|d| d.output_current.value)
            .fold(0.0, f64::max);
        let whole = |d: &&DecoderSpec| d.total_current.value.min(d.terminal_current.value);
        segment = segment.min(kinds.iter().map(whole).fold(0.0, f64::max));
        switch = kinds.iter().map(|d| d.switch.value).fold(0.0, f64::max);
        let wires = lead_wires(job, work.zone, place);
        let thickest = wires.last()?;
        lead = 2.0 * thickest.1.per_metre.low.value * place.lead_length().to_length().value;
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

/// Feeds runs, by their places in the list: their plans, and what there is to say about them. Once `progress` is cancelled
/// they stay without a plan.
pub(super) fn feed(
    job: &Job,
    runs: &mut [RunWork<'_>],
    which: &[usize],
    tapes: &TapeModels,
    progress: &mut Progress<'_>,
) {
    let mut problems = Vec::with_capacity(which.len());
    let mut asked = Vec::with_capacity(which.len());
    for &at in which {
        let work = &mut runs[at];
        work.plan = None;
        work.drawn.clear();
        work.holds = false;
        work.gave_up = false;
        work.with_the_whole = false;
        work.findings.clear();
        match problem(job, work, tapes) {
            Ok(problem) => {
                problems.push(problem);
                asked.push(at);
            }
            Err(none) => work.findings.push(*none),
        }
    }
    let answers = plan_each(&problems, progress);
    if progress.is_cancelled() {
        return;
    }
    for (at, answer) in asked.into_iter().zip(answers) {
        let work = &mut runs[at];
        match answer {
            Ok(RunOutcome::Planned(plan)) => {
                // The first answer of a run is that with nothing reserved.
                work.may_hold |= work.least.is_none();
                work.least.get_or_insert(plan.lower_bound);
                work.plan = Some(*plan);
                work.holds = true;
            }
            Ok(RunOutcome::Infeasible(answer)) => {
                work.gave_up = answer.cut_short;
                work.may_hold |= work.gave_up;
                work.findings.extend(answer.findings);
                work.plan = answer.best_effort;
            }
            Err(FeedErrors(all)) => {
                let name = &work.spec.name;
                let own = all.iter().map(|error| feed_rules::fault(name, error));
                work.findings.extend(own);
            }
        }
    }
}

/// The problem of feeding a run, or why there is none.
pub(super) fn problem(
    job: &Job,
    work: &RunWork<'_>,
    tapes: &TapeModels,
) -> Result<RunProblem, Box<Finding>> {
    let run = work.spec;
    let limits = job.limits();
    let tape = tapes
        .get(work.tape)
        .cloned()
        .ok_or_else(|| Box::new(feed_rules::no_model(&run.name)))?;
    let strip = &job.strips()[work.tape];
    let n = work.layout.increments();
    let mut places = Vec::new();
    let (mut output, mut segment) = (f64::INFINITY, f64::INFINITY);
    let mut hottest: Option<ThermodynamicTemperature> = None;
    let mut most = 0.0_f64;
    for (at, place) in job.places().iter().enumerate() {
        let other = work.only_from.is_some_and(|own| own != at);
        if other || !work.zone.places.is_empty() && !work.zone.places.contains(&place.name) {
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
        most = most.max(feeder_current(job, work.zone, place).value);
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
        return Err(Box::new(lacks::no_place(job, work)));
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
        match facts::wire(item, limits, ambient, amps(most)) {
            Ok(facts) => wires.push(CandidateWire {
                cable: item.name.clone(),
                cores: item.cores as usize,
                core: facts.per_metre,
                ampacity: facts.ampacity.ok(),
                price_per_metre: costing::metre_of(item),
            }),
            Err(why) => refused.push(format!("{name}: {why}")),
        }
    }
    if wires.is_empty() {
        let cores = tape.emitters.len() + 1;
        return Err(Box::new(feed_rules::no_cable(&run.name, cores, &refused)));
    }
    let connector = [limits.connector_current, strip.pad_current]
        .into_iter()
        .flatten()
        .map(|a| a.value)
        .fold(f64::INFINITY, f64::min);
    let some = |a: f64| a.is_finite().then(|| amps(a));
    let costs = job.costs();
    let drop = limits.voltage_drop;
    let drop = drop.map(|most| most * least_drop(&tape, &first));
    Ok(RunProblem {
        run: run.name.clone(),
        increments: n,
        joints: work.joints.clone(),
        breaks: Positions::Any,
        feed_points: match work.layout.feed_marks() {
            None => Positions::Any,
            Some(marks) => Positions::At(marks.to_vec()),
        },
        reel: work.reel,
        patterns: Pattern::ALL.to_vec(),
        places,
        wires,
        source: first,
        limits: FeedLimits {
            least_current: fraction(work.aim.least_current),
            visible_step: work.aim.visible_step.map(fraction),
            balance: work.aim.balance.map(fraction),
            voltage_drop: drop,
            branch: None,
            rail_current: None,
            connector_current: some(connector * work.aim.connector),
            core_current: limits.core_current,
            output_current: some(output * BESIDE),
            segment_current: some(segment * BESIDE),
            feeder_length: None,
        },
        states: states(work.zone, &tape),
        costs: CostModel {
            per_segment: costing::minor_units(costs.segment),
            per_feed: costing::minor_units(costs.feed),
            per_break: costing::minor_units(costs.cut),
            energy: None,
        },
        fixed: fixed::of_run(work),
        effort: EFFORT,
        tape,
    })
}

/// The least that cells draw against the most, each at the set point of its corner: the search keeps a drop at the low
/// corner of light, and what is judged is the greatest of any build.
fn least_drop(tape: &TapeModel, source: &SourceModel) -> f64 {
    let of = |emitter: &TapeEmitter| {
        let low = emitter.law.low.current(source.set_point.low);
        let high = emitter.law.high.current(source.set_point.high);
        low.value / high.value
    };
    let shares = tape.emitters.iter().map(of);
    let least = shares.fold(1.0, f64::min);
    if least > 0.0 { least } else { 1.0 }
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
    sets.order_by(|a: &Vec<usize>, b| b.len().cmp(&a.len()).then(a.cmp(b)));
    sets.dedup();
    sets
}
