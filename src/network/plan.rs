//! A checked network, laid out for solving.

use super::check::{JOINED_OHMS, OPEN_OHMS};
use super::conflict::Groups;
use super::error::NetworkError;
use super::islands::{Union, strong_sets};
use super::order::{MOST_MESH, Order, order};
use super::spec::{Corner, Limit, NetworkSpec};
use super::tape::{Polarity, RailSpec, TapeSpec};
use crate::load::{Law, Trend};
use std::ops::Range;

/// A checked network: what [`NetworkSpec::check`] gives, and the solver takes.
#[derive(Debug, Clone)]
pub struct Network {
    pub(super) spec: NetworkSpec,
    pub(super) tapes: Vec<TapePlan>,
    pub(super) sections: Vec<Section>,
    /// Conductances of the tapes' rail links, S.
    pub(super) rail_siemens: Vec<f64>,
    /// Wires: links of the spec first, then attachments.
    pub(super) wires: Vec<Wire>,
    pub(super) bridges: Vec<Bridge>,
    pub(super) loads: Vec<LoadPlan>,
    pub(super) sources: Vec<SourcePlan>,
    /// Nodes of the spec, then the pads at which tapes are attached.
    pub(super) nodes: usize,
    pub(super) order: Order,
    /// Starting potential of each node at each corner, V.
    pub(super) start: [Vec<f64>; 3],
    /// Whether a node of the spec belongs to a live loop.
    pub(super) live: Vec<bool>,
    /// One node of each live set, whose potential is fixed.
    pub(super) anchors: Vec<u32>,
    pub(super) floors: Vec<f64>,
    pub(super) falling: bool,
    /// Greatest `I''/I'` of the laws, 1/V, where all are smooth.
    pub(super) bend: Option<f64>,
    pub(super) sizes: Sizes,
    pub(super) mark: u64,
    /// The same with eight cells taken as one, for a start.
    pub(super) coarse: Option<Box<Network>>,
}

/// Lengths of the work arrays.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Sizes {
    pub rail_nodes: usize,
    pub rail_links: usize,
    pub cells: usize,
    pub coefficients: usize,
}

/// A tape in the work arrays: rail by rail, then cell by cell.
#[derive(Debug, Clone)]
pub(super) struct TapePlan {
    pub index: usize,
    pub cells: usize,
    /// Lit rails: the common and the lit emitters.
    pub rails: usize,
    /// Place of each emitter among the lit ones.
    pub lit: Vec<Option<usize>>,
    pub first_node: usize,
    pub first_link: usize,
    pub first_cell: usize,
    /// +1 for common plus, -1 for common minus.
    pub sign: f64,
    /// Lit emitters: law, exceptions, dark cells.
    pub emitters: Vec<EmitterPlan>,
    /// Cells with attachments, and the first of their nodes in the wiring.
    pub pads: Vec<(usize, u32)>,
    /// Pieces of each lit rail between broken links, with their starting potential at each corner.
    pub pieces: Vec<Vec<(Range<usize>, [f64; 3])>>,
    /// First wire of this tape's attachments of each rail.
    pub rail_wires: Vec<Range<usize>>,
}

#[derive(Debug, Clone)]
pub(super) struct EmitterPlan {
    pub law: usize,
    pub exceptions: Vec<(usize, usize)>,
    pub dark: Vec<Range<usize>>,
}

/// A stretch of cells without attachments, eliminated from `first` by `step` towards the pad `next`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Section {
    pub tape: usize,
    pub first: usize,
    pub count: usize,
    pub up: bool,
    pub next: u32,
    pub left: Option<u32>,
    pub coefficients: usize,
    /// First of the slots of its mesh, in [`Network::bridges`]-like order.
    pub first_slot: usize,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct Wire {
    pub from: u32,
    pub to: u32,
    pub siemens: f64,
    pub slot: u32,
}

/// What joins pads other than wires: rail links between neighbouring pads, cells at pads, sections.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bridge {
    pub kind: BridgeKind,
    pub slot: u32,
}

#[derive(Debug, Clone, Copy)]
pub(super) enum BridgeKind {
    RailLink(usize),
    Cell(usize),
    Mesh,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct LoadPlan {
    pub plus: u32,
    pub minus: u32,
    pub law: usize,
    pub dark: bool,
    pub slot: u32,
}

#[derive(Debug, Clone, Copy)]
pub(super) struct SourcePlan {
    pub plus: u32,
    pub minus: u32,
    pub siemens: f64,
    pub limit: f64,
    pub dark: bool,
    pub slot: u32,
}

/// Conductance of a resistance; joined below [`JOINED_OHMS`], open above [`OPEN_OHMS`].
pub(super) fn siemens_of(ohms: f64) -> f64 {
    if ohms > OPEN_OHMS {
        0.0
    } else {
        1.0 / ohms.max(JOINED_OHMS)
    }
}

pub(super) fn lit_rails(tape: &TapeSpec) -> impl Iterator<Item = &RailSpec> {
    std::iter::once(&tape.common).chain(tape.emitters.iter().filter(|e| e.lit).map(|e| &e.rail))
}

impl Corner {
    pub(super) fn index(self) -> usize {
        match self {
            Self::Low => 0,
            Self::Nominal => 1,
            Self::High => 2,
        }
    }

    /// Set point of a source at this corner.
    pub(super) fn set_point(self, source: &super::spec::SourceSpec) -> f64 {
        let t = source.tolerance.value;
        source.set_point.value
            * match self {
                Self::Low => 1.0 - t,
                Self::Nominal => 1.0,
                Self::High => 1.0 + t,
            }
    }
}

impl Network {
    /// The data this network was made from.
    #[must_use]
    pub fn spec(&self) -> &NetworkSpec {
        &self.spec
    }

    /// Gives the data back, to change and check again.
    #[must_use]
    pub fn into_spec(self) -> NetworkSpec {
        self.spec
    }

    pub(super) fn law(&self, index: usize) -> &Law {
        &self.spec.laws[index]
    }

    pub(super) fn prepare(spec: NetworkSpec) -> Result<Self, NetworkError> {
        let mut layout = Layout::new(&spec);
        layout.lay_tapes(&spec);
        let islands = layout.find_islands(&spec);
        let (loads, sources) = layout.one_way_branches(&spec, &islands);
        let starts = islands.potentials(&spec, &sources);
        for tape in &mut layout.tapes {
            islands.finish_tape(tape, &starts);
        }
        let node_start = |corner: usize| -> Vec<f64> {
            islands
                .of_node
                .iter()
                .map(|&i| starts[corner][i as usize])
                .collect()
        };
        let start = [node_start(0), node_start(1), node_start(2)];
        let live = islands
            .of_node
            .iter()
            .map(|&i| islands.live[i as usize])
            .collect();
        let mut network = Self {
            tapes: layout.tapes,
            sections: layout.sections,
            rail_siemens: layout.rail_siemens,
            wires: layout.wires,
            bridges: layout.bridges,
            loads,
            sources,
            nodes: layout.nodes,
            order: Order::default(),
            start,
            live,
            anchors: islands.anchors,
            floors: Vec::new(),
            falling: spec.laws.iter().any(|l| l.trend() == Trend::Falling),
            bend: spec
                .laws
                .iter()
                .map(|l| l.0.bend())
                .try_fold(0.0, |m: f64, b| Some(m.max(b?))),
            sizes: layout.sizes,
            mark: super::workspace::next_mark(),
            coarse: None,
            spec,
        };
        network.set_floors();
        network.set_order(&layout.bridge_pairs)?;
        network.coarse = super::coarse::coarser(&network.spec, network.falling);
        Ok(network)
    }

    /// Least slope of each law in the Jacobian: it keeps a dark or saturated part regular, and is no part of the balance.
    fn set_floors(&mut self) {
        let top = self
            .spec
            .sources
            .iter()
            .map(|s| s.set_point.value)
            .fold(0.0, f64::max);
        let floors: Vec<f64> = self
            .spec
            .laws
            .iter()
            .map(|law| 1e-12 * law.0.at(top).0 / top)
            .collect();
        let most = floors.iter().copied().fold(0.0, f64::max);
        let least = if most > 0.0 { most } else { 1e-12 };
        self.floors = floors
            .into_iter()
            .map(|f| if f > 0.0 { f } else { least })
            .collect();
        self.floors.push(least);
    }

    fn set_order(&mut self, bridge_pairs: &[(u32, u32)]) -> Result<(), NetworkError> {
        let mut pairs: Vec<(u32, u32)> = self.wires.iter().map(|w| (w.from, w.to)).collect();
        pairs.extend(
            self.loads
                .iter()
                .map(|l| if l.dark { (0, 0) } else { (l.plus, l.minus) }),
        );
        pairs.extend(
            self.sources
                .iter()
                .map(|s| if s.dark { (0, 0) } else { (s.plus, s.minus) }),
        );
        pairs.extend_from_slice(bridge_pairs);
        let Some((order, slots)) = order(self.nodes, &pairs, &self.anchors) else {
            let (what, found) = (
                "entries of the elimination (too many rings of links)",
                MOST_MESH + 1,
            );
            return Err(NetworkError::TooLarge {
                place: "network".into(),
                what,
                found,
                most: MOST_MESH,
            });
        };
        self.order = order;
        let mut slots = slots.into_iter();
        let mut next = || slots.next().unwrap_or(u32::MAX);
        self.wires.iter_mut().for_each(|w| w.slot = next());
        self.loads.iter_mut().for_each(|l| l.slot = next());
        self.sources.iter_mut().for_each(|s| s.slot = next());
        self.bridges.iter_mut().for_each(|b| b.slot = next());
        Ok(())
    }
}

/// The layout while it grows.
struct Layout {
    tapes: Vec<TapePlan>,
    sections: Vec<Section>,
    rail_siemens: Vec<f64>,
    wires: Vec<Wire>,
    bridges: Vec<Bridge>,
    bridge_pairs: Vec<(u32, u32)>,
    nodes: usize,
    sizes: Sizes,
}

impl Layout {
    fn new(spec: &NetworkSpec) -> Self {
        let wires = spec.links.iter().map(|l| Wire {
            from: l.from.0 as u32,
            to: l.to.0 as u32,
            siemens: siemens_of(l.resistance.value),
            slot: 0,
        });
        Self {
            tapes: Vec::with_capacity(spec.tapes.len()),
            sections: Vec::new(),
            rail_siemens: Vec::new(),
            wires: wires.collect(),
            bridges: Vec::new(),
            bridge_pairs: Vec::new(),
            nodes: spec.nodes.len(),
            sizes: Sizes::default(),
        }
    }

    fn lay_tapes(&mut self, spec: &NetworkSpec) {
        for (number, tape) in spec.tapes.iter().enumerate() {
            let rails = lit_rails(tape).count();
            let plan = TapePlan {
                index: number,
                cells: tape.cells,
                rails,
                lit: lit_places(tape),
                first_node: self.sizes.rail_nodes,
                first_link: self.sizes.rail_links,
                first_cell: self.sizes.cells,
                sign: if tape.polarity == Polarity::CommonPlus {
                    1.0
                } else {
                    -1.0
                },
                emitters: emitter_plans(tape),
                pads: Vec::new(),
                pieces: Vec::new(),
                rail_wires: Vec::new(),
            };
            self.sizes.rail_nodes += rails * tape.cells;
            self.sizes.rail_links += rails * (tape.cells - 1);
            self.sizes.cells += (rails - 1) * tape.cells;
            for rail in lit_rails(tape) {
                let ohms = (0..tape.cells - 1)
                    .map(|k| rail.links.get(k).map_or(f64::INFINITY, |r| r.value));
                self.rail_siemens.extend(ohms.map(siemens_of));
            }
            self.tapes.push(plan);
            self.lay_pads(number, tape);
            self.lay_sections(number);
        }
    }

    fn lay_pads(&mut self, number: usize, tape: &TapeSpec) {
        let mut cells: Vec<usize> = lit_rails(tape)
            .flat_map(|r| r.attachments.iter().map(|a| a.cell))
            .collect();
        cells.sort_unstable();
        cells.dedup();
        let plan = &mut self.tapes[number];
        for &cell in &cells {
            plan.pads.push((cell, self.nodes as u32));
            self.nodes += plan.rails;
        }
        for (rail, spec) in lit_rails(tape).enumerate() {
            let first = self.wires.len();
            for attachment in &spec.attachments {
                let Ok(pad) = plan.pads.binary_search_by_key(&attachment.cell, |p| p.0) else {
                    continue;
                };
                self.wires.push(Wire {
                    from: attachment.node.0 as u32,
                    to: plan.pads[pad].1 + rail as u32,
                    siemens: siemens_of(attachment.resistance.value),
                    slot: 0,
                });
            }
            plan.rail_wires.push(first..self.wires.len());
        }
        for &(cell, node) in &plan.pads {
            for emitter in 0..plan.rails - 1 {
                let kind = BridgeKind::Cell(plan.first_cell + emitter * plan.cells + cell);
                self.bridges.push(Bridge { kind, slot: 0 });
                self.bridge_pairs.push((node, node + 1 + emitter as u32));
            }
        }
    }

    fn lay_sections(&mut self, number: usize) {
        let plan = self.tapes[number].clone();
        let (Some(&(low, low_node)), Some(&(high, high_node))) =
            (plan.pads.first(), plan.pads.last())
        else {
            return;
        };
        if low > 0 {
            self.lay_section(number, 0, low, true, low_node, None);
        }
        for pair in plan.pads.windows(2) {
            let ((a, node_a), (b, node_b)) = (pair[0], pair[1]);
            if b - a > 1 {
                self.lay_section(number, a + 1, b - a - 1, true, node_b, Some(node_a));
                continue;
            }
            for rail in 0..plan.rails {
                let link = plan.first_link + rail * (plan.cells - 1) + a;
                self.bridges.push(Bridge {
                    kind: BridgeKind::RailLink(link),
                    slot: 0,
                });
                self.bridge_pairs
                    .push((node_a + rail as u32, node_b + rail as u32));
            }
        }
        if high + 1 < plan.cells {
            self.lay_section(
                number,
                plan.cells - 1,
                plan.cells - 1 - high,
                false,
                high_node,
                None,
            );
        }
    }

    fn lay_section(
        &mut self,
        tape: usize,
        first: usize,
        count: usize,
        up: bool,
        next: u32,
        left: Option<u32>,
    ) {
        let rails = self.tapes[tape].rails;
        let width = if left.is_some() {
            2 * rails + 1
        } else {
            rails + 1
        };
        let coefficients = self.sizes.coefficients;
        self.sizes.coefficients += count * rails * width;
        self.sections.push(Section {
            tape,
            first,
            count,
            up,
            next,
            left,
            coefficients,
            first_slot: self.bridges.len(),
        });
        let ports = || {
            (0..rails as u32).map(move |r| next + r).chain(
                left.into_iter()
                    .flat_map(move |l| (0..rails as u32).map(move |r| l + r)),
            )
        };
        for (k, a) in ports().enumerate() {
            for b in ports().skip(k + 1) {
                self.bridges.push(Bridge {
                    kind: BridgeKind::Mesh,
                    slot: 0,
                });
                self.bridge_pairs.push((a, b));
            }
        }
    }
}

fn lit_places(tape: &TapeSpec) -> Vec<Option<usize>> {
    let mut next = 0;
    tape.emitters
        .iter()
        .map(|e| {
            e.lit.then(|| {
                next += 1;
                next - 1
            })
        })
        .collect()
}

fn emitter_plans(tape: &TapeSpec) -> Vec<EmitterPlan> {
    let lit = tape.emitters.iter().filter(|e| e.lit);
    lit.map(|e| EmitterPlan {
        law: e.law.0,
        exceptions: e.exceptions.iter().map(|&(k, l)| (k, l.0)).collect(),
        dark: Vec::new(),
    })
    .collect()
}

/// Pieces of a rail between broken links: range of cells and island.
type Pieces = Vec<(Range<usize>, u32)>;

/// The islands of the network.
struct Islands {
    of_node: Vec<u32>,
    /// Pieces of each rail of each tape: range of cells and island.
    of_rail: Vec<Vec<Pieces>>,
    set: Vec<u32>,
    live: Vec<bool>,
    anchors: Vec<u32>,
    count: usize,
}

impl Layout {
    fn find_islands(&self, spec: &NetworkSpec) -> Islands {
        // Pieces of rail between broken links are points of their own beside the nodes.
        let mut size = self.nodes;
        let mut of_rail = Vec::with_capacity(self.tapes.len());
        for tape in &self.tapes {
            let rails = (0..tape.rails).map(|rail| {
                let first = tape.first_link + rail * (tape.cells - 1);
                let links = &self.rail_siemens[first..first + tape.cells - 1];
                let mut pieces = Vec::new();
                let mut start = 0;
                for cell in (1..=tape.cells).filter(|&c| c == tape.cells || links[c - 1] == 0.0) {
                    pieces.push((start..cell, size as u32));
                    size += 1;
                    start = cell;
                }
                pieces
            });
            of_rail.push(rails.collect::<Vec<_>>());
        }
        let mut union = Union::new(size);
        for wire in self.wires.iter().filter(|w| w.siemens > 0.0) {
            union.join(wire.from, wire.to);
        }
        for (tape, rails) in self.tapes.iter().zip(&of_rail) {
            for &(cell, node) in &tape.pads {
                for (rail, pieces) in rails.iter().enumerate() {
                    union.join(node + rail as u32, piece_at(pieces, cell));
                }
            }
        }
        let of_node: Vec<u32> = (0..self.nodes as u32).map(|n| union.root(n)).collect();
        for pieces in of_rail.iter_mut().flatten() {
            pieces.iter_mut().for_each(|p| p.1 = union.root(p.1));
        }
        let mut islands = Islands {
            of_node,
            of_rail,
            set: Vec::new(),
            live: Vec::new(),
            anchors: Vec::new(),
            count: size,
        };
        islands.find_live(spec, &self.tapes);
        islands
    }

    fn one_way_branches(
        &self,
        spec: &NetworkSpec,
        islands: &Islands,
    ) -> (Vec<LoadPlan>, Vec<SourcePlan>) {
        let at = |node: usize| islands.of_node[node];
        let loads = spec.loads.iter().map(|l| LoadPlan {
            plus: l.plus.0 as u32,
            minus: l.minus.0 as u32,
            law: l.law.0,
            dark: !islands.carries(at(l.plus.0), at(l.minus.0)),
            slot: 0,
        });
        let sources = spec.sources.iter().map(|s| SourcePlan {
            plus: s.plus.0 as u32,
            minus: s.minus.0 as u32,
            siemens: siemens_of(s.output_resistance.value),
            limit: if let Limit::ConstantCurrent(limit) = s.limit {
                limit.value
            } else {
                f64::INFINITY
            },
            dark: !islands.carries(at(s.plus.0), at(s.minus.0)),
            slot: 0,
        });
        (loads.collect(), sources.collect())
    }
}

fn piece_at(pieces: &[(Range<usize>, u32)], cell: usize) -> u32 {
    let place = pieces.partition_point(|p| p.0.end <= cell);
    pieces.get(place).map_or(0, |p| p.1)
}

/// Runs of cells in which both rails stay on one piece: range, common island, return island.
fn runs<'a>(
    common: &'a [(Range<usize>, u32)],
    ret: &'a [(Range<usize>, u32)],
) -> impl Iterator<Item = (Range<usize>, u32, u32)> + 'a {
    let (mut a, mut b, mut start) = (0, 0, 0);
    std::iter::from_fn(move || {
        let (one, other) = (common.get(a)?, ret.get(b)?);
        let end = one.0.end.min(other.0.end);
        let run = (start..end, one.1, other.1);
        start = end;
        a += usize::from(one.0.end == end);
        b += usize::from(other.0.end == end);
        Some(run)
    })
}

impl Islands {
    fn find_live(&mut self, spec: &NetworkSpec, tapes: &[TapePlan]) {
        let mut edges = Vec::new();
        for load in &spec.loads {
            edges.push((self.of_node[load.plus.0], self.of_node[load.minus.0]));
        }
        for source in &spec.sources {
            edges.push((self.of_node[source.minus.0], self.of_node[source.plus.0]));
        }
        for (tape, rails) in tapes.iter().zip(&self.of_rail) {
            for ret in &rails[1..] {
                for (_, common, ret) in runs(&rails[0], ret) {
                    edges.push(if tape.sign > 0.0 {
                        (common, ret)
                    } else {
                        (ret, common)
                    });
                }
            }
        }
        self.set = strong_sets(self.count, &edges);
        let mut lit_set = vec![None; self.count];
        for source in &spec.sources {
            let (plus, minus) = (
                self.of_node[source.plus.0] as usize,
                self.of_node[source.minus.0] as usize,
            );
            let set = self.set[plus] as usize;
            if plus != minus && set == self.set[minus] as usize && lit_set[set].is_none() {
                lit_set[set] = Some(source.minus.0 as u32);
            }
        }
        self.anchors = lit_set.iter().flatten().copied().collect();
        self.live = (0..self.count)
            .map(|i| lit_set[self.set[i] as usize].is_some())
            .collect();
    }

    fn carries(&self, a: u32, b: u32) -> bool {
        self.set[a as usize] == self.set[b as usize] && self.live[a as usize]
    }

    /// Potential of each island with no current anywhere, at each corner; the highest source decides.
    fn potentials(&self, spec: &NetworkSpec, plans: &[SourcePlan]) -> [Vec<f64>; 3] {
        [Corner::Low, Corner::Nominal, Corner::High].map(|corner| {
            let mut by_volts: Vec<(f64, usize)> = spec
                .sources
                .iter()
                .enumerate()
                .filter(|&(i, _)| !plans[i].dark)
                .map(|(i, s)| (corner.set_point(s), i))
                .collect();
            by_volts.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
            let mut groups = Groups::new(self.count);
            for (volts, index) in by_volts {
                let source = &spec.sources[index];
                groups.join(
                    self.of_node[source.plus.0] as usize,
                    self.of_node[source.minus.0] as usize,
                    volts,
                );
            }
            let mut base = vec![0.0; self.count];
            for &anchor in &self.anchors {
                let (root, over) = groups.root(self.of_node[anchor as usize] as usize);
                base[root] = over;
            }
            (0..self.count)
                .map(|i| {
                    let (root, over) = groups.root(i);
                    over - base[root]
                })
                .collect()
        })
    }

    fn finish_tape(&self, tape: &mut TapePlan, starts: &[Vec<f64>; 3]) {
        let Some(rails) = self.of_rail.get(tape.index) else {
            return;
        };
        for (emitter, ret) in tape.emitters.iter_mut().zip(&rails[1..]) {
            let dark = runs(&rails[0], ret).filter(|&(_, c, r)| !self.carries(c, r));
            emitter.dark = dark.map(|(range, _, _)| range).collect();
        }
        let volts = |island: u32| [0, 1, 2].map(|c| starts[c][island as usize]);
        tape.pieces = rails
            .iter()
            .map(|p| {
                p.iter()
                    .map(|(range, island)| (range.clone(), volts(*island)))
                    .collect()
            })
            .collect();
    }
}
