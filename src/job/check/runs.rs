//! Runs: what hangs together in a path, and what lies on it.

use super::books::Books;
use super::fixed;
use super::general::{above_zero, not_negative, plausible_temperature, within};
use super::names::check_text;
use super::on_run::{positions, routes};
use super::path::Line;
use crate::exact::ExactLength;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::RunSpec;
use crate::layout::spec::{Corner, CornerPolicy, FeedPoints, Jumper, LayoutSpec, Piece, Remainder};
use crate::quantity::shorten;

/// Longest run that is planned.
const LONGEST_RUN: ExactLength = ExactLength::from_millimetres(1_000_000);
/// Most pieces of a path, and most entries of its other lists.
const MOST_ENTRIES: usize = 2000;

/// Runs.
pub(super) fn runs(runs: &[(String, &RunSpec)], books: &Books, faults: &mut Faults) {
    for (subject, run) in runs {
        run_alone(subject, run, books, faults);
    }
}

fn run_alone(subject: &str, run: &RunSpec, books: &Books, faults: &mut Faults) {
    check_text(subject, "room", &run.room, faults);
    check_text(subject, "drawing", &run.drawing, faults);
    if let Some(word) = &run.sight_line {
        check_text(subject, "sight_line", word, faults);
    }
    plausible_temperature(faults, subject, "ambient", run.ambient);
    not_negative(faults, subject, "slack", run.slack);
    let zone_known = books.zones.refer(subject, "zone", &run.zone, faults);
    if let Some(profile) = &run.profile {
        books.profiles.refer(subject, "profile", profile, faults);
    }
    books
        .cables
        .refer_all(subject, "cables", &run.cables, faults);
    if run.cables.is_empty()
        && zone_known
        && books.zone_has_cables.get(&run.zone) == Some(&false)
        && faults.sound(subject, &["cables"])
    {
        faults.say(
            FaultKind::Missing,
            (subject, "cables"),
            format!(
                "is missing, and the zone `{}` names none either",
                shorten(&run.zone)
            ),
            "Name the cables its feeders may be made of",
        );
    }
    let needed = books.conductors_of_zone(&run.zone);
    enough_cores(subject, "cables", &run.cables, needed, books, faults);
    let Some(line) = path(subject, &run.layout, needed, books, faults) else {
        return;
    };
    for (field, count) in [
        ("routes", run.routes.len()),
        ("fixed_segments", run.fixed_segments.len()),
        ("fixed_feeds", run.fixed_feeds.len()),
    ] {
        within(
            faults,
            subject,
            field,
            count <= MOST_ENTRIES,
            format!("has {count} entries"),
            format!("Leave some out, or split the run: at most {MOST_ENTRIES} are taken"),
        );
    }
    // Too many entries are refused before they are compared with each other.
    if faults.sound(subject, &["uncut", "breaks", "feed_points"]) {
        positions(subject, &run.layout, &line, faults);
    }
    if run.routes.len() <= MOST_ENTRIES {
        routes(subject, run, &line, books, faults);
    }
    fixed::of_run(subject, run, &line, books, faults);
    long_enough(subject, run, &line, books, faults);
}

/// The pieces; the drawn line where they hang together.
fn path(
    subject: &str,
    layout: &LayoutSpec,
    needed: Option<u32>,
    books: &Books,
    faults: &mut Faults,
) -> Option<Line> {
    for (end, spec) in [("start", &layout.start), ("end", &layout.end)] {
        not_negative(faults, subject, &format!("{end}: cap"), spec.cap);
        not_negative(faults, subject, &format!("{end}: lead"), spec.lead);
    }
    not_negative(faults, subject, "site_tolerance", layout.site_tolerance);
    for (field, count) in [
        ("path", layout.pieces.len()),
        ("uncut", layout.uncut.len()),
        ("breaks", layout.breaks.len()),
        (
            "feed_points",
            match &layout.feed_points {
                FeedPoints::Listed(points) => points.len(),
                FeedPoints::Ends | FeedPoints::Anywhere => 0,
            },
        ),
    ] {
        within(
            faults,
            subject,
            field,
            count <= MOST_ENTRIES,
            format!("has {count} entries"),
            format!("Split the run: at most {MOST_ENTRIES} are taken"),
        );
    }
    let straights = layout
        .pieces
        .iter()
        .any(|piece| matches!(piece, Piece::Straight { .. }));
    if !straights && faults.sound(subject, &["path"]) {
        faults.say(
            FaultKind::Missing,
            (subject, "path"),
            if layout.pieces.is_empty() {
                "is empty"
            } else {
                "has no straight piece: nothing of it can be lit"
            },
            "Write at least one { straight = \"…\" }",
        );
    }
    for (index, piece) in layout.pieces.iter().enumerate() {
        let here = format!("path {}", index + 1);
        let field = |key: &str| format!("{here}: {key}");
        match piece {
            Piece::Straight { length } => {
                above_zero(faults, subject, &field("straight"), *length);
            }
            Piece::Gap(gap) => {
                above_zero(faults, subject, &field("gap"), gap.length);
                if let Some(made) = &gap.jumper {
                    jumper(subject, &here, made, needed, books, faults);
                }
            }
            Piece::Corner(turn) => corner(subject, &here, turn, needed, books, faults),
        }
    }
    if !faults.sound(subject, &["path"]) {
        return None;
    }
    let line = Line::new(layout);
    within(
        faults,
        subject,
        "path",
        line.length() <= LONGEST_RUN,
        format!("adds up to {}", line.length()),
        format!("Split the run: at most {LONGEST_RUN} is planned"),
    );
    if let Some(drawn) = layout.drawn
        && drawn != line.length()
        && faults.sound(subject, &["drawn", "path"])
    {
        faults.say(
            FaultKind::Contradiction,
            (subject, "drawn"),
            format!(
                "is {drawn}, but straights and gaps of its path add up to {}",
                line.length()
            ),
            "Make them agree: corners have no length of their own",
        );
    }
    faults.sound(subject, &["path"]).then_some(line)
}

fn corner(
    subject: &str,
    here: &str,
    turn: &Corner,
    needed: Option<u32>,
    books: &Books,
    faults: &mut Faults,
) {
    let field = |key: &str| format!("{here}: {key}");
    not_negative(faults, subject, &field("offset"), turn.offset);
    let darks = |before: ExactLength, after: ExactLength, faults: &mut Faults| {
        not_negative(faults, subject, &field("dark_before"), before);
        not_negative(faults, subject, &field("dark_after"), after);
    };
    match &turn.policy {
        CornerPolicy::CutAndJumper {
            dark_before,
            dark_after,
            jumper: made,
        } => {
            darks(*dark_before, *dark_after, faults);
            jumper(subject, here, made, needed, books, faults);
        }
        CornerPolicy::Bend { radius } => above_zero(faults, subject, &field("radius"), *radius),
        CornerPolicy::MouldedJoint {
            dark_before,
            dark_after,
            resistance,
        } => {
            darks(*dark_before, *dark_after, faults);
            within(
                faults,
                subject,
                &field("resistance"),
                resistance.value >= 0.0 && resistance.value.is_finite(),
                format!("is {}", crate::quantity::show(*resistance)),
                "It must not be negative".to_string(),
            );
        }
    }
}

fn jumper(
    subject: &str,
    here: &str,
    made: &Jumper,
    needed: Option<u32>,
    books: &Books,
    faults: &mut Faults,
) {
    above_zero(faults, subject, &format!("{here}: jumper"), made.length);
    let field = format!("{here}: jumper_cable");
    if books.cables.refer(subject, &field, &made.cable, faults) {
        one_cable(subject, &field, &made.cable, needed, books, faults);
    }
}

/// Every cable of a list needs a core for the common and one for each emitter.
pub(super) fn enough_cores(
    subject: &str,
    field: &str,
    cables: &[String],
    needed: Option<u32>,
    books: &Books,
    faults: &mut Faults,
) {
    for (index, cable) in cables.iter().enumerate() {
        let inner = format!("{field} {}", index + 1);
        one_cable(subject, &inner, cable, needed, books, faults);
    }
}

fn one_cable(
    subject: &str,
    field: &str,
    cable: &str,
    needed: Option<u32>,
    books: &Books,
    faults: &mut Faults,
) {
    let (Some(needed), Some(cores)) = (needed, books.cores.get(cable)) else {
        return;
    };
    if *cores < needed && faults.sound(subject, &[field]) {
        faults.say(
            FaultKind::Contradiction,
            (subject, field),
            format!(
                "is `{}` of {cores} cores, and the tape needs {needed}: the common and one for each emitter",
                shorten(cable)
            ),
            "Name a cable with enough cores",
        );
    }
}

/// At least one increment of tape must fit somewhere.
fn long_enough(subject: &str, run: &RunSpec, line: &Line, books: &Books, faults: &mut Faults) {
    // Tape that may run up into a corner is not bounded by its leg: the plan sees to it.
    if run.layout.remainder == Remainder::UpIntoCorner {
        return;
    }
    let sound = faults.sound(subject, &["path", "start", "end", "site_tolerance", "zone"]);
    let strip = books.strip_of_zone.get(&run.zone);
    let pitch = strip.and_then(|strip| books.pitches.get(strip));
    let (true, Some(strip), Some(pitch)) = (sound, strip, pitch) else {
        return;
    };
    let longest = line.longest_leg();
    if pitch.count_in(longest) == 0 {
        faults.say(
            FaultKind::OutOfRange,
            (subject, "path"),
            format!(
                "leaves {longest} for the longest piece of tape, less than the cut pitch of `{}`, {pitch}",
                shorten(strip)
            ),
            "Take a tape with a shorter cut pitch, or leave this run out",
        );
    }
}
