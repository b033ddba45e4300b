//! A run laid out: legs, increments, dark lengths, joints of the path.

use super::spec::Jumper;
use crate::exact::{CutPitch, ExactLength};
use crate::quantity::ElectricalResistance;

/// Tape without a cut that the path asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Leg {
    pub(super) first_mark: u64,
    pub(super) increments: u64,
    pub(super) dark_before: ExactLength,
    pub(super) dark_after: ExactLength,
    pub(super) into_corner: bool,
    pub(super) sections: Vec<Section>,
}

/// A straight of a leg: where its tape lies on the drawn line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Section {
    /// Position on the drawn line at which its tape may begin.
    pub line_from: ExactLength,
    /// End of the straight on the drawn line.
    pub line_to: ExactLength,
    /// Distance along the leg, dark lengths included, at which it begins.
    pub tape_from: ExactLength,
    /// Tape on it, dark lengths included.
    pub tape: ExactLength,
}

impl Leg {
    /// Cut mark of the run at which it begins.
    #[must_use]
    pub fn first_mark(&self) -> u64 {
        self.first_mark
    }

    /// Cut mark of the run at which it ends.
    #[must_use]
    pub fn last_mark(&self) -> u64 {
        self.first_mark + self.increments
    }

    /// Cut increments on it; 0 where none fits.
    #[must_use]
    pub fn increments(&self) -> u64 {
        self.increments
    }

    /// Dark before its first increment.
    #[must_use]
    pub fn dark_before(&self) -> ExactLength {
        self.dark_before
    }

    /// Dark after its last increment.
    #[must_use]
    pub fn dark_after(&self) -> ExactLength {
        self.dark_after
    }

    /// Whether its last increment runs up into the dark allowance of a corner.
    #[must_use]
    pub fn runs_into_corner(&self) -> bool {
        self.into_corner
    }
}

/// Tape that lies straight on the drawn line, from one of its cut marks to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LitStretch {
    /// First mark.
    pub first: u64,
    /// Last mark.
    pub last: u64,
    /// Where the first mark lies on the drawn line.
    pub from: ExactLength,
    /// Where the last one does.
    pub to: ExactLength,
}

/// What the path puts between two increments.
#[derive(Debug, Clone, PartialEq)]
pub struct PathJoint {
    /// Cut mark it stands at.
    pub mark: u64,
    /// What it is.
    pub kind: PathJointKind,
    /// Whether both sides are seen at once.
    pub visible: bool,
    /// Where it stands on the drawn line.
    pub at: ExactLength,
}

/// What joins two legs, or does not.
#[derive(Debug, Clone, PartialEq)]
pub enum PathJointKind {
    /// A short cable.
    Jumper(Jumper),
    /// A moulded joint of this resistance in each conductor.
    Moulded(ElectricalResistance),
    /// Nothing: the run is broken here.
    Open,
}

/// A run laid out onto cut increments.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    pub(super) pitch: CutPitch,
    pub(super) drawn: ExactLength,
    pub(super) path: ExactLength,
    pub(super) legs: Vec<Leg>,
    pub(super) joints: Vec<PathJoint>,
    pub(super) uncut: Vec<u64>,
    pub(super) breaks: Vec<u64>,
    pub(super) feed_marks: Option<Vec<u64>>,
    pub(super) straights: usize,
    pub(super) corners: (usize, usize),
    pub(super) gaps: usize,
}

impl Layout {
    /// Distance between cut marks.
    #[must_use]
    pub fn pitch(&self) -> CutPitch {
        self.pitch
    }

    /// Length of the line as drawn: straights and gaps.
    #[must_use]
    pub fn drawn(&self) -> ExactLength {
        self.drawn
    }

    /// Length of the line on which the tape lies: as drawn, with offsets and bends.
    #[must_use]
    pub fn tape_path(&self) -> ExactLength {
        self.path
    }

    /// Legs from the start.
    #[must_use]
    pub fn legs(&self) -> &[Leg] {
        &self.legs
    }

    /// Jumpers, moulded joints and openings, by mark; several may stand at one mark.
    #[must_use]
    pub fn joints(&self) -> &[PathJoint] {
        &self.joints
    }

    /// All increments of the run: its last cut mark.
    #[must_use]
    pub fn increments(&self) -> u64 {
        self.legs.last().map_or(0, Leg::last_mark)
    }

    /// Length that lights.
    #[must_use]
    pub fn lit(&self) -> ExactLength {
        self.pitch.length_of(self.increments())
    }

    /// Dark at the start; the whole path where nothing fits.
    #[must_use]
    pub fn dark_start(&self) -> ExactLength {
        let mut dark = ExactLength::ZERO;
        for leg in &self.legs {
            if leg.increments > 0 {
                return dark.saturating_add(leg.dark_before);
            }
            dark = dark
                .saturating_add(leg.dark_before)
                .saturating_add(leg.dark_after);
        }
        self.path
    }

    /// Dark at the end.
    #[must_use]
    pub fn dark_end(&self) -> ExactLength {
        let mut dark = ExactLength::ZERO;
        for leg in self.legs.iter().rev() {
            if leg.increments > 0 {
                return dark.saturating_add(leg.dark_after);
            }
            dark = dark
                .saturating_add(leg.dark_before)
                .saturating_add(leg.dark_after);
        }
        ExactLength::ZERO
    }

    /// Dark between: what is neither lit nor dark at an end.
    #[must_use]
    pub fn dark_between(&self) -> ExactLength {
        self.path
            .saturating_sub(self.lit())
            .saturating_sub(self.dark_start())
            .saturating_sub(self.dark_end())
    }

    /// Marks at which the tape must not be cut: stated stretches, and arcs of bends.
    #[must_use]
    pub fn uncut(&self) -> &[u64] {
        &self.uncut
    }

    /// Marks at which the run must be broken, those without a joint included.
    #[must_use]
    pub fn breaks(&self) -> &[u64] {
        &self.breaks
    }

    /// Marks at which copper may enter; none: any.
    #[must_use]
    pub fn feed_marks(&self) -> Option<&[u64]> {
        self.feed_marks.as_deref()
    }

    /// The mark nearest to a distance from the start along the drawn line; of two equally
    /// near, the one further on. At a gap or corner: the mark where the legs meet.
    #[must_use]
    pub fn mark_near(&self, at: ExactLength) -> u64 {
        let mut before = 0;
        for leg in &self.legs {
            let Some(last) = leg.sections.last() else {
                continue;
            };
            if leg.sections.first().is_some_and(|s| at < s.line_from) {
                return before.max(leg.first_mark);
            }
            if at <= last.line_to {
                let along = leg.tape_at(at).saturating_sub(leg.dark_before);
                let below = self.pitch.count_in(along);
                let short = along.saturating_sub(self.pitch.length_of(below));
                let beyond = self.pitch.length_of(below + 1).saturating_sub(along);
                let nearest = if short >= beyond { below + 1 } else { below };
                return leg.first_mark + nearest.min(leg.increments);
            }
            before = leg.last_mark();
        }
        before
    }

    /// Distance of a mark from the start along the drawn line.
    #[must_use]
    pub fn position_of(&self, mark: u64) -> ExactLength {
        for leg in &self.legs {
            if leg.increments > 0 && mark <= leg.last_mark() {
                let count = mark.saturating_sub(leg.first_mark);
                return leg.line_at(leg.dark_before.saturating_add(self.pitch.length_of(count)));
            }
        }
        self.drawn
    }

    /// Where tape lies on the drawn line, from the start: a stretch for each straight that holds a mark of its own. An
    /// increment that is bent round a corner is counted to the straight behind it.
    #[must_use]
    pub fn lit_stretches(&self) -> Vec<LitStretch> {
        let mut out = Vec::new();
        for leg in &self.legs {
            let along = |mark: u64| {
                let lit = self.pitch.length_of(mark);
                leg.line_at(leg.dark_before.saturating_add(lit))
            };
            let mut first = 0;
            for (number, section) in leg.sections.iter().enumerate() {
                let end = section.tape_from.saturating_add(section.tape);
                let last = match number + 1 == leg.sections.len() {
                    true => leg.increments,
                    false => self.pitch.count_in(end.saturating_sub(leg.dark_before)),
                };
                let last = last.min(leg.increments);
                if last > first {
                    out.push(LitStretch {
                        first: leg.first_mark + first,
                        last: leg.first_mark + last,
                        from: along(first),
                        to: along(last),
                    });
                    first = last;
                }
            }
        }
        out
    }

    /// Straights, inside corners, outside corners, gaps.
    #[must_use]
    pub fn path_counts(&self) -> [usize; 4] {
        [self.straights, self.corners.0, self.corners.1, self.gaps]
    }

    /// The path in words: `2 straights, 1 inside corner`.
    #[must_use]
    pub fn path_words(&self) -> String {
        let one = |count: usize, word: &str| match count {
            0 => None,
            1 => Some(format!("1 {word}")),
            n => Some(format!("{n} {word}s")),
        };
        [
            one(self.straights, "straight"),
            one(self.corners.0, "inside corner"),
            one(self.corners.1, "outside corner"),
            one(self.gaps, "gap"),
        ]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ")
    }
}

impl Leg {
    /// Distance along the leg, dark lengths included, of a position on the drawn line.
    pub(super) fn tape_at(&self, line: ExactLength) -> ExactLength {
        let mut along = ExactLength::ZERO;
        for section in &self.sections {
            if line < section.line_from {
                return along;
            }
            let on = line.saturating_sub(section.line_from).min(section.tape);
            along = section.tape_from.saturating_add(on);
            if line <= section.line_to {
                return along;
            }
        }
        along
    }

    /// Position on the drawn line of a distance along the leg, dark lengths included.
    fn line_at(&self, tape: ExactLength) -> ExactLength {
        let mut line = ExactLength::ZERO;
        for section in &self.sections {
            let on = tape.saturating_sub(section.tape_from);
            line = section.line_from.saturating_add(on).min(section.line_to);
            if on <= section.tape {
                break;
            }
        }
        line
    }
}
