//! What things cost.

use crate::quantity::Time;

/// What things cost, in whole minor units.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CostModel {
    /// Each segment: its share of an output, its end caps.
    #[serde(default)]
    pub per_segment: i64,
    /// Each feed: joint, lead, labour.
    #[serde(default)]
    pub per_feed: i64,
    /// Each break that is not forced.
    #[serde(default)]
    pub per_break: i64,
    /// Watts lost in copper.
    pub energy: Option<EnergyCost>,
}

/// What lost watts cost.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EnergyCost {
    /// Time at full level over which they count.
    #[serde(with = "crate::quantity::valued")]
    pub time: Time,
    /// Price of one kilowatt-hour, minor units.
    pub per_kilowatt_hour: i64,
}

impl EnergyCost {
    /// Watts lost over `time` at full level, at a price a kilowatt-hour in minor units.
    #[must_use]
    pub fn new(time: Time, per_kilowatt_hour: i64) -> Self {
        Self {
            time,
            per_kilowatt_hour,
        }
    }
}
