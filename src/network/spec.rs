//! The network as plain data: nodes, links, one-way sources, loads, tapes.

use super::tape::TapeSpec;
use crate::load::Law;
pub use crate::quantity::Corner;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Ratio};

macro_rules! ids {
    ($($name:ident, $doc:literal;)*) => {$(
        #[doc = $doc]
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub usize);
    )*};
}

ids! {
    NodeId, "A node: its place in [`NetworkSpec::nodes`].";
    LinkId, "A link: its place in [`NetworkSpec::links`].";
    SourceId, "A source: its place in [`NetworkSpec::sources`].";
    LawId, "A load law: its place in [`NetworkSpec::laws`].";
    LoadId, "A single load: its place in [`NetworkSpec::loads`].";
    TapeId, "A tape: its place in [`NetworkSpec::tapes`].";
}

/// A point of the wiring with one potential: a terminal, a junction, a solder pad.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NodeSpec {
    /// Name for messages and reports; unique among the nodes.
    pub name: String,
}

/// A resistance between two nodes: a core of a cable, a joint, a fuse, a closed switch.
#[derive(Debug, Clone, PartialEq)]
pub struct LinkSpec {
    /// Name for messages and reports.
    pub name: String,
    /// One end; the current of the link is counted from here.
    pub from: NodeId,
    /// The other end.
    pub to: NodeId,
    /// Resistance. Zero joins the nodes (below 1e-15 ohm counts as zero); infinite is an open
    /// switch, a blown fuse, a broken core.
    pub resistance: ElectricalResistance,
}

/// What an output does when more than its limit is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Limit {
    /// No limit is known.
    None,
    /// Holds this current and lets the voltage fall: solved as such.
    ConstantCurrent(ElectricCurrent),
    /// Folds back: not solved; a demand above it is reported as [`SourceState::WouldFoldBack`](super::SourceState).
    FoldBack(ElectricCurrent),
    /// Hiccups: not solved; reported as [`SourceState::WouldTrip`](super::SourceState).
    Hiccup(ElectricCurrent),
    /// Trips, or a fuse opens: not solved; reported as [`SourceState::WouldTrip`](super::SourceState).
    Trip(ElectricCurrent),
}

/// A one-way source: `I = clamp((E − V)/R_out, 0, limit)`, `V` between plus and minus.
#[derive(Debug, Clone, PartialEq)]
pub struct SourceSpec {
    /// Name for messages and reports.
    pub name: String,
    /// Positive terminal.
    pub plus: NodeId,
    /// Negative terminal.
    pub minus: NodeId,
    /// Set point `E`, above 0 V.
    pub set_point: ElectricPotential,
    /// Tolerance of the set point, a fraction each way: used by [`Corner`].
    pub tolerance: Ratio,
    /// Output resistance; 0 is stiff.
    pub output_resistance: ElectricalResistance,
    /// Limit and behaviour.
    pub limit: Limit,
}

/// A single load between two nodes.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadSpec {
    /// Name for messages and reports.
    pub name: String,
    /// Positive terminal.
    pub plus: NodeId,
    /// Negative terminal.
    pub minus: NodeId,
    /// What it draws.
    pub law: LawId,
}

/// The whole network as plain data; [`NetworkSpec::check`] makes it a [`Network`](super::Network).
#[derive(Debug, Clone, Default)]
pub struct NetworkSpec {
    /// Nodes of the wiring (tapes bring their own).
    pub nodes: Vec<NodeSpec>,
    /// Resistances between nodes.
    pub links: Vec<LinkSpec>,
    /// One-way sources.
    pub sources: Vec<SourceSpec>,
    /// Load laws, referred to by single loads and tapes.
    pub laws: Vec<Law>,
    /// Single loads.
    pub loads: Vec<LoadSpec>,
    /// Tapes.
    pub tapes: Vec<TapeSpec>,
}

impl NetworkSpec {
    /// An empty network.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a node.
    pub fn node(&mut self, name: impl Into<String>) -> NodeId {
        self.nodes.push(NodeSpec { name: name.into() });
        NodeId(self.nodes.len() - 1)
    }

    /// Adds a link.
    pub fn link(
        &mut self,
        name: impl Into<String>,
        from: NodeId,
        to: NodeId,
        resistance: ElectricalResistance,
    ) -> LinkId {
        self.links.push(LinkSpec {
            name: name.into(),
            from,
            to,
            resistance,
        });
        LinkId(self.links.len() - 1)
    }

    /// Adds a source.
    pub fn source(&mut self, source: SourceSpec) -> SourceId {
        self.sources.push(source);
        SourceId(self.sources.len() - 1)
    }

    /// Adds a stiff source without tolerance or limit.
    pub fn stiff_source(
        &mut self,
        name: impl Into<String>,
        plus: NodeId,
        minus: NodeId,
        set_point: ElectricPotential,
    ) -> SourceId {
        self.source(SourceSpec {
            name: name.into(),
            plus,
            minus,
            set_point,
            tolerance: crate::quantity::fraction(0.0),
            output_resistance: crate::quantity::ohms(0.0),
            limit: Limit::None,
        })
    }

    /// Adds a load law.
    pub fn law(&mut self, law: Law) -> LawId {
        self.laws.push(law);
        LawId(self.laws.len() - 1)
    }

    /// Adds a single load.
    pub fn load(
        &mut self,
        name: impl Into<String>,
        plus: NodeId,
        minus: NodeId,
        law: LawId,
    ) -> LoadId {
        self.loads.push(LoadSpec {
            name: name.into(),
            plus,
            minus,
            law,
        });
        LoadId(self.loads.len() - 1)
    }

    /// Adds a tape.
    pub fn tape(&mut self, tape: TapeSpec) -> TapeId {
        self.tapes.push(tape);
        TapeId(self.tapes.len() - 1)
    }
}
