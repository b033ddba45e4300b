//! A part of a chain and the cable into it.

use super::super::connector::Connector;
use super::cable::LineCable;
use super::ground::Ground;
use crate::device::{PortIsolation, UnitLoads};
use crate::quantity::{ElectricalResistance, Length};
use serde::{Deserialize, Serialize};

/// What a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum PartKind {
    /// A device that listens.
    Device {
        /// Load it puts on the line.
        #[serde(default)]
        unit_loads: UnitLoads,
        /// Whether its port is isolated.
        #[serde(default)]
        isolation: PortIsolation,
    },
    /// A powered splitter or repeater: cables that leave it are new links.
    Splitter {
        /// Load its input puts on the line.
        #[serde(default)]
        unit_loads: UnitLoads,
        /// Outputs.
        outputs: u16,
        /// Passes RDM both ways.
        #[serde(default)]
        rdm: bool,
    },
    /// A box or plug in which cables are joined, without power.
    Joint,
}

/// A part of a chain and the cable into it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Part {
    /// Name, unlike every other.
    pub name: String,
    /// The part its cable comes from, or [`SOURCE`](super::SOURCE); empty: the part before it in the chain.
    #[serde(default)]
    pub from: String,
    /// Length of that cable.
    #[serde(with = "crate::quantity::valued")]
    pub length: Length,
    /// That cable, where it is not the cable of the chain.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cable: Option<LineCable>,
    /// What it is.
    pub kind: PartKind,
    /// A terminator here.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        with = "crate::quantity::valued::optional"
    )]
    pub terminator: Option<ElectricalResistance>,
    /// Connector of its data ports; none: not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub connector: Option<Connector>,
    /// Where the minus terminal of the device stands; none: not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ground: Option<Ground>,
}

impl Part {
    /// A device of one unit load on a port of unknown isolation, after whatever comes before it.
    #[must_use]
    pub fn device(name: impl Into<String>, length: Length) -> Self {
        let (unit_loads, isolation) = (UnitLoads::ONE, PortIsolation::Unknown);
        Self::of(
            name,
            length,
            PartKind::Device {
                unit_loads,
                isolation,
            },
        )
    }

    /// A splitter of one unit load.
    #[must_use]
    pub fn splitter(name: impl Into<String>, length: Length, outputs: u16) -> Self {
        let unit_loads = UnitLoads::ONE;
        Self::of(
            name,
            length,
            PartKind::Splitter {
                unit_loads,
                outputs,
                rdm: false,
            },
        )
    }

    /// A joint without power.
    #[must_use]
    pub fn joint(name: impl Into<String>, length: Length) -> Self {
        Self::of(name, length, PartKind::Joint)
    }

    fn of(name: impl Into<String>, length: Length, kind: PartKind) -> Self {
        Self {
            name: name.into(),
            from: String::new(),
            length,
            cable: None,
            kind,
            terminator: None,
            connector: None,
            ground: None,
        }
    }

    /// The same part, with its cable from `from`.
    #[must_use]
    pub fn from(mut self, from: impl Into<String>) -> Self {
        self.from = from.into();
        self
    }

    /// The same part, with a terminator.
    #[must_use]
    pub fn terminated(mut self, resistance: ElectricalResistance) -> Self {
        self.terminator = Some(resistance);
        self
    }

    /// The same part, with data ports of this connector.
    #[must_use]
    pub fn plugged(mut self, connector: Connector) -> Self {
        self.connector = Some(connector);
        self
    }

    /// The same splitter as one that passes RDM both ways; nothing else does.
    #[must_use]
    pub fn passing_rdm(mut self) -> Self {
        if let PartKind::Splitter { rdm, .. } = &mut self.kind {
            *rdm = true;
        }
        self
    }

    /// The same part, with the place of its minus terminal.
    #[must_use]
    pub fn grounded(mut self, ground: Ground) -> Self {
        self.ground = Some(ground);
        self
    }

    /// The same part with another load and isolation of its port; a joint has neither.
    #[must_use]
    pub fn port(mut self, load: UnitLoads, isolated: PortIsolation) -> Self {
        match &mut self.kind {
            PartKind::Device {
                unit_loads,
                isolation,
            } => (*unit_loads, *isolation) = (load, isolated),
            PartKind::Splitter { unit_loads, .. } => *unit_loads = load,
            PartKind::Joint => {}
        }
        self
    }
}
