//! Candidates: names that are known, each exchanged once.

use super::books::Books;
use super::names::Names;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{CandidateSpec, Swap};
use crate::quantity::shorten;
use std::collections::BTreeSet;

pub(super) fn candidates(
    candidates: &[(String, &CandidateSpec)],
    books: &Books,
    faults: &mut Faults,
) {
    for (subject, candidate) in candidates {
        swaps(subject, "strips", &candidate.strips, &books.strips, faults);
        let supplies = &candidate.supplies;
        swaps(subject, "supplies", supplies, &books.supplies, faults);
        let decoders = &candidate.decoders;
        swaps(subject, "decoders", decoders, &books.decoders, faults);
    }
}

fn swaps(subject: &str, list: &str, swaps: &[Swap], names: &Names, faults: &mut Faults) {
    let mut seen = BTreeSet::new();
    for (number, swap) in swaps.iter().enumerate() {
        let field = |key: &str| format!("{list} {}: {key}", number + 1);
        let known = names.refer(subject, &field("instead_of"), &swap.instead_of, faults);
        names.refer(subject, &field("take"), &swap.take, faults);
        if known && !seen.insert(&swap.instead_of) {
            faults.say(
                FaultKind::Duplicate,
                (subject, &field("instead_of")),
                format!("`{}` is exchanged twice", shorten(&swap.instead_of)),
                "Name each once",
            );
        }
    }
}
