//! Candidates for a comparison.

use super::table::Table;
use crate::job::spec::{CandidateSpec, Swap};

/// `[[candidate]]`.
pub(super) fn candidate(table: Table<'_>) -> CandidateSpec {
    let swaps = |key| table.tables(key).into_iter().map(swap).collect();
    let candidate = CandidateSpec {
        name: table.text("name", "the name of the candidate"),
        strips: swaps("strips"),
        supplies: swaps("supplies"),
        decoders: swaps("decoders"),
    };
    table.done();
    candidate
}

fn swap(table: Table<'_>) -> Swap {
    let swap = Swap {
        instead_of: table.text("instead_of", "the name that stands in the job"),
        take: table.text("take", "the name of what is taken instead"),
    };
    table.done();
    swap
}
