//! Everything that shares copper behind one output of a supply, as one network.
//!
//! ```text
//!                        ┌ lead ─ bus ──────────────── core ─ mark ─ common rail
//! supply output ─────────┤                                          cells
//!                        └ lead ─ terminal ─ switch ─ core ─ mark ─ return rail
//!                            └ lead ─ … the next decoder
//! ```
//!
//! A feed inside a segment divides its tape at the mark into two tapes joined at one node for
//! each conductor. A switched zone has no decoder: its bus and terminal are the supply's own.

use super::facts::TapeModels;
use crate::choose::feeding::Conductor;
use crate::network::{
    Along, Attachment, Limit, LinkId, NetworkSpec, NodeId, Polarity, RailSpec, SourceId,
    SourceSpec, TapeId, TapeSpec,
};
use crate::quantity::{Corners, fraction, ohms, volts};
use crate::strip::TapeModel;

/// A figure at one of the three corners.
pub(super) fn at(corners: &Corners<f64>, corner: usize) -> f64 {
    match corner {
        0 => corners.low,
        1 => corners.nominal,
        _ => corners.high,
    }
}

/// One output of a supply with everything on it.
#[derive(Debug, Clone)]
pub(super) struct Circuit {
    /// Set point, V.
    pub set_point: Corners<f64>,
    /// Resistance of the output, ohm.
    pub output_resistance: f64,
    /// What the output does on overload.
    pub limit: Limit,
    /// Which side is shared.
    pub polarity: Polarity,
    /// Decoders, or switched groups.
    pub branches: Vec<Branch>,
}

/// A decoder, or the segments of a switched zone, on an output of a supply.
#[derive(Debug, Clone)]
pub(super) struct Branch {
    /// Zone, by its place in the job.
    pub zone: usize,
    /// One core of the lead, ohm.
    pub lead: Corners<f64>,
    /// Resistance of a switch, ohm.
    pub switch: f64,
    /// Emitter that each output switches.
    pub outputs: Vec<usize>,
    /// Segments.
    pub stretches: Vec<Stretch>,
}

/// A segment as the network needs it.
#[derive(Debug, Clone)]
pub(super) struct Stretch {
    /// Its place in the list of all segments.
    pub segment: usize,
    /// Tape, by its place in the list of models.
    pub tape: usize,
    /// First and last mark.
    pub from: u64,
    pub to: u64,
    /// Joints of the path and of reels strictly inside: mark, common, returns, ohm.
    pub joints: Vec<(u64, f64, f64)>,
    /// Output of its branch that each emitter is on.
    pub outputs: Vec<usize>,
    /// Feeds.
    pub feeds: Vec<Wire>,
}

/// A feeder.
#[derive(Debug, Clone)]
pub(super) struct Wire {
    /// Mark it enters at.
    pub mark: u64,
    /// One core, ohm.
    pub core: Corners<f64>,
    /// What enters.
    pub conductors: Vec<Conductor>,
}

/// Which emitters of each zone are lit: lists of places in the strip, by zone.
pub(super) type Lit<'a> = &'a dyn Fn(usize) -> &'a [usize];

/// Where a network's parts ended up.
#[derive(Debug)]
pub(super) struct Parts {
    pub source: SourceId,
    pub branches: Vec<BranchParts>,
}

/// Parts of a branch.
#[derive(Debug)]
pub(super) struct BranchParts {
    /// Lead on the common side and on the switched side; none for a switched zone without one.
    pub leads: [LinkId; 2],
    /// Common bus and switched-side terminal.
    pub bus: NodeId,
    pub terminal: NodeId,
    /// By output: its switch, where its emitter is lit.
    pub switches: Vec<Option<LinkId>>,
    /// Segments.
    pub stretches: Vec<StretchParts>,
}

/// Parts of a segment.
#[derive(Debug)]
pub(super) struct StretchParts {
    /// Lit emitters.
    pub lit: Vec<usize>,
    /// Tapes between feeds, in order.
    pub tapes: Vec<TapeId>,
    /// By feed: conductor, its core, its node at the mark.
    pub feeds: Vec<Vec<(Conductor, LinkId, NodeId)>>,
}

impl Circuit {
    /// Which of a branch's two leads is the minus one: the common side or the switched side.
    pub(super) fn minus_side(&self) -> usize {
        match self.polarity {
            Polarity::CommonPlus => 1,
            Polarity::CommonMinus => 0,
        }
    }

    /// The network at a corner with `lit` emitters on.
    pub(super) fn network(
        &self,
        models: &TapeModels,
        corner: usize,
        lit: Lit<'_>,
    ) -> (NetworkSpec, Parts) {
        let mut spec = NetworkSpec::new();
        let common = spec.node("supply, common side");
        let far = spec.node("supply, switched side");
        let (plus, minus) = match self.polarity {
            Polarity::CommonPlus => (common, far),
            Polarity::CommonMinus => (far, common),
        };
        let source = spec.source(SourceSpec {
            name: "supply".into(),
            plus,
            minus,
            set_point: volts(at(&self.set_point, corner)),
            tolerance: fraction(0.0),
            output_resistance: ohms(self.output_resistance),
            limit: self.limit,
        });
        let branches = self
            .branches
            .iter()
            .enumerate()
            .map(|(number, branch)| {
                branch.build(
                    &mut spec,
                    models,
                    corner,
                    lit,
                    (common, far),
                    self.polarity,
                    number,
                )
            })
            .collect();
        (spec, Parts { source, branches })
    }
}

impl Branch {
    #[allow(clippy::too_many_arguments)]
    fn build(
        &self,
        spec: &mut NetworkSpec,
        models: &TapeModels,
        corner: usize,
        lit: Lit<'_>,
        (common, far): (NodeId, NodeId),
        polarity: Polarity,
        number: usize,
    ) -> BranchParts {
        let bus = spec.node(format!("branch {number}, bus"));
        let terminal = spec.node(format!("branch {number}, terminal"));
        let lead = ohms(at(&self.lead, corner));
        let leads = [
            spec.link(format!("branch {number}, lead, common"), common, bus, lead),
            spec.link(
                format!("branch {number}, lead, switched"),
                far,
                terminal,
                lead,
            ),
        ];
        let on = lit(self.zone);
        let mut switches = Vec::new();
        let mut hubs = Vec::new();
        for (output, emitter) in self.outputs.iter().enumerate() {
            if !on.contains(emitter) {
                switches.push(None);
                hubs.push(None);
                continue;
            }
            let hub = spec.node(format!("branch {number}, output {output}"));
            let name = format!("branch {number}, switch {output}");
            switches.push(Some(spec.link(name, terminal, hub, ohms(self.switch))));
            hubs.push(Some(hub));
        }
        let mut stretches = Vec::new();
        for stretch in &self.stretches {
            let Some(model) = models.get(stretch.tape) else {
                continue;
            };
            let hub = |emitter: &usize| *hubs.get(*stretch.outputs.get(*emitter)?)?;
            let own: Vec<NodeId> = std::iter::once(Some(bus))
                .chain(on.iter().map(hub))
                .map(|node| node.unwrap_or(bus))
                .collect();
            stretches.push(stretch.build(spec, model, corner, on, &own, polarity));
        }
        BranchParts {
            leads,
            bus,
            terminal,
            switches,
            stretches,
        }
    }
}

impl Stretch {
    /// Joints at a mark: common, returns.
    fn joint(&self, mark: u64) -> (f64, f64) {
        self.joints
            .iter()
            .filter(|joint| joint.0 == mark)
            .fold((0.0, 0.0), |sum, joint| (sum.0 + joint.1, sum.1 + joint.2))
    }

    fn build(
        &self,
        spec: &mut NetworkSpec,
        model: &TapeModel,
        corner: usize,
        lit: &[usize],
        hubs: &[NodeId],
        polarity: Polarity,
    ) -> StretchParts {
        let name = |what: &str| format!("segment {}, {what}", self.segment);
        // Which hub a conductor starts from: 0 the common bus, then the lit emitters.
        let slot = |conductor: Conductor| match conductor {
            Conductor::Common => Some(0),
            Conductor::Return(emitter) => lit
                .iter()
                .position(|on| *on == emitter)
                .map(|place| place + 1),
        };
        let mut feeds = Vec::new();
        // Node of each conductor at each mark that is fed: (mark, slot, node).
        let mut nodes: Vec<(u64, usize, NodeId)> = Vec::new();
        for (number, wire) in self.feeds.iter().enumerate() {
            let core = ohms(at(&wire.core, corner));
            let mut own = Vec::new();
            for conductor in &wire.conductors {
                let Some((place, hub)) =
                    slot(*conductor).and_then(|place| Some((place, *hubs.get(place)?)))
                else {
                    continue;
                };
                let node = spec.node(name(&format!("feed {number}, conductor {place}")));
                let link = spec.link(
                    name(&format!("core {place} of feed {number}")),
                    hub,
                    node,
                    core,
                );
                own.push((*conductor, link, node));
                nodes.push((wire.mark, place, node));
            }
            feeds.push(own);
        }
        let tapes = if lit.is_empty() {
            Vec::new()
        } else {
            self.tapes(spec, model, corner, lit, &nodes, polarity)
        };
        StretchParts {
            lit: lit.to_vec(),
            tapes,
            feeds,
        }
    }

    fn tapes(
        &self,
        spec: &mut NetworkSpec,
        model: &TapeModel,
        corner: usize,
        lit: &[usize],
        nodes: &[(u64, usize, NodeId)],
        polarity: Polarity,
    ) -> Vec<TapeId> {
        let mut bounds: Vec<u64> = self
            .feeds
            .iter()
            .map(|wire| wire.mark)
            .filter(|mark| *mark > self.from && *mark < self.to)
            .collect();
        bounds.extend([self.from, self.to]);
        bounds.sort_unstable();
        bounds.dedup();
        let ohms_of = |of: &Corners<crate::quantity::ElectricalResistance>| match corner {
            0 => of.low.value,
            1 => of.nominal.value,
            _ => of.high.value,
        };
        let laws: Vec<_> = lit
            .iter()
            .filter_map(|emitter| model.emitters.get(*emitter))
            .map(|emitter| {
                spec.law(match corner {
                    0 => emitter.law.low.clone(),
                    1 => emitter.law.nominal.clone(),
                    _ => emitter.law.high.clone(),
                })
            })
            .collect();
        let mut tapes = Vec::new();
        for (number, pair) in bounds.windows(2).enumerate() {
            let &[from, to] = pair else { continue };
            let cells = usize::try_from(to - from).unwrap_or(usize::MAX);
            let rail = |place: usize| {
                let increment = match place.checked_sub(1).and_then(|p| lit.get(p)) {
                    None => ohms_of(&model.common),
                    Some(emitter) => model
                        .emitters
                        .get(*emitter)
                        .map_or(f64::NAN, |e| ohms_of(&e.rail)),
                };
                let joint = |mark: u64| {
                    let both = self.joint(mark);
                    if place == 0 { both.0 } else { both.1 }
                };
                let attachments = [(0, from), (cells - 1, to)]
                    .into_iter()
                    .filter_map(|(cell, mark)| {
                        let node = nodes.iter().find(|n| n.0 == mark && n.1 == place)?;
                        let inside = mark > self.from && mark < self.to;
                        let own = increment + if inside { joint(mark) } else { 0.0 };
                        Some(Attachment::through(cell, node.2, ohms(own / 2.0)))
                    })
                    .collect();
                let links = if self.joints.is_empty() {
                    Along::Uniform(ohms(increment))
                } else {
                    Along::Each(
                        (from + 1..to)
                            .map(|mark| ohms(increment + joint(mark)))
                            .collect(),
                    )
                };
                RailSpec { links, attachments }
            };
            tapes.push(spec.tape(TapeSpec::lit(
                format!("segment {}, tape {number}", self.segment),
                polarity,
                cells,
                &laws,
                rail,
            )));
        }
        tapes
    }
}
