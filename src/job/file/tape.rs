//! Tape.

use super::products::{POLARITIES, ingress};
use super::table::Table;
use crate::job::fault::FaultKind;
use crate::job::spec::{
    CellSpec, EmitterSpec, Falls, FedFrom, PowerBasis, RailSpec, ReelJointSpec, SpliceSpec,
    StripSpec,
};
use crate::network::Polarity;
use crate::quantity::ohms_per_metre;

/// `[[strip]]`.
pub(super) fn strip(table: Table<'_>) -> StripSpec {
    for list in ["emitters", "rails"] {
        if !table.has(list) {
            table.say(
                FaultKind::Missing,
                list,
                "is missing",
                match list {
                    "emitters" => {
                        "Write its emitters, like [{ name = \"white\", cell = \"series\", … }]"
                    }
                    _ => {
                        "Write how the resistance of its rails is known, like { known_from = \"foil\", … }"
                    }
                },
                "",
            );
        }
    }
    let strip = StripSpec {
        name: table.text("name", "the name of the strip"),
        rated: table.measured("rated"),
        polarity: table.choice("polarity", POLARITIES, Polarity::CommonPlus),
        pitch: table.pitch("cut_pitch"),
        cells: table
            .maybe_count("cells_per_cut", 1..=1000)
            .map_or(1, |n| n as u32),
        emitters: table.tables("emitters").into_iter().map(emitter).collect(),
        rails: table.table("rails").map_or(
            RailSpec::Stated {
                common: ohms_per_metre(1.0),
                returns: ohms_per_metre(1.0),
            },
            rails,
        ),
        power: table.maybe_measured("power"),
        power_basis: table.choice_or(
            "power_measured_on",
            &[
                ("short piece", PowerBasis::ShortPiece),
                ("full reel", PowerBasis::FullReel),
                ("unknown", PowerBasis::Unknown),
            ],
            PowerBasis::Unknown,
        ),
        longest_branch: table.maybe_length("longest_branch"),
        pad_current: table.maybe_measured("pad_current"),
        bend_radius: table.maybe_length("bend_radius"),
        reel: table.length("reel"),
        reel_joint: table.table("reel_joint").map(|joint| {
            let item = ReelJointSpec {
                resistance: joint.measured("resistance"),
                price: joint.price("price_minor"),
            };
            joint.done();
            item
        }),
        splices: table.table("splices").map(|splices| {
            let item = SpliceSpec {
                every: splices.length("every"),
                resistance: splices.measured("resistance"),
            };
            splices.done();
            item
        }),
        highest_volts: table.maybe_measured("highest_volts"),
        highest_ambient: table.maybe_measured("highest_ambient"),
        ingress: ingress(&table),
        price: table.price("price_minor"),
    };
    table.done();
    strip
}

#[derive(Clone, Copy)]
enum Cell {
    Series,
    ConstantCurrent,
    StraightLine,
    ConstantPower,
}

fn emitter(table: Table<'_>) -> EmitterSpec {
    let kind = table.choice(
        "cell",
        &[
            ("series", Cell::Series),
            ("constant current", Cell::ConstantCurrent),
            ("straight line", Cell::StraightLine),
            ("constant power", Cell::ConstantPower),
        ],
        Cell::Series,
    );
    let diodes = || table.count("diodes", 1..=100) as u32;
    let emitter = EmitterSpec {
        name: table.text("name", "the colour of the emitter"),
        cell: match kind {
            Cell::Series => CellSpec::Series {
                diodes: diodes(),
                forward: table.measured("forward"),
                current: table.measured("current"),
                ballast: table.maybe_measured("ballast"),
            },
            Cell::ConstantCurrent => CellSpec::ConstantCurrent {
                diodes: diodes(),
                forward: table.measured("forward"),
                current: table.measured("current"),
                drop_out: table.measured("drop_out"),
            },
            Cell::StraightLine => CellSpec::StraightLine {
                knee: table.measured("knee"),
                current: table.measured("current"),
            },
            Cell::ConstantPower => CellSpec::ConstantPower {
                power: table.measured("power"),
                works_from: table.measured("works_from"),
            },
        },
        flux: table.maybe_measured("flux"),
    };
    table.done();
    emitter
}

#[derive(Clone, Copy)]
enum KnownFrom {
    Stated,
    Foil,
    MaximumRun,
    Reading,
    CurrentReading,
}

fn rails(table: Table<'_>) -> RailSpec {
    let known = table.choice(
        "known_from",
        &[
            ("resistance", KnownFrom::Stated),
            ("foil", KnownFrom::Foil),
            ("maximum run", KnownFrom::MaximumRun),
            ("reading", KnownFrom::Reading),
            ("current reading", KnownFrom::CurrentReading),
        ],
        KnownFrom::Stated,
    );
    let rails = match known {
        KnownFrom::Stated => RailSpec::Stated {
            common: table.measured("common"),
            returns: table.measured("returns"),
        },
        KnownFrom::Foil => RailSpec::Foil {
            layers: table.count("layers", 1..=8) as u32,
            thickness: table.measured("thickness"),
            common_width: table.measured("common_width"),
            return_width: table.measured("return_width"),
        },
        KnownFrom::MaximumRun => RailSpec::MaximumRun {
            length: table.length("length"),
            fed: table.choice(
                "fed",
                &[
                    ("one end", FedFrom::OneEnd),
                    ("both ends", FedFrom::BothEnds),
                ],
                FedFrom::OneEnd,
            ),
            falls: table.choice(
                "falls",
                &[("volts", Falls::Volts), ("light", Falls::Light)],
                Falls::Volts,
            ),
            by: table.measured("by"),
        },
        KnownFrom::Reading => RailSpec::Reading {
            length: table.length("length"),
            fed: table.measured("fed_volts"),
            far: table.measured("far_volts"),
        },
        KnownFrom::CurrentReading => RailSpec::CurrentReading {
            length: table.length("length"),
            fed: table.measured("fed_volts"),
            far: table.measured("far_current"),
        },
    };
    table.done();
    rails
}
