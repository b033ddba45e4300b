//! What can be wrong with a run problem.

/// A fault of a [`RunProblem`](crate::choose::feeding::RunProblem), or a search that was stopped.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum FeedError {
    /// The run has no increment.
    #[error(
        "run `{run}` is shorter than one cut increment: nothing to feed. Take a tape with a shorter cut pitch, or leave the run out"
    )]
    TooShort {
        /// Run.
        run: String,
    },
    /// The run is too long to search.
    #[error(
        "run `{run}` has {increments} increments; at most {limit} are searched. Divide the run where the drawing allows it"
    )]
    TooLong {
        /// Run.
        run: String,
        /// Found.
        increments: u64,
        /// Accepted.
        limit: u64,
    },
    /// A list that must not be empty is empty, or over its cap.
    #[error("run `{run}`: {count} {what}; from 1 to {limit} are accepted")]
    Count {
        /// Run.
        run: String,
        /// What is listed.
        what: &'static str,
        /// Found.
        count: usize,
        /// Most.
        limit: usize,
    },
    /// A number outside its range.
    #[error("run `{run}`: {what} is {found}; accepted: {accepted}")]
    Value {
        /// Run.
        run: String,
        /// Which number.
        what: String,
        /// Found.
        found: String,
        /// Accepted.
        accepted: &'static str,
    },
    /// A mark outside the run.
    #[error("run `{run}`: {what} at mark {at}; the run has marks {first} to {last}")]
    Mark {
        /// Run.
        run: String,
        /// What lies there.
        what: &'static str,
        /// Found.
        at: u64,
        /// First accepted.
        first: u64,
        /// Last accepted.
        last: u64,
    },
    /// Two things with one name, or at one mark.
    #[error("run `{run}`: {what} `{name}` is given twice; give it once")]
    Twice {
        /// Run.
        run: String,
        /// What.
        what: &'static str,
        /// Which.
        name: String,
    },
    /// A name that no list contains.
    #[error("run `{run}`: {what} `{name}` is not among the candidates")]
    Unknown {
        /// Run.
        run: String,
        /// What.
        what: &'static str,
        /// Which.
        name: String,
    },
    /// A cable without enough cores.
    #[error(
        "run `{run}`: cable `{cable}` has {cores} cores; this strip needs {needed} (one for the common, one for each return)"
    )]
    Cores {
        /// Run.
        run: String,
        /// Cable.
        cable: String,
        /// Found.
        cores: usize,
        /// Needed.
        needed: usize,
    },
    /// Fixed items that contradict each other or the permitted positions.
    #[error("run `{run}`: fixed items contradict: {why}")]
    Contradiction {
        /// Run.
        run: String,
        /// Which and how.
        why: String,
    },
    /// A sum of prices that 63 bits do not hold.
    #[error(
        "run `{run}`: the price of {what} does not fit: at most {limit} minor units. Check the unit of the price"
    )]
    PriceOverflow {
        /// Run.
        run: String,
        /// What costs so much.
        what: String,
        /// Most.
        limit: i64,
    },
    /// A strip or cable that cannot be evaluated at a corner.
    #[error("run `{run}`: {what} cannot be evaluated: {why}")]
    Model {
        /// Run.
        run: String,
        /// What.
        what: String,
        /// Why.
        why: String,
    },
    /// The caller stopped the search.
    #[error("run `{run}`: stopped by the caller after {evaluated} evaluated segments")]
    Stopped {
        /// Run.
        run: String,
        /// Segments evaluated until then.
        evaluated: u64,
    },
    /// The full solve of a chosen segment contradicts the search: a fault of this crate.
    #[error(
        "run `{run}`: internal check failed at segment {from} to {to}: {what}. No plan is given; please report this input"
    )]
    Mismatch {
        /// Run.
        run: String,
        /// First mark.
        from: u64,
        /// Last mark.
        to: u64,
        /// What differs.
        what: String,
    },
}

/// All faults of a problem.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{}", self.text())]
pub struct FeedErrors(pub Vec<FeedError>);

impl FeedErrors {
    fn text(&self) -> String {
        let lines: Vec<String> = self.0.iter().map(ToString::to_string).collect();
        lines.join("\n")
    }
}

impl From<FeedError> for FeedErrors {
    fn from(error: FeedError) -> Self {
        Self(vec![error])
    }
}
