//! Jumpers: short cables across corners and gaps, one core for each rail.

use super::power::{ampacity, busiest};
use super::{corners, finite, jumper_id};
use crate::choose::feeding;
use crate::design::{Cable, Core, RouteKnown, Terminals};
use crate::device::EnergyLimit;
use crate::id::ProductId;
use crate::layout::PathJointKind;
use crate::layout::spec::Jumper;
use crate::plan::{SolvedJob, facts};
use crate::quantity::{ElectricCurrent, Share, Volts, ohms};
use crate::segment::JointStep;

impl SolvedJob<'_> {
    /// The jumpers inside a segment: where the run is broken instead, none is made.
    ///
    /// Each carries what its rails carry across the mark. Drop: `r (I_common + greatest I_return)`.
    pub(super) fn jumpers(&self, number: usize) -> Vec<Cable> {
        let segment = &self.joint.segments[number];
        let run = &self.runs[segment.run];
        let inside = |mark: u64| segment.plan.from < mark && mark < segment.plan.to;
        let joints = run.layout.joints().iter();
        let made = joints.filter_map(|joint| match &joint.kind {
            PathJointKind::Jumper(jumper) if inside(joint.mark) => Some((joint.mark, jumper)),
            _ => None,
        });
        let made = made.enumerate();
        made.filter_map(|(n, (mark, jumper))| self.jumper(number, n, mark, jumper))
            .collect()
    }

    fn jumper(&self, number: usize, n: usize, mark: u64, jumper: &Jumper) -> Option<Cable> {
        let segment = &self.joint.segments[number];
        let run = &self.runs[segment.run];
        let strip = &self.job.strips()[segment.tape];
        let item = self.job.cable(&jumper.cable)?;
        let ambient = run.spec.ambient;
        let facts = facts::jumper(item, self.job.limits(), ambient, Some(strip)).ok()?;
        let figures = self.figures(number);
        let high = figures.and_then(|f| across(&f.high.joint_steps, mark));
        let low = figures.and_then(|f| across(&f.low.joint_steps, mark));
        let length = jumper.length.to_length();
        let rails = std::iter::once(feeding::Conductor::Common)
            .chain((0..strip.emitters.len()).map(feeding::Conductor::Return));
        let current = |conductor| high.and_then(|all| of(all, conductor)).and_then(finite);
        let busiest = high.map_or(feeding::Conductor::Common, busiest);
        let drop = low.map_or(f64::NAN, loop_current) * (facts.per_metre.low * length).value;
        let end = || Terminals::Segment {
            segment: self.segment_id(number),
            at: strip.pitch.length_of(mark),
        };
        Some(Cable {
            id: jumper_id(&segment.id, n),
            from: end(),
            to: end(),
            kind: ProductId::new(&*item.name),
            cores: rails
                .enumerate()
                .map(|(core, conductor)| Core {
                    number: core as u64 + 1,
                    conductor: self.conductor(segment.tape, conductor),
                    current: current(conductor),
                })
                .collect(),
            route: jumper.length,
            known: RouteKnown::PathStates,
            busiest: self.conductor(segment.tape, busiest),
            current: current(busiest),
            hottest_core: finite(facts.hottest * length),
            hot: high
                .and_then(|all| facts.hot(of(all, busiest)?))
                .and_then(finite),
            ampacity: ampacity(&facts),
            core_resistance: corners(facts.per_metre.map(|r| ohms((*r * length).value)))?,
            drop: Volts::finite(drop),
            drop_share: Share::finite(drop / strip.rated.value),
            longest: None,
            energy: self
                .decoder_unit_of(number)
                .map_or(EnergyLimit::Unknown, |b| self.energy_class(b)),
            copper: (facts.copper * length).into(),
            ambient: ambient.into(),
        })
    }
}

/// Currents of the rails, each under its conductor.
type Currents = [(feeding::Conductor, ElectricCurrent)];

/// What crosses a mark.
fn across(joints: &[JointStep], mark: u64) -> Option<&Currents> {
    let joint = joints.iter().find(|joint| joint.mark == mark)?;
    Some(&joint.currents)
}

fn of(all: &Currents, conductor: feeding::Conductor) -> Option<ElectricCurrent> {
    let own = all.iter().find(|(other, _)| *other == conductor);
    own.map(|(_, current)| *current)
}

/// Current of the common and of the return that carries most.
fn loop_current(all: &Currents) -> f64 {
    let common = of(all, feeding::Conductor::Common).map_or(0.0, |current| current.value);
    let returns = all
        .iter()
        .filter(|(conductor, _)| *conductor != feeding::Conductor::Common)
        .map(|(_, current)| current.value);
    common + returns.fold(0.0, f64::max)
}
