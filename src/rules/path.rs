//! Runs that cannot be laid out, and joints of their paths that nothing is known of.

use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::id::RunId;
use crate::source::Source;

const NONE: Case = Case::plain("none", "{why}")
    .figure("0 increments")
    .limit("at least 1")
    .remedy("take a tape with a shorter cut pitch, or leave this run out");

pub(super) static LAYOUT: Rule = Rule {
    id: "layout-none",
    title: "Tape on a path",
    asks: "Does at least one cut increment fit on the path of each run?",
    source: Source::computed("whole cut increments on the path as drawn"),
    needs: &[],
    cases: &[&NONE],
};

/// A run that cannot be laid out, and why.
pub(crate) fn no_layout(run: &str, why: &impl ToString) -> Finding {
    LAYOUT
        .fails(&NONE, Subject::Run(RunId::new(run)))
        .fact("why", Value::note(why.to_string()))
}

const OPEN: Case = Case::open(
    "open",
    "resistance of a jumper; it is taken as an open joint",
    "{why}",
)
.remedy("name a cable whose resistance the tables cover");

pub(super) static JUMPER: Rule = Rule {
    id: "layout-jumper",
    title: "Resistance of a jumper",
    asks: "Is the resistance of each jumper of a path known?",
    source: Source::job("the job"),
    needs: &["a cable of the job's list, of a conductor that a table lists"],
    cases: &[&OPEN],
};

/// A jumper of a run whose resistance is not known, and why.
pub(crate) fn jumper_unknown(run: &str, why: &str) -> Finding {
    JUMPER
        .not_evaluated(&OPEN, Subject::Run(RunId::new(run)))
        .fact("why", Value::note(why))
}
