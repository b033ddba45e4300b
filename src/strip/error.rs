//! What can keep a data sheet from becoming a model.

/// A figure of a strip that cannot be.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum StripError {
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
    #[error("strip \"{strip}\" has {found} emitters; 1 to {most} are accepted")]
    Emitters {
        /// Strip.
        strip: String,
        /// Found.
        found: usize,
        /// Most.
        most: usize,
    },
    /// A rail figure out of range.
    #[error("strip \"{strip}\": {what} is {found}; accepted: {accepted}")]
    Rail {
        /// Strip.
        strip: String,
        /// Which figure.
        what: &'static str,
        /// Found.
        found: String,
        /// Accepted.
        accepted: &'static str,
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
