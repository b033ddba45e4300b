//! Other products for the same job, to be planned beside each other.

/// A candidate: the job with some products in the place of others.
///
/// One that exchanges nothing is the job as it is written. [`compare`](crate::plan::compare) plans every
/// candidate; a plan of the job itself takes no notice of them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CandidateSpec {
    /// Name, such as the voltage of its tape.
    pub name: String,
    /// Kinds of tape exchanged in zones.
    pub strips: Vec<Swap>,
    /// Kinds of supply exchanged where zones and places name them.
    pub supplies: Vec<Swap>,
    /// Kinds of decoder exchanged where zones and places name them.
    pub decoders: Vec<Swap>,
}

/// One kind of product in the place of another, both by name.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Swap {
    /// What the job names.
    pub instead_of: String,
    /// What is taken.
    pub take: String,
}
