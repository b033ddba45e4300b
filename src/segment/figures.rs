//! The worst of every figure over the states, at one corner.

use super::circuit::{Branch, Circuit, Conductor, Feeder, Joint, Segment};
use super::read::{OperatingPoint, SegmentPoint};
use crate::network::SourceState;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, Power, Ratio, amps, fraction, volts, watts,
};

/// Everything on one output of a supply at one corner, the worst over the states.
#[derive(Debug, Clone, PartialEq)]
pub struct CircuitFigures {
    /// Most current from the output.
    pub current: ElectricCurrent,
    /// Most power from the output, at its terminals.
    pub power: Power,
    /// Heat of all copper and switches in the state of the most power.
    pub lost: Power,
    /// In some state the output would have to give more than its limit.
    pub over_limit: bool,
    /// No voltage of any state is further from the true one.
    pub volt_error_bound: ElectricPotential,
    /// By branch.
    pub branches: Vec<BranchFigures>,
}

/// A decoder, or a switched group, at one corner.
#[derive(Debug, Clone, PartialEq)]
pub struct BranchFigures {
    /// Greatest current of each output.
    pub outputs: Vec<ElectricCurrent>,
    /// Greatest current of its lead.
    pub current: ElectricCurrent,
    /// Least volts at its supply terminals.
    pub least_volts: ElectricPotential,
    /// Volts at its supply terminals in the first state.
    pub volts: ElectricPotential,
    /// How far its minus terminal stands above the supply's at most.
    pub minus_rise: ElectricPotential,
    /// By segment.
    pub segments: Vec<SegmentFigures>,
}

/// A segment at one corner, solved with everything it shares copper with.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct SegmentFigures {
    /// Least voltage of a lit cell.
    #[serde(with = "crate::quantity::valued")]
    pub least_volts: ElectricPotential,
    /// Least current of a lit cell, relative to its nominal current at the rated voltage.
    #[serde(with = "crate::quantity::valued")]
    pub least_current: Ratio,
    /// The cell that has it.
    pub weakest: Cell,
    /// The state in which it has it, by its place in the list.
    pub weakest_state: usize,
    /// Relative current of the first and of the last cell, by emitter: the least over the states in which it is lit.
    #[serde(serialize_with = "super::data::ends")]
    pub ends: [Vec<Option<Ratio>>; 2],
    /// Greatest step of light across each joint, in the order of [`Segment::joints`].
    pub joint_steps: Vec<JointStep>,
    /// Greatest departure from even balance between emitters lit together in one increment: 1 − least ÷ greatest of
    /// their relative currents.
    #[serde(with = "crate::quantity::valued")]
    pub imbalance: Ratio,
    /// Most power into rails and cells.
    #[serde(with = "crate::quantity::valued")]
    pub power: Power,
    /// Greatest current of the common over all feeders: that of the segment.
    #[serde(with = "crate::quantity::valued")]
    pub current: ElectricCurrent,
    /// Greatest current of any rail from one cell to the next.
    #[serde(with = "crate::quantity::valued")]
    pub rail_current: ElectricCurrent,
    /// Greatest current of any rail beside a fed mark, where half an increment carries all that enters to one side.
    #[serde(with = "crate::quantity::valued")]
    pub entry_current: ElectricCurrent,
    /// By feeder.
    pub feeders: Vec<FeedFigures>,
}

/// What is seen at a joint, and what crosses it.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct JointStep {
    /// Its mark.
    pub mark: u64,
    /// Greatest step of relative current between the two cells beside it.
    #[serde(with = "crate::quantity::valued")]
    pub step: Ratio,
    /// Greatest current of each rail across it.
    #[serde(serialize_with = "super::data::currents")]
    pub currents: Vec<(Conductor, ElectricCurrent)>,
}

/// A cell of a segment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct Cell {
    /// Emitter, by its place in the strip.
    pub emitter: usize,
    /// Increment, counted from the start of the run.
    pub increment: u64,
}

/// A feeder at one corner, and the mark that it enters at.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct FeedFigures {
    /// Volts at the tape between the common and the weakest return in the first state; none where no return is lit.
    #[serde(with = "crate::quantity::valued::optional")]
    pub volts: Option<ElectricPotential>,
    /// Greatest current of each conductor.
    #[serde(serialize_with = "super::data::currents")]
    pub currents: Vec<(Conductor, ElectricCurrent)>,
    /// Greatest drop over the core of the common and one of a return.
    #[serde(with = "crate::quantity::valued")]
    pub drop: ElectricPotential,
    /// Most heat of its cores.
    #[serde(with = "crate::quantity::valued")]
    pub lost: Power,
}

impl FeedFigures {
    /// Greatest current of a conductor; none where it does not enter here.
    #[must_use]
    pub fn current(&self, conductor: Conductor) -> Option<ElectricCurrent> {
        let found = self.currents.iter().find(|c| c.0 == conductor);
        found.map(|c| c.1)
    }
}

/// Step between two relative currents as a share of the brighter one; 0 where both are dark.
#[must_use]
pub fn step(a: Ratio, b: Ratio) -> Ratio {
    fraction(step_between(a.value, b.value))
}

fn step_between(a: f64, b: f64) -> f64 {
    let high = most(a, b);
    if high > 0.0 {
        (a - b).abs() / high
    } else {
        0.0
    }
}

/// Least and most that keep a NaN once it is there: a limit must not pass on it.
pub(super) fn least(a: f64, b: f64) -> f64 {
    if a.is_nan() || b.is_nan() {
        f64::NAN
    } else {
        a.min(b)
    }
}
pub(super) fn most(a: f64, b: f64) -> f64 {
    if a.is_nan() || b.is_nan() {
        f64::NAN
    } else {
        a.max(b)
    }
}

impl CircuitFigures {
    /// Before the first state: least figures endless, greatest ones 0. The check has seen that there is a state, and
    /// that some state lights each segment, so nothing of this is left.
    pub(super) fn before(circuit: &Circuit<'_>) -> Self {
        Self {
            current: amps(0.0),
            power: watts(0.0),
            lost: watts(0.0),
            over_limit: false,
            volt_error_bound: volts(0.0),
            branches: circuit.branches.iter().map(BranchFigures::before).collect(),
        }
    }

    /// Adds a state, by its place in the list; the first is the one that is read on site.
    pub(super) fn add(&mut self, point: &OperatingPoint<'_>, state: usize) {
        let (solution, source) = (point.solution, point.parts.source);
        let current = solution.source_current(source).unwrap_or_default();
        let power = solution.source_power(source).unwrap_or_default();
        self.current.value = most(self.current.value, current.value);
        if power > self.power {
            self.lost = solution.total_copper_loss();
        }
        self.power.value = most(self.power.value, power.value);
        self.over_limit |= solution
            .source_state(source)
            .is_some_and(|state| !matches!(state, SourceState::Gives | SourceState::Blocked));
        let bound = solution.volt_error_bound().value;
        self.volt_error_bound.value = most(self.volt_error_bound.value, bound);
        for (at, branch) in self.branches.iter_mut().enumerate() {
            branch.add(point, at, state);
        }
    }
}

impl BranchFigures {
    fn before(branch: &Branch<'_>) -> Self {
        Self {
            outputs: vec![amps(0.0); branch.outputs.len()],
            current: amps(0.0),
            least_volts: volts(f64::INFINITY),
            volts: volts(0.0),
            minus_rise: volts(0.0),
            segments: branch.segments.iter().map(SegmentFigures::before).collect(),
        }
    }

    fn add(&mut self, point: &OperatingPoint<'_>, at: usize, state: usize) {
        let own = point.circuit.circuit().branches.get(at);
        let (Some(own), Some(parts)) = (own, point.parts.branches.get(at)) else {
            return;
        };
        let across = point.across(parts.bus, parts.terminal);
        self.least_volts.value = least(self.least_volts.value, across);
        if state == 0 {
            self.volts.value = across;
        }
        let rise = drop(
            own.lead[point.build.lead].value,
            point.amps(parts.minus_lead),
        );
        self.minus_rise.value = most(self.minus_rise.value, rise);
        self.current.value = most(self.current.value, point.amps(parts.common_lead));
        for (output, switch) in self.outputs.iter_mut().zip(&parts.switches) {
            if let Some(link) = switch {
                output.value = most(output.value, point.amps(*link));
            }
        }
        for (number, segment) in self.segments.iter_mut().enumerate() {
            if let Some(own) = point.segment(at, number) {
                segment.add(point, &own, state);
            }
        }
    }
}

impl SegmentFigures {
    fn before(segment: &Segment<'_>) -> Self {
        let ends = vec![None; segment.tape.emitters.len()];
        Self {
            least_volts: volts(f64::INFINITY),
            least_current: fraction(f64::INFINITY),
            weakest: Cell {
                emitter: 0,
                increment: segment.from,
            },
            weakest_state: 0,
            ends: [ends.clone(), ends],
            joint_steps: segment
                .joints
                .iter()
                .map(|joint| JointStep::before(joint, segment.tape.emitters.len()))
                .collect(),
            imbalance: fraction(0.0),
            power: watts(0.0),
            current: amps(0.0),
            rail_current: amps(0.0),
            entry_current: amps(0.0),
            feeders: segment.feeders.iter().map(FeedFigures::before).collect(),
        }
    }

    fn add(&mut self, point: &OperatingPoint<'_>, own: &SegmentPoint<'_>, state: usize) {
        let mut power = 0.0;
        let mut relative: Vec<Vec<f64>> = Vec::with_capacity(own.lit().len());
        for (place, emitter) in own.lit().iter().enumerate() {
            let Some(model) = own.segment.tape.emitters.get(*emitter) else {
                continue;
            };
            let nominal = model.law.nominal.current(own.segment.tape.rated).value;
            for tape in own.tapes() {
                power += tape.emitter_power(place).value;
            }
            for volts in own.cell_volts(place) {
                self.least_volts.value = least(self.least_volts.value, volts);
            }
            let shares: Vec<f64> = own.cell_amps(place).map(|amps| amps / nominal).collect();
            for (cell, share) in shares.iter().enumerate() {
                if !(*share >= self.least_current.value) {
                    self.weakest = Cell {
                        emitter: *emitter,
                        increment: own.segment.from + cell as u64,
                    };
                    self.weakest_state = state;
                }
                self.least_current.value = least(self.least_current.value, *share);
            }
            self.add_light(own.segment, *emitter, &shares);
            relative.push(shares);
        }
        for tape in own.tapes() {
            power += tape.rail_loss().value;
        }
        self.power.value = most(self.power.value, power);
        let current = own.total(Conductor::Common).value;
        self.current.value = most(self.current.value, current);
        let rail = own.rail_current().value;
        self.rail_current.value = most(self.rail_current.value, rail);
        let entry = own.entry_current().value;
        self.entry_current.value = most(self.entry_current.value, entry);
        self.add_imbalance(&relative);
        for joint in &mut self.joint_steps {
            for (conductor, current) in &mut joint.currents {
                let now = own.current_across(joint.mark, *conductor);
                current.value = most(current.value, now.value);
            }
        }
        for (number, feeder) in self.feeders.iter_mut().enumerate() {
            feeder.add(point, own, number, state == 0);
        }
    }

    /// Ends and steps of one lit emitter.
    fn add_light(&mut self, segment: &Segment<'_>, emitter: usize, shares: &[f64]) {
        for (end, share) in self.ends.iter_mut().zip([shares.first(), shares.last()]) {
            if let (Some(share), Some(end)) = (share, end.get_mut(emitter)) {
                let known = end.map_or(*share, |other| least(other.value, *share));
                *end = Some(fraction(known));
            }
        }
        for joint in &mut self.joint_steps {
            let place = usize::try_from(joint.mark - segment.from).unwrap_or(usize::MAX);
            let before = place.checked_sub(1).and_then(|k| shares.get(k));
            if let (Some(a), Some(b)) = (before, shares.get(place)) {
                joint.step.value = most(joint.step.value, step_between(*a, *b));
            }
        }
    }

    fn add_imbalance(&mut self, relative: &[Vec<f64>]) {
        if relative.len() < 2 {
            return;
        }
        let cells = relative.iter().map(Vec::len).min().unwrap_or(0);
        for cell in 0..cells {
            let shares = relative.iter().filter_map(|row| row.get(cell)).copied();
            let low = shares.clone().fold(f64::INFINITY, least);
            let high = shares.fold(0.0, most);
            self.imbalance.value = most(self.imbalance.value, step_between(low, high));
        }
    }
}

impl JointStep {
    fn before(joint: &Joint, emitters: usize) -> Self {
        let returns = (0..emitters).map(Conductor::Return);
        Self {
            mark: joint.mark,
            step: fraction(0.0),
            currents: std::iter::once(Conductor::Common)
                .chain(returns)
                .map(|conductor| (conductor, amps(0.0)))
                .collect(),
        }
    }
}

impl FeedFigures {
    fn before(feeder: &Feeder) -> Self {
        Self {
            volts: None,
            currents: feeder.conductors.iter().map(|c| (*c, amps(0.0))).collect(),
            drop: volts(0.0),
            lost: watts(0.0),
        }
    }

    fn add(
        &mut self,
        point: &OperatingPoint<'_>,
        own: &SegmentPoint<'_>,
        number: usize,
        first: bool,
    ) {
        let Some(feeder) = own.segment.feeders.get(number) else {
            return;
        };
        let core = feeder.core[point.build.feeders].value;
        let (mut common, mut worst, mut lost) = (0.0, 0.0, 0.0);
        for (conductor, current) in own.entering(number) {
            let current = current.value.abs();
            lost += drop(core, current) * current;
            match conductor {
                Conductor::Common => common = current,
                Conductor::Return(_) => worst = most(worst, current),
            }
            if let Some(entry) = self.currents.iter_mut().find(|c| c.0 == conductor) {
                entry.1.value = most(entry.1.value, current);
            }
        }
        self.drop.value = most(self.drop.value, drop(core, common + worst));
        self.lost.value = most(self.lost.value, lost);
        if first {
            self.volts = own.volts_at(number);
        }
    }
}

/// Drop over a resistance; 0 V over an open one, which carries nothing.
fn drop(ohms: f64, amps: f64) -> f64 {
    if amps == 0.0 { 0.0 } else { ohms * amps }
}
