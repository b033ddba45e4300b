//! Runs: their paths, ends, feed points and routes; profiles.

use super::fixed;
use super::places::{ENVIRONMENTS, usual_ambient};
use super::products::ingress;
use super::short;
use super::table::Table;
use crate::exact::ExactLength;
use crate::job::fault::FaultKind;
use crate::job::spec::{
    CoverSpec, Environment, JobSpec, Limits, ProfileSpec, RunSpec, StockLength, TakenFact,
};
use crate::layout::spec::{
    BendSense, Corner, CornerPolicy, EndSpec, FeedPoints, Gap, Jumper, LayoutSpec, LeadOut, Piece,
    Remainder, RouteBasis, RouteSpec, RunPoint, Sight, Stretch, Turn, TurnAngle,
};
use toml::de::DeValue;

const SIGHTS: &[(&str, Sight)] = &[("seen", Sight::Seen), ("hidden", Sight::Hidden)];

/// `[[run]]` of a job whose zones are read.
pub(super) fn run(table: Table<'_>, limits: &Limits, job: &JobSpec) -> RunSpec {
    let name = table.text("name", "the name of the run");
    let zone = match job.zones.as_slice() {
        [only] if !table.has("zone") => only.name.clone(),
        _ => table.text("zone", "the name of its zone"),
    };
    let own = job.zones.iter().find(|one| one.name == zone);
    let feeder = short::feeder(&table, &name, own);
    let cables = table.texts("cables");
    let silent = !table.has("cables") && own.is_some_and(|zone| zone.cables.is_empty());
    let run = RunSpec {
        room: table.text_or_empty("room"),
        drawing: table.text_or_empty("drawing"),
        layout: layout(&table, limits, &name, feeder.is_some()),
        routes: match feeder {
            Some(route) => vec![route],
            None => table.tables("routes").into_iter().map(route).collect(),
        },
        fixed_segments: fixed::segments(&table),
        fixed_feeds: fixed::feeds(&table),
        slack: table.length_or("slack", limits.slack),
        cables: match own {
            Some(zone) if silent => short::cables(job, zone),
            _ => cables,
        },
        environment: table.choice_or("environment", ENVIRONMENTS, Environment::default()),
        ambient: table
            .maybe_measured("ambient")
            .unwrap_or_else(usual_ambient),
        ingress: ingress(&table),
        profile: table.maybe_text("profile"),
        sight_line: table.maybe_text("sight_line"),
        name,
        zone,
    };
    table.done();
    run
}

fn layout(table: &Table<'_>, limits: &Limits, name: &str, feeder: bool) -> LayoutSpec {
    table.both(
        "length",
        "path",
        "Keep `path`, or `length` where the run is straight",
    );
    if !table.has("path") && !table.has("length") {
        table.say(
            FaultKind::Missing,
            "path",
            "is missing",
            "Write length = \"7.5 m\", or the pieces of the run, like [{ straight = \"7.5 m\" }]",
            "",
        );
    }
    let straight = table.maybe_length("length");
    LayoutSpec {
        pieces: match straight {
            Some(length) if !table.has("path") => vec![Piece::Straight { length }],
            _ => table.tables("path").into_iter().map(piece).collect(),
        },
        drawn: table.maybe_length("drawn"),
        start: end(table.table("start")),
        end: end(table.table("end")),
        remainder: table.choice_or(
            "remainder",
            &[
                ("start", Remainder::Start),
                ("end", Remainder::End),
                ("shared", Remainder::Shared),
                ("up into corner", Remainder::UpIntoCorner),
            ],
            Remainder::default(),
        ),
        site_tolerance: table.length_or("site_tolerance", limits.site_tolerance),
        uncut: table.tables("uncut").into_iter().map(stretch).collect(),
        breaks: table.lengths("breaks"),
        feed_points: match feeder && !table.has("feed_points") {
            true => {
                table.take(TakenFact::FeedAnywhere, name);
                FeedPoints::Anywhere
            }
            false => feed_points(table),
        },
        sight: table.choice_or("joints", SIGHTS, Sight::default()),
    }
}

fn end(table: Option<Table<'_>>) -> EndSpec {
    let Some(table) = table else {
        return EndSpec::default();
    };
    let end = EndSpec {
        cap: table.length_or("cap", ExactLength::ZERO),
        lead: table.length_or("lead", ExactLength::ZERO),
        lead_out: table.choice_or(
            "lead_out",
            &[
                ("cap", LeadOut::ThroughCap),
                ("back", LeadOut::Back),
                ("left", LeadOut::Left),
                ("right", LeadOut::Right),
            ],
            LeadOut::default(),
        ),
    };
    table.done();
    end
}

fn piece(table: Table<'_>) -> Piece {
    let kinds = ["straight", "corner", "gap"];
    let here: Vec<&str> = kinds.into_iter().filter(|kind| table.has(kind)).collect();
    let piece = match here.as_slice() {
        ["corner"] => Piece::Corner(corner(&table)),
        ["gap"] => Piece::Gap(Gap {
            length: table.length("gap"),
            jumper: table.has("jumper").then(|| jumper(&table)),
            sight: table.maybe_choice("joints", SIGHTS),
        }),
        ["straight"] => Piece::Straight {
            length: table.length("straight"),
        },
        other => {
            table.say(
                FaultKind::Missing,
                "",
                match other {
                    [] => "is not a piece of a path".to_string(),
                    many => format!("is {} at once", many.join(" and ")),
                },
                "Write one of { straight = \"2 m\" }, { corner = \"inside\", … } or { gap = \"1 m\", … }",
                "",
            );
            return Piece::Straight {
                length: ExactLength::from_millimetres(1000),
            };
        }
    };
    table.done();
    piece
}

fn corner(table: &Table<'_>) -> Corner {
    #[derive(Clone, Copy)]
    enum Made {
        Cut,
        Bend,
        Moulded,
    }
    let made = table.choice(
        "made",
        &[
            ("cut and jumper", Made::Cut),
            ("bend", Made::Bend),
            ("moulded joint", Made::Moulded),
        ],
        Made::Bend,
    );
    let dark = |key| table.length_or(key, ExactLength::ZERO);
    Corner {
        turn: table.choice(
            "corner",
            &[("inside", Turn::Inside), ("outside", Turn::Outside)],
            Turn::Inside,
        ),
        angle: table
            .maybe_parsed("angle", "an angle like \"90 deg\"", TurnAngle::SQUARE)
            .unwrap_or(TurnAngle::SQUARE),
        offset: dark("offset"),
        bend: table.choice_or(
            "way",
            &[
                ("over face", BendSense::OverFace),
                ("edgewise", BendSense::Edgewise),
            ],
            BendSense::default(),
        ),
        sight: table.maybe_choice("joints", SIGHTS),
        policy: match made {
            Made::Cut => CornerPolicy::CutAndJumper {
                dark_before: dark("dark_before"),
                dark_after: dark("dark_after"),
                jumper: jumper(table),
            },
            Made::Bend => CornerPolicy::Bend {
                // A stand-in `made` is no reason to ask for a radius as well.
                radius: table.maybe_length("radius").unwrap_or_else(|| {
                    if table.word("made") == Some("bend") {
                        table.length("radius")
                    } else {
                        ExactLength::from_millimetres(1000)
                    }
                }),
            },
            Made::Moulded => CornerPolicy::MouldedJoint {
                dark_before: dark("dark_before"),
                dark_after: dark("dark_after"),
                resistance: table.measured("resistance"),
            },
        },
    }
}

fn jumper(table: &Table<'_>) -> Jumper {
    Jumper {
        length: table.length("jumper"),
        cable: table.text(
            "jumper_cable",
            "the name of the cable the jumper is made of",
        ),
    }
}

fn stretch(table: Table<'_>) -> Stretch {
    let stretch = Stretch {
        from: table.length("from"),
        to: table.length("to"),
    };
    table.done();
    stretch
}

fn feed_points(table: &Table<'_>) -> FeedPoints {
    let Some(value) = table.value("feed_points") else {
        return FeedPoints::Ends;
    };
    if let DeValue::Array(_) = value.get_ref() {
        return FeedPoints::Listed(
            table
                .texts("feed_points")
                .iter()
                .map(|text| run_point(table, "feed_points", text))
                .collect(),
        );
    }
    table.choice_or(
        "feed_points",
        &[
            ("ends", FeedPoints::Ends),
            ("anywhere", FeedPoints::Anywhere),
            ("start", FeedPoints::Listed(vec![RunPoint::Start])),
            ("end", FeedPoints::Listed(vec![RunPoint::End])),
        ],
        FeedPoints::Ends,
    )
}

pub(super) fn run_point(table: &Table<'_>, key: &'static str, text: &str) -> RunPoint {
    match text.trim() {
        "start" => RunPoint::Start,
        "end" => RunPoint::End,
        other => match ExactLength::parse(other) {
            Ok(length) => RunPoint::At(length),
            Err(error) => {
                table.say(
                    FaultKind::Unreadable,
                    key,
                    error.to_string(),
                    "",
                    "\"start\", \"end\" or a distance from the start",
                );
                RunPoint::Start
            }
        },
    }
}

fn route(table: Table<'_>) -> RouteSpec {
    let to = table.text("to", "\"start\", \"end\" or a distance like \"2.5 m\"");
    let route = RouteSpec {
        place: table.text("from", "the name of the place the route starts from"),
        to: if to.is_empty() {
            RunPoint::Start
        } else {
            run_point(&table, "to", &to)
        },
        length: table.length("length"),
        basis: basis(&table),
    };
    table.done();
    route
}

/// How a length is known.
pub(super) fn basis(table: &Table<'_>) -> RouteBasis {
    table.choice(
        "basis",
        &[
            ("measured", RouteBasis::Measured),
            ("scaled", RouteBasis::Scaled),
            ("guessed", RouteBasis::Guessed),
        ],
        RouteBasis::Guessed,
    )
}

/// `[[profile]]`.
pub(super) fn profile(table: Table<'_>) -> ProfileSpec {
    let profile = ProfileSpec {
        name: table.text("name", "the name of the profile"),
        bars: bars(&table),
        kerf: table.length_or("kerf", ExactLength::ZERO),
        width: table.maybe_length("width"),
        earthed: table.maybe_choice("earthed", &[("yes", true), ("no", false)]),
        keep_from: table.maybe_length("keep_from"),
        cover: table.table("cover").map(|cover| {
            let spec = CoverSpec {
                description: cover.text("description", "what the cover is"),
                bars: bars(&cover),
                kerf: cover.length_or("kerf", ExactLength::ZERO),
            };
            cover.done();
            spec
        }),
    };
    table.done();
    profile
}

fn bars(table: &Table<'_>) -> Vec<StockLength> {
    if !table.has("bars") {
        table.say(
            FaultKind::Missing,
            "bars",
            "is missing",
            "Write the lengths it is sold in, like [{ length = \"2 m\" }]",
            "",
        );
    }
    table
        .tables("bars")
        .into_iter()
        .map(|bar| {
            let stock = StockLength {
                length: bar.length("length"),
                price: bar.price("price_minor"),
            };
            bar.done();
            stock
        })
        .collect()
}
