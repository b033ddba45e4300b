//! What must hold, and in which states.

use crate::exact::ExactLength;
use crate::quantity::{ElectricCurrent, Ratio};

/// What must hold. Light limits are judged at the low corner, current limits at the low and the high one.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FeedLimits {
    /// Least current of any lit cell relative to its nominal at rated voltage.
    #[serde(with = "crate::quantity::valued")]
    pub least_current: Ratio,
    /// Greatest step of relative current between the two cells beside a visible joint or break
    /// at it, as a share of the brighter one.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub visible_step: Option<Ratio>,
    /// Greatest departure from even balance between emitters lit together in one increment:
    /// `1 − least ÷ greatest` of their relative currents.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub balance: Option<Ratio>,
    /// Greatest drop from the set point to any cell, as a share of the rated voltage.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub voltage_drop: Option<Ratio>,
    /// Longest branch from its feed, in increments; the maker's limit holds beside it.
    pub branch: Option<u64>,
    /// Greatest current in any rail of the tape.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub rail_current: Option<ElectricCurrent>,
    /// Greatest current through one conductor's connection to the tape.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub connector_current: Option<ElectricCurrent>,
    /// Greatest current of any core; the wire's ampacity holds beside it.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub core_current: Option<ElectricCurrent>,
    /// Greatest current of one emitter of one segment: an output of a decoder.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub output_current: Option<ElectricCurrent>,
    /// Greatest current of one segment, all emitters: a supply output, a Class 2 circuit.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub segment_current: Option<ElectricCurrent>,
    /// Longest feeder, one way, under chopping; a fixed feed is as long as it is.
    pub feeder_length: Option<ExactLength>,
}

impl FeedLimits {
    /// The least current of any lit cell, and no other limit.
    #[must_use]
    pub fn light_alone(least_current: Ratio) -> Self {
        Self {
            least_current,
            visible_step: None,
            balance: None,
            voltage_drop: None,
            branch: None,
            rail_current: None,
            connector_current: None,
            core_current: None,
            output_current: None,
            segment_current: None,
            feeder_length: None,
        }
    }
}

/// Which emitters are lit together.
#[derive(Debug, Clone, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum LitStates {
    /// All together, and each alone.
    #[default]
    AllAndEachAlone,
    /// These sets: one entry an emitter in the order of the strip.
    Listed(Vec<Vec<bool>>),
}
