//! The line of a run as drawn: its length, its gaps, its longest leg.

use crate::exact::ExactLength;
use crate::layout::spec::{CornerPolicy, LayoutSpec, Piece, RunPoint};

/// A drawn line.
#[derive(Debug)]
pub(super) struct Line {
    length: ExactLength,
    gaps: Vec<(ExactLength, ExactLength)>,
    corners: Vec<ExactLength>,
    longest_leg: ExactLength,
}

impl Line {
    /// From pieces whose lengths are above nothing.
    pub(super) fn new(layout: &LayoutSpec) -> Self {
        let mut at = ExactLength::ZERO;
        let mut gaps = Vec::new();
        let mut corners = Vec::new();
        let mut longest = ExactLength::ZERO;
        // A leg is tape without a cut that the path asks for: straights and bends between them.
        let mut leg = ExactLength::ZERO.saturating_sub(layout.start.cap);
        for piece in &layout.pieces {
            match piece {
                Piece::Straight { length } => {
                    at = at.saturating_add(*length);
                    leg = leg
                        .saturating_add(*length)
                        .saturating_sub(layout.site_tolerance);
                }
                Piece::Gap(gap) => {
                    let to = at.saturating_add(gap.length);
                    gaps.push((at, to));
                    at = to;
                    longest = longest.max(leg);
                    leg = ExactLength::ZERO;
                }
                Piece::Corner(corner) => {
                    corners.push(at);
                    match &corner.policy {
                        CornerPolicy::Bend { .. } => {}
                        CornerPolicy::CutAndJumper {
                            dark_before,
                            dark_after,
                            ..
                        }
                        | CornerPolicy::MouldedJoint {
                            dark_before,
                            dark_after,
                            ..
                        } => {
                            longest = longest.max(leg.saturating_sub(*dark_before));
                            leg = ExactLength::ZERO.saturating_sub(*dark_after);
                        }
                    }
                }
            }
        }
        longest = longest.max(leg.saturating_sub(layout.end.cap));
        Self {
            length: at,
            gaps,
            corners,
            longest_leg: longest,
        }
    }

    /// Straights and gaps together.
    pub(super) fn length(&self) -> ExactLength {
        self.length
    }

    /// The most that is left for one piece of tape, corner offsets left out; not below nothing.
    pub(super) fn longest_leg(&self) -> ExactLength {
        self.longest_leg
    }

    /// Distance of a point from the start.
    pub(super) fn distance(&self, point: RunPoint) -> ExactLength {
        match point {
            RunPoint::Start => ExactLength::ZERO,
            RunPoint::At(at) => at,
            RunPoint::End => self.length,
        }
    }

    /// How far two points are apart where no corner lies between them.
    pub(super) fn straight_between(&self, a: RunPoint, b: RunPoint) -> Option<ExactLength> {
        let (a, b) = (self.distance(a), self.distance(b));
        let (from, to) = (a.min(b), a.max(b));
        let bent = self.corners.iter().any(|at| *at > from && *at < to);
        (!bent).then(|| to.saturating_sub(from))
    }

    /// The gap that a distance lies inside of.
    pub(super) fn gap_around(&self, at: ExactLength) -> Option<(ExactLength, ExactLength)> {
        self.gaps
            .iter()
            .copied()
            .find(|(from, to)| at > *from && at < *to)
    }
}
