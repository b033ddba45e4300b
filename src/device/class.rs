//! The two classes on a supply's label: shock and energy.
//!
//! SELV and PELV limit *shock*. Class 2 and limited power limit *fire*: a 480 W
//! SELV supply welds and burns. And class II (double insulation) is neither. So
//! there are two fields, both from the label only, and `Unknown` behaves as none.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// Protection against electric shock that the label states.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ShockProtection {
    /// Safety extra-low voltage: separated, no pole earthed.
    Selv,
    /// Protective extra-low voltage: separated, one pole earthed.
    Pelv,
    /// Something else: no shock protection is counted on.
    Other,
    /// Not known: behaves as `Other`.
    #[default]
    Unknown,
}

/// Limit of the energy that the label states.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum EnergyLimit {
    /// Class 2 of the US code.
    Class2,
    /// Limited power source of IEC 62368-1 (annex Q) or IEC 60950-1.
    LimitedPower,
    /// No limit.
    None,
    /// Not known: behaves as `None`.
    #[default]
    Unknown,
}

/// Why a text is no class.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ClassError {
    /// Class II or III where Class 2 may be meant.
    #[error(
        "`{found}` is a protection class against shock (II: double insulation, III: fed by SELV) and says nothing about energy. \
         If the label says Class 2 (US code, arabic 2), write \"class 2\"; if it does not, write \"none\" or \"unknown\""
    )]
    RomanClass {
        /// The text.
        found: String,
    },
    /// An energy class where the shock class is asked for.
    #[error(
        "`{found}` limits energy, not shock: it belongs in the energy field. Shock protection is one of selv, pelv, other, unknown"
    )]
    EnergyNotShock {
        /// The text.
        found: String,
    },
    /// A shock class where the energy class is asked for.
    #[error(
        "`{found}` limits shock, not energy: a strong SELV supply can still start a fire. The energy limit is one of class 2, limited power, none, unknown"
    )]
    ShockNotEnergy {
        /// The text.
        found: String,
    },
    /// Class 1 or 3 of the US code.
    #[error(
        "`{found}` is not a limit that is counted on here: write \"none\", or \"class 2\" or \"limited power\" if the label says so"
    )]
    OtherClass {
        /// The text.
        found: String,
    },
    /// None of the words.
    #[error("`{found}` is none of {accepted}")]
    Unknown {
        /// The text.
        found: String,
        /// The words.
        accepted: &'static str,
    },
}

const SHOCK_WORDS: &str = "selv, pelv, other, unknown";
const ENERGY_WORDS: &str = "class 2, limited power, none, unknown";

fn squeezed(text: &str) -> String {
    text.chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '-' | '_' | '.'))
        .flat_map(char::to_lowercase)
        .take(32)
        .collect()
}

/// Roman II and III, also as single characters (U+2161, U+2162 and their small forms), and 0, I.
fn roman(squeezed: &str) -> bool {
    matches!(
        squeezed
            .strip_prefix("class")
            .or_else(|| squeezed.strip_prefix("klasse"))
            .unwrap_or(squeezed),
        "ii" | "iii"
            | "i"
            | "0"
            | "\u{2160}"
            | "\u{2161}"
            | "\u{2162}"
            | "\u{2170}"
            | "\u{2171}"
            | "\u{2172}"
            | "ll"
            | "11"
    )
}

impl FromStr for EnergyLimit {
    type Err = ClassError;

    /// Reads `class 2`, `limited power`, `LPS`, `none`, `unknown`; refuses `class II` with the reason.
    fn from_str(text: &str) -> Result<Self, ClassError> {
        let found = crate::quantity::shorten(text.trim());
        let plain = squeezed(text);
        if roman(&plain) {
            return Err(ClassError::RomanClass { found });
        }
        match plain.as_str() {
            "class2" => Ok(Self::Class2),
            "limitedpower" | "limitedpowersource" | "lps" => Ok(Self::LimitedPower),
            "none" => Ok(Self::None),
            "unknown" => Ok(Self::Unknown),
            "selv" | "pelv" | "felv" | "other" => Err(ClassError::ShockNotEnergy { found }),
            "class1" | "class3" => Err(ClassError::OtherClass { found }),
            _ => Err(ClassError::Unknown {
                found,
                accepted: ENERGY_WORDS,
            }),
        }
    }
}

impl FromStr for ShockProtection {
    type Err = ClassError;

    /// Reads `selv`, `pelv`, `other`, `unknown`; an energy class is sent to its own field.
    fn from_str(text: &str) -> Result<Self, ClassError> {
        let found = crate::quantity::shorten(text.trim());
        let plain = squeezed(text);
        if roman(&plain) {
            return Err(ClassError::Unknown {
                found,
                accepted: SHOCK_WORDS,
            });
        }
        match plain.as_str() {
            "selv" => Ok(Self::Selv),
            "pelv" => Ok(Self::Pelv),
            "other" | "none" => Ok(Self::Other),
            "unknown" => Ok(Self::Unknown),
            "class2" | "limitedpower" | "limitedpowersource" | "lps" => {
                Err(ClassError::EnergyNotShock { found })
            }
            _ => Err(ClassError::Unknown {
                found,
                accepted: SHOCK_WORDS,
            }),
        }
    }
}

impl ShockProtection {
    /// Whether the label's separation is counted on.
    #[must_use]
    pub const fn is_extra_low(self) -> bool {
        matches!(self, Self::Selv | Self::Pelv)
    }

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Selv => "selv",
            Self::Pelv => "pelv",
            Self::Other => "other",
            Self::Unknown => "unknown",
        }
    }
}

impl EnergyLimit {
    /// Whether a limit is counted on: `Unknown` behaves as `None`.
    #[must_use]
    pub const fn is_limited(self) -> bool {
        matches!(self, Self::Class2 | Self::LimitedPower)
    }

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Class2 => "class 2",
            Self::LimitedPower => "limited power",
            Self::None => "none",
            Self::Unknown => "unknown",
        }
    }
}

macro_rules! text_both_ways {
    ($type:ident) => {
        impl fmt::Display for $type {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(self.word())
            }
        }
        impl TryFrom<String> for $type {
            type Error = ClassError;
            fn try_from(text: String) -> Result<Self, ClassError> {
                text.parse()
            }
        }
        impl From<$type> for String {
            fn from(value: $type) -> Self {
                value.word().to_string()
            }
        }
    };
}
text_both_ways!(ShockProtection);
text_both_ways!(EnergyLimit);
