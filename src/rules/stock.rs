//! Whether each kind of stock length can be cut, and whether its cutting was proven.

use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject, Value};
use crate::source::Source;

const CUTTING: Source = Source::computed("cutting of stock lengths");

const NONE: Case = Case::plain("none", "{why}")
    .figure("no cutting plan")
    .limit("one")
    .remedy("state longer stock, or divide the pieces");

pub(super) static CUT: Rule = Rule {
    id: "stock-cut",
    title: "Cutting of stock lengths",
    asks: "Can every piece be cut from the stock lengths that are sold?",
    source: CUTTING,
    needs: &[],
    cases: &[&NONE],
};

/// A kind of stock that cannot be cut, and why.
pub(crate) fn no_cut(what: &str, why: &impl ToString) -> Finding {
    CUT.fails(&NONE, Subject::Stock(what.into()))
        .fact("why", Value::note(why.to_string()))
}

const GAP: Case = Case::open(
    "gap",
    "{bars} bars or reels; no plan has fewer than the bound",
    "{why}",
)
.figure("{figure}")
.limit("bound {limit}")
.remedy("give the cutting more effort where one bar matters");

pub(super) static PROOF: Rule = Rule {
    id: "stock-proof",
    title: "Proof of a cutting",
    asks: "Is the cutting of each kind of stock proven to be the best?",
    source: CUTTING,
    needs: &[],
    cases: &[&GAP],
};

/// A cutting that was not proven: bars, what they cost or count, the bound on it, and why.
pub(crate) fn not_proven(what: &str, bars: usize, [value, bound]: [u64; 2], why: &str) -> Finding {
    let counted = |value: u64| Figure::count(value);
    PROOF
        .not_evaluated(&GAP, Subject::Stock(what.into()))
        .figure(counted(value))
        .limit(Limit::AtMost(counted(bound)))
        .fact("bars", Figure::count(bars as u64))
        .fact("why", Value::note(why))
}
