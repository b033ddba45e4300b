//! The carried tables of source limits, voltage conditions and extra-low voltage, row by row; and the advice on drop.

use crate::common::assert_relative;
use crate::table;
use evenrun::cable::tables::voltage_drop;
use evenrun::protect::tables::{extra_low_voltage, power_limits as carried, voltage_conditions};
use evenrun::protect::{Limited, Rule, power_limits};
use evenrun::quantity::volts;

/// The first number of a cell such as `250 (350 if a transformer and Vmax<=15)`, or of `100/Vmax` at a voltage.
fn limit(cell: &str, at: f64) -> Option<f64> {
    let cell = cell.replace("Uoc", "Vmax").replace("/V", "/Vmax");
    let cell = cell.replace("Vmaxmax", "Vmax");
    if cell.is_empty() {
        return None;
    }
    if let Some(over) = cell.strip_suffix("/Vmax") {
        return Some(over.parse::<f64>().unwrap() / at);
    }
    if let Some(times) = cell.strip_suffix("*Vmax") {
        return Some(times.parse::<f64>().unwrap() * at);
    }
    let number = cell.split_whitespace().next().unwrap();
    Some(number.parse().unwrap_or_else(|_| panic!("{cell}")))
}

/// Every range of every rule, at its top and just above its bottom.
#[test]
fn limits_of_power_limited_sources() {
    let rows = table("power_source_limits", 18);
    assert_eq!(rows.len(), carried::ROWS.len());
    for (row, ours) in rows.iter().zip(carried::ROWS) {
        let rule = match row.text("rule") {
            "NEC 11(B) dc Class 2" => Rule::Class2Dc,
            "NEC 11(A) ac Class 2" => Rule::Class2Ac,
            "LPS dc" => Rule::LimitedPowerDc,
            "UL 508 limited voltage/current" => Rule::LimitedVoltageCurrent,
            other => panic!("{other}"),
        };
        let limited = match row.text("kind") {
            "inherently limited" => Limited::Inherently,
            _ => Limited::ByDevice,
        };
        assert_eq!((ours.rule, ours.limited), (rule, limited));
        assert_eq!(ours.from_memory, !row.may_be_asserted());
        if !row.may_be_asserted() {
            continue;
        }
        let from: f64 = row
            .text("v_max_from_v")
            .trim_start_matches('>')
            .parse()
            .unwrap();
        let top = row.number("v_max_to_v");
        for at in [from + 0.001, top] {
            let found = power_limits(rule, limited, volts(at)).unwrap();
            let what = format!("{rule:?} {limited:?} {at} V");
            for (value, column) in [
                (found.power, "va_max_va"),
                (found.current, "i_max_a"),
                (found.device, "overcurrent_max_a"),
                (found.nameplate_power, "nameplate_max_va"),
                (found.nameplate_current, "nameplate_max_a"),
            ] {
                let printed = limit(row.text(column), at);
                assert_eq!(value.is_some(), printed.is_some(), "{what} {column}");
                if let (Some(value), Some(printed)) = (value, printed) {
                    assert_relative(&what, value, printed, 1e-12);
                }
            }
        }
    }
}

/// The same limits worked out from 12 V to 60 V.
#[test]
fn class_2_dc_by_voltage() {
    for row in table("class2_dc_evaluated", 26) {
        let limited = match row.text("kind") {
            "inherently limited" => Limited::Inherently,
            "not inherently limited" => Limited::ByDevice,
            other => panic!("{other}"),
        };
        let found = power_limits(Rule::Class2Dc, limited, volts(row.number("v_max_v"))).unwrap();
        let what = format!("{limited:?} at {} V", row.number("v_max_v"));
        for (value, column) in [
            (found.power, "va_max_va"),
            (found.current, "i_max_a"),
            (found.device, "overcurrent_max_a"),
            (found.nameplate_power, "nameplate_max_va"),
            (found.nameplate_current, "nameplate_max_a"),
        ] {
            let printed = row.optional(column);
            assert_eq!(value.is_some(), printed.is_some(), "{what} {column}");
            if let (Some(value), Some(printed)) = (value, printed) {
                assert_relative(&format!("{what} {column}"), value, printed, 3e-5);
            }
        }
    }
}

#[test]
fn voltage_by_waveform_and_place() {
    let rows = table("class2_dc_voltage_conditions", 10);
    assert_eq!(rows.len(), voltage_conditions::ROWS.len());
    for (row, carried) in rows.iter().zip(voltage_conditions::ROWS) {
        assert!(row.may_be_asserted());
        assert_eq!(carried.condition, row.text("condition"));
        assert_eq!(carried.max_v, row.number("v_max_v"));
        assert_eq!(carried.measured_as, row.text("quantity"));
    }
}

#[test]
fn extra_low_voltage_rows() {
    let rows = table("elv_limits", 11);
    assert_eq!(rows.len(), extra_low_voltage::ROWS.len());
    for (row, carried) in rows.iter().zip(extra_low_voltage::ROWS) {
        assert_eq!(carried.from_memory, !row.may_be_asserted());
        if row.may_be_asserted() {
            assert_eq!(
                carried.ac_v,
                row.optional("ac_limit_v_rms"),
                "{}",
                carried.term
            );
            assert_eq!(carried.dc_v, row.optional("dc_limit_v"), "{}", carried.term);
        }
    }
}

/// Advice on drop: the carried percentages, and that none of the asserted ones binds.
#[test]
fn advice_on_voltage_drop() {
    let rows = table("voltage_drop_guidance", 11);
    assert_eq!(rows.len(), voltage_drop::ROWS.len());
    for (row, carried) in rows.iter().zip(voltage_drop::ROWS) {
        assert_eq!(carried.from_memory, !row.may_be_asserted());
        if row.may_be_asserted() {
            assert_eq!(carried.rule, row.text("rule"));
            assert_eq!(carried.scope, row.text("scope"));
            assert_eq!(carried.percent, row.number("limit_percent"));
            assert_eq!(carried.binding, row.text("binding"));
        }
    }
}
