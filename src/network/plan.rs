//! A checked network, laid out for solving.

use super::check::{JOINED_OHMS, OPEN_OHMS};
use super::error::NetworkError;
use super::layout::Layout;
use super::order::{MOST_MESH, Order, order};
use super::spec::{Corner, NetworkSpec};
use super::tape::{RailSpec, TapeSpec};
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
    /// Where every tape folds into one loop.
    pub(super) folds: Option<super::folds::Folds>,
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
            folds: None,
            coarse: None,
            spec,
        };
        network.set_floors();
        network.set_order(&layout.bridge_pairs)?;
        network.folds = super::folds::Folds::of(&network.spec, &network.tapes, &network.sections);
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
