//! Which kinds of supply, decoder and lead cable may serve a zone from a place, and how they stand there.

use super::facts::{self, WireFacts};
use super::lacks::serves;
use crate::device::{DecoderSpec, SupplySpec};
use crate::job::Job;
use crate::job::spec::{CableItem, PlaceSpec, RunSpec, StripSpec, ZoneSpec};
use crate::order::Order as _;
use crate::quantity::{Corners, ThermodynamicTemperature};

/// Set points within this share of the rated voltage count as the same voltage (common practice).
const SAME_VOLTAGE: f64 = 0.05;

/// Kinds of supply that may feed a zone from a place.
pub(super) fn supplies<'j>(
    job: &'j Job,
    zone: &ZoneSpec,
    place: &PlaceSpec,
) -> Vec<&'j SupplySpec> {
    let Some(strip) = job.strip(&zone.strip) else {
        return Vec::new();
    };
    job.supplies()
        .iter()
        .filter(|s| named(&zone.supplies, &s.name) && named(&place.supplies, &s.name))
        .filter(|s| same_voltage(s, strip))
        .collect()
}

/// Whether a list names it; an empty list names everything.
pub(super) fn named(list: &[String], name: &String) -> bool {
    list.is_empty() || list.contains(name)
}

/// Whether a supply has the voltage of a tape.
pub(super) fn same_voltage(supply: &SupplySpec, strip: &StripSpec) -> bool {
    (supply.volts.value / strip.rated.value - 1.0).abs() <= SAME_VOLTAGE
}

/// Kinds of decoder that may serve a zone from a place.
pub(super) fn decoders<'j>(
    job: &'j Job,
    zone: &ZoneSpec,
    place: &PlaceSpec,
) -> Vec<&'j DecoderSpec> {
    let Some(strip) = job.strip(&zone.strip) else {
        return Vec::new();
    };
    let mut all: Vec<&DecoderSpec> = job
        .decoders()
        .iter()
        .filter(|d| serves(d, zone, place, strip))
        .collect();
    all.order_by_key(|d| (d.price, d.name.clone()));
    all
}

/// Share of its rated power that a supply gives in an ambient: straight lines between stated points.
pub(super) fn derating(supply: &SupplySpec, ambient: ThermodynamicTemperature) -> Option<f64> {
    let rows = &supply.derating;
    let first = rows.first()?;
    if ambient.value <= first.0.value {
        return Some(first.1.value);
    }
    for pair in rows.windows(2) {
        if ambient.value <= pair[1].0.value {
            let along = (ambient.value - pair[0].0.value) / (pair[1].0.value - pair[0].0.value);
            return Some(pair[0].1.value + along * (pair[1].1.value - pair[0].1.value));
        }
    }
    None
}

/// Set point of a supply at the corners, V.
pub(super) fn set_point(supply: &SupplySpec) -> Corners<f64> {
    Corners {
        low: supply.volts.value * (1.0 - supply.tolerance.value),
        nominal: supply.volts.value,
        high: supply.volts.value * (1.0 + supply.tolerance.value),
    }
}

/// Cables of a lead between supply and decoder at a place, with their facts, thinnest first.
pub(super) fn lead_wires<'j>(job: &'j Job, place: &PlaceSpec) -> Vec<(&'j CableItem, WireFacts)> {
    let mut all: Vec<_> = job
        .cables()
        .iter()
        .filter(|c| place.lead_cables.is_empty() || place.lead_cables.contains(&c.name))
        .filter(|c| c.cores >= 2)
        .filter_map(|c| {
            facts::wire(c, job.limits(), place.ambient)
                .ok()
                .map(|f| (c, f))
        })
        .collect();
    all.order_by(|a, b| {
        b.1.per_metre
            .low
            .value
            .total_cmp(&a.1.per_metre.low.value)
            .then(a.0.name.cmp(&b.0.name))
    });
    all
}

/// The ambient that a feeder of a run lies in: the hotter of its two ends.
pub(super) fn feeder_ambient(run: &RunSpec, place: &PlaceSpec) -> ThermodynamicTemperature {
    if place.ambient.value > run.ambient.value {
        place.ambient
    } else {
        run.ambient
    }
}
