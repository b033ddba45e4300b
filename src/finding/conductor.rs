//! A conductor by its function.

use crate::id::EmitterId;
use serde::{Deserialize, Deserializer, Serialize};
use std::fmt;

/// A conductor by its function.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Conductor {
    /// The common plus of tape, or the plus of a lead.
    Plus,
    /// The common minus of tape, or the minus of a lead.
    Minus,
    /// The return of an emitter.
    Return(EmitterId),
}

/// As a person calls it: `plus`, `red return`.
impl fmt::Display for Conductor {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Plus => f.write_str("plus"),
            Self::Minus => f.write_str("minus"),
            Self::Return(emitter) => write!(f, "{emitter} return"),
        }
    }
}

/// Also from the text that findings of the first form hold: `red return`.
impl<'de> Deserialize<'de> for Conductor {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        #[serde(rename_all = "snake_case")]
        enum Tagged {
            Return(EmitterId),
        }
        #[derive(Deserialize)]
        #[serde(untagged)]
        enum Form {
            Tagged(Tagged),
            Text(String),
        }
        match Form::deserialize(from)? {
            Form::Tagged(Tagged::Return(emitter)) => Ok(Self::Return(emitter)),
            Form::Text(text) => match text.as_str() {
                "plus" => Ok(Self::Plus),
                "minus" => Ok(Self::Minus),
                other => match other.strip_suffix(" return") {
                    Some(emitter) => Ok(Self::Return(EmitterId::new(emitter))),
                    None => Err(serde::de::Error::custom(format!(
                        "`{other}` is no conductor: plus, minus, or the return of an emitter"
                    ))),
                },
            },
        }
    }
}

/// One side of the lead to a decoder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum LeadSide {
    /// To the common of the tape.
    Common,
    /// To the switches of the decoder.
    #[serde(alias = "switched side")]
    Switched,
}

/// As a person calls it.
impl fmt::Display for LeadSide {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Common => "common",
            Self::Switched => "switched side",
        })
    }
}
