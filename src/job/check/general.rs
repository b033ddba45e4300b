//! The job as a whole, its limits, and the little checks all tables share.

use super::names::check_text;
use crate::exact::ExactLength;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{JobSpec, Limits};
use crate::quantity::{MOST_PRICE, Measured, ThermodynamicTemperature, show};

const LIMITS: &str = "limits";

/// Title, note, currency; whether there is anything to plan.
pub(super) fn job(spec: &JobSpec, faults: &mut Faults) {
    if spec.title.trim().is_empty() && faults.sound("", &["title"]) {
        faults.say(
            FaultKind::Missing,
            ("", "title"),
            "is empty",
            "Write what the job is called",
        );
    }
    check_text("", "title", &spec.title, faults);
    check_text("", "note", &spec.note, faults);
    if let Some(currency) = &spec.currency {
        check_text("", "currency", currency, faults);
        if (currency.trim().is_empty() || currency.chars().count() > 12)
            && faults.sound("", &["currency"])
        {
            faults.say(
                FaultKind::Name,
                ("", "currency"),
                format!("has {} characters", currency.chars().count()),
                "Write 1 to 12, like \"EUR\"",
            );
        }
    }
}

/// Prices need a currency.
pub(super) fn prices(spec: &JobSpec, faults: &mut Faults) {
    let bars = |profile: &crate::job::spec::ProfileSpec| {
        let cover = profile.cover.iter().flat_map(|cover| &cover.bars);
        profile
            .bars
            .iter()
            .chain(cover)
            .any(|bar| bar.price.is_some())
    };
    let costs = &spec.costs;
    let priced = spec.strips.iter().any(|t| t.price.is_some())
        || spec.cables.iter().any(|t| t.price_per_metre.is_some())
        || spec.supplies.iter().any(|t| t.price.is_some())
        || spec.decoders.iter().any(|t| t.price.is_some())
        || spec.profiles.iter().any(bars)
        || [costs.segment, costs.feed, costs.cut]
            .iter()
            .any(|c| *c > 0);
    for (field, cost) in [
        ("segment_minor", costs.segment),
        ("feed_minor", costs.feed),
        ("break_minor", costs.cut),
    ] {
        price(faults, "costs", field, Some(cost));
    }
    if priced && spec.currency.is_none() {
        faults.say(
            FaultKind::Missing,
            ("", "currency"),
            "is missing, and there are prices",
            "Write the currency whose minor units they are, like currency = \"EUR\"",
        );
    }
}

/// A price, where one is stated: no more than sums of prices can bear.
pub(super) fn price(faults: &mut Faults, subject: &str, field: &str, price: Option<u64>) {
    let Some(price) = price else { return };
    within(
        faults,
        subject,
        field,
        price <= MOST_PRICE,
        format!("is {price}"),
        format!("Write a whole number from 0 to {MOST_PRICE}, in minor units of the currency"),
    );
}

/// Says so when a list that is needed is empty.
pub(super) fn not_empty(kind: &'static str, count: usize, faults: &mut Faults) {
    if count == 0 {
        faults.say(
            FaultKind::Missing,
            ("", kind),
            "is missing: the job has none",
            format!("Write at least one [[{kind}]]"),
        );
    }
}

/// Limits.
pub(super) fn limits(limits: &Limits, faults: &mut Faults) {
    let mut share = |field: &str, value: f64, low: f64, high: f64| {
        within(
            faults,
            LIMITS,
            field,
            value >= low && value <= high,
            format!("is {} %", tidy(value * 100.0)),
            if low > 0.0 {
                format!("It must be above 0 % and at most {} %", high * 100.0)
            } else {
                format!("It must be between 0 % and {} %", high * 100.0)
            },
        );
    };
    let above_nothing = 1e-9;
    share(
        "least_current",
        limits.least_current.value,
        above_nothing,
        1.0,
    );
    share("load_factor", limits.load_factor.value, above_nothing, 1.0);
    share("rail_tolerance", limits.rail_tolerance.value, 0.0, 0.5);
    share(
        "current_tolerance",
        limits.current_tolerance.value,
        0.0,
        0.5,
    );
    share("cable_tolerance", limits.cable_tolerance.value, 0.0, 0.5);
    share("current_margin", limits.current_margin.value, 0.0, 0.5);
    share("spare_tape", limits.spare_tape.value, 0.0, 1.0);
    for (field, limit) in [
        ("visible_step", limits.visible_step),
        ("balance", limits.balance),
        ("voltage_drop", limits.voltage_drop),
    ] {
        if let Some(limit) = limit {
            share(field, limit.value, above_nothing, 1.0);
        }
    }
    for (field, limit) in [
        ("connector_current", limits.connector_current),
        ("core_current", limits.core_current),
    ] {
        if let Some(limit) = limit {
            positive(faults, LIMITS, field, limit);
        }
    }
    not_negative(faults, LIMITS, "site_tolerance", limits.site_tolerance);
    not_negative(faults, LIMITS, "slack", limits.slack);
    if let Some(length) = limits.chopped_feeder {
        above_zero(faults, LIMITS, "chopped_feeder", length);
    }
    above_zero(faults, LIMITS, "chain_length", limits.chain_length);
    within(
        faults,
        LIMITS,
        "chain_devices",
        (1..=512).contains(&limits.chain_devices),
        format!("is {}", limits.chain_devices),
        "Write a whole number from 1 to 512".to_string(),
    );
    let (conductor, cell) = (&limits.conductor, &limits.cell);
    corners(
        faults,
        [
            ("conductor_hot", conductor.low),
            ("conductor_nominal", conductor.nominal),
            ("conductor_cold", conductor.high),
        ],
        "conductors are hot, nominal and cold in this order",
    );
    corners(
        faults,
        [
            ("cell_hot", cell.high),
            ("cell_nominal", cell.nominal),
            ("cell_cold", cell.low),
        ],
        "cells are hot, nominal and cold in this order",
    );
}

fn corners(faults: &mut Faults, falling: [(&str, ThermodynamicTemperature); 3], order: &str) {
    for (field, temperature) in falling {
        plausible_temperature(faults, LIMITS, field, temperature);
    }
    let fields = falling.map(|(field, _)| field);
    let [hot, nominal, cold] = falling.map(|(_, temperature)| temperature);
    if faults.sound(LIMITS, &fields) && !(hot >= nominal && nominal >= cold) {
        faults.say(
            FaultKind::Contradiction,
            (LIMITS, fields[0]),
            format!(
                "is {}, with {} of {} and {} of {}",
                show(hot),
                fields[1],
                show(nominal),
                fields[2],
                show(cold)
            ),
            format!("The {order}, each at least the next"),
        );
    }
}

/// A number to at most six decimals, trailing zeros cut.
fn tidy(value: f64) -> String {
    let text = format!("{value:.6}");
    text.trim_end_matches('0').trim_end_matches('.').to_string()
}

/// Says so unless `holds`.
pub(super) fn within(
    faults: &mut Faults,
    subject: &str,
    field: &str,
    holds: bool,
    says: String,
    remedy: String,
) {
    if !holds && faults.sound(subject, &[field]) {
        faults.say(FaultKind::OutOfRange, (subject, field), says, remedy);
    }
}

/// A quantity must be above nothing.
pub(super) fn positive<Q: Measured>(faults: &mut Faults, subject: &str, field: &str, value: Q) {
    within(
        faults,
        subject,
        field,
        value.si() > 0.0 && value.si().is_finite(),
        format!("is {}", show(value)),
        "It must be above zero".to_string(),
    );
}

/// A length must not be negative.
pub(super) fn not_negative(faults: &mut Faults, subject: &str, field: &str, length: ExactLength) {
    within(
        faults,
        subject,
        field,
        length >= ExactLength::ZERO,
        format!("is {length}, a negative length"),
        "It must not be negative".to_string(),
    );
}

/// A length must be above nothing.
pub(super) fn above_zero(faults: &mut Faults, subject: &str, field: &str, length: ExactLength) {
    let says = if length < ExactLength::ZERO {
        format!("is {length}, a negative length")
    } else {
        format!("is {length}")
    };
    within(
        faults,
        subject,
        field,
        length > ExactLength::ZERO,
        says,
        "It must be above zero".to_string(),
    );
}

/// A temperature that copper, tape or a room may have.
pub(super) fn plausible_temperature(
    faults: &mut Faults,
    subject: &str,
    field: &str,
    temperature: ThermodynamicTemperature,
) {
    let celsius = crate::quantity::in_celsius(temperature);
    within(
        faults,
        subject,
        field,
        (-60.0..=200.0).contains(&celsius),
        format!("is {}", show(temperature)),
        "It must be between -60 °C and 200 °C".to_string(),
    );
}
