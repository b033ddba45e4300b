//! Runs of the job laid out, with the joints of their paths.

use super::aim::Aim;
use super::costing;
use super::devices::Draw;
use super::facts::{self, TapeModels};
use crate::choose::feeding::{Joint, JointCut, Reel, RunFeedPlan};
use crate::finding::Finding;
use crate::id::RunId;
use crate::job::Job;
use crate::job::spec::{RunSpec, ZoneSpec};
use crate::layout::spec::Sight;
use crate::layout::{BendLimits, Layout, PathJointKind, findings as layout_findings, lay};
use crate::quantity::{ElectricalResistance, ohms};
use crate::rules::path;
use std::collections::{BTreeMap, BTreeSet};

/// A run with its layout and, once found, its feeding.
pub(super) struct RunWork<'j> {
    pub spec: &'j RunSpec,
    pub zone: &'j ZoneSpec,
    /// Places of zone and tape in the lists of the job.
    pub zone_at: usize,
    pub tape: usize,
    pub layout: Layout,
    pub joints: Vec<Joint>,
    /// Reels of its tape, where the joint between them is stated.
    pub reel: Option<Reel>,
    pub plan: Option<RunFeedPlan>,
    /// Findings of the search for the plan that is held now.
    pub findings: Vec<Finding>,
    /// Volts that copper shared with other segments takes.
    pub reserve: f64,
    /// The limits that it is planned with.
    pub aim: Aim,
    /// The only place that it is fed from, by its place in the job.
    pub only_from: Option<usize>,
    /// What segments were found to draw with all that shares their copper, by their marks, where that is
    /// more than by themselves and broke a limit.
    pub drawn: Drawn,
    /// Least cost of any feeding, before anything was reserved for shared copper.
    pub least: Option<i64>,
    /// Chosen with the whole job, though something else costs less by itself.
    pub with_the_whole: bool,
    /// Whether every limit that is aimed at holds when the run is fed by itself.
    pub holds: bool,
    /// Whether the search gave up before it was known whether they can hold.
    pub gave_up: bool,
    /// Whether they did at first, with nothing reserved, or the search gave up before it was known.
    pub may_hold: bool,
    /// No tighter aim can be fed: it stays as it is.
    pub stuck: bool,
}

/// What segments draw, by their marks.
pub(super) type Drawn = BTreeMap<(u64, u64), Draw>;

impl RunWork<'_> {
    /// Whether a step of light at a mark would be seen.
    pub fn is_seen(&self, mark: u64) -> bool {
        // Joints stand in the order of their marks.
        let at = self.joints.partition_point(|joint| joint.at < mark);
        let own = self.joints.get(at).filter(|joint| joint.at == mark);
        self.spec.layout.sight == Sight::Seen || own.is_some_and(|joint| joint.visible)
    }

    /// Places that its segments are fed from, by their places in the job.
    pub fn places(&self, job: &Job) -> BTreeSet<usize> {
        let segments = self.plan.iter().flat_map(|plan| &plan.segments);
        let at = |name: &String| job.places().iter().position(|place| place.name == *name);
        segments.filter_map(|segment| at(&segment.place)).collect()
    }

    /// Pieces of tape in a segment: from where the path parts the tape to where it does so again.
    pub fn pieces(&self, from: u64, to: u64) -> Vec<(u64, u64)> {
        self.layout
            .legs()
            .iter()
            .map(|leg| (leg.first_mark().max(from), leg.last_mark().min(to)))
            .filter(|(a, b)| a < b)
            .collect()
    }
}

/// Runs that can be laid out; the others are findings.
pub(super) fn lay_out<'j>(
    job: &'j Job,
    tapes: &TapeModels,
    findings: &mut Vec<Finding>,
) -> Vec<RunWork<'j>> {
    let zones = job.zones().iter().enumerate();
    let zones: BTreeMap<&str, usize> = zones.map(|(at, zone)| (&*zone.name, at)).collect();
    let mut out = Vec::new();
    for spec in job.runs() {
        let Some(zone_at) = zones.get(&*spec.zone).copied() else {
            continue;
        };
        let zone = &job.zones()[zone_at];
        let Some(tape) = job.strips().iter().position(|s| s.name == zone.strip) else {
            continue;
        };
        if tapes.get(tape).is_none() {
            continue;
        }
        let strip = &job.strips()[tape];
        let layout = match lay(&spec.layout, strip.pitch) {
            Ok(layout) => layout,
            Err(error) => {
                findings.push(path::no_layout(&spec.name, &error));
                continue;
            }
        };
        let bend = BendLimits {
            radius: strip.bend_radius,
        };
        let run = RunId::new(&*spec.name);
        findings.extend(layout_findings(&run, &spec.layout, &layout, bend));
        let joints = joints(job, spec, &layout, findings);
        out.push(RunWork {
            spec,
            zone,
            zone_at,
            tape,
            layout,
            joints,
            reel: strip.reel_joint.as_ref().map(|joint| Reel {
                increments: strip.pitch.count_in(strip.reel),
                resistance: joint.resistance,
                price: costing::reel_joint(joint),
            }),
            plan: None,
            findings: Vec::new(),
            reserve: 0.0,
            aim: Aim::of(job),
            only_from: None,
            drawn: BTreeMap::new(),
            least: None,
            with_the_whole: false,
            holds: false,
            gave_up: false,
            may_hold: false,
            stuck: false,
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
                parts_tape: false,
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
                let strip = job.zone(&run.zone).and_then(|z| job.strip(&z.strip));
                let facts = job
                    .cable(&jumper.cable)
                    .ok_or_else(|| "unknown cable".to_string())
                    .and_then(|cable| facts::jumper(cable, job.limits(), ambient, strip));
                match facts {
                    Ok(facts) => Some(facts.per_metre.low * jumper.length.to_length()),
                    Err(why) => {
                        findings.push(path::jumper_unknown(&run.name, &why));
                        None
                    }
                }
            }
        };
        at(joint.mark, &mut |j| {
            j.visible |= joint.visible;
            j.parts_tape = true;
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
