//! Places and zones.

use super::products::ingress;
use super::runs::basis;
use super::table::Table;
use crate::job::fault::FaultKind;
use crate::job::spec::{
    Control, Environment, JobSpec, LevelBits, LevelCurve, PlaceSpec, Service, Standby, TakenFact,
    Together, WaySpec, ZoneSpec, taken,
};
use crate::quantity::celsius;

pub(super) const ENVIRONMENTS: &[(&str, Environment)] = &[
    ("dry", Environment::Dry),
    ("damp", Environment::Damp),
    ("wet", Environment::Wet),
    ("outdoor", Environment::Outdoor),
];

pub(super) const CURVES: &[(&str, LevelCurve)] = &[
    ("linear", LevelCurve::Linear),
    ("square", LevelCurve::Square),
    ("cube", LevelCurve::Cubic),
];

const SERVICES: &[(&str, Service)] = &[
    ("normal", Service::Normal),
    ("emergency", Service::Emergency),
    ("both", Service::Both),
];

/// `[[place]]`.
pub(super) fn place(table: Table<'_>) -> PlaceSpec {
    let name = table.text("name", "the name of the place");
    let place = PlaceSpec {
        room: table.text_or_empty("room"),
        access: table.text_or_empty("access"),
        environment: table.choice_or("environment", ENVIRONMENTS, Environment::default()),
        ingress: ingress(&table),
        ambient: table.or_taken(
            table.maybe_measured("ambient"),
            TakenFact::PlaceAmbient,
            &name,
            taken::place_ambient(),
        ),
        circuit: table.text_or_empty("circuit"),
        service: table.choice_or("service", SERVICES, Service::default()),
        supplies: table.texts("supplies"),
        decoders: table.texts("decoders"),
        most_supplies: table
            .maybe_count("most_supplies", 0..=10_000)
            .map(|n| n as u32),
        most_decoders: table
            .maybe_count("most_decoders", 0..=10_000)
            .map(|n| n as u32),
        standby: table.choice_or(
            "standby",
            &[
                ("none", Standby::None),
                ("supplies", Standby::Supplies),
                ("decoders", Standby::Decoders),
                ("both", Standby::Both),
            ],
            Standby::default(),
        ),
        lead: table.maybe_length("lead"),
        lead_cables: table.texts("lead_cables"),
        ways: table.tables("ways").into_iter().map(way).collect(),
        name,
    };
    table.done();
    place
}

fn way(table: Table<'_>) -> WaySpec {
    let way = WaySpec {
        to: table.text("to", "the name of the other place"),
        length: table.length("length"),
        basis: basis(&table),
        cables: table.texts("cables"),
    };
    table.done();
    way
}

/// `[[zone]]` of a job whose products and places are read.
pub(super) fn zone(table: Table<'_>, job: &JobSpec) -> ZoneSpec {
    let zone = ZoneSpec {
        name: table.text("name", "the name of the zone"),
        strip: match job.strips.as_slice() {
            [only] if !table.has("strip") => only.name.clone(),
            _ => table.text("strip", "the name of a strip"),
        },
        control: control(&table),
        together: if table.has("together") {
            Together::Listed(table.lists_of_texts("together"))
        } else {
            Together::AllAndEachAlone
        },
        places: match table.has("places") {
            true => table.texts("places"),
            false => job.places.iter().map(|place| place.name.clone()).collect(),
        },
        supplies: table.texts("supplies"),
        decoders: table.texts("decoders"),
        cables: table.texts("cables"),
        service: table.choice_or("service", SERVICES, Service::default()),
        universe: table.maybe_text("universe"),
    };
    table.done();
    zone
}

pub(super) fn control(table: &Table<'_>) -> Control {
    let over_dmx = table.choice(
        "control",
        &[
            ("8 bit", Some(LevelBits::Eight)),
            ("16 bit", Some(LevelBits::Sixteen)),
            ("switched", None),
        ],
        None,
    );
    match over_dmx {
        None => {
            if table.value("curve").is_some() && table.word("control") == Some("switched") {
                table.say(
                    FaultKind::Contradiction,
                    "curve",
                    "is stated for a switched zone",
                    "Leave it out, or write control = \"8 bit\" or \"16 bit\"",
                    "",
                );
            }
            Control::Switched
        }
        Some(bits) => Control::Dmx {
            bits,
            curve: table.choice_or("curve", CURVES, LevelCurve::default()),
        },
    }
}

/// Ambient where a run states none: what data sheets rate at.
pub(super) fn usual_ambient() -> crate::quantity::ThermodynamicTemperature {
    celsius(25.0)
}
