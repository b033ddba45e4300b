//! What a conductor is made of and how it is built.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// The metal of a conductor.
///
/// Cheap cable is often copper-clad aluminium, at 1.5 to 1.6 times the resistance
/// of copper; [`Metal::Unknown`] takes the worst of the others and says so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Metal {
    /// Plain annealed copper.
    Copper,
    /// Tinned (metal-coated) annealed copper.
    TinnedCopper,
    /// Aluminium of 61 % conductivity.
    Aluminium,
    /// Copper-clad aluminium, 10 % copper by volume.
    CopperClad10,
    /// Copper-clad aluminium, 15 % copper by volume.
    CopperClad15,
    /// Not known: the worst of the others is assumed, and said.
    Unknown,
}

/// How a conductor is built.
///
/// Gauges are solid or stranded; mm² sizes have the classes of IEC 60228. For a
/// mm² size `Solid` is class 1 and `Stranded` the worse of classes 2 and 5.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Construction {
    /// One wire.
    Solid,
    /// Several wires; for gauges class B of the US code's table 8.
    Stranded,
    /// IEC 60228 class 1: solid.
    Class1,
    /// IEC 60228 class 2: stranded.
    Class2,
    /// IEC 60228 class 5: flexible.
    Class5,
    /// IEC 60228 class 6: more flexible than class 5.
    Class6,
    /// Not known: the worst of the others is assumed, and said.
    Unknown,
}

/// A word that is none of a closed list.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("`{found}` is not a {called}; accepted: {accepted}{hint}")]
#[non_exhaustive]
pub struct WordError {
    /// The text.
    pub found: String,
    /// What was asked for.
    pub called: &'static str,
    /// The list.
    pub accepted: String,
    /// A near miss, if there is one.
    pub hint: String,
}

/// Finds a word in a closed list; upper and lower case are the same.
pub(crate) fn word<T: Copy>(
    text: &str,
    called: &'static str,
    list: &[(&'static str, T)],
) -> Result<T, WordError> {
    let found = text.trim();
    if let Some((_, value)) = list.iter().find(|(w, _)| w.eq_ignore_ascii_case(found)) {
        return Ok(*value);
    }
    let short = crate::quantity::shorten(found);
    let lower = short.to_lowercase();
    let near = list
        .iter()
        .map(|(w, _)| (strsim::damerau_levenshtein(w, &lower), *w))
        .min()
        .filter(|(distance, _)| *distance <= 3);
    Err(WordError {
        found: short,
        called,
        accepted: list.iter().map(|(w, _)| *w).collect::<Vec<_>>().join(", "),
        hint: near.map_or_else(String::new, |(_, w)| format!("; did you mean `{w}`?")),
    })
}

macro_rules! words {
    ($type:ident, $called:literal, $($variant:ident = $word:literal),* $(,)?) => {
        impl $type {
            /// Every value with the word for it in a file.
            pub const WORDS: &'static [(&'static str, Self)] = &[$(($word, Self::$variant)),*];

            /// The word for it in a file.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),* }
            }
        }
        impl fmt::Display for $type {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(self.word())
            }
        }
        impl FromStr for $type {
            type Err = WordError;
            fn from_str(text: &str) -> Result<Self, WordError> {
                word(text, $called, Self::WORDS)
            }
        }
        impl TryFrom<String> for $type {
            type Error = WordError;
            fn try_from(text: String) -> Result<Self, WordError> {
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

words! { Metal, "conductor metal",
    Copper = "copper",
    TinnedCopper = "tinned copper",
    Aluminium = "aluminium",
    CopperClad10 = "copper-clad aluminium 10 %",
    CopperClad15 = "copper-clad aluminium 15 %",
    Unknown = "unknown",
}

words! { Construction, "conductor construction",
    Solid = "solid",
    Stranded = "stranded",
    Class1 = "class 1",
    Class2 = "class 2",
    Class5 = "class 5",
    Class6 = "class 6",
    Unknown = "unknown",
}

impl Metal {
    /// Share of the area that is copper.
    #[must_use]
    pub const fn copper_share(self) -> f64 {
        match self {
            Self::Copper | Self::TinnedCopper | Self::Unknown => 1.0,
            Self::Aluminium => 0.0,
            Self::CopperClad10 => 0.10,
            Self::CopperClad15 => 0.15,
        }
    }

    /// Every metal that is known.
    pub const KNOWN: &'static [Self] = &[
        Self::Copper,
        Self::TinnedCopper,
        Self::Aluminium,
        Self::CopperClad10,
        Self::CopperClad15,
    ];
}
