//! One output of a supply with everything behind it, as plain data.

use crate::network::Limit;
use crate::quantity::{Corners, ElectricPotential, ElectricalResistance, ohms, volts};
use crate::strip::TapeModel;

/// One output of a supply with everything that shares its copper. Plain data: [`Circuit::check`] makes it solvable.
#[derive(Debug, Clone)]
pub struct Circuit<'t> {
    /// Set point of the output at the corners.
    pub set_point: Corners<ElectricPotential>,
    /// Resistance of the output; 0 is stiff.
    pub output_resistance: ElectricalResistance,
    /// What the output does on overload.
    pub limit: Limit,
    /// Decoders, or groups of segments that are switched together.
    pub branches: Vec<Branch<'t>>,
    /// States in which it is solved. The first is the one that is read on site: every emitter at full.
    pub states: Vec<State>,
}

impl Default for Circuit<'_> {
    /// A stiff 24 V without tolerance or limit, and nothing behind it.
    fn default() -> Self {
        Self {
            set_point: Corners::same(volts(24.0)),
            output_resistance: ohms(0.0),
            limit: Limit::None,
            branches: Vec::new(),
            states: Vec::new(),
        }
    }
}

impl<'t> Circuit<'t> {
    /// One segment straight on a stiff output: no lead, no switches, every emitter lit.
    #[must_use]
    pub fn of(set_point: Corners<ElectricPotential>, segment: Segment<'t>) -> Self {
        let all = State::all(std::slice::from_ref(&segment));
        Self {
            set_point,
            branches: vec![Branch::direct(segment)],
            states: vec![all],
            ..Self::default()
        }
    }
}

/// What hangs on one lead: a decoder with its segments, or the segments of a switched group.
#[derive(Debug, Clone)]
pub struct Branch<'t> {
    /// One core of the lead from the supply, at the corners; the lead has two. 0 where there is none.
    pub lead: Corners<ElectricalResistance>,
    /// Resistance of each output's switch.
    pub switch: ElectricalResistance,
    /// By output: the emitter that it switches, by its place in the strip.
    pub outputs: Vec<usize>,
    /// Its segments.
    pub segments: Vec<Segment<'t>>,
}

impl<'t> Branch<'t> {
    /// One segment without lead and switch resistance, an output for each emitter.
    #[must_use]
    pub fn direct(segment: Segment<'t>) -> Self {
        Self {
            lead: Corners::same(ohms(0.0)),
            switch: ohms(0.0),
            outputs: (0..segment.tape.emitters.len()).collect(),
            segments: vec![segment],
        }
    }
}

/// A piece of tape that is electrically on its own, with its feeders. Marks are cut marks, counted in increments from
/// the start of the run.
#[derive(Debug, Clone)]
pub struct Segment<'t> {
    /// Its tape.
    pub tape: &'t TapeModel,
    /// First mark.
    pub from: u64,
    /// Last mark.
    pub to: u64,
    /// What lies at marks strictly inside beside plain tape.
    pub joints: Vec<Joint>,
    /// By emitter of the strip: which output of the branch it is on.
    pub outputs: Vec<usize>,
    /// Its feeders.
    pub feeders: Vec<Feeder>,
}

impl<'t> Segment<'t> {
    /// Plain tape between two marks, emitter by emitter on outputs in the order of the strip.
    #[must_use]
    pub fn plain(tape: &'t TapeModel, from: u64, to: u64, feeders: Vec<Feeder>) -> Self {
        Self {
            tape,
            from,
            to,
            joints: Vec::new(),
            outputs: (0..tape.emitters.len()).collect(),
            feeders,
        }
    }
}

/// A joint in the tape: a corner jumper, a clip, a splice.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// Mark, strictly inside the segment.
    pub mark: u64,
    /// What it adds to the common rail.
    pub common: ElectricalResistance,
    /// What it adds to each return rail.
    pub returns: ElectricalResistance,
}

/// A cable from the outputs of the branch to a mark of a segment.
#[derive(Debug, Clone, PartialEq)]
pub struct Feeder {
    /// Mark that it enters at.
    pub mark: u64,
    /// One core, at the corners.
    pub core: Corners<ElectricalResistance>,
    /// What enters here, one core each.
    pub conductors: Vec<Conductor>,
}

impl Feeder {
    /// A feeder with a core for every conductor of a tape.
    #[must_use]
    pub fn full(tape: &TapeModel, mark: u64, core: Corners<ElectricalResistance>) -> Self {
        let returns = (0..tape.emitters.len()).map(Conductor::Return);
        Self {
            mark,
            core,
            conductors: std::iter::once(Conductor::Common).chain(returns).collect(),
        }
    }
}

/// A conductor of the tape.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Conductor {
    /// The common rail.
    Common,
    /// The return of an emitter, by its place in the strip.
    Return(usize),
}

/// Emitters that are lit together.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct State {
    /// By branch: the lit emitters, by their places in the strip, in that order.
    pub lit: Vec<Vec<usize>>,
}

impl State {
    /// Every emitter lit of branches of one segment each.
    fn all(segments: &[Segment<'_>]) -> Self {
        Self {
            lit: segments
                .iter()
                .map(|s| (0..s.tape.emitters.len()).collect())
                .collect(),
        }
    }
}
