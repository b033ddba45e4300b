//! Steps of light where two segments meet in sight, and across joints of the path inside one.
//!
//! ```text
//!            one supply: both at the low corner            two supplies: either at the top, the other at the bottom
//!  left  ────┤├──── right                         left ────┤├──── right
//!      step = |left − right| / the greater            step = the greatest of  low | low,  low | raised,  raised | low
//! ```
//! Two supplies stand anywhere within their tolerances, each by itself. The tape of a run is taken to be of one batch, as
//! the schedule of reels asks: both sides are equally far from its rated current, and the copper is equally warm.

use super::{SOLVE, View};
use crate::choose::feeding::step;
use crate::design::{Segment, SegmentFigures, Terminals};
use crate::finding::{Case, Finding, Rule, Subject};
use crate::id::SupplyId;
use crate::quantity::{Share, fraction};

const STEP: Case = Case::judged("step", "step in light at a visible joint, worst case, low")
    .remedy("feed both sides alike, or move the break");
const TWO_SUPPLIES: Case = Case::judged(
    "two-supplies",
    "step in light at a visible joint between two supplies, one at the top and one at the bottom of its tolerance",
)
.remedy("feed both sides from one supply, take supplies of a closer tolerance, or hide the joint");

pub(super) static RULE: Rule = Rule {
    id: "segment-step",
    title: "Step in light at a joint",
    asks: "Is the step in light at every visible joint within the limit?",
    source: SOLVE,
    needs: &["the greatest step in light permitted"],
    cases: &[&STEP, &TWO_SUPPLIES],
};

/// Joints inside are said where they break the limit; breaks that are seen, always.
pub(super) fn judge(view: &View<'_>) -> Vec<Finding> {
    let Some(limit) = view.design.limits.visible_step else {
        return Vec::new();
    };
    let mut out = Vec::new();
    let segments = &view.design.segments;
    for (at, segment) in segments.iter().enumerate() {
        let Some(figures) = segment.solved.figures() else {
            continue;
        };
        let inside = inside(figures);
        if inside > limit.si() {
            let about = Subject::Segment(segment.id.clone());
            out.push(RULE.at_most(&STEP, about, fraction(inside), limit));
        }
        if let Some(next) = segments.get(at + 1)
            && let Some((case, step)) = across(view, segment, figures, next)
        {
            let about = Subject::Break {
                before: segment.id.clone(),
                behind: next.id.clone(),
            };
            out.push(RULE.at_most(case, about, fraction(step), limit));
        }
    }
    out
}

/// The greatest step across a joint inside that is seen.
fn inside(figures: &SegmentFigures) -> f64 {
    let seen = figures.steps.iter().filter(|step| step.seen);
    seen.map(|step| step.step.si()).fold(0.0, f64::max)
}

/// The greatest step of any emitter across the break between two segments, where it is seen.
fn across(
    view: &View<'_>,
    segment: &Segment,
    figures: &SegmentFigures,
    next: &Segment,
) -> Option<(&'static Case, f64)> {
    if next.run != segment.run || !segment.end_seen {
        return None;
    }
    let beyond = next.solved.figures()?;
    let low = widest(&figures.last_cell, &beyond.first_cell);
    if supply_of(view, segment) == supply_of(view, next) {
        return Some((&STEP, low));
    }
    let apart = widest(&figures.last_cell, &beyond.first_cell_raised)
        .max(widest(&figures.last_cell_raised, &beyond.first_cell));
    Some((&TWO_SUPPLIES, low.max(apart)))
}

/// The supply that a segment hangs on.
fn supply_of<'d>(view: &View<'d>, segment: &Segment) -> Option<&'d SupplyId> {
    match &view.feeds_of(&segment.id).first()?.from {
        Terminals::Decoder { decoder, .. } => Some(&view.decoder(decoder)?.supply.as_ref()?.0),
        Terminals::Supply { supply, .. } => Some(supply),
        _ => None,
    }
}

/// Greatest step between two cells, over their emitters.
fn widest(a: &[Option<Share>], b: &[Option<Share>]) -> f64 {
    let steps = a
        .iter()
        .zip(b)
        .filter_map(|(a, b)| Some(step((*a)?.si(), (*b)?.si())));
    steps.fold(0.0, f64::max)
}
