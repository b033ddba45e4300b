//! Runs in a line or two.

use evenrun::exact::{CutPitch, ExactLength};
use evenrun::layout::spec::*;
use evenrun::layout::{Layout, lay};
use evenrun::quantity::milliohms;

pub fn mm(length: i64) -> ExactLength {
    ExactLength::from_millimetres(length)
}

pub fn pitch(text: &str) -> CutPitch {
    text.parse().expect("a pitch of the test")
}

pub fn straight(length: i64) -> Piece {
    Piece::Straight { length: mm(length) }
}

pub fn jumper() -> Jumper {
    Jumper {
        length: mm(200),
        cable: "thin".into(),
    }
}

pub fn gap(length: i64, jumped: bool) -> Piece {
    Piece::Gap(Gap {
        length: mm(length),
        jumper: jumped.then(jumper),
        sight: None,
    })
}

/// A square corner `offset` beside the line, cut, with so much dark before and after it.
pub fn corner(turn: Turn, offset: i64, before: i64, after: i64) -> Piece {
    Piece::Corner(Corner {
        turn,
        angle: TurnAngle::SQUARE,
        offset: mm(offset),
        bend: BendSense::OverFace,
        policy: CornerPolicy::CutAndJumper {
            dark_before: mm(before),
            dark_after: mm(after),
            jumper: jumper(),
        },
        sight: None,
    })
}

pub fn moulded(turn: Turn, before: i64, after: i64) -> Piece {
    Piece::Corner(Corner {
        turn,
        angle: TurnAngle::SQUARE,
        offset: mm(0),
        bend: BendSense::OverFace,
        policy: CornerPolicy::MouldedJoint {
            dark_before: mm(before),
            dark_after: mm(after),
            resistance: milliohms(20.0),
        },
        sight: None,
    })
}

/// Tape bent round a corner, on the line as drawn.
pub fn bend(turn: Turn, degrees: u32, offset: i64, radius: i64) -> Piece {
    Piece::Corner(Corner {
        turn,
        angle: TurnAngle::from_millidegrees(degrees * 1000).expect("an angle of the test"),
        offset: mm(offset),
        bend: BendSense::OverFace,
        policy: CornerPolicy::Bend { radius: mm(radius) },
        sight: None,
    })
}

/// A run without caps, leads or tolerance; its remainder dark at the end.
pub fn run(pieces: Vec<Piece>) -> LayoutSpec {
    LayoutSpec {
        pieces,
        drawn: None,
        start: EndSpec::default(),
        end: EndSpec::default(),
        remainder: Remainder::End,
        site_tolerance: mm(0),
        uncut: Vec::new(),
        breaks: Vec::new(),
        feed_points: FeedPoints::Ends,
        sight: Sight::Seen,
    }
}

pub fn laid(spec: &LayoutSpec, cut: &str) -> Layout {
    lay(spec, pitch(cut)).expect("a run of the test")
}
