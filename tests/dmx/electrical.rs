//! Loads, bias, connectors, START codes: row by row against the reference tables.

use crate::common::{Row, assert_relative, assert_within, rows};
use crate::rule_id;
use evenrun::device::UnitLoads;
use evenrun::dmx::bias::Bias;
use evenrun::dmx::connector::{Connector, Gender, Wire};
use evenrun::dmx::electrical::{self, Driver};
use evenrun::dmx::start_code::{REGISTER, registered};
use evenrun::quantity::{ElectricalResistance, ohms, seconds, volts};
use proptest::prelude::*;

fn ends(row: &Row, columns: &[&str]) -> Vec<ElectricalResistance> {
    let given = columns.iter().filter(|column| row.text(column) != "none");
    given.map(|column| ohms(row.number(column))).collect()
}

#[test]
fn bias_networks() {
    for row in rows("dmx/bias_network_check.csv", 24) {
        let what = format!("line {}", row.line);
        let bias = Bias {
            supply: volts(row.number("supply_v")),
            resistor: ohms(row.number("bias_resistor_each_ohm")),
        };
        let both = ends(&row, &["near_terminator_ohm", "far_terminator_ohm"]);
        let loads = row.number("unit_loads");
        let idle = bias.idle_volts(&both, loads).value;
        assert_relative(&what, idle, row.number("idle_vab_v"), 1e-6);
        for (column, limit) in [
            ("at_least_200_mv", electrical::THRESHOLD_VOLTS),
            ("at_least_245_mv", electrical::RDM_IDLE_VOLTS),
        ] {
            // 720 ohm gives 200 mV to the last bit but one.
            assert_eq!(
                idle >= limit - 1e-9,
                row.text(column) == "yes",
                "{what}, {column}"
            );
        }
        let near = bias.near_end(both.first().copied());
        assert_relative(
            &what,
            near.value,
            row.number("near_end_impedance_ohm"),
            1e-6,
        );
        let mut all = both;
        all.push(bias.across());
        let load = electrical::pair_load(&all, loads).value;
        assert_relative(&what, load, row.number("total_differential_load_ohm"), 1e-6);
        let (taken, left) = bias.unit_loads();
        assert_relative(&what, taken, row.number("unit_loads_taken_per_line"), 1e-6);
        assert_within(&what, left, row.number("unit_loads_left_of_32"), 1e-5);
    }
}

proptest! {
    /// The closed form is what the two nodes of the circuit give, solved as they stand.
    #[test]
    fn bias_by_its_two_nodes(supply in 1.0_f64..12.0, rb in 50.0_f64..50e3, rt in 20.0_f64..1e4, loads in 0.0_f64..64.0) {
        let bias = Bias { supply: volts(supply), resistor: ohms(rb) };
        let idle = bias.idle_volts(&[ohms(rt)], loads).value;
        // a: (Vs − a)/Rb = a n/12k + (a − b)/Rt;  b: (a − b)/Rt = b n/12k + b/Rb.
        let (own, across) = (1.0 / rb + loads / 12e3, 1.0 / rt);
        let determinant = (own + across) * (own + across) - across * across;
        let (a, b) = (supply / rb * (own + across) / determinant, supply / rb * across / determinant);
        prop_assert!((idle - (a - b)).abs() <= 1e-12 * supply);
        // The matching terminator matches, and more load never raises the level.
        if let Some(match_) = bias.matching_terminator(ohms(120.0)) {
            prop_assert!((bias.near_end(Some(match_)).value - 120.0).abs() < 1e-9);
        } else {
            prop_assert!(2.0 * rb <= 120.0);
        }
        prop_assert!(bias.idle_volts(&[ohms(rt)], loads + 1.0).value < idle);
    }
}

#[test]
fn unit_loads() {
    for row in rows("dmx/unit_loads.csv", 4) {
        let load: UnitLoads = row.text("unit_load").parse().expect("a load");
        let input = electrical::input(load);
        let what = row.text("unit_load");
        let share = f64::from(load.ten_thousandths()) / 1e4;
        assert_within(what, share, row.number("fraction"), 0.0);
        assert_within(
            what,
            input.resistance.value,
            row.number("input_resistance_ohm"),
            1e-9,
        );
        let [low, high] = input.amps;
        assert_within(
            what,
            low * 1e3,
            row.number("input_current_at_minus7v_ma"),
            1e-12,
        );
        assert_within(
            what,
            high * 1e3,
            row.number("input_current_at_plus12v_ma"),
            1e-12,
        );
        assert_within(
            what,
            f64::from(input.most),
            row.number("receivers_for_32_ul"),
            0.0,
        );
        let common = input.resistance.value / f64::from(input.most);
        assert_within(
            what,
            common,
            row.number("common_mode_resistance_per_line_ohm"),
            1e-9,
        );
        let across = row.number("differential_resistance_per_receiver_ohm");
        assert_within(what, input.across.value, across, 1e-9);
    }
}

#[test]
fn figures_of_the_standard() {
    use electrical as e;
    let (mut asserted, mut memory) = (0, 0);
    for row in rows("dmx/eia485_electrical.csv", 21) {
        if !row.may_be_asserted() {
            memory += 1;
            continue;
        }
        let what = format!("line {}: {}", row.line, row.text("quantity"));
        let limits = |scale: f64, [least, most]: [f64; 2]| {
            assert_within(&what, least * scale, row.number("minimum"), 1e-9);
            assert_within(&what, most * scale, row.number("maximum"), 1e-9);
        };
        let most = |found: f64| assert_within(&what, found, row.number("maximum"), 1e-9);
        let least = |found: f64| assert_within(&what, found, row.number("minimum"), 1e-9);
        asserted += 1;
        match (row.text("quantity"), row.text("condition")) {
            ("driver differential output, magnitude", "open circuit") => limits(1.0, e::OPEN_VOLTS),
            ("driver differential output, magnitude", "54 ohm") => limits(1.0, e::LOADED_VOLTS),
            ("what 54 ohm stands for", _) => {
                let load = e::pair_load(&[ohms(e::TERMINATOR_OHMS); 2], e::MOST_UNIT_LOADS as f64);
                assert_within(&what, load.value, 55.6, 0.05);
                assert!(row.text("note").contains("55.6"));
            }
            ("driver common-mode (offset) voltage", _) => limits(1.0, e::OFFSET_VOLTS),
            ("driver short-circuit current", _) => most(e::SHORT_CIRCUIT_AMPS * 1e3),
            ("driver edge, share of bit time", _) => {
                most(e::EDGE_SHARE);
                let edge = e::longest_edge(seconds(4e-6)).value;
                assert_within(&what, edge, 1.2e-6, 1e-18);
            }
            ("receiver threshold", _) => limits(1.0, [-e::THRESHOLD_VOLTS, e::THRESHOLD_VOLTS]),
            ("receiver common-mode range", _) => limits(1.0, e::COMMON_MODE_VOLTS),
            ("receiver input resistance", _) => least(e::UNIT_LOAD_OHMS / 1e3),
            ("unit load current", "+12 V") => most(e::UNIT_LOAD_AMPS[1] * 1e3),
            ("unit load current", "-7 V") => least(e::UNIT_LOAD_AMPS[0] * 1e3),
            ("loads on one driver", _) => most(e::MOST_UNIT_LOADS as f64),
            ("fractional loads", text) => {
                let input = e::input("1/8".parse().expect("a load"));
                let words = format!(
                    "{} kohm, {} receivers",
                    input.resistance.value / 1e3,
                    input.most
                );
                assert!(text.ends_with(&words), "{text}: {words}");
            }
            ("terminator", _) => most(e::TERMINATOR_OHMS),
            ("cable characteristic impedance", _) => limits(1.0, e::CABLE_OHMS),
            ("cable capacitance between conductors", _) => {
                most(e::CABLE_FARADS_PER_METRE[0] * 1e12)
            }
            ("cable capacitance conductor to shield", _) => {
                most(e::CABLE_FARADS_PER_METRE[1] * 1e12)
            }
            ("bias at the RDM controller port", _) => least(e::RDM_IDLE_VOLTS * 1e3),
            _ => panic!("{what}: no check for this row"),
        }
    }
    // From memory, and not asserted: 375 ohm common mode, corners of the unit load, isolation of 22 Mohm.
    assert_eq!((asserted, memory), (18, 3));
}

#[test]
fn drivers() {
    let weakest = Driver {
        open: volts(3.0),
        loaded: volts(1.5),
        edge: seconds(50e-9),
    };
    assert_within("source", weakest.source_resistance().value, 54.0, 1e-12);
    assert_within("on 54 ohm", weakest.volts_on(ohms(54.0)).value, 1.5, 1e-12);
    assert_within(
        "open",
        weakest.volts_on(ohms(f64::INFINITY)).value,
        3.0,
        0.0,
    );
    let fails = |driver: Driver| -> Vec<&'static str> {
        let judged = driver.judge(&"port".into());
        judged.iter().filter(|f| f.is_fail()).map(rule_id).collect()
    };
    assert_eq!(fails(weakest), [""; 0]);
    let bad = Driver {
        open: volts(6.5),
        loaded: volts(1.4),
        edge: seconds(1.3e-6),
    };
    assert_eq!(fails(bad), ["driver-open", "driver-loaded", "driver-edge"]);
    let none = Driver {
        open: volts(f64::NAN),
        loaded: volts(f64::NAN),
        edge: seconds(f64::NAN),
    };
    assert_eq!(fails(none).len(), 3);
    // 0.2 V is no margin, 2 V is 20 dB.
    assert_eq!(electrical::margin(volts(0.2)), (volts(0.0), 0.0));
    assert_within("dB", electrical::margin(volts(-2.0)).1, 20.0, 1e-12);
}

#[test]
fn contacts() {
    let mut seen = [0; 2];
    for row in rows("dmx/connectors.csv", 15) {
        let what = format!("line {}", row.line);
        let plug = match row.text("connector") {
            "5-pin XLR" => Connector::FivePinXlr,
            text if text.starts_with("8-position modular") => Connector::EightPosition,
            other => panic!("{what}: {other}"),
        };
        let function = row.text("function");
        match row.text("contact") {
            "body" => {
                assert!(function.ends_with("equipment out is female, in is male"));
                assert_eq!(plug.equipment(), Some([Gender::Male, Gender::Female]));
            }
            "note" => {
                // What it warns of is said where such a connector is judged: tests/dmx/rules.rs.
                assert!(function.contains("contacts 4, 5 and 7 can carry foreign voltages"));
            }
            number => {
                let number: u8 = number.parse().expect("a contact");
                let contact = plug
                    .contacts()
                    .iter()
                    .find(|contact| contact.number == number);
                let contact = contact.unwrap_or_else(|| panic!("{what}: no contact {number}"));
                let words = contact.wire.words();
                let said = match contact.wire {
                    Wire::Common1 => function.starts_with(words) && !function.contains("data 2"),
                    _ => function.starts_with(words),
                };
                assert!(said, "{what}: {words} for {function}");
                let colour = row.text("wire_colour_t568b");
                assert_eq!(contact.colour.unwrap_or(""), colour, "{what}");
                seen[usize::from(plug == Connector::EightPosition)] += 1;
            }
        }
    }
    assert_eq!(seen, [5, 8]);
    let [xlr, eight] = [Connector::FivePinXlr, Connector::EightPosition];
    assert_eq!(
        xlr.joins(eight),
        [(1, 7), (1, 8), (2, 2), (3, 1), (4, 6), (5, 3)]
    );
    assert_eq!(
        eight.joins(xlr),
        [(1, 3), (2, 2), (3, 5), (6, 4), (7, 1), (8, 1)]
    );
    for plug in [xlr, eight] {
        let straight = plug
            .contacts()
            .iter()
            .filter(|c| c.wire != Wire::Unassigned);
        let straight: Vec<_> = straight.map(|c| (c.number, c.number)).collect();
        assert_eq!(plug.joins(plug), straight);
    }
    assert!(xlr.joins(Connector::Terminals).is_empty());
    assert!("rj".parse::<Connector>().is_err());
}

#[test]
fn start_codes() {
    let mut covered = 0;
    for row in rows("dmx/start_codes.csv", 10) {
        let what = format!("line {}", row.line);
        let may_send = row.text("may_a_product_send_it").starts_with("yes");
        for (part, decimal) in row
            .text("hex")
            .split(", ")
            .zip(row.text("decimal").split(", "))
        {
            let (first, last) = part.split_once('-').unwrap_or((part, part));
            let hex = |text| u8::from_str_radix(text, 16).expect("hexadecimal");
            let (low, high) = decimal.split_once('-').unwrap_or((decimal, decimal));
            assert_eq!(hex(first).to_string(), low, "{what}");
            assert_eq!(hex(last).to_string(), high, "{what}");
            for code in hex(first)..=hex(last) {
                covered += 1;
                let entry = registered(code).unwrap_or_else(|| panic!("{what}: {code:02X}"));
                assert_eq!(entry.products_may_send, may_send, "{what}");
                let key = match code {
                    0x00 => "NULL",
                    0x17 | 0x90 => "text packet",
                    0x55 => "test packet",
                    0x91 => "organisation ID",
                    0xCC => "RDM",
                    0xCF => "system information",
                    0xF0..=0xF7 => "trials",
                    _ => "reserved",
                };
                assert!(entry.meaning.contains(key), "{what}: {}", entry.meaning);
                let meaning = row.text("meaning").replace("prototyping", "trials");
                assert!(meaning.contains(key), "{what}: {meaning}");
            }
        }
    }
    let listed: usize = (0..=255).filter(|&code| registered(code).is_some()).count();
    assert_eq!(
        listed, covered,
        "no code in the list that the table does not have"
    );
    assert!(REGISTER.windows(2).all(|pair| pair[0].last < pair[1].first));
    assert!(registered(0xCE).is_none() && registered(0xAA).is_none());
}
