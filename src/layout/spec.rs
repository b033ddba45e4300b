//! What was drawn of a run, and what may be done to it: plain data, nothing computed.
//!
//! ```text
//!   start cap            corner (outside)            gap              end cap
//!   |▒|━━━━━━━━━━━━━━━━━━┓                                              |
//!    ^ dark              ┃  straight   ┄┄┄ jumper ┄┄┄  straight  ━━━━━━|▒|
//!                        ┗━━━━━━━━━━━━             ━━━━━━━━━━━━━
//! ```
//!
//! Positions of a run are distances from its start **along the line as drawn**:
//! straights and gaps count their length, a corner counts nothing. Where tape lies
//! beside that line, [`Corner::offset`] says how far.

use crate::exact::ExactLength;
use crate::quantity::ElectricalResistance;
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// One run as drawn: its path and what may be done to it.
#[derive(Debug, Clone, PartialEq)]
pub struct LayoutSpec {
    /// Straights, corners and gaps in order from the start. At least one straight.
    pub pieces: Vec<Piece>,
    /// Overall length as printed on the drawing, where it is: must equal the sum of straights and gaps.
    pub drawn: Option<ExactLength>,
    /// What the start costs in light.
    pub start: EndSpec,
    /// What the end costs in light.
    pub end: EndSpec,
    /// Where the tape that is too short by less than one increment leaves its dark remainder.
    pub remainder: Remainder,
    /// Taken off every straight before tape is counted: what the site may be shorter than the drawing.
    pub site_tolerance: ExactLength,
    /// Stretches in which tape must not be cut.
    pub uncut: Vec<Stretch>,
    /// Positions at which the run must be broken.
    pub breaks: Vec<ExactLength>,
    /// Points at which copper may enter.
    pub feed_points: FeedPoints,
    /// Whether joints of this run are seen, so that a step of brightness shows.
    pub sight: Sight,
}

/// A piece of the path.
#[derive(Debug, Clone, PartialEq)]
pub enum Piece {
    /// Tape along the drawn line.
    Straight {
        /// Length of the line; above nothing.
        length: ExactLength,
    },
    /// A change of direction; no length of its own.
    Corner(Corner),
    /// Part of the line that bears no tape.
    Gap(Gap),
}

/// A change of direction.
#[derive(Debug, Clone, PartialEq)]
pub struct Corner {
    /// Which side of the drawn line the tape is on, seen from the turn.
    pub turn: Turn,
    /// By how much the direction changes: a square corner is 90°.
    pub angle: TurnAngle,
    /// Distance of the tape from the drawn line. Each leg is shorter (inside) or longer
    /// (outside) by `offset · tan(angle / 2)`: a square corner by twice the offset in all.
    pub offset: ExactLength,
    /// In which way the tape would have to bend.
    pub bend: BendSense,
    /// How the corner is made.
    pub policy: CornerPolicy,
    /// Whether a step of brightness across it shows; none: as the run says.
    pub sight: Option<Sight>,
}

/// Which side of the drawn line the tape is on, seen from the turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Turn {
    /// Inside the corner: tape is shorter than the line.
    Inside,
    /// Outside the corner: tape is longer than the line.
    Outside,
}

/// In which way tape would have to bend to follow a corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum BendSense {
    /// Over its face, as tape does.
    #[default]
    OverFace,
    /// Edgewise, in its own plane, as tape does not.
    Edgewise,
}

/// How a corner is made.
#[derive(Debug, Clone, PartialEq)]
pub enum CornerPolicy {
    /// Tape is cut before and after the corner, a jumper joins the pieces.
    CutAndJumper {
        /// Dark from the last increment to the corner, at least.
        dark_before: ExactLength,
        /// Dark from the corner to the next increment, at least.
        dark_after: ExactLength,
        /// The jumper.
        jumper: Jumper,
    },
    /// Tape is bent round the corner uncut.
    Bend {
        /// Inner radius of the bend.
        radius: ExactLength,
    },
    /// A moulded joint plugs or solders onto both pieces.
    MouldedJoint {
        /// Dark from the last increment to the corner, at least.
        dark_before: ExactLength,
        /// Dark from the corner to the next increment, at least.
        dark_after: ExactLength,
        /// Resistance it adds to each conductor.
        resistance: ElectricalResistance,
    },
}

/// Part of the line without tape.
#[derive(Debug, Clone, PartialEq)]
pub struct Gap {
    /// Length of the line without tape; above nothing.
    pub length: ExactLength,
    /// The jumper across; without one the run is broken here.
    pub jumper: Option<Jumper>,
    /// Whether a step of brightness across it shows; none: as the run says.
    pub sight: Option<Sight>,
}

/// A short cable from one piece of tape to the next, one core for each conductor.
#[derive(Debug, Clone, PartialEq)]
pub struct Jumper {
    /// Length of the cable, one way.
    pub length: ExactLength,
    /// Name of the cable it is made of.
    pub cable: String,
}

/// What an end of a run costs in light.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct EndSpec {
    /// Dark at this end always: cap, mitre, end of the diffuser.
    pub cap: ExactLength,
    /// Dark beside that where a lead enters at this end: solder pads, connector, bend of the lead.
    pub lead: ExactLength,
    /// Which way a lead leaves here.
    pub lead_out: LeadOut,
}

/// Which way a lead leaves the profile.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LeadOut {
    /// Straight on through the cap.
    #[default]
    ThroughCap,
    /// Through the back of the profile.
    Back,
    /// To the left, looking from start to end.
    Left,
    /// To the right, looking from start to end.
    Right,
}

/// Where the dark remainder of a leg lies that is no whole number of increments long.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Remainder {
    /// At the start of the leg.
    Start,
    /// At its end.
    #[default]
    End,
    /// Half at each end.
    Shared,
    /// None: one increment more, run up into the corner; at an end of the run without a corner, at that end.
    UpIntoCorner,
}

/// A stretch of the run, by distances from its start along the drawn line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stretch {
    /// From here.
    pub from: ExactLength,
    /// To here; not before `from`.
    pub to: ExactLength,
}

/// A point of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum RunPoint {
    /// Its start.
    Start,
    /// A distance from the start along the drawn line.
    At(ExactLength),
    /// Its end.
    End,
}

/// Points at which copper may enter a run.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum FeedPoints {
    /// The two ends.
    Ends,
    /// Any cut mark.
    Anywhere,
    /// These points only.
    Listed(Vec<RunPoint>),
}

/// Whether joints are seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sight {
    /// A step of brightness would show.
    #[default]
    Seen,
    /// It would not.
    Hidden,
}

/// The way of a feeder from a place to a point of a run.
#[derive(Debug, Clone, PartialEq)]
pub struct RouteSpec {
    /// Name of the place.
    pub place: String,
    /// Point of the run.
    pub to: RunPoint,
    /// Length along the cable, one way, without slack.
    pub length: ExactLength,
    /// How the length is known.
    pub basis: RouteBasis,
}

/// How a route length is known.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum RouteBasis {
    /// Measured on site.
    Measured,
    /// Scaled from a drawing.
    Scaled,
    /// Guessed.
    Guessed,
}

impl RouteBasis {
    /// The word printed for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Scaled => "scaled",
            Self::Guessed => "guessed",
        }
    }
}

/// A change of direction in whole thousandths of a degree, above 0° and below 180°.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TurnAngle {
    millidegrees: u32,
}

/// Why a text is no angle of a corner.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum TurnAngleError {
    /// No number, or no unit.
    #[error("`{found}` is not an angle: write one like \"90 deg\"; accepted: deg, °")]
    Text {
        /// The text.
        found: String,
    },
    /// Not between 0° and 180°.
    #[error(
        "`{found}` is not a change of direction: a corner turns by more than 0° and less than 180°"
    )]
    Range {
        /// The text.
        found: String,
    },
}

impl TurnAngle {
    /// A square corner.
    pub const SQUARE: Self = Self {
        millidegrees: 90_000,
    };

    /// From whole thousandths of a degree, if above 0° and below 180°.
    #[must_use]
    pub const fn from_millidegrees(millidegrees: u32) -> Option<Self> {
        if millidegrees > 0 && millidegrees < 180_000 {
            Some(Self { millidegrees })
        } else {
            None
        }
    }

    /// In whole thousandths of a degree.
    #[must_use]
    pub const fn millidegrees(self) -> u32 {
        self.millidegrees
    }

    /// In degrees.
    #[must_use]
    pub fn degrees(self) -> f64 {
        f64::from(self.millidegrees) / 1000.0
    }
}

impl FromStr for TurnAngle {
    type Err = TurnAngleError;

    /// Reads `"90 deg"`, `"22.5°"`; thousandths of a degree, finer ones rounded.
    fn from_str(text: &str) -> Result<Self, TurnAngleError> {
        let found = text.trim();
        let short = || crate::quantity::shorten(found);
        let no_angle = || TurnAngleError::Text { found: short() };
        let number = crate::quantity::read_number(found).map_err(|_| no_angle())?;
        let unit = found.get(number.bytes..).unwrap_or("").trim();
        if !["deg", "°", "degree", "degrees"].contains(&unit) {
            return Err(no_angle());
        }
        let millidegrees = libm::round(number.value * 1000.0);
        if !(millidegrees > 0.0 && millidegrees < 180_000.0) {
            return Err(TurnAngleError::Range { found: short() });
        }
        Self::from_millidegrees(millidegrees as u32).ok_or_else(no_angle)
    }
}

impl fmt::Display for TurnAngle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{}°", self.degrees()))
    }
}
