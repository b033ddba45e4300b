//! Universes, and the chains that carry them.

use crate::exact::ExactLength;
use crate::quantity::ElectricalResistance;
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// A universe of 512 slots.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UniverseSpec {
    /// Name.
    pub name: String,
    /// Its number, from 1 to 63999.
    pub number: u16,
    /// Device and port it leaves from, in words.
    pub port: String,
    /// Slots that something outside this job uses.
    pub taken: Vec<SlotRange>,
}

/// Slots `from` to `to`, both included, 1 to 512.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct SlotRange {
    /// First slot.
    pub from: u16,
    /// Last slot.
    pub to: u16,
}

/// A chain: one line from a port through devices to a terminator.
#[derive(Debug, Clone, PartialEq)]
pub struct ChainSpec {
    /// Name.
    pub name: String,
    /// Universe it carries.
    pub universe: String,
    /// Cable it is made of.
    pub cable: DataCable,
    /// What it passes, in order from the port.
    pub stops: Vec<ChainStop>,
    /// Terminator after the last device; none: there is none.
    pub terminator: Option<ElectricalResistance>,
}

/// Kind of data cable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum DataCable {
    /// 120 Ω pairs made for EIA-485.
    DataPair,
    /// Shielded category cable, 100 Ω pairs.
    ShieldedCategory,
    /// Unshielded category cable, 100 Ω pairs.
    UnshieldedCategory,
    /// Not known.
    Unknown,
}

impl DataCable {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::DataPair => "data pair, 120 Ω",
            Self::ShieldedCategory => "shielded category cable",
            Self::UnshieldedCategory => "unshielded category cable",
            Self::Unknown => "unknown",
        }
    }
}

/// What a chain passes.
#[derive(Debug, Clone, PartialEq)]
pub enum ChainStop {
    /// All decoders that the plan puts in a place, one after the other.
    Place {
        /// The place.
        place: String,
        /// Cable into the first of them.
        length: ExactLength,
        /// Cable from one to the next.
        between: ExactLength,
    },
    /// Something that is no part of this job.
    Other {
        /// What it is; its name on this chain.
        name: String,
        /// Cable into it.
        length: ExactLength,
        /// Load it puts on the line.
        unit_loads: UnitLoads,
        /// Whether its port is isolated.
        isolation: PortIsolation,
    },
}

/// Whether a data port is isolated from its device's supply.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum PortIsolation {
    /// Isolated.
    Isolated,
    /// Not isolated: signal common is joined to supply minus.
    Joined,
    /// Not known; taken as not isolated.
    #[default]
    Unknown,
}

/// A load on an EIA-485 line as an exact ratio of unit loads, at most 32.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnitLoads {
    ten_thousandths: u32,
}

/// A text is no load in unit loads.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "`{found}` is no load in unit loads: write \"1\", \"1/8\" or \"0.125\", above nothing and at most 32"
)]
pub struct UnitLoadsError {
    /// The text.
    pub found: String,
}

impl UnitLoads {
    /// One unit load.
    pub const ONE: Self = Self {
        ten_thousandths: 10_000,
    };

    /// In ten-thousandths of a unit load, exact.
    #[must_use]
    pub fn ten_thousandths(self) -> u32 {
        self.ten_thousandths
    }
}

impl FromStr for UnitLoads {
    type Err = UnitLoadsError;

    /// Reads `"1"`, `"1/8"`, `"0.125"`: whole ten-thousandths of a unit load.
    fn from_str(text: &str) -> Result<Self, UnitLoadsError> {
        let found = text.trim();
        let bad = || UnitLoadsError {
            found: crate::quantity::shorten(found),
        };
        let whole = |text: &str| -> Result<u32, UnitLoadsError> {
            if text.len() > 4 || !text.bytes().all(|b| b.is_ascii_digit()) {
                return Err(bad());
            }
            text.parse().map_err(|_| bad())
        };
        let ten_thousandths = if let Some((above, below)) = found.split_once('/') {
            let (above, below) = (whole(above.trim())? * 10_000, whole(below.trim())?);
            if below == 0 || above % below != 0 {
                return Err(bad());
            }
            above / below
        } else {
            let (units, decimals) = found.split_once('.').unwrap_or((found, "0"));
            if decimals.is_empty() {
                return Err(bad());
            }
            let scale = 10_u32.pow(4_u32.saturating_sub(decimals.len() as u32));
            whole(units)? * 10_000 + whole(decimals)? * scale
        };
        if ten_thousandths == 0 || ten_thousandths > 320_000 {
            return Err(bad());
        }
        Ok(Self { ten_thousandths })
    }
}

impl fmt::Display for UnitLoads {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole = self.ten_thousandths / 10_000;
        let rest = self.ten_thousandths % 10_000;
        if rest == 0 {
            return f.pad(&whole.to_string());
        }
        let decimals = format!("{rest:04}");
        f.pad(&format!("{whole}.{}", decimals.trim_end_matches('0')))
    }
}
