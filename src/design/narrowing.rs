//! Which facts would narrow the answer most: what the plan would be, were they known.

use super::Assumed;
use crate::finding::{Figure, Name};
use crate::quantity::Share;
use serde::{Deserialize, Serialize};

/// A fact that was taken, both ends of what it may be, and what a plan comes to at each.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Narrowing {
    /// Fact.
    pub what: Assumed,
    /// What it is of; none: of the job.
    pub of: Option<Name>,
    /// Both ends, the one at which light falls off least first; of a power, a short piece, then a full reel.
    pub ends: [NarrowedTo; 2],
}

/// One end of a fact.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct NarrowedTo {
    /// Its value, where it has one: of copper a metre of the common rail, of strings one diode.
    pub value: Option<Figure>,
    /// The plan with that value.
    pub plan: Extent,
}

/// What a plan comes to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Extent {
    /// Supplies that carry something.
    pub supplies: u64,
    /// Decoders.
    pub decoders: u64,
    /// Feeds.
    pub feeds: u64,
    /// Least current of any lit cell, worst case, low, as a share of its nominal; none: not solved.
    pub least_current: Option<Share>,
}

impl Extent {
    /// Devices and feeds by which two plans differ.
    #[must_use]
    pub fn apart(&self, other: &Self) -> u64 {
        let devices =
            self.supplies.abs_diff(other.supplies) + self.decoders.abs_diff(other.decoders);
        devices + self.feeds.abs_diff(other.feeds)
    }

    /// How far their least currents are apart; 0 where one was not solved.
    #[must_use]
    pub fn light_apart(&self, other: &Self) -> f64 {
        match (self.least_current, other.least_current) {
            (Some(a), Some(b)) => (a.si() - b.si()).abs(),
            _ => 0.0,
        }
    }
}
