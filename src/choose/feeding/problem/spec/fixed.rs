//! What stays as it is.

use super::Pattern;

/// What is already there or chosen by hand. The plan keeps it, and it costs nothing more.
#[derive(Debug, Clone, PartialEq, Default, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Fixed {
    /// Segments that stay as they are.
    #[serde(default)]
    pub segments: Vec<FixedSegment>,
    /// Feeds that stay. At a break, a fixed feed belongs to the segment that begins there
    /// (at the end of the run, to the last one).
    #[serde(default)]
    pub feeds: Vec<FixedFeed>,
}

/// A segment that stays.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FixedSegment {
    /// First mark.
    pub from: u64,
    /// Last mark.
    pub to: u64,
    /// How it is fed, where that is fixed too.
    pub pattern: Option<Pattern>,
}

impl FixedSegment {
    /// A segment between two marks, fed in any way.
    #[must_use]
    pub fn new(from: u64, to: u64) -> Self {
        Self {
            from,
            to,
            pattern: None,
        }
    }
}

/// A feed that stays.
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FixedFeed {
    /// Mark.
    pub at: u64,
    /// Place it comes from, where that is fixed.
    pub place: Option<String>,
    /// Its cable, where that is fixed.
    pub cable: Option<String>,
}

impl FixedFeed {
    /// A feed at a mark, from any place, through any cable.
    #[must_use]
    pub fn new(at: u64) -> Self {
        Self {
            at,
            place: None,
            cable: None,
        }
    }
}
