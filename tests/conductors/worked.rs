//! The fifty worked examples: each input is read from its row, each answer comes from the library.

use crate::common::{Row, assert_relative};
use crate::{gauge, table};
use evenrun::cable::drop::{annex_g_drop, k_factor_drop, loop_drop};
use evenrun::cable::foil::Track;
use evenrun::cable::resistance::{iec60228_printed_factor, tinned_ratio};
use evenrun::cable::skin::{frequency_for_excess, lone_wire_ratio, skin_depth};
use evenrun::cable::tables::ambient::Family;
use evenrun::cable::{
    Basis, CableSpec, Conductor, ConductorSize, Construction, Installation, Metal, Pair,
    TemperatureRule, ambient_factor_by_formula, characteristic_impedance, factor_for_ambient,
};
use evenrun::load::{Load, StraightLine};
use evenrun::network::{NetworkSpec, SolveOptions, Workspace};
use evenrun::protect::{Limited, PowerLimits, Rule, power_limits};
use evenrun::quantity::{
    ElectricPotential, RouteLength, amps, celsius, farads_per_metre, feet, henries_per_metre,
    hertz, metres, micrometres, millimetres, ohms, ohms_per_kilofoot, ohms_per_kilometre, volts,
};

/// The number after `key=` in the inputs of a row.
fn input(row: &Row, key: &str) -> f64 {
    let text = row.text("inputs");
    let at = text
        .split(|c: char| c.is_whitespace() || c == ',')
        .find_map(|word| word.strip_prefix(key)?.strip_prefix('='));
    at.unwrap_or_else(|| panic!("{}: no {key} in `{text}`", row.text("id")))
        .parse()
        .unwrap_or_else(|_| panic!("{}: {key} in `{text}`", row.text("id")))
}

fn wire(size: ConductorSize, metal: Metal, construction: Construction) -> Conductor {
    Conductor {
        size,
        metal,
        construction,
    }
}

fn ohm_per_km(conductor: Conductor, basis: Basis, at: f64) -> f64 {
    let found = conductor.resistance_by(basis, celsius(at));
    found.unwrap_or_else(|e| panic!("{e}")).per_length.value * 1e3
}

/// Resistance of a solid copper gauge at 20 °C by the formula, Ω/km.
fn solid(number: f64) -> f64 {
    let size = ConductorSize::gauge(number as i8).unwrap();
    ohm_per_km(
        wire(size, Metal::Copper, Construction::Solid),
        Basis::GaugeFormula,
        20.0,
    )
}

fn class5_1p5() -> Conductor {
    wire(
        "1.5 mm2".parse().unwrap(),
        Metal::Copper,
        Construction::Class5,
    )
}

fn class_2(row: &Row, limited: Limited) -> PowerLimits {
    power_limits(Rule::Class2Dc, limited, volts(input(row, "v_max"))).unwrap()
}

/// A 3 mm track of 1 m, mΩ.
fn track(um: f64, at: f64) -> f64 {
    let track = Track::new(micrometres(um), millimetres(3.0), 1).unwrap();
    track.resistance(celsius(at)).value * 1e3
}

fn by_gauge_or_temperature(row: &Row) -> Option<f64> {
    let size = || ConductorSize::gauge(input(row, "n") as i8).unwrap();
    let coefficient = |rule: TemperatureRule| rule.rebased(celsius(75.0)).per_kelvin;
    let eighteen = wire(gauge("18"), Metal::Copper, Construction::Solid);
    // Note 2 of table 8 from a printed ohm/kft.
    let note_2 = |rule: TemperatureRule, r75: f64| r75 * rule.factor(celsius(30.0));
    Some(match row.text("id") {
        "awg-1" | "awg-3" => size().solid_diameter().value * 1e3,
        "awg-2" => {
            let size: ConductorSize = "0000 AWG".parse().unwrap();
            assert_eq!(size.gauge_number(), Some(-3));
            size.solid_diameter().value * 1e3
        }
        "awg-4" => size().area().value * 1e6,
        "awg-5" => solid(input(row, "n")),
        "awg-6" | "awg-7" => solid(input(row, "n")) * 0.3048,
        "temp-1" => input(row, "r20") * TemperatureRule::COPPER.factor(celsius(input(row, "t"))),
        "temp-2" => ohm_per_km(eighteen, Basis::GaugeFormula, input(row, "t")),
        "temp-3" => note_2(TemperatureRule::US_COPPER, input(row, "r75")),
        "temp-4" => note_2(TemperatureRule::US_ALUMINIUM, input(row, "r75")),
        "temp-5" => coefficient(TemperatureRule::COPPER),
        "temp-6" => coefficient(TemperatureRule::ALUMINIUM),
        "iec-1" => ohm_per_km(class5_1p5(), Basis::Iec60228, 20.0),
        "iec-2" => {
            let r20 = ohm_per_km(class5_1p5(), Basis::Iec60228, 20.0);
            r20 * TemperatureRule::COPPER.factor(celsius(input(row, "t")))
        }
        "iec-3" => {
            let printed = iec60228_printed_factor(celsius(60.0)).unwrap();
            assert_eq!(printed, input(row, "kt"));
            ohm_per_km(class5_1p5(), Basis::Iec60228, 20.0) / printed
        }
        "tin-1" => tinned_ratio(1.0).unwrap(),
        "tin-2" => {
            let coated = wire(gauge("18"), Metal::TinnedCopper, Construction::Solid);
            ohm_per_km(coated, Basis::GaugeFormula, 75.0)
        }
        "cca-1" => {
            let clad = wire(gauge("18"), Metal::CopperClad15, Construction::Solid);
            ohm_per_km(clad, Basis::GaugeFormula, 20.0)
        }
        _ => return None,
    })
}

/// Share of the supply's voltage that a load at the end of the cable of `row` misses, as the network room solves it.
fn solved_drop(row: &Row, supply: ElectricPotential) -> f64 {
    let current = input(row, "i");
    let core = ohms_per_kilofoot(input(row, "r")) * feet(input(row, "length_ft"));
    let mut spec = NetworkSpec::new();
    let [plus, minus] = ["plus", "minus"].map(|name| spec.node(name));
    let [near, far] = ["load, plus", "load, minus"].map(|name| spec.node(name));
    spec.stiff_source("supply", plus, minus, supply);
    spec.link("out", plus, near, core);
    spec.link("back", far, minus, core);
    let constant = StraightLine {
        knee: volts(0.0),
        resistance: ohms(1e-3),
        limit: Some(amps(current)),
        volts_per_kelvin: 0.0,
    };
    let law = spec.law(Load::Straight(constant).law(celsius(25.0)).unwrap());
    let load = spec.load("lamp", near, far, law);
    let network = spec.check().unwrap();
    let mut work = Workspace::new();
    let solution = network.solve(&SolveOptions::default(), &mut work).unwrap();
    let reached = solution.load_voltage(load).unwrap();
    1.0 - reached.value / supply.value
}

/// The worked example of that name.
fn of_id(id: &str) -> Row {
    let rows = table("worked_examples", 50);
    rows.into_iter().find(|row| row.text("id") == id).unwrap()
}

fn by_drop_or_ampacity(row: &Row) -> Option<f64> {
    let twelve = |loaded: usize, ambient: f64, gauge_text: &str| {
        let spec = CableSpec {
            insulation_rating: Some(celsius(90.0)),
            ..CableSpec::two_core("worked", gauge(gauge_text))
        };
        let cable = spec.check().unwrap();
        let found = cable.ampacity(celsius(ambient), loaded, Installation::UsRaceway);
        found.unwrap().current.value
    };
    Some(match row.text("id") {
        "drop-1" => {
            let route = RouteLength::new(feet(input(row, "length_ft")));
            let per_core = ohms_per_kilofoot(input(row, "r"));
            loop_drop(per_core, route.there_and_back(), amps(input(row, "i"))).value
        }
        "drop-2" => {
            let one = of_id("drop-1");
            let drop = by_drop_or_ampacity(&one).expect("the drop it is a share of");
            assert_relative("drop-1 in drop-2", drop, input(row, "drop"), 1e-9);
            solved_drop(&one, volts(input(row, "v"))) * 100.0
        }
        "drop-3" | "drop-4" => {
            let route = RouteLength::new(feet(input(row, "length_ft")));
            k_factor_drop(
                input(row, "k"),
                route,
                amps(input(row, "i")),
                input(row, "cmil"),
            )
            .value
        }
        "drop-5" => {
            let route = RouteLength::new(metres(input(row, "length_m")));
            annex_g_drop(
                input(row, "rho1"),
                route,
                input(row, "area"),
                amps(input(row, "i")),
            )
            .value
        }
        "drop-6" => {
            // The printed 14 AWG stranded figure is the library's own at 75 °C; one metre gives the volts per metre.
            let fourteen = wire(gauge("14"), Metal::Copper, Construction::Stranded);
            let r = fourteen.resistance(celsius(75.0)).unwrap().per_length;
            assert_relative("14 AWG", r.value * 1e3, input(row, "r"), 1e-12);
            let metre = RouteLength::new(metres(1.0)).there_and_back();
            input(row, "v") * 0.03 / loop_drop(r, metre, amps(input(row, "i"))).value
        }
        "drop-7" => {
            let at_70 = TemperatureRule::COPPER.factor(celsius(70.0));
            let r = ohms_per_kilometre(input(row, "r20") * at_70);
            let metre = RouteLength::new(metres(1.0)).there_and_back();
            loop_drop(r, metre, amps(1.0)).value * 1e3
        }
        "amp-1" => {
            let (rating, ambient) = (input(row, "rating"), input(row, "ambient"));
            let factor =
                ambient_factor_by_formula(celsius(rating), celsius(ambient), celsius(30.0));
            input(row, "i") * factor.unwrap()
        }
        "amp-2" => {
            assert_eq!(factor_for_ambient(Family::Us, 90.0, 45.0), Some(0.87));
            // 12 AWG at 90 °C is the 30 A of the row.
            twelve(3, 45.0, "12")
        }
        "amp-3" => twelve(8, 30.0, "12"),
        "class2-1" => class_2(row, Limited::Inherently).nameplate_power?,
        "class2-2" | "class2-3" | "class2-4" | "class2-7" => {
            class_2(row, Limited::Inherently).nameplate_current?
        }
        "class2-5" | "class2-6" => class_2(row, Limited::Inherently).current?,
        "class2-8" => class_2(row, Limited::ByDevice).device?,
        _ => return None,
    })
}

fn by_fields(row: &Row) -> Option<f64> {
    let pair = Pair::new(millimetres(1.0), millimetres(2.0)).unwrap();
    let radius = |text: &str| gauge(text).solid_diameter().value / 2.0;
    let depth = |hz: f64| skin_depth(hertz(hz), celsius(20.0)).unwrap().value;
    Some(match row.text("id") {
        "lc-1" => pair.inductance_high().value * 1e6,
        "lc-2" => pair.capacitance(1.0).value * 1e12,
        "lc-3" => {
            let far = Pair::new(millimetres(0.7), millimetres(9.3)).unwrap();
            let product = |p: Pair| p.inductance_high().value * p.capacitance(1.0).value;
            assert_relative("any spacing", product(far), product(pair), 1e-12);
            product(pair) * 1e18
        }
        "lc-4" => {
            // 0.25 mH and 1000 pF per the same length.
            let (l, c) = (henries_per_metre(0.25e-3), farads_per_metre(1000e-12));
            characteristic_impedance(l, c).value
        }
        "lc-5" => pair.inductance_low().value * 1e6,
        "skin-1" => depth(1e3) * 1e3,
        "skin-2" => depth(60.0) * 1e3,
        "skin-3" => lone_wire_ratio(radius("10") / depth(100e3)).unwrap(),
        "skin-4" => {
            let f = frequency_for_excess(millimetres(2.0), celsius(20.0), None, 0.05).unwrap();
            1e-3 / depth(f.value)
        }
        "skin-5" => {
            let d = gauge("18").solid_diameter();
            let f = frequency_for_excess(d, celsius(20.0), None, 0.05).unwrap();
            f.value / 1e3
        }
        "pcb-1" => track(70.0, 20.0),
        "pcb-2" => track(70.0, 60.0),
        "pcb-3" => track(55.7, 20.0),
        _ => return None,
    })
}

/// Whether a figure printed with five decimals or six digits is this one, rounded: some rows state a
/// tolerance below their own rounding.
fn rounds_to(found: f64, printed: &str) -> bool {
    let decimals = printed.split_once('.').map_or(0, |(_, d)| d.len());
    let digits = printed.chars().filter(char::is_ascii_digit).count();
    (decimals >= 5 || digits >= 6) && format!("{found:.decimals$}") == printed
}

#[test]
fn all_fifty() {
    let rows = table("worked_examples", 50);
    assert_eq!(rows.len(), 50);
    for row in rows {
        let id = row.text("id");
        assert!(row.may_be_asserted(), "{id}");
        let found = by_gauge_or_temperature(&row)
            .or_else(|| by_drop_or_ampacity(&row))
            .or_else(|| by_fields(&row))
            .unwrap_or_else(|| panic!("{id} is not worked here"));
        // A tolerance of zero is a printed figure: equal but for the last bit of the unit.
        let tolerance = row.number("relative_tolerance").max(1e-15);
        let text = row.text("expected");
        if !rounds_to(found, text) {
            assert_relative(id, found, row.number("expected"), tolerance);
        }
    }
}

/// Two training pages print rounded results; ours round to them.
#[test]
fn printed_roundings() {
    let hundred = RouteLength::new(feet(100.0));
    let drop = loop_drop(ohms_per_kilofoot(4.99), hundred.there_and_back(), amps(4.0));
    assert_eq!(format!("{:.1}", drop.value), "4.0");
    for (cmil, printed) in [(6530.0, "7.9"), (16510.0, "3.1")] {
        let drop = k_factor_drop(12.9, hundred, amps(20.0), cmil);
        assert_eq!(format!("{:.1}", drop.value), printed);
    }
}
