//! What can keep a data sheet from becoming a model.

/// A part of a data sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum SheetPart {
    /// Its name.
    Name,
    /// Rated voltage.
    Rated,
    /// Cells between two cuts.
    Cells,
    /// Reel.
    Reel,
    /// Power per length.
    Power,
    /// Longest branch.
    LongestBranch,
    /// Pads.
    Pads,
    /// Bending radius.
    Bend,
    /// Joint between reels.
    ReelJoint,
    /// Factory splices.
    Splices,
    /// Emitters.
    Emitters,
    /// Rails.
    Rails,
    /// What was given beside the sheet: tolerances, lengths.
    Beside,
}

/// A figure of a strip that cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum StripError {
    /// A figure out of range.
    #[error("strip \"{strip}\": {what} is {found}; accepted: {accepted}. {remedy}")]
    Figure {
        /// Strip.
        strip: String,
        /// The part of the sheet that it is of.
        part: SheetPart,
        /// Which figure, with its emitter where it has one.
        what: String,
        /// Found.
        found: String,
        /// Accepted.
        accepted: String,
        /// What to do.
        remedy: &'static str,
    },
    /// Two figures that cannot both hold.
    #[error("strip \"{strip}\": {what}, but {against}. {remedy}")]
    Contradiction {
        /// Strip.
        strip: String,
        /// One of them.
        what: String,
        /// The other.
        against: String,
        /// What to do.
        remedy: &'static str,
    },
    /// A cell that is no load.
    #[error("strip \"{strip}\", emitter \"{emitter}\": {why}")]
    Cell {
        /// Strip.
        strip: String,
        /// Emitter.
        emitter: String,
        /// Why.
        why: String,
    },
    /// Not one to six emitters.
    #[error(
        "strip \"{strip}\" has {found} emitters; 1 to {most} are accepted. List every colour once"
    )]
    Emitters {
        /// Strip.
        strip: String,
        /// Found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// A piece shorter than a cut increment.
    #[error(
        "strip \"{strip}\": {what} of {length} is shorter than one cut increment ({increment}); state a longer one"
    )]
    TooShort {
        /// Strip.
        strip: String,
        /// Which piece.
        what: &'static str,
        /// Its length.
        length: String,
        /// The increment.
        increment: String,
    },
    /// A maximum run or a reading that no rail resistance explains.
    #[error(
        "strip \"{strip}\": {what}: no rail resistance from {least} to {most} ohm/m gives it. {remedy}"
    )]
    NoResistance {
        /// Strip.
        strip: String,
        /// What was asked, in words.
        what: String,
        /// Least tried.
        least: f64,
        /// Most tried.
        most: f64,
        /// What to do.
        remedy: &'static str,
    },
    /// The network solver gave up on a piece that calibrates the strip.
    #[error(
        "strip \"{strip}\": {what} could not be solved: {why}. State the resistance of the rails instead"
    )]
    Unsolved {
        /// Strip.
        strip: String,
        /// Which piece.
        what: String,
        /// What the solver said.
        why: String,
    },
}

/// All faults of a strip.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}", self.text())]
pub struct StripErrors(pub Vec<StripError>);

impl StripErrors {
    fn text(&self) -> String {
        let lines: Vec<String> = self.0.iter().map(ToString::to_string).collect();
        lines.join("\n")
    }
}

impl From<StripError> for StripErrors {
    fn from(fault: StripError) -> Self {
        Self(vec![fault])
    }
}
