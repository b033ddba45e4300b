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

impl NodeSpec {
    /// A node with its name.
    #[must_use]
    pub fn new(name: impl Into<String>) -> Self {
        Self { name: name.into() }
    }
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

impl LinkSpec {
    /// A link from a node to another.
    #[must_use]
    pub fn new(
        name: impl Into<String>,
        from: NodeId,
        to: NodeId,
        resistance: ElectricalResistance,
    ) -> Self {
        Self {
            name: name.into(),
            from,
            to,
            resistance,
        }
    }
}

/// What an output does when more than its limit is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Limit {
    /// No limit is known.
    #[default]
    None,
    /// Holds this current and lets the voltage fall: solved as such.
    #[serde(with = "crate::quantity::valued")]
    ConstantCurrent(ElectricCurrent),
    /// Folds back: not solved; a demand above it is reported as [`SourceState::WouldFoldBack`](super::SourceState).
    #[serde(with = "crate::quantity::valued")]
    FoldBack(ElectricCurrent),
    /// Hiccups: not solved; reported as [`SourceState::WouldTrip`](super::SourceState).
    #[serde(with = "crate::quantity::valued")]
    Hiccup(ElectricCurrent),
    /// Trips, or a fuse opens: not solved; reported as [`SourceState::WouldTrip`](super::SourceState).
    #[serde(with = "crate::quantity::valued")]
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

impl SourceSpec {
    /// A stiff source without tolerance or limit: what a source is where nothing else is known of it.
    ///
    /// ```
    /// use evenrun::network::*;
    /// use evenrun::quantity::*;
    /// let mut spec = NetworkSpec::new();
    /// let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    /// // Adjusted to 24 V within 2 %, 20 mohm at its terminals, 4 A held.
    /// spec.source(SourceSpec {
    ///     tolerance: percent(2.0),
    ///     output_resistance: milliohms(20.0),
    ///     limit: Limit::ConstantCurrent(amps(4.0)),
    ///     ..SourceSpec::stiff("supply", plus, minus, volts(24.0))
    /// });
    /// ```
    #[must_use]
    pub fn stiff(
        name: impl Into<String>,
        plus: NodeId,
        minus: NodeId,
        set_point: ElectricPotential,
    ) -> Self {
        Self {
            name: name.into(),
            plus,
            minus,
            set_point,
            tolerance: crate::quantity::fraction(0.0),
            output_resistance: crate::quantity::ohms(0.0),
            limit: Limit::None,
        }
    }
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

impl LoadSpec {
    /// A load that draws by a law from plus to minus.
    #[must_use]
    pub fn new(name: impl Into<String>, plus: NodeId, minus: NodeId, law: LawId) -> Self {
        Self {
            name: name.into(),
            plus,
            minus,
            law,
        }
    }
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
        self.nodes.push(NodeSpec::new(name));
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
        self.links.push(LinkSpec::new(name, from, to, resistance));
        LinkId(self.links.len() - 1)
    }

    /// Adds a feeder of two conductors: a core from the first node of each pair, and one from the second.
    ///
    /// The cores are named `name, core 1` and `name, core 2`.
    /// ```
    /// use evenrun::load::{Load, Resistive};
    /// use evenrun::network::*;
    /// use evenrun::quantity::*;
    /// // 24 V over two cores of 0.5 ohm into 11 ohm: 2 A.
    /// let mut spec = NetworkSpec::new();
    /// let supply = [spec.node("plus"), spec.node("minus")];
    /// let pad = [spec.node("pad, plus"), spec.node("pad, minus")];
    /// spec.stiff_source("supply", supply[0], supply[1], volts(24.0));
    /// let cores = spec.feeder("feeder", supply, pad, ohms(0.5));
    /// let law = spec.law(Load::Resistive(Resistive { resistance: ohms(11.0) }).law(celsius(25.0))?);
    /// spec.load("lamp", pad[0], pad[1], law);
    /// let network = spec.check()?;
    /// let mut work = Workspace::new();
    /// let solution = network.solve(&SolveOptions::default(), &mut work)?;
    /// let out = solution.link_current(cores[0]).expect("a link");
    /// assert!((out.value - 2.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn feeder(
        &mut self,
        name: impl std::fmt::Display,
        from: [NodeId; 2],
        to: [NodeId; 2],
        per_core: ElectricalResistance,
    ) -> [LinkId; 2] {
        [0, 1].map(|k| self.link(format!("{name}, core {}", k + 1), from[k], to[k], per_core))
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
        self.source(SourceSpec::stiff(name, plus, minus, set_point))
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
        self.loads.push(LoadSpec::new(name, plus, minus, law));
        LoadId(self.loads.len() - 1)
    }

    /// Adds a tape.
    pub fn tape(&mut self, tape: TapeSpec) -> TapeId {
        self.tapes.push(tape);
        TapeId(self.tapes.len() - 1)
    }
}
