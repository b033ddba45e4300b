//! Whom a circuit serves.

use serde::{Deserialize, Serialize};

/// Whether a circuit serves normal lighting, emergency lighting, or both.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Hash, Ord, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Service {
    /// Normal lighting.
    #[default]
    Normal,
    /// Emergency lighting only.
    Emergency,
    /// Both.
    Both,
}

impl Service {
    /// The word printed for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Normal => "normal",
            Self::Emergency => "emergency",
            Self::Both => "both",
        }
    }
}
