//! The answer to `network`: every voltage, current and loss by name, and how far they may be from the true ones.

use super::network::{Input, Tape};
use evenrun::network::{
    LinkId, LoadId, NodeId, Rail, Solution, SourceId, SourceState, TapeId, TapeSolution,
};
use evenrun::quantity::{
    Amps, ElectricCurrent, ElectricPotential, Power, Share, Valued, Volts, Watts,
};
use serde::Serialize;

#[derive(Serialize)]
pub struct Answer<'a> {
    nodes: Vec<NodeAnswer<'a>>,
    links: Vec<LinkAnswer<'a>>,
    sources: Vec<SourceAnswer<'a>>,
    loads: Vec<LoadAnswer<'a>>,
    tapes: Vec<TapeAnswer<'a>>,
    source_power: Watts,
    load_power: Watts,
    copper_loss: Watts,
    efficiency: Share,
    iterations: usize,
    residual: Amps,
    volt_error_bound: Volts,
    amp_error_bound: Amps,
    bound_is_rigorous: bool,
    /// Cells above the last of their readings.
    beyond_readings: Vec<Beyond<'a>>,
}

#[derive(Serialize)]
struct NodeAnswer<'a> {
    name: &'a str,
    /// Over the minus of the first source of its circuit; none where nothing ties it to a live one.
    voltage: Option<Volts>,
}

#[derive(Serialize)]
struct LinkAnswer<'a> {
    name: &'a str,
    current: Option<Amps>,
    loss: Option<Watts>,
}

#[derive(Serialize)]
struct SourceAnswer<'a> {
    name: &'a str,
    voltage: Option<Volts>,
    current: Option<Amps>,
    power: Option<Watts>,
    state: Option<SourceState>,
}

#[derive(Serialize)]
struct LoadAnswer<'a> {
    name: &'a str,
    voltage: Option<Volts>,
    current: Option<Amps>,
}

#[derive(Serialize)]
struct TapeAnswer<'a> {
    name: &'a str,
    rail_loss: Watts,
    /// Into the common at each of its attachments.
    common: Vec<Option<Amps>>,
    emitters: Vec<EmitterAnswer<'a>>,
}

#[derive(Serialize)]
struct EmitterAnswer<'a> {
    name: &'a str,
    power: Watts,
    least_voltage: Option<Volts>,
    /// Into its return at each of its attachments.
    attachments: Vec<Option<Amps>>,
    cell_volts: &'a [f64],
    cell_amps: &'a [f64],
}

#[derive(Serialize)]
struct Beyond<'a> {
    tape: &'a str,
    emitter: &'a str,
    cell: usize,
}

fn volts(found: Option<ElectricPotential>) -> Option<Volts> {
    found.map(Valued)
}

fn amps(found: Option<ElectricCurrent>) -> Option<Amps> {
    found.map(Valued)
}

fn watts(found: Option<Power>) -> Option<Watts> {
    found.map(Valued)
}

/// Names of the input beside the figures of the solution.
pub fn answer<'a>(input: &'a Input, found: &'a Solution<'_>) -> Answer<'a> {
    let nodes = input.nodes.iter().enumerate();
    let links = input.links.iter().enumerate();
    let sources = input.sources.iter().enumerate();
    let loads = input.loads.iter().enumerate();
    let tapes = input.tapes.iter().enumerate();
    Answer {
        nodes: nodes
            .map(|(at, name)| NodeAnswer {
                name,
                voltage: volts(found.node_voltage(NodeId(at))),
            })
            .collect(),
        links: links
            .map(|(at, link)| LinkAnswer {
                name: &link.name,
                current: amps(found.link_current(LinkId(at))),
                loss: watts(found.link_loss(LinkId(at))),
            })
            .collect(),
        sources: sources
            .map(|(at, source)| SourceAnswer {
                name: &source.name,
                voltage: volts(found.source_voltage(SourceId(at))),
                current: amps(found.source_current(SourceId(at))),
                power: watts(found.source_power(SourceId(at))),
                state: found.source_state(SourceId(at)),
            })
            .collect(),
        loads: loads
            .map(|(at, load)| LoadAnswer {
                name: &load.name,
                voltage: volts(found.load_voltage(LoadId(at))),
                current: amps(found.load_current(LoadId(at))),
            })
            .collect(),
        tapes: tapes
            .filter_map(|(at, tape)| Some(TapeAnswer::of(tape, found.tape(TapeId(at))?)))
            .collect(),
        source_power: found.total_source_power().into(),
        load_power: found.total_load_power().into(),
        copper_loss: found.total_copper_loss().into(),
        efficiency: found.efficiency().into(),
        iterations: found.iterations(),
        residual: found.residual().into(),
        volt_error_bound: found.volt_error_bound().into(),
        amp_error_bound: found.amp_error_bound().into(),
        bound_is_rigorous: found.bound_is_rigorous(),
        beyond_readings: found
            .beyond_readings()
            .filter_map(|(tape, emitter, cell)| {
                let tape = input.tapes.get(tape.0)?;
                Some(Beyond {
                    tape: &tape.name,
                    emitter: &tape.emitters.get(emitter)?.name,
                    cell,
                })
            })
            .collect(),
    }
}

impl<'a> TapeAnswer<'a> {
    fn of(tape: &'a Tape, found: TapeSolution<'a>) -> Self {
        let entering = |rail, count: usize| -> Vec<Option<Amps>> {
            let each = 0..count;
            each.map(|at| amps(found.attachment_current(rail, at)))
                .collect()
        };
        let emitters = tape.emitters.iter().enumerate();
        Self {
            name: &tape.name,
            rail_loss: found.rail_loss().into(),
            common: entering(Rail::Common, tape.common.attachments.len()),
            emitters: emitters
                .map(|(at, emitter)| EmitterAnswer {
                    name: &emitter.name,
                    power: found.emitter_power(at).into(),
                    least_voltage: volts(found.least_cell_voltage(at)),
                    attachments: entering(Rail::Return(at), emitter.rail.attachments.len()),
                    cell_volts: found.cell_volts(at),
                    cell_amps: found.cell_amps(at),
                })
                .collect(),
        }
    }
}
