//! Universes and chains.

use super::products::PORTS;
use super::table::Table;
use crate::exact::ExactLength;
use crate::job::fault::FaultKind;
use crate::job::spec::{
    Bound, ChainSpec, ChainStop, DataCable, PortIsolation, SlotRange, UnitLoads, UniverseSpec,
};

/// `[[universe]]`.
pub(super) fn universe(table: Table<'_>) -> UniverseSpec {
    let universe = UniverseSpec {
        name: table.text("name", "the name of the universe"),
        number: table.count("number", 1..=63_999) as u16,
        port: table.text("port", "the device and port it leaves from"),
        taken: table
            .tables("taken")
            .into_iter()
            .map(|range| {
                let slots = SlotRange {
                    from: range.count("from", 1..=512) as u16,
                    to: range.count("to", 1..=512) as u16,
                };
                range.done();
                slots
            })
            .collect(),
    };
    table.done();
    universe
}

/// `[[chain]]`.
pub(super) fn chain(table: Table<'_>) -> ChainSpec {
    let chain = ChainSpec {
        name: table.text("name", "the name of the chain"),
        universe: table.text("universe", "the name of the universe it carries"),
        cable: table.choice(
            "cable",
            &[
                ("data pair", DataCable::DataPair),
                ("shielded category", DataCable::ShieldedCategory),
                ("unshielded category", DataCable::UnshieldedCategory),
                ("unknown", DataCable::Unknown),
            ],
            DataCable::Unknown,
        ),
        stops: table.tables("stops").into_iter().map(stop).collect(),
        terminator: if table.has("terminator") {
            table.maybe_bound("terminator").and_then(Bound::most)
        } else {
            table.say(
                FaultKind::Missing,
                "terminator",
                "is missing",
                "Write \"120 ohm\", or \"none\" where there is none",
                "",
            );
            None
        },
    };
    table.done();
    chain
}

fn stop(table: Table<'_>) -> ChainStop {
    let stop = match (table.has("place"), table.has("device")) {
        (true, false) => ChainStop::Place {
            place: table.text("place", "the name of a place"),
            length: table.length("length"),
            between: table.length_or("between", ExactLength::from_millimetres(300)),
        },
        (false, true) => ChainStop::Other {
            name: table.text_or_empty("device"),
            length: table.length("length"),
            unit_loads: table
                .maybe_parsed(
                    "unit_loads",
                    "a load in unit loads like \"1/8\"",
                    UnitLoads::ONE,
                )
                .unwrap_or(UnitLoads::ONE),
            isolation: table.choice_or("port", PORTS, PortIsolation::Unknown),
        },
        (both, _) => {
            table.say(
                FaultKind::Missing,
                "",
                if both {
                    "is a place and a device at once"
                } else {
                    "is neither a place nor a device"
                },
                "Write { place = \"…\", length = \"…\" } or { device = \"…\", length = \"…\" }",
                "",
            );
            return ChainStop::Place {
                place: String::new(),
                length: ExactLength::ZERO,
                between: ExactLength::ZERO,
            };
        }
    };
    table.done();
    stop
}
