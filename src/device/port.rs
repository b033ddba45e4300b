//! The data port of a device: its isolation and its load on the line.

use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// Whether a data port is isolated from its device's supply.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    PartialOrd,
    Ord,
    Default,
    serde::Serialize,
    serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum PortIsolation {
    /// Isolated.
    Isolated,
    /// Not isolated: signal common is joined to supply minus.
    Joined,
    /// Not known; taken as not isolated.
    #[default]
    Unknown,
}

/// A load on an EIA-485 line as an exact ratio of unit loads, at most 32; one where nothing is stated.
///
/// As data it is its text.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
#[serde(try_from = "String", into = "String")]
pub struct UnitLoads {
    ten_thousandths: u32,
}

/// A text is no load in unit loads.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "`{found}` is not a number of unit loads: write \"1\", \"1/8\" or \"0.125\", above zero and at most 32"
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

    /// So many ten-thousandths of a unit load; none: nothing, or more than 32 unit loads.
    #[must_use]
    pub fn of_ten_thousandths(ten_thousandths: u32) -> Option<Self> {
        (1..=320_000)
            .contains(&ten_thousandths)
            .then_some(Self { ten_thousandths })
    }

    /// In ten-thousandths of a unit load, exact.
    #[must_use]
    pub fn ten_thousandths(self) -> u32 {
        self.ten_thousandths
    }
}

impl Default for UnitLoads {
    fn default() -> Self {
        Self::ONE
    }
}

impl From<UnitLoads> for String {
    fn from(loads: UnitLoads) -> Self {
        loads.to_string()
    }
}

impl TryFrom<String> for UnitLoads {
    type Error = UnitLoadsError;

    fn try_from(text: String) -> Result<Self, UnitLoadsError> {
        text.parse()
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
        Self::of_ten_thousandths(ten_thousandths).ok_or_else(bad)
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
