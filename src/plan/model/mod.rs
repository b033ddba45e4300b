//! The plan of a job as data: what is cut, fed, wired, supplied, controlled,
//! bought and measured, and what the rules say about it.
//!
//! Figures are typed quantities; words are text. The [`report`](crate::report)
//! layer lays them out and does no physics. Three figures stand beside each
//! other wherever tolerance matters ([`Corners`]): a light minimum comes from
//! the low corner, a current or heat maximum from the high one.

mod choice;
mod control;
mod power;
mod site;
mod tape;

use crate::finding::plain::Finding;
use crate::source::Source;

pub use crate::quantity::Corners;
pub use choice::ChoiceRow;
pub use control::{AddressRow, ChainRow, DecoderRow, OutputRow};
pub use power::{CableRow, EnergyRow, ProtectionRow, SupplyRow};
pub use site::{MaterialRow, ReadingRow};
pub use tape::{BarRow, CutRow, FeedConductor, FeedRow, RunRow, SegmentRow};

/// The whole plan of one job.
#[derive(Debug, Clone, Default, PartialEq)]
#[non_exhaustive]
pub struct Plan {
    /// Title of the job.
    pub title: String,
    /// What the job file says about its data, such as that it is invented.
    pub note: String,
    /// Hash of the checked input, the tables, the rule set and the version of this crate:
    /// never of floating-point results.
    pub fingerprint: String,
    /// Name of the rule set, with its version.
    pub rule_set: String,
    /// Version of this crate.
    pub crate_version: String,
    /// What keeps this plan from calling itself complete; empty when nothing does.
    pub incomplete_because: Vec<String>,
    /// Runs as drawn and as lit.
    pub runs: Vec<RunRow>,
    /// What was chosen, at what cost, and what was proven about it.
    pub choices: Vec<ChoiceRow>,
    /// Pieces of tape.
    pub cuts: Vec<CutRow>,
    /// Light and volts of each segment.
    pub segments: Vec<SegmentRow>,
    /// Where copper enters the tape.
    pub feeds: Vec<FeedRow>,
    /// Cables.
    pub cables: Vec<CableRow>,
    /// Supplies.
    pub supplies: Vec<SupplyRow>,
    /// Conductors and what protects them.
    pub protection: Vec<ProtectionRow>,
    /// Decoders.
    pub decoders: Vec<DecoderRow>,
    /// Outputs of decoders.
    pub outputs: Vec<OutputRow>,
    /// DMX slots, a row each.
    pub addresses: Vec<AddressRow>,
    /// Devices in the order of their data cable.
    pub chains: Vec<ChainRow>,
    /// Bars of profile and lengths of cover, with the pieces cut from each.
    pub bars: Vec<BarRow>,
    /// Reels of tape, with the pieces cut from each.
    pub reels: Vec<BarRow>,
    /// What to buy.
    pub materials: Vec<MaterialRow>,
    /// Readings to expect on site.
    pub readings: Vec<ReadingRow>,
    /// Connected load by zone.
    pub energy: Vec<EnergyRow>,
    /// What the rules say.
    pub findings: Vec<Finding>,
    /// What was assumed where the job is silent.
    pub assumptions: Vec<Assumption>,
    /// Every source that a figure or limit of this plan rests on, in order of first use.
    pub sources: Vec<Source>,
}

/// A value taken where the job is silent.
#[derive(Debug, Clone, PartialEq)]
pub struct Assumption {
    /// What was assumed, with the value.
    pub what: String,
    /// Where the value comes from.
    pub source: Source,
}
