//! Counting increments onto the legs of a path.

use super::corner;
use super::laid::{Layout, Leg, PathJoint, PathJointKind, Section};
use super::spec::{
    Corner, CornerPolicy, FeedPoints, LayoutSpec, Piece, Remainder, RunPoint, Sight, Turn,
};
use crate::exact::{CutPitch, ExactLength};
use thiserror::Error;

/// Most increments of one run.
pub const MOST_INCREMENTS: u64 = 1_000_000;

/// Why a path cannot be laid out.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum LayoutError {
    /// No increment fits anywhere.
    #[error(
        "no cut increment of {pitch} fits: the longest leg has room for {room}; take a tape with a shorter cut pitch, or leave this run out"
    )]
    NothingFits {
        /// Cut pitch.
        pitch: CutPitch,
        /// Room on the longest leg.
        room: ExactLength,
    },
    /// More increments than a run may have.
    #[error(
        "{found} cut increments are more than the {MOST_INCREMENTS} of one run: break the run up"
    )]
    TooMany {
        /// Increments.
        found: u64,
    },
}

/// A leg while it is being measured.
#[derive(Default)]
struct Room {
    sections: Vec<Section>,
    length: ExactLength,
    tolerance: ExactLength,
    base_before: ExactLength,
    base_after: ExactLength,
    corner_before: bool,
    corner_after: bool,
    /// Arcs of bends: where along the leg, half their length.
    arcs: Vec<(ExactLength, ExactLength)>,
    /// Change that the next straight begins with.
    change: i64,
}

fn shift(length: ExactLength, nanometres: i64) -> ExactLength {
    length.saturating_add(ExactLength::from_nanometres(nanometres))
}

impl Room {
    fn straight(&mut self, at: ExactLength, length: ExactLength, tolerance: ExactLength) {
        let tape = shift(length, self.change).max(ExactLength::ZERO);
        self.sections.push(Section {
            line_from: shift(at, -self.change),
            line_to: at.saturating_add(length),
            tape_from: self.length,
            tape,
        });
        self.length = self.length.saturating_add(tape);
        self.tolerance = self.tolerance.saturating_add(tolerance);
        self.change = 0;
    }

    /// A corner after the last straight changes that straight's tape.
    fn corner_after(&mut self, change: i64) {
        if let Some(last) = self.sections.last_mut() {
            let tape = shift(last.tape, change).max(ExactLength::ZERO);
            self.length = self.length.saturating_add(tape.saturating_sub(last.tape));
            last.tape = tape;
        }
    }

    /// Increments onto this leg, and what stays dark.
    fn lay(self, pitch: CutPitch, first_mark: u64, remainder: Remainder) -> (Leg, ExactLength) {
        let dark = self.base_before.saturating_add(self.base_after);
        let room = self
            .length
            .saturating_sub(self.tolerance)
            .saturating_sub(dark);
        let mut increments = if room > ExactLength::ZERO {
            pitch.count_in(room)
        } else {
            0
        };
        let mut into_corner = None;
        if remainder == Remainder::UpIntoCorner && increments > 0 {
            let short = pitch.length_of(increments + 1).saturating_sub(room);
            if self.corner_after && short <= self.base_after {
                into_corner = Some(false);
            } else if self.corner_before && short <= self.base_before {
                into_corner = Some(true);
            }
            increments += u64::from(into_corner.is_some());
        }
        let rest = self
            .length
            .saturating_sub(dark)
            .saturating_sub(pitch.length_of(increments));
        // A leg too short for its own dark lengths is dark all over, and no more than that.
        if increments == 0 && rest < ExactLength::ZERO {
            let before = self.base_before.min(self.length);
            let leg = Leg {
                first_mark,
                increments,
                dark_before: before,
                dark_after: self.length.saturating_sub(before),
                into_corner: false,
                sections: self.sections,
            };
            return (leg, room);
        }
        let half = ExactLength::from_nanometres(rest.nanometres() / 2);
        let (before, after) = match (into_corner, remainder) {
            (Some(true), _) | (None, Remainder::Start) => (rest, ExactLength::ZERO),
            (None, Remainder::Shared) => (half, rest.saturating_sub(half)),
            _ => (ExactLength::ZERO, rest),
        };
        let leg = Leg {
            first_mark,
            increments,
            dark_before: self.base_before.saturating_add(before),
            dark_after: self.base_after.saturating_add(after),
            into_corner: into_corner.is_some(),
            sections: self.sections,
        };
        (leg, room)
    }
}

/// Whether copper may enter at a point of the run.
fn may_enter(points: &FeedPoints, point: RunPoint) -> bool {
    match points {
        FeedPoints::Ends | FeedPoints::Anywhere => true,
        FeedPoints::Listed(listed) => listed.contains(&point),
    }
}

/// Lays a run out onto cut increments..
///
/// Time and memory are proportional to pieces and uncut marks.
///
/// # Errors
/// [`LayoutError`] where no increment fits, or more than [`MOST_INCREMENTS`].
pub fn lay(spec: &LayoutSpec, pitch: CutPitch) -> Result<Layout, LayoutError> {
    let measured = measure(spec);
    let path = measured.rooms.iter().fold(gap_length(spec), |sum, room| {
        sum.saturating_add(room.length)
    });
    let mut legs = Vec::with_capacity(measured.rooms.len());
    let mut arcs = Vec::new();
    let (mut mark, mut longest) = (0_u64, ExactLength::ZERO);
    for room in measured.rooms {
        let own_arcs = room.arcs.clone();
        let (leg, space) = room.lay(pitch, mark, spec.remainder);
        longest = longest.max(space);
        mark = mark.saturating_add(leg.increments);
        arcs.extend(own_arcs.into_iter().map(|arc| (legs.len(), arc)));
        legs.push(leg);
    }
    if mark == 0 {
        return Err(LayoutError::NothingFits {
            pitch,
            room: longest,
        });
    }
    if mark > MOST_INCREMENTS {
        return Err(LayoutError::TooMany { found: mark });
    }
    // A joint before the first increment or after the last one joins nothing.
    let joints: Vec<PathJoint> = measured
        .links
        .into_iter()
        .map(|(after, kind, sight, at)| PathJoint {
            mark: legs.get(after).map_or(0, Leg::last_mark),
            kind,
            visible: sight.unwrap_or(spec.sight) == Sight::Seen,
            at,
        })
        .filter(|joint| joint.mark > 0 && joint.mark < mark)
        .collect();
    let mut laid = Layout {
        pitch,
        drawn: measured.drawn,
        path,
        legs,
        joints,
        uncut: Vec::new(),
        breaks: Vec::new(),
        feed_marks: None,
        straights: measured.straights,
        corners: (measured.inside, measured.outside),
        gaps: measured.gaps,
    };
    mark_limits(spec, &arcs, &mut laid);
    Ok(laid)
}

/// Marks that may not be cut, must be broken, may be fed.
fn mark_limits(spec: &LayoutSpec, arcs: &[(usize, (ExactLength, ExactLength))], laid: &mut Layout) {
    let last = laid.increments();
    let mut uncut = Vec::new();
    for stretch in &spec.uncut {
        let mut mark = laid.mark_near(stretch.from).saturating_sub(1);
        while mark <= last && laid.position_of(mark) <= stretch.to {
            if laid.position_of(mark) >= stretch.from {
                uncut.push(mark);
            }
            mark += 1;
        }
    }
    for (leg, (middle, half)) in arcs {
        let Some(leg) = laid.legs.get(*leg) else {
            continue;
        };
        let along = |at: ExactLength| at.saturating_sub(leg.dark_before).max(ExactLength::ZERO);
        let from = laid
            .pitch
            .count_to_cover(along(middle.saturating_sub(*half)));
        let to = laid
            .pitch
            .count_in(along(middle.saturating_add(*half)))
            .min(leg.increments);
        uncut.extend((from..=to).map(|count| leg.first_mark + count));
    }
    // The ends of the run are cut anyway, and so is the tape at joints of the path.
    let joints: Vec<u64> = laid.joints.iter().map(|joint| joint.mark).collect();
    // Joints stand in the order of their marks.
    uncut.retain(|mark| *mark > 0 && *mark < last && joints.binary_search(mark).is_err());
    uncut.sort_unstable();
    uncut.dedup();
    laid.uncut = uncut;

    let mut breaks: Vec<u64> = spec
        .breaks
        .iter()
        .map(|at| laid.mark_near(*at))
        .chain(
            laid.joints
                .iter()
                .filter(|joint| joint.kind == PathJointKind::Open)
                .map(|joint| joint.mark),
        )
        .filter(|mark| *mark > 0 && *mark < last)
        .collect();
    breaks.sort_unstable();
    breaks.dedup();
    laid.breaks = breaks;

    laid.feed_marks = match &spec.feed_points {
        FeedPoints::Anywhere => None,
        FeedPoints::Ends => Some(vec![0, last]),
        FeedPoints::Listed(points) => {
            let mut marks: Vec<u64> = points
                .iter()
                .map(|point| match point {
                    RunPoint::Start => 0,
                    RunPoint::At(at) => laid.mark_near(*at),
                    RunPoint::End => last,
                })
                .collect();
            marks.sort_unstable();
            marks.dedup();
            Some(marks)
        }
    };
}

fn gap_length(spec: &LayoutSpec) -> ExactLength {
    spec.pieces
        .iter()
        .fold(ExactLength::ZERO, |sum, piece| match piece {
            Piece::Gap(gap) => sum.saturating_add(gap.length),
            _ => sum,
        })
}

/// A link between legs: the leg before it, what it is, whether it is seen, where.
type Link = (usize, PathJointKind, Option<Sight>, ExactLength);

/// A path, measured.
#[derive(Default)]
struct Path {
    rooms: Vec<Room>,
    links: Vec<Link>,
    straights: usize,
    inside: usize,
    outside: usize,
    gaps: usize,
    drawn: ExactLength,
}

/// Measures legs and lists the links between them.
fn measure(spec: &LayoutSpec) -> Path {
    let mut path = Path::default();
    let lead = |end: &super::spec::EndSpec, point| {
        if may_enter(&spec.feed_points, point) {
            end.lead
        } else {
            ExactLength::ZERO
        }
    };
    let mut room = Room {
        base_before: spec
            .start
            .cap
            .saturating_add(lead(&spec.start, RunPoint::Start)),
        ..Room::default()
    };
    for piece in &spec.pieces {
        match piece {
            Piece::Straight { length } => {
                path.straights += 1;
                room.straight(path.drawn, *length, spec.site_tolerance);
                path.drawn = path.drawn.saturating_add(*length);
            }
            Piece::Gap(gap) => {
                path.gaps += 1;
                let kind = match &gap.jumper {
                    Some(jumper) => PathJointKind::Jumper(jumper.clone()),
                    None => PathJointKind::Open,
                };
                path.rooms.push(std::mem::take(&mut room));
                path.links
                    .push((path.rooms.len() - 1, kind, gap.sight, path.drawn));
                path.drawn = path.drawn.saturating_add(gap.length);
            }
            Piece::Corner(corner) => {
                match corner.turn {
                    Turn::Inside => path.inside += 1,
                    Turn::Outside => path.outside += 1,
                }
                turn(corner, &mut room, &mut path);
            }
        }
    }
    room.base_after = spec.end.cap.saturating_add(lead(&spec.end, RunPoint::End));
    path.rooms.push(room);
    path
}

/// Takes a corner: it changes both legs, and ends one unless the tape is bent.
fn turn(corner: &Corner, room: &mut Room, path: &mut Path) {
    let change = corner::change_of_a_leg(corner);
    room.corner_after(change);
    let (before, after) = corner::dark(corner);
    let kind = match &corner.policy {
        CornerPolicy::Bend { .. } => {
            room.arcs.push((room.length, corner::half_arc(corner)));
            room.change = room.change.saturating_add(change);
            return;
        }
        CornerPolicy::CutAndJumper { jumper, .. } => PathJointKind::Jumper(jumper.clone()),
        CornerPolicy::MouldedJoint { resistance, .. } => PathJointKind::Moulded(*resistance),
    };
    room.base_after = before;
    room.corner_after = true;
    path.rooms.push(std::mem::replace(
        room,
        Room {
            base_before: after,
            corner_before: true,
            change,
            ..Room::default()
        },
    ));
    path.links
        .push((path.rooms.len() - 1, kind, corner.sight, path.drawn));
}
