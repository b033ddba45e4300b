//! What is said of runs.

use super::{Form, Said, forms, table, words};
use crate::choose::feeding::Pattern;
use crate::job::spec::{FixedFeedSpec, FixedSegmentSpec, RunSpec};
use crate::layout::spec::{
    BendSense, Corner, CornerPolicy, EndSpec, FeedPoints, Gap, Jumper, LayoutSpec, LeadOut, Piece,
    Remainder, RouteBasis, RouteSpec, RunPoint, Sight, Stretch, Turn, TurnAngle,
};

impl Said for RunPoint {
    fn state(&self, form: &mut Form, key: &str) {
        match self {
            Self::Start => form.line(key, "\"start\""),
            Self::At(length) => length.state(form, key),
            Self::End => form.line(key, "\"end\""),
        }
    }
}

impl Said for FeedPoints {
    fn state(&self, form: &mut Form, key: &str) {
        match self {
            Self::Ends => form.line(key, "\"ends\""),
            Self::Anywhere => form.line(key, "\"anywhere\""),
            Self::Listed(points) => points.state(form, key),
        }
    }
}

impl Said for Piece {
    fn state(&self, form: &mut Form, key: &str) {
        match self {
            Self::Straight { length } => length.state(form, &format!("{key} straight")),
            Self::Corner(corner) => corner.state(form, &format!("{key} corner")),
            Self::Gap(gap) => gap.state(form, &format!("{key} gap")),
        }
    }
}

impl Said for TurnAngle {
    fn state(&self, form: &mut Form, key: &str) {
        form.line(key, format_args!("{} millidegrees", self.millidegrees()));
    }
}

impl Said for Pattern {
    fn state(&self, form: &mut Form, key: &str) {
        self.words().to_string().state(form, key);
    }
}

table! {
    RunSpec {
        name zone room drawing layout routes fixed_segments fixed_feeds slack cables environment ambient ingress profile
        sight_line
    }
    LayoutSpec { pieces drawn start end remainder site_tolerance uncut breaks feed_points sight }
    Corner { turn angle offset bend policy sight }
    Gap { length jumper sight }
    Jumper { length cable }
    EndSpec { cap lead lead_out }
    Stretch { from to }
    RouteSpec { place to length basis }
    FixedSegmentSpec { from to fed }
    FixedFeedSpec { at place cable }
}

forms! {
    CornerPolicy {
        CutAndJumper "cut and jumper" { dark_before dark_after jumper }
        Bend "bend" { radius }
        MouldedJoint "moulded joint" { dark_before dark_after resistance }
    }
}

words! {
    Turn { Inside "inside" Outside "outside" }
    BendSense usual { OverFace "over face" Edgewise "edgewise" }
    LeadOut usual { ThroughCap "cap" Back "back" Left "left" Right "right" }
    Remainder usual { Start "start" End "end" Shared "shared" UpIntoCorner "up into corner" }
    Sight usual { Seen "seen" Hidden "hidden" }
    RouteBasis { Measured "measured" Scaled "scaled" Guessed "guessed" }
}
