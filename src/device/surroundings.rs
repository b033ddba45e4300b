//! Where devices and tape are, and what their enclosures keep out.

use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// Surroundings of a device or a run.
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
pub enum Environment {
    /// Dry, indoors.
    #[default]
    Dry,
    /// Damp: condensation, splashes now and then.
    Damp,
    /// Wet.
    Wet,
    /// Outdoors.
    Outdoor,
}

impl Environment {
    /// The word printed for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dry => "dry",
            Self::Damp => "damp",
            Self::Wet => "wet",
            Self::Outdoor => "outdoor",
        }
    }
}

/// Degrees of protection of an enclosure: first digit solids, second water (IEC 60529).
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct IngressCode {
    solids: u8,
    water: u8,
}

/// A text is no ingress code.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "`{found}` is not an ingress code: write one like \"IP20\" or \"IP65\", first digit 0 to 6, second 0 to 9"
)]
pub struct IngressCodeError {
    /// The text.
    pub found: String,
}

impl IngressCode {
    /// No protection at all.
    pub const NONE: Self = Self {
        solids: 0,
        water: 0,
    };

    /// First digit: 0 to 6.
    #[must_use]
    pub fn solids(self) -> u8 {
        self.solids
    }

    /// Second digit: 0 to 9.
    #[must_use]
    pub fn water(self) -> u8 {
        self.water
    }

    /// Whether both digits are at least those of `needed`.
    #[must_use]
    pub fn covers(self, needed: Self) -> bool {
        self.solids >= needed.solids && self.water >= needed.water
    }
}

impl FromStr for IngressCode {
    type Err = IngressCodeError;

    /// Reads `"IP65"`, `"IP 65"`.
    fn from_str(text: &str) -> Result<Self, IngressCodeError> {
        let found = text.trim();
        let digits = found.strip_prefix("IP").unwrap_or("").trim_start();
        match digits.as_bytes() {
            [solids @ b'0'..=b'6', water @ b'0'..=b'9'] => Ok(Self {
                solids: solids - b'0',
                water: water - b'0',
            }),
            _ => Err(IngressCodeError {
                found: crate::quantity::shorten(found),
            }),
        }
    }
}

impl fmt::Display for IngressCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("IP{}{}", self.solids, self.water))
    }
}
