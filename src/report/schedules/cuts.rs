//! Pieces of tape to be cut.

use crate::design::{Design, EndWork, Piece};
use crate::report::schedule::{Draft, Schedule};
use crate::report::words::listed;

pub(in crate::report) fn cuts(design: &Design) -> Schedule {
    Draft::<&Piece>::new(
        "cuts",
        "Cuts",
        "Cut on the printed mark nearest to the length: lengths are whole cut lengths of the tape, rounded here and exact in \
         the file. \"From\" is measured from the start of the run's tape.",
    )
    .name("piece", "Piece", |r| &r.id)
    .words("run", "Run", |r| &r.run)
    .count("segment", "Segment", |r| r.number)
    .words("strip", "Tape", |r| &r.strip)
    .words("reel", "Reel", |r| listed(&r.reels))
    .count("increments", "Increments", |r| r.increments)
    .in_file()
    .millimetres("length", "Length", |r| r.length)
    .millimetres("from", "From", |r| r.from)
    .words("at_start", "At start", |r| end_work(r.start))
    .words("at_end", "At end", |r| end_work(r.end))
    .words("label", "Label", |r| format!("{} {}", r.id, r.length))
    .of(|r| vec![r.run.clone()])
    .fill(&design.pieces)
}

fn end_work(work: EndWork) -> &'static str {
    match work {
        EndWork::Lead => "lead",
        EndWork::LeadAtBack => "lead, out at the back",
        EndWork::Jumper => "jumper",
        EndWork::EndCap => "end cap",
    }
}
