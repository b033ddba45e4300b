//! Rows for those who buy and those who measure.

use crate::quantity::{Corners, ElectricCurrent, ElectricPotential};

/// A line of the order list.
#[derive(Debug, Clone, PartialEq)]
pub struct MaterialRow {
    /// Item.
    pub item: String,
    /// Needed, with unit.
    pub needed: String,
    /// Spare, with unit and rule.
    pub spare: String,
    /// How it is sold.
    pub pack: String,
    /// To be ordered, in packs.
    pub order: String,
    /// Where it is used.
    pub used: String,
}

/// A reading to expect on site.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingRow {
    /// Probe points.
    pub point: String,
    /// Emitters on, level, minutes warm.
    pub condition: String,
    /// Instrument and range.
    pub instrument: String,
    /// Predicted, with its band.
    pub volts: Option<Corners<ElectricPotential>>,
    /// Predicted, with its band.
    pub amps: Option<Corners<ElectricCurrent>>,
    /// Likely causes when the reading is out of its band.
    pub likely: String,
}
