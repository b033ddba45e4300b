//! How a cable is installed, in the words that a job file uses for it.

use super::metal::WordError;
use super::tables::iec_60364_5_52::Method;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// Which ampacity table is asked, and what it needs to know.
///
/// The crate does not choose: the code in force and the way of installation do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Installation {
    /// US code 310.16: raceway, cable or earth.
    UsRaceway,
    /// US code 402.5: fixture wire.
    UsFixtureWire,
    /// US code 400.5(A)(1): flexible cord.
    UsFlexibleCord,
    /// US code 522.22: control wire of permanent amusement attractions.
    UsControlWire,
    /// US code 725.144 (2017): four-pair data cable, so many in the bundle.
    UsDataCable {
        /// Cables in the bundle.
        bundle: u16,
    },
    /// IEC 60364-5-52, reference method, so many circuits bunched.
    Iec {
        /// Reference method.
        method: Method,
        /// Circuits or multi-core cables bunched together, this one included.
        circuits: u16,
    },
    /// The figure that the cable's own specification states.
    Stated,
}

impl Installation {
    /// Whether its table is one of the US code.
    #[must_use]
    pub fn is_us(self) -> bool {
        match self {
            Self::UsRaceway
            | Self::UsFixtureWire
            | Self::UsFlexibleCord
            | Self::UsControlWire
            | Self::UsDataCable { .. } => true,
            Self::Iec { .. } | Self::Stated => false,
        }
    }

    /// The spellings that are read.
    pub const ACCEPTED: &'static str = "us 310.16, us 402.5, us 400.5, us 522.22, us 725.144 bundle N, iec A1 (or A2, B1, B2, C, D1, D2, E), iec C 3 circuits, stated";
}

impl fmt::Display for Installation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match self {
            Self::UsRaceway => "us 310.16".to_string(),
            Self::UsFixtureWire => "us 402.5".to_string(),
            Self::UsFlexibleCord => "us 400.5".to_string(),
            Self::UsControlWire => "us 522.22".to_string(),
            Self::UsDataCable { bundle } => format!("us 725.144 bundle {bundle}"),
            Self::Iec {
                method,
                circuits: 1,
            } => format!("iec {method:?}"),
            Self::Iec { method, circuits } => format!("iec {method:?} {circuits} circuits"),
            Self::Stated => "stated".to_string(),
        };
        f.pad(&text)
    }
}

impl FromStr for Installation {
    type Err = WordError;

    /// Reads one of [`Installation::ACCEPTED`]; upper and lower case are the same.
    fn from_str(text: &str) -> Result<Self, WordError> {
        let lower = text.trim().to_lowercase();
        let words: Vec<&str> = lower.split_whitespace().take(6).collect();
        let refuse = || WordError {
            found: crate::quantity::shorten(text.trim()),
            called: "way of installation",
            accepted: Self::ACCEPTED.to_string(),
            hint: String::new(),
        };
        let count = |word: &str| {
            word.parse::<u16>()
                .ok()
                .filter(|n| *n > 0)
                .ok_or_else(refuse)
        };
        Ok(match words.as_slice() {
            ["us", "310.16"] => Self::UsRaceway,
            ["us", "402.5"] => Self::UsFixtureWire,
            ["us", "400.5"] => Self::UsFlexibleCord,
            ["us", "522.22"] => Self::UsControlWire,
            ["us", "725.144", "bundle", n] => Self::UsDataCable { bundle: count(n)? },
            ["iec", method] => Self::Iec {
                method: iec_method(method).ok_or_else(refuse)?,
                circuits: 1,
            },
            ["iec", method, n, "circuits" | "circuit"] => Self::Iec {
                method: iec_method(method).ok_or_else(refuse)?,
                circuits: count(n)?,
            },
            ["stated"] => Self::Stated,
            _ => return Err(refuse()),
        })
    }
}

fn iec_method(word: &str) -> Option<Method> {
    Some(match word {
        "a1" => Method::A1,
        "a2" => Method::A2,
        "b1" => Method::B1,
        "b2" => Method::B2,
        "c" => Method::C,
        "d1" => Method::D1,
        "d2" => Method::D2,
        "e" => Method::E,
        _ => return None,
    })
}

impl TryFrom<String> for Installation {
    type Error = WordError;
    fn try_from(text: String) -> Result<Self, WordError> {
        text.parse()
    }
}

impl From<Installation> for String {
    fn from(value: Installation) -> Self {
        value.to_string()
    }
}
