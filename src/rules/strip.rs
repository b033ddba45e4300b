//! What the sheet of a tape says, against its cells and against the runs it lies in.

use super::View;
use crate::exact::ExactLength;
use crate::finding::{Case, Figure, Finding, Rule, Subject, Value};
use crate::id::ProductId;
use crate::quantity::fraction;
use crate::source::Source;

const JOB: Source = Source::job("the job");

const NO_MODEL: Case = Case::plain("none", "{why}")
    .figure("no model")
    .limit("a tape that can be computed")
    .remedy("correct the figures of the strip");

pub(super) static MODEL: Rule = Rule {
    id: "strip-model",
    title: "Figures of a tape",
    asks: "Can each tape be computed from the figures of its sheet?",
    source: JOB,
    needs: &[],
    cases: &[&NO_MODEL],
};

/// A tape that cannot be computed, and why.
pub(crate) fn no_model(strip: &str, why: &impl ToString) -> Finding {
    MODEL
        .fails(&NO_MODEL, Subject::Strip(ProductId::new(strip)))
        .fact("why", Value::note(why.to_string()))
}

const AGAINST_STATED: Case = Case::judged(
    "departure",
    "power of its cells at rated voltage, warm, against the power stated",
)
.figure("{found} for {stated}")
.remedy("check cells, cut pitch and what the power was measured on");

const ON_WHAT_LENGTH: Case = Case::open(
    "length-not-stated",
    "power of the tape, of which its cells draw {found} at rated voltage, warm",
    "its sheet states {stated}, not whether of a short piece or of a full reel, which holds the drop of its rails",
)
.remedy("state power_measured_on of the strip");

pub(super) static POWER: Rule = Rule {
    id: "strip-power",
    title: "Power of a tape",
    asks: "Do the cells of the tape draw the power per length that its sheet states?",
    source: Source::job("the job: cells, power and current tolerance"),
    needs: &["power of the strip", "power_measured_on of the strip"],
    cases: &[&AGAINST_STATED, &ON_WHAT_LENGTH],
};

pub(super) fn power(view: &View<'_>) -> Vec<Finding> {
    let tolerance = view.design.limits.current_tolerance;
    let strips = view.design.strips.iter();
    strips
        .filter_map(|strip| {
            let (found, stated) = (strip.power, strip.power_stated?);
            let departure = (found.si() / stated.si() - 1.0).abs();
            let about = Subject::Strip(strip.id.clone());
            let finding = if strip.power_length_stated {
                POWER.at_most(&AGAINST_STATED, about, fraction(departure), tolerance)
            } else {
                POWER.not_evaluated(&ON_WHAT_LENGTH, about)
            };
            Some(finding.fact("found", found).fact("stated", stated))
        })
        .collect()
}

const LEFT_OUT: &str = "joints between reels are left out of every voltage and current";
const STATE_JOINT: &str = "state reel_joint of the strip, or break the run within a reel";
const ONE_JOINED: Case = Case::open(
    "one",
    LEFT_OUT,
    "piece {piece} is longer than a reel of {reel}, and what a joint between reels adds is not stated",
)
.remedy(STATE_JOINT);
const TWO_JOINED: Case = Case::open(
    "two",
    LEFT_OUT,
    "piece {piece} and another are longer than a reel of {reel}, and what a joint between reels adds is not stated",
)
.remedy(STATE_JOINT);
const MORE_JOINED: Case = Case::open(
    "more",
    LEFT_OUT,
    "piece {piece} and {others} others are longer than a reel of {reel}, and what a joint between reels adds is not stated",
)
.remedy(STATE_JOINT);

pub(super) static REEL_JOINT: Rule = Rule {
    id: "reel-joint",
    title: "Joints between reels",
    asks: "Is it known what a joint between reels adds, where a piece is longer than one?",
    source: JOB,
    needs: &["reel_joint of the strip"],
    cases: &[&ONE_JOINED, &TWO_JOINED, &MORE_JOINED],
};

/// Pieces of a tape are longer than its reel, the first of them by name, and what a joint adds is not stated.
pub(crate) fn joint_not_stated(
    strip: &str,
    reel: ExactLength,
    first: &str,
    others: usize,
) -> Finding {
    let case = match others {
        0 => &ONE_JOINED,
        1 => &TWO_JOINED,
        _ => &MORE_JOINED,
    };
    REEL_JOINT
        .not_evaluated(case, Subject::Strip(ProductId::new(strip)))
        .fact("piece", Value::name(first))
        .fact("others", Figure::count(others as u64))
        .fact("reel", reel)
}
