//! From a circuit to its network: one state of one build.
//!
//! Every conductor has one node at each mark where copper enters, and at each mark inside where the tape is fed at all:
//! there it is divided into two tapes, each half an increment away from the mark.

use super::check::CheckedCircuit;
use super::circuit::{Branch, Conductor, Segment, State};
use crate::network::{
    Along, Attachment, LinkId, NetworkSpec, NodeId, Polarity, RailSpec, SourceId, SourceSpec,
    TapeId, TapeSpec,
};
use crate::quantity::{Corner, ElectricalResistance, fraction, ohms};

/// One way in which a circuit may be built within its tolerances: each part at a corner of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Build {
    /// Set point of the output.
    pub set_point: Corner,
    /// Leads.
    pub lead: Corner,
    /// Feeders.
    pub feeders: Corner,
    /// Rails of the tape.
    pub rails: Corner,
    /// Joints in the tape: as stated, which is the most that they have; none at the high corner.
    pub joints: Corner,
    /// Cells.
    pub cells: Corner,
}

/// Everything at one corner, joints as stated.
impl From<Corner> for Build {
    fn from(corner: Corner) -> Self {
        Self {
            set_point: corner,
            lead: corner,
            feeders: corner,
            rails: corner,
            joints: Corner::Nominal,
            cells: corner,
        }
    }
}

/// Where the parts of a circuit ended up in its network.
#[derive(Debug)]
pub(super) struct CircuitParts {
    pub source: SourceId,
    pub branches: Vec<BranchParts>,
}

/// Parts of a branch.
#[derive(Debug)]
pub(super) struct BranchParts {
    /// Core of the lead on the common side.
    pub common_lead: LinkId,
    /// Core of the lead on the switched side.
    pub far_lead: LinkId,
    /// Which of the two goes to the supply's minus.
    pub minus_lead: LinkId,
    /// Common bus, and the terminal of the switches.
    pub bus: NodeId,
    pub terminal: NodeId,
    /// By output: its switch, where its emitter is lit.
    pub switches: Vec<Option<LinkId>>,
    pub segments: Vec<SegmentParts>,
}

/// Parts of a segment.
#[derive(Debug)]
pub(super) struct SegmentParts {
    /// Tapes between the marks that are fed, in order; none where nothing is lit.
    pub tapes: Vec<TapeId>,
    /// By feeder: the lit conductors.
    pub feeders: Vec<Vec<CoreParts>>,
}

/// A core of a feeder.
#[derive(Debug, Clone, Copy)]
pub(super) struct CoreParts {
    pub conductor: Conductor,
    pub core: LinkId,
    /// Node at the mark.
    pub mark: NodeId,
}

impl CheckedCircuit<'_> {
    /// The network of a state of a build.
    pub(super) fn network(&self, at: Build, state: &State) -> (NetworkSpec, CircuitParts) {
        let circuit = self.circuit();
        let mut spec = NetworkSpec::new();
        let plus = spec.node("supply plus");
        let minus = spec.node("supply minus");
        let source = spec.source(SourceSpec {
            name: "supply".into(),
            plus,
            minus,
            set_point: circuit.set_point[at.set_point],
            tolerance: fraction(0.0),
            output_resistance: circuit.output_resistance,
            limit: circuit.limit,
        });
        let mut branches = Vec::with_capacity(circuit.branches.len());
        for (number, branch) in circuit.branches.iter().enumerate() {
            let lit = state.lit.get(number).map_or(&[][..], Vec::as_slice);
            let name = format!("branch {}", number + 1);
            branches.push(branch.build(&mut spec, at, lit, [plus, minus], &name));
        }
        (spec, CircuitParts { source, branches })
    }
}

impl Branch<'_> {
    fn build(
        &self,
        spec: &mut NetworkSpec,
        build: Build,
        lit: &[usize],
        [plus, minus]: [NodeId; 2],
        name: &str,
    ) -> BranchParts {
        let polarity = self
            .segments
            .first()
            .map_or(Polarity::default(), |s| s.tape.polarity);
        let (common, far) = match polarity {
            Polarity::CommonPlus => (plus, minus),
            Polarity::CommonMinus => (minus, plus),
        };
        let bus = spec.node(format!("{name}, common bus"));
        let terminal = spec.node(format!("{name}, switched terminal"));
        let lead = self.lead[build.lead];
        let common_lead = spec.link(format!("{name}, lead, common"), common, bus, lead);
        let far_lead = spec.link(format!("{name}, lead, switched"), far, terminal, lead);
        let mut switches = Vec::with_capacity(self.outputs.len());
        let mut hubs = Vec::with_capacity(self.outputs.len());
        for (output, emitter) in self.outputs.iter().enumerate() {
            let on = lit.contains(emitter).then(|| {
                let hub = spec.node(format!("{name}, output {}", output + 1));
                let switch = format!("{name}, switch {}", output + 1);
                (hub, spec.link(switch, terminal, hub, self.switch))
            });
            hubs.push(on.map(|o| o.0));
            switches.push(on.map(|o| o.1));
        }
        let mut segments = Vec::with_capacity(self.segments.len());
        for (at, segment) in self.segments.iter().enumerate() {
            let hub = |emitter: &usize| *hubs.get(*segment.outputs.get(*emitter)?)?;
            // The common bus, then the outputs of the lit emitters: the check has seen that each has one.
            let from: Vec<NodeId> = std::iter::once(bus)
                .chain(lit.iter().filter_map(hub))
                .collect();
            let builder = Builder {
                segment,
                build,
                lit,
                name: format!("{name}, segment {}", at + 1),
            };
            segments.push(builder.build(spec, &from));
        }
        let minus_lead = match polarity {
            Polarity::CommonPlus => far_lead,
            Polarity::CommonMinus => common_lead,
        };
        BranchParts {
            common_lead,
            far_lead,
            minus_lead,
            bus,
            terminal,
            switches,
            segments,
        }
    }
}

/// One segment in one state of a build. A *rail* is 0 for the common, then the lit emitters.
struct Builder<'a> {
    segment: &'a Segment<'a>,
    build: Build,
    lit: &'a [usize],
    name: String,
}

/// A node of a rail at a mark.
struct Mark {
    mark: u64,
    rail: usize,
    node: NodeId,
}

impl Builder<'_> {
    fn build(&self, spec: &mut NetworkSpec, hubs: &[NodeId]) -> SegmentParts {
        let mut marks: Vec<Mark> = Vec::new();
        let mut feeders = Vec::with_capacity(self.segment.feeders.len());
        for (number, feeder) in self.segment.feeders.iter().enumerate() {
            let mut cores = Vec::with_capacity(feeder.conductors.len());
            for conductor in &feeder.conductors {
                let Some((rail, hub)) = self
                    .rail(*conductor)
                    .and_then(|rail| Some((rail, *hubs.get(rail)?)))
                else {
                    continue;
                };
                let mark = self.node(spec, &mut marks, feeder.mark, rail);
                let name = format!("{}, feeder {}, core {rail}", self.name, number + 1);
                cores.push(CoreParts {
                    conductor: *conductor,
                    core: spec.link(name, hub, mark, feeder.core[self.build.feeders]),
                    mark,
                });
            }
            feeders.push(cores);
        }
        let tapes = if self.lit.is_empty() {
            Vec::new()
        } else {
            self.tapes(spec, &mut marks)
        };
        SegmentParts { tapes, feeders }
    }

    fn rail(&self, conductor: Conductor) -> Option<usize> {
        match conductor {
            Conductor::Common => Some(0),
            Conductor::Return(emitter) => {
                let place = self.lit.iter().position(|on| *on == emitter);
                place.map(|place| place + 1)
            }
        }
    }

    /// The node of a rail at a mark, made where there is none yet.
    fn node(
        &self,
        spec: &mut NetworkSpec,
        marks: &mut Vec<Mark>,
        mark: u64,
        rail: usize,
    ) -> NodeId {
        if let Some(node) = node_at(marks, mark, rail) {
            return node;
        }
        let node = spec.node(format!("{}, mark {mark}, rail {rail}", self.name));
        marks.push(Mark { mark, rail, node });
        node
    }

    fn tapes(&self, spec: &mut NetworkSpec, marks: &mut Vec<Mark>) -> Vec<TapeId> {
        let Segment { from, to, .. } = *self.segment;
        let mut inside: Vec<u64> = self.segment.feeders.iter().map(|f| f.mark).collect();
        inside.retain(|mark| *mark > from && *mark < to);
        inside.sort_unstable();
        inside.dedup();
        for mark in &inside {
            for rail in 0..=self.lit.len() {
                self.node(spec, marks, *mark, rail);
            }
        }
        let emitters = &self.segment.tape.emitters;
        let laws: Vec<_> = self
            .lit
            .iter()
            .filter_map(|emitter| emitters.get(*emitter))
            .map(|emitter| spec.law(emitter.law[self.build.cells].clone()))
            .collect();
        let bounds: Vec<u64> = std::iter::once(from)
            .chain(inside)
            .chain(std::iter::once(to))
            .collect();
        let mut tapes = Vec::with_capacity(bounds.len());
        for (number, pair) in bounds.windows(2).enumerate() {
            let &[first, last] = pair else { continue };
            let tape = TapeSpec::lit(
                format!("{}, tape {}", self.name, number + 1),
                self.segment.tape.polarity,
                usize::try_from(last - first).unwrap_or(usize::MAX),
                &laws,
                |rail| self.rail_between(rail, first, last, marks),
            );
            tapes.push(spec.tape(tape));
        }
        tapes
    }

    /// One increment of a rail.
    fn increment(&self, rail: usize) -> ElectricalResistance {
        let tape = self.segment.tape;
        let emitter = rail.checked_sub(1).and_then(|place| self.lit.get(place));
        emitter
            .and_then(|emitter| tape.emitters.get(*emitter))
            .map_or(&tape.common, |emitter| &emitter.rail)[self.build.rails]
    }

    /// A rail from one mark to the next that is fed.
    fn rail_between(&self, rail: usize, first: u64, last: u64, marks: &[Mark]) -> RailSpec {
        let increment = self.increment(rail).value;
        let joints = || {
            let all = self.segment.joints.iter();
            all.map(|joint| {
                let own = if rail == 0 {
                    joint.common
                } else {
                    joint.returns
                };
                let has = self.build.joints != Corner::High;
                (joint.mark, if has { own.value } else { 0.0 })
            })
            .filter(|joint| joint.1 > 0.0)
        };
        let at = |mark: u64| joints().filter(|j| j.0 == mark).map(|j| j.1).sum::<f64>();
        let cells = usize::try_from(last - first).unwrap_or(usize::MAX);
        // A joint at a fed mark lies half on either side.
        let attachments = [(0, first), (cells.saturating_sub(1), last)]
            .into_iter()
            .filter_map(|(cell, mark)| {
                let node = node_at(marks, mark, rail)?;
                let half = ohms(0.5 * (increment + at(mark)));
                Some(Attachment::through(cell, node, half))
            })
            .collect();
        let links = if joints().any(|joint| joint.0 > first && joint.0 < last) {
            let mut each = vec![increment; cells.saturating_sub(1)];
            for (mark, own) in joints().filter(|joint| joint.0 > first && joint.0 < last) {
                let place = usize::try_from(mark - first - 1).unwrap_or(usize::MAX);
                if let Some(link) = each.get_mut(place) {
                    *link += own;
                }
            }
            Along::Each(each.into_iter().map(ohms).collect())
        } else {
            Along::Uniform(ohms(increment))
        };
        RailSpec { links, attachments }
    }
}

fn node_at(marks: &[Mark], mark: u64, rail: usize) -> Option<NodeId> {
    let found = marks.iter().find(|m| m.mark == mark && m.rail == rail);
    found.map(|m| m.node)
}
