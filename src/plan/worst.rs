//! The worst figures of a circuit over states and corners, as they start before any network is solved.

use super::circuit::Circuit;
use super::facts::TapeModels;
use crate::choose::feeding::Conductor;
use crate::quantity::Corners;

/// A segment, solved with everything it shares copper with.
#[derive(Debug, Clone)]
pub(super) struct SegmentFigures {
    /// Least cell voltage of any lit emitter in any state, V.
    pub least_volts: Corners<f64>,
    /// Least cell current relative to nominal.
    pub least_current: Corners<f64>,
    /// Emitter and mark before the cell that has it at the low corner.
    pub weakest: (usize, u64),
    /// Relative current of the first and last cell by emitter, low corner, least over the states in which it is lit.
    pub edges: [Vec<Option<f64>>; 2],
    /// Greatest step between neighbours across a path joint inside: mark, step.
    pub inner_steps: Vec<(u64, f64)>,
    /// Greatest departure from even balance between emitters lit together, low corner.
    pub balance: f64,
    /// Power into the tape, most over the states, W.
    pub power: Corners<f64>,
    /// Greatest current of a rail of the tape, high corner, A.
    pub rail_current: f64,
    /// By feed.
    pub feeds: Vec<FeedFigures>,
    /// Bound on the error of any voltage, nominal, V.
    pub error_bound: f64,
}

/// A feed.
#[derive(Debug, Clone)]
pub(super) struct FeedFigures {
    /// Volts between the common and the weakest return where they enter, with most emitters lit.
    pub volts: Corners<f64>,
    /// Greatest current of each conductor, high corner, A.
    pub currents: Vec<(Conductor, f64)>,
    /// Greatest drop over common core and one return core, low corner, V.
    pub drop: f64,
    /// Lost in the cores, nominal, most over the states, W.
    pub lost: f64,
}

/// A decoder, or a switched group.
#[derive(Debug, Clone)]
pub(super) struct BranchFigures {
    /// Greatest current of each output, high corner, A.
    pub outputs: Vec<f64>,
    /// Greatest current of its supply terminal, high corner, A.
    pub current: f64,
    /// Least volts at its supply terminal, low corner.
    pub least_volts: f64,
    /// Volts at its supply terminal with most emitters lit.
    pub volts: Corners<f64>,
    /// How far its minus terminal stands above its supply's, most over the states, V.
    pub minus: Corners<f64>,
}

/// A circuit.
#[derive(Debug, Clone)]
pub(super) struct CircuitFigures {
    /// Most current from the output, A.
    pub current: Corners<f64>,
    /// Most power from the output, W.
    pub power: Corners<f64>,
    /// Most power into tape, and lost in copper and switches, nominal, W.
    pub tape: f64,
    pub lost: f64,
    /// Whether the output would have to give more than it can in some state, high corner.
    pub overloads: bool,
    /// By branch.
    pub branches: Vec<BranchFigures>,
    /// By segment, with its place in the list of all segments.
    pub segments: Vec<(usize, SegmentFigures)>,
}

const NONE: Corners<f64> = Corners {
    low: 0.0,
    nominal: 0.0,
    high: 0.0,
};
const ENDLESS: Corners<f64> = Corners {
    low: f64::INFINITY,
    nominal: f64::INFINITY,
    high: f64::INFINITY,
};

impl CircuitFigures {
    pub fn empty(circuit: &Circuit, models: &TapeModels) -> Self {
        let emitters = |tape: usize| models.get(tape).map_or(0, |m| m.emitters.len());
        let segments = circuit
            .branches
            .iter()
            .flat_map(|branch| &branch.stretches)
            .map(|stretch| {
                let figures = SegmentFigures {
                    least_volts: ENDLESS,
                    least_current: ENDLESS,
                    weakest: (0, stretch.from),
                    edges: [
                        vec![None; emitters(stretch.tape)],
                        vec![None; emitters(stretch.tape)],
                    ],
                    inner_steps: stretch.joints.iter().map(|joint| (joint.0, 0.0)).collect(),
                    balance: 0.0,
                    power: NONE,
                    rail_current: 0.0,
                    feeds: stretch
                        .feeds
                        .iter()
                        .map(|wire| FeedFigures {
                            volts: NONE,
                            currents: wire.conductors.iter().map(|c| (*c, 0.0)).collect(),
                            drop: 0.0,
                            lost: 0.0,
                        })
                        .collect(),
                    error_bound: 0.0,
                };
                (stretch.segment, figures)
            })
            .collect();
        Self {
            current: NONE,
            power: NONE,
            tape: 0.0,
            lost: 0.0,
            overloads: false,
            branches: circuit
                .branches
                .iter()
                .map(|branch| BranchFigures {
                    outputs: vec![0.0; branch.outputs.len()],
                    current: 0.0,
                    least_volts: f64::INFINITY,
                    volts: NONE,
                    minus: NONE,
                })
                .collect(),
            segments,
        }
    }
}
