//! The cautions of every document.

use crate::report::cautions::{CAUTIONS, Caution};
use crate::report::schedule::{Draft, Schedule};

pub(in crate::report) fn cautions() -> Schedule {
    Draft::<(usize, &Caution)>::new(
        "cautions",
        "Cautions",
        "Read these before acting on anything in the plan.",
    )
    .number("number", "No.", |r| r.0)
    .words("caution", "Caution", |r| r.1.title)
    .words("meaning", "Meaning", |r| r.1.text)
    .fill((1..).zip(CAUTIONS))
}
