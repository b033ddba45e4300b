//! Steps of light where two segments meet in sight, and across joints of the path inside one.

use super::{SOLVE, View};
use crate::design::{Segment, SegmentFigures};
use crate::finding::{Case, Finding, Rule, Subject};
use crate::quantity::{Share, fraction};

const STEP: Case = Case::judged("step", "step in light at a visible joint, worst case, low")
    .remedy("feed both sides alike, or move the break");

pub(super) static RULE: Rule = Rule {
    id: "segment-step",
    title: "Step in light at a joint",
    asks: "Is the step in light at every visible joint within the limit?",
    source: SOLVE,
    needs: &["the greatest step in light permitted"],
    cases: &[&STEP],
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
            && let Some(step) = across(segment, figures, next)
        {
            let about = Subject::Break {
                before: segment.id.clone(),
                behind: next.id.clone(),
            };
            out.push(RULE.at_most(&STEP, about, fraction(step), limit));
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
fn across(segment: &Segment, figures: &SegmentFigures, next: &Segment) -> Option<f64> {
    if next.run != segment.run || !segment.end_seen {
        return None;
    }
    let beyond = next.solved.figures()?;
    let sides = figures.last_cell.iter().zip(&beyond.first_cell);
    let steps = sides.filter_map(|(last, first)| Some(between((*last)?, (*first)?)));
    Some(steps.fold(0.0, f64::max))
}

/// Step between two currents, as a share of the greater.
fn between(a: Share, b: Share) -> f64 {
    let (a, b) = (a.si(), b.si());
    let most = a.max(b);
    if most > 0.0 {
        (a - b).abs() / most
    } else {
        0.0
    }
}
