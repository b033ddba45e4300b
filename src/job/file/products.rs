//! Cables, supplies and decoders.

use super::places::{CURVES, ENVIRONMENTS};
use super::table::Table;
use crate::cable::tables::iec_60364_5_52::Method;
use crate::cable::{ConductorSize, Construction, Installation, Metal, SizeSystem};
use crate::job::fault::FaultKind;
use crate::job::spec::{
    CableItem, DecoderSpec, Edges, EnergyLimit, Environment, IngressCode, LevelBits, LevelCurve,
    Overload, PortIsolation, ShockProtection, SignalLoss, SupplySpec, TakenFact, UnitLoads, taken,
};
use crate::network::Polarity;
use crate::quantity::{ElectricPotential, Measured, Power, amps, celsius, milliohms};

pub(super) const POLARITIES: &[(&str, Polarity)] = &[
    ("common plus", Polarity::CommonPlus),
    ("common minus", Polarity::CommonMinus),
];

pub(super) const PORTS: &[(&str, PortIsolation)] = &[
    ("isolated", PortIsolation::Isolated),
    ("joined", PortIsolation::Joined),
    ("unknown", PortIsolation::Unknown),
];

/// Greatest temperature of insulation of PVC, °C: IEC 60364-5-52, table 52.1.
const PVC_METRIC: f64 = 70.0;
/// The lowest column of NFPA 70, table 310.16, °C.
const PVC_GAUGE: f64 = 60.0;
/// The reference method of IEC 60364-5-52 in air with the least ampacity of a multi-core cable (tables B.52.2 and B.52.4).
const LEAST_AMPACITY: Installation = Installation::Iec {
    method: Method::A2,
    circuits: 1,
};

const ENERGY: &[(&str, EnergyLimit)] = &[
    ("class 2", EnergyLimit::Class2),
    ("limited power", EnergyLimit::LimitedPower),
    ("none", EnergyLimit::None),
    ("unknown", EnergyLimit::Unknown),
];

/// `[[cable]]`; `cores` where it states none.
pub(super) fn cable(table: Table<'_>, cores: u32) -> CableItem {
    const SIZE: &str = "a size like \"18 AWG\" or \"1.5 mm2\"";
    let stand_in = ConductorSize::ONE_SQUARE_MILLIMETRE;
    let size = table
        .maybe_parsed("size", SIZE, stand_in)
        .unwrap_or_else(|| {
            table.missing("size", SIZE);
            stand_in
        });
    // A gauge has no class of IEC 60228: it is one wire or several.
    let gauge = size.system() == SizeSystem::American;
    let either = |american, metric| if gauge { american } else { metric };
    let name = table.text("name", "the name of the cable");
    let stated = table.maybe_count("cores", 1..=100).map(|n| n as u32);
    let ampacity = table.maybe_measured("ampacity");
    let installed = table.maybe_parsed(
        "installed",
        "a way of installation like \"iec C\"",
        Installation::Stated,
    );
    // Of a cable that states its insulation it is not known that a table for PVC holds.
    let plain = !table.has("insulation") && !gauge && ampacity.is_none();
    if !table.has("material") || !table.has("strands") {
        table.take(TakenFact::Flexible, &name);
    }
    let pvc = celsius(if gauge { PVC_GAUGE } else { PVC_METRIC });
    let cable = CableItem {
        cores: table.or_taken(stated, TakenFact::Cores, &name, cores),
        size,
        metal: table.choice_or(
            "material",
            &[
                ("copper", Metal::Copper),
                ("tinned copper", Metal::TinnedCopper),
                ("copper-clad aluminium", Metal::CopperClad10),
                ("unknown", Metal::Unknown),
            ],
            Metal::Copper,
        ),
        construction: table.choice_or(
            "strands",
            &[
                ("solid", either(Construction::Solid, Construction::Class1)),
                (
                    "stranded",
                    either(Construction::Stranded, Construction::Class2),
                ),
                (
                    "flexible",
                    either(Construction::Stranded, Construction::Class5),
                ),
                (
                    "extra flexible",
                    either(Construction::Stranded, Construction::Class6),
                ),
            ],
            either(Construction::Stranded, Construction::Class5),
        ),
        insulation: table.or_taken(
            table.maybe_measured("insulation"),
            TakenFact::Insulation,
            &name,
            pvc,
        ),
        ampacity,
        ampacity_ambient: table.maybe_measured("ampacity_ambient"),
        installed: match installed {
            None if plain => {
                table.take(TakenFact::Installed, &name);
                Some(LEAST_AMPACITY)
            }
            stated => stated,
        },
        environment: table
            .has("environment")
            .then(|| table.choice_or("environment", ENVIRONMENTS, Environment::Dry)),
        price_per_metre: table.price("price_per_metre_minor"),
        reel: table.maybe_length("reel"),
        name,
    };
    table.done();
    cable
}

/// Two ends of a range in one table: `{ low = "21 V", high = "28 V" }`.
fn range<Q: Measured>(table: Option<Table<'_>>) -> Option<(Q, Q)> {
    let table = table?;
    let pair = (table.measured("low"), table.measured("high"));
    table.done();
    Some(pair)
}

/// `[[supply]]`.
pub(super) fn supply(table: Table<'_>) -> SupplySpec {
    let name = table.text("name", "the name of the supply");
    let power: Power = table.measured("power");
    let volts: ElectricPotential = table.measured("volts");
    let outputs = table.maybe_count("outputs", 1..=64).map_or(1, |n| n as u32);
    let share = amps(power.value / volts.value / f64::from(outputs));
    let supply = SupplySpec {
        tolerance: table.or_taken(
            table.maybe_measured("tolerance"),
            TakenFact::SupplyTolerance,
            &name,
            taken::supply_tolerance(),
        ),
        trim: range(table.table("trim")),
        output_current: table.or_taken(
            table.maybe_measured("output_current"),
            TakenFact::OutputCurrent,
            &name,
            share,
        ),
        limit_current: table.maybe_measured("limit_current"),
        overload: table.choice_or(
            "overload",
            &[
                ("constant current", Overload::ConstantCurrent),
                ("fold back", Overload::FoldBack),
                ("hiccup", Overload::Hiccup),
                ("latch off", Overload::LatchOff),
                ("unknown", Overload::Unknown),
            ],
            Overload::Unknown,
        ),
        output_resistance: table
            .maybe_measured("output_resistance")
            .unwrap_or_else(|| milliohms(0.0)),
        shock: table.choice_or(
            "shock_protection",
            &[
                ("SELV", ShockProtection::Selv),
                ("PELV", ShockProtection::Pelv),
                ("other", ShockProtection::Other),
                ("unknown", ShockProtection::Unknown),
            ],
            ShockProtection::Unknown,
        ),
        energy: energy(&table),
        derating: table
            .tables("derating")
            .into_iter()
            .map(|point| {
                let pair = (point.measured("ambient"), point.measured("share"));
                point.done();
                pair
            })
            .collect(),
        efficiency: table.maybe_measured("efficiency"),
        inrush: table.table("inrush").map(|inrush| {
            let pair = (inrush.measured("peak"), inrush.measured("time"));
            inrush.done();
            pair
        }),
        per_breaker: table.table("per_breaker").map(|breaker| {
            let pair = (
                breaker.count("count", 1..=1000) as u32,
                breaker.text("breaker", "the breaker, like \"16 A, curve B\""),
            );
            breaker.done();
            pair
        }),
        leakage: table.maybe_measured("leakage"),
        ingress: ingress(&table),
        price: table.price("price_minor"),
        name,
        power,
        volts,
        outputs,
    };
    table.done();
    supply
}

/// Ingress code.
pub(super) fn ingress(table: &Table<'_>) -> Option<IngressCode> {
    const CODE: &str = "an ingress code like \"IP20\"";
    table.maybe_parsed("ingress", CODE, IngressCode::NONE)
}

/// Energy class; "class II" is insulation, not energy, and is told so.
fn energy(table: &Table<'_>) -> EnergyLimit {
    let word = table.word("energy_class").unwrap_or("");
    if ["class II", "Class II", "class ii"].contains(&word.trim()) {
        table.say(
            FaultKind::Unreadable,
            "energy_class",
            format!("is `{}`, which is a class of insulation", word.trim()),
            "Class 2 (arabic) is the class of energy; write what the label says",
            "\"class 2\", \"limited power\", \"none\", \"unknown\"",
        );
        return EnergyLimit::Unknown;
    }
    table.choice_or("energy_class", ENERGY, EnergyLimit::Unknown)
}

/// `[[decoder]]`.
pub(super) fn decoder(table: Table<'_>) -> DecoderSpec {
    let volts = range(table.table("volts"));
    if !table.has("volts") {
        table.missing("volts", "a range like { low = \"12 V\", high = \"36 V\" }");
    }
    let decoder = DecoderSpec {
        name: table.text("name", "the name of the decoder"),
        outputs: table.count("outputs", 1..=64) as u32,
        output_current: table.measured("output_current"),
        total_current: table.measured("total_current"),
        terminal_current: table.measured("terminal_current"),
        volts: volts.unwrap_or_else(|| (Measured::from_si(1.0), Measured::from_si(1.0))),
        polarity: table.choice("polarity", POLARITIES, Polarity::CommonPlus),
        switch: table.measured("switch"),
        frequency: table.measured("frequency"),
        bits: table.count("bits", 8..=32) as u32,
        levels: table.choices(
            "levels",
            &[("8 bit", LevelBits::Eight), ("16 bit", LevelBits::Sixteen)],
        ),
        curves: curves(&table),
        shortest_pulse: table.maybe_measured("shortest_pulse"),
        edges: table.choice_or(
            "edges",
            &[
                ("aligned", Edges::Aligned),
                ("staggered", Edges::Staggered),
                ("unknown", Edges::Unknown),
            ],
            Edges::Unknown,
        ),
        signal_loss: table.choice_or(
            "signal_loss",
            &[
                ("hold", SignalLoss::Hold),
                ("dark", SignalLoss::Dark),
                ("full", SignalLoss::Full),
                ("unknown", SignalLoss::Unknown),
            ],
            SignalLoss::Unknown,
        ),
        port: table.choice_or("port", PORTS, PortIsolation::Unknown),
        unit_loads: table
            .maybe_parsed(
                "unit_loads",
                "a load in unit loads like \"1/8\"",
                UnitLoads::ONE,
            )
            .unwrap_or(UnitLoads::ONE),
        energy: energy(&table),
        ingress: ingress(&table),
        price: table.price("price_minor"),
    };
    table.done();
    decoder
}

fn curves(table: &Table<'_>) -> Vec<LevelCurve> {
    table.choices("curves", CURVES)
}
