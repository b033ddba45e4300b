//! Tape.

use super::products::{POLARITIES, ingress};
use super::table::Table;
use crate::job::fault::FaultKind;
use crate::job::spec::{
    CellSpec, CopperClass, EmitterSpec, Falls, FedFrom, PowerBasis, RailSpec, ReelJointSpec,
    SpliceSpec, StringClass, StripSpec, TakenFact, taken,
};
use crate::network::Polarity;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, LinearLuminousFlux, LinearPower, amps, show,
};
use toml::de::DeValue;

const COPPERS: &[(&str, CopperClass)] = &[
    ("unknown", CopperClass::Any),
    ("1 oz", CopperClass::OneOunce),
    ("2 oz", CopperClass::TwoOunces),
    ("3 oz", CopperClass::ThreeOunces),
];

/// `[[strip]]`.
pub(super) fn strip(table: Table<'_>) -> StripSpec {
    let name = table.text("name", "the name of the strip");
    let rated = table.measured("rated");
    let pitch = table.pitch("cut_pitch");
    let cells = table
        .maybe_count("cells_per_cut", 1..=1000)
        .map_or(1, |n| n as u32);
    let label = Label {
        name: &name,
        rated,
        increment: pitch.to_length().value / f64::from(cells),
        power: table.maybe_measured("power"),
    };
    let emitters = label.emitters(&table);
    let of_a_class = emitters
        .iter()
        .any(|emitter| matches!(emitter.cell, CellSpec::Class { .. }));
    if of_a_class {
        table.take(TakenFact::Strings, &name);
        if table.word("power_measured_on").unwrap_or("unknown") == "unknown" {
            table.take(TakenFact::PowerBasis, &name);
        }
    }
    table.both(
        "copper",
        "rails",
        "Keep `rails`, which says more; or `copper`, the ounces of a label",
    );
    let copper = table.choice_or("copper", COPPERS, CopperClass::default());
    let power = label.power;
    let strip = StripSpec {
        rated,
        polarity: table.or_taken(
            table.maybe_choice("polarity", POLARITIES),
            TakenFact::Polarity,
            &name,
            Polarity::CommonPlus,
        ),
        pitch,
        cells,
        emitters,
        rails: match table.table("rails") {
            Some(stated) => rails(stated),
            None => {
                table.take(TakenFact::Copper, &name);
                RailSpec::Class { copper }
            }
        },
        power,
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
        reel: table.or_taken(
            table.maybe_length("reel"),
            TakenFact::Reel,
            &name,
            taken::REEL,
        ),
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
        name,
    };
    table.done();
    strip
}

/// What a label says of all emitters together.
struct Label<'n> {
    name: &'n str,
    rated: ElectricPotential,
    /// Length of tape that one cell of each emitter serves, m.
    increment: f64,
    power: Option<LinearPower>,
}

impl Label<'_> {
    /// Current of one cell that draws so much a metre.
    fn current(&self, power: f64) -> ElectricCurrent {
        amps(power * self.increment / self.rated.value)
    }

    /// The emitters: tables, or the names of those of which nothing more is known; one where none is named.
    fn emitters(&self, table: &Table<'_>) -> Vec<EmitterSpec> {
        let listed = table
            .list("emitters", "names or tables")
            .unwrap_or_default();
        let mut all: Vec<(EmitterSpec, Option<f64>)> = Vec::new();
        for (index, value) in listed.iter().enumerate() {
            let inner = format!("emitters {}", index + 1);
            table.note_place(&inner, value.span().start);
            all.push(match value.get_ref() {
                DeValue::String(name) => (unknown(name, None), None),
                _ => emitter(table.entry(&inner, value)),
            });
        }
        let flux: Option<LinearLuminousFlux> = match table.has("emitters") {
            false => table.maybe_measured("flux"),
            true => {
                table.both(
                    "flux",
                    "emitters",
                    "Write the flux of each emitter, like { name = \"warm\", flux = \"600 lm/m\" }",
                );
                None
            }
        };
        if !table.has("emitters") {
            all.push((unknown("light", flux), None));
        }
        let strings = StringClass::of(all.len());
        let own: f64 = all.iter().filter_map(|(_, power)| *power).sum();
        let of_class =
            |one: &(EmitterSpec, Option<f64>)| matches!(one.0.cell, CellSpec::Class { .. });
        let sharing = all
            .iter()
            .filter(|one| of_class(one) && one.1.is_none())
            .count();
        let share = self.share(table, own, sharing);
        if sharing > 1 && share.is_some() {
            table.take(TakenFact::PowerShares, self.name);
        }
        let with_current = |(mut emitter, own): (EmitterSpec, Option<f64>)| {
            if let CellSpec::Class { .. } = emitter.cell {
                let power = own.or(share).unwrap_or(1.0);
                emitter.cell = CellSpec::Class {
                    strings,
                    current: self.current(power),
                };
            }
            emitter
        };
        all.into_iter().map(with_current).collect()
    }

    /// Power of each emitter that shares what the others leave, W/m.
    fn share(&self, table: &Table<'_>, own: f64, sharing: usize) -> Option<f64> {
        if sharing == 0 {
            return None;
        }
        let Some(power) = self.power else {
            table.missing(
                "power",
                "the power of its label, like \"14.4 W/m\" or \"4.4 W/ft\"",
            );
            return None;
        };
        let left = power.value - own;
        if !(left > 0.0) {
            table.say(
                FaultKind::Contradiction,
                "power",
                format!(
                    "is {}, and its emitters state as much between them",
                    show(power)
                ),
                "State the power of every emitter, or leave some of it to the others",
                "",
            );
            return None;
        }
        Some(left / sharing as f64)
    }
}

/// An emitter of which nothing but its name and its flux is known yet.
fn unknown(name: &str, flux: Option<LinearLuminousFlux>) -> EmitterSpec {
    EmitterSpec {
        name: name.to_string(),
        cell: CellSpec::Class {
            strings: StringClass::White,
            current: amps(1.0),
        },
        flux,
    }
}

#[derive(Clone, Copy)]
enum Cell {
    Series,
    ConstantCurrent,
    StraightLine,
    ConstantPower,
}

/// An emitter, with its power a metre where it states no cell.
fn emitter(table: Table<'_>) -> (EmitterSpec, Option<f64>) {
    if !table.is_stand_in() && !table.has("cell") {
        let name = table.text("name", "the colour of the emitter");
        let power: Option<LinearPower> = table.maybe_measured("power");
        let one = unknown(&name, table.maybe_measured("flux"));
        table.done();
        return (one, power.map(|power| power.value));
    }
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
    (emitter, None)
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
