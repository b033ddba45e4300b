//! What a refused candidate teaches about others.
//!
//! On uniform tape with one source voltage a segment that breaks the light limit still does when it is longer
//! on either side of its feed or its feeder is thinner; one that draws too much still does when it is
//! longer or its feeder is thicker. With one emitter this is proven: rails, feeders and source fold to
//! one loop, in which more cells or more copper resistance lower every cell. With several emitters
//! it is the rule, tried in the exhaustive comparisons of `tests/feed`, and not proven: a plan that
//! rests on it does not claim to be the cheapest.
//!
//! Feeds at the even places of a segment move with its length; what is learned about them is no
//! proof either.
//!
//! A joint inside adds resistance: light that fails without it fails with it. Otherwise segments are
//! compared only where they hold the same joints, which is no proof either.

use super::candidate::Candidate;
use super::measure::{LimitKind, Measured};
use super::model::{CheckedRun, HIGH, LOW};
use super::spec::Pattern;

/// Candidates that are compared: one feed; both ends; the two opposite ways.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Family {
    One,
    Both,
    Opposite,
    /// Feeds at the even places of one pattern.
    Several(Pattern),
}

/// A candidate as lessons see it.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Shape {
    family: Family,
    place: usize,
    /// Branches, the longer first.
    branches: [usize; 2],
    /// Cores at the low and at the high corner, ohm.
    low: [f64; 2],
    high: [f64; 2],
    /// First and last mark inside with a joint that adds resistance.
    joints: Option<(usize, usize)>,
}

/// A refused shape, and whether it was light or current that refused it.
#[derive(Debug, Clone, Copy)]
struct Lesson {
    shape: Shape,
    light: bool,
}

/// All lessons of one search.
#[derive(Debug, Default)]
pub(super) struct Lessons {
    all: Vec<Lesson>,
    /// A candidate was refused by a lesson that is not proven.
    pub unproven: bool,
}

fn shape(m: &CheckedRun, c: &Candidate) -> Option<Shape> {
    let core = |feed: usize, corner: usize| c.option(m, feed).core[corner];
    let n = c.cells();
    let (family, branches, low, high) = match c.pattern {
        Pattern::Start | Pattern::End => (
            Family::One,
            [n, 0],
            [core(0, LOW), 0.0],
            [core(0, HIGH), 0.0],
        ),
        Pattern::Inside => {
            let (left, right) = (c.feeds[0].0 - c.from, c.to - c.feeds[0].0);
            (
                Family::One,
                [left.max(right), left.min(right)],
                [core(0, LOW), 0.0],
                [core(0, HIGH), 0.0],
            )
        }
        Pattern::BothEnds => {
            let pair = |corner| {
                let (a, b) = (core(0, corner), core(1, corner));
                [f64::min(a, b), f64::max(a, b)]
            };
            (Family::Both, [n, 0], pair(LOW), pair(HIGH))
        }
        Pattern::CommonAtStart | Pattern::CommonAtEnd => {
            let common = usize::from(c.pattern == Pattern::CommonAtEnd);
            let pair = |corner| [core(common, corner), core(1 - common, corner)];
            (Family::Opposite, [n, 0], pair(LOW), pair(HIGH))
        }
        _ if m.listed_inside.is_none() => {
            let pair = |corner| {
                let all = (0..c.count).map(|feed| core(feed, corner));
                [
                    all.clone().fold(f64::INFINITY, f64::min),
                    all.fold(0.0, f64::max),
                ]
            };
            (Family::Several(c.pattern), [n, 0], pair(LOW), pair(HIGH))
        }
        _ => return None,
    };
    Some(Shape {
        family,
        place: c.place(m),
        branches,
        low,
        high,
        joints: joints(m, c),
    })
}

/// First and last mark inside with a joint that adds resistance.
fn joints(m: &CheckedRun, c: &Candidate) -> Option<(usize, usize)> {
    let first = m.resistive.partition_point(|k| *k <= c.from);
    let last = m.resistive.partition_point(|k| *k < c.to);
    (first < last).then(|| (m.resistive[first], m.resistive[last - 1]))
}

/// Whether no joint inside adds resistance.
pub(super) fn plain(m: &CheckedRun, c: &Candidate) -> bool {
    joints(m, c).is_none()
}

/// Whether a broken limit is one that lessons are drawn from: light (true) or current (false).
pub(super) fn kind(c: &Candidate, f: &Measured) -> Option<bool> {
    match f.kind {
        LimitKind::ConnectorCurrent if c.pattern != Pattern::BothEnds => Some(false),
        LimitKind::LeastCurrent | LimitKind::VoltageDrop => Some(true),
        LimitKind::SegmentCurrent | LimitKind::OutputCurrent => Some(false),
        _ => None,
    }
}

impl Lessons {
    /// Remembers a refused candidate.
    pub fn learn(&mut self, m: &CheckedRun, c: &Candidate, light: bool) {
        // Few listed marks: everything is tried, and nothing unproven is needed.
        if m.listed_inside.is_some() && !plain(m, c) {
            return;
        }
        let Some(shape) = shape(m, c) else { return };
        let lesson = Lesson { shape, light };
        self.all
            .retain(|old| !(old.light == light && teaches(&lesson, &old.shape)));
        self.all.push(lesson);
    }

    /// Whether a lesson refuses a candidate.
    pub fn refuse(&mut self, m: &CheckedRun, c: &Candidate) -> bool {
        if self.all.is_empty() {
            return false;
        }
        let Some(shape) = shape(m, c) else {
            return false;
        };
        let found = self.all.iter().any(|lesson| teaches(lesson, &shape));
        let proven = m.emitters() == 1
            && !matches!(shape.family, Family::Several(_))
            && shape.joints.is_none();
        self.unproven |= found && !proven;
        found
    }
}

/// Whether `lesson` refuses `shape`.
fn teaches(lesson: &Lesson, shape: &Shape) -> bool {
    let own = &lesson.shape;
    own.family == shape.family
        && own.place == shape.place
        // Light that fails without a joint fails with it; else only the same joints compare.
        && (own.joints == shape.joints || lesson.light && own.joints.is_none())
        && (0..2).all(|k| shape.branches[k] >= own.branches[k])
        && if lesson.light {
            (0..2).all(|k| shape.low[k] >= own.low[k])
        } else {
            (0..2).all(|k| shape.high[k] <= own.high[k])
        }
}
