//! What is already there, or was chosen by hand.

use crate::choose::feeding::Pattern;
use crate::layout::spec::RunPoint;

/// A supply or decoder that is already there, or was chosen by hand: the plan keeps it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InstalledSpec {
    /// Its name, which the plan uses for it.
    pub name: String,
    /// What it is.
    pub kind: InstalledKind,
    /// Place it stands in.
    pub place: String,
    /// Zone that a decoder serves.
    pub zone: Option<String>,
    /// Segments that stay on it, by their ids in the plan: `A1.2`. It may take others too.
    pub serves: Vec<String>,
    /// First slot a decoder is set to.
    pub address: Option<u16>,
    /// Whether it has its slots together with another on purpose.
    pub shares_slots: Sharing,
}

/// Whether a device has slots of another too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Sharing {
    /// It has its slots to itself.
    #[default]
    No,
    /// It has the same, on purpose.
    OnPurpose,
}

/// Kind of an installed device, by its name in the job.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum InstalledKind {
    /// A supply.
    Supply(String),
    /// A decoder.
    Decoder(String),
}

impl InstalledKind {
    /// Name of the kind.
    #[must_use]
    pub fn name(&self) -> &str {
        match self {
            Self::Supply(name) | Self::Decoder(name) => name,
        }
    }
}

/// A segment of a run that stays: between two points of the drawn line, each taken to its nearest cut mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FixedSegmentSpec {
    /// Where it begins.
    pub from: RunPoint,
    /// Where it ends.
    pub to: RunPoint,
    /// How it is fed, where that stays too.
    pub fed: Option<Pattern>,
}

/// A feed of a run that stays. At a break it belongs to the segment that begins there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FixedFeedSpec {
    /// Where copper enters, taken to its nearest cut mark.
    pub at: RunPoint,
    /// Place it comes from, where that stays too.
    pub place: Option<String>,
    /// Its cable, where that stays too.
    pub cable: Option<String>,
}

/// Which devices of a place have one of each kind in use standing by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Standby {
    /// None.
    #[default]
    None,
    /// Supplies.
    Supplies,
    /// Decoders.
    Decoders,
    /// Both.
    Both,
}

impl Standby {
    /// Whether supplies have one standing by.
    #[must_use]
    pub fn supplies(self) -> bool {
        matches!(self, Self::Supplies | Self::Both)
    }

    /// Whether decoders have one standing by.
    #[must_use]
    pub fn decoders(self) -> bool {
        matches!(self, Self::Decoders | Self::Both)
    }
}
