//! Which kinds of supply, decoder and lead cable may serve a zone from a place, and how they stand there.

use super::facts::{self, WireFacts};
use super::lacks::serves;
use crate::device::{DecoderSpec, SupplySpec};
use crate::job::Job;
use crate::job::spec::{CableItem, Control, PlaceSpec, RunSpec, StripSpec, ZoneSpec};
use crate::order::Order as _;
use crate::quantity::{Corners, ElectricCurrent, ThermodynamicTemperature, amps};
use crate::rules::strip_overvoltage;

/// Set points within this share of the rated voltage count as the same voltage (an assumption of this library).
const SAME_VOLTAGE: f64 = 0.05;

/// Those that bear what stands beside them, and what is installed there; all where none bears it: then a rule says so.
fn preferred<'j, T>(
    job: &Job,
    place: &PlaceSpec,
    all: Vec<&'j T>,
    name: impl Fn(&T) -> &str,
    bears: impl Fn(&T) -> bool,
) -> Vec<&'j T> {
    if !all.iter().any(|kind| bears(kind)) {
        return all;
    }
    let there = |kind: &T| {
        let mut own = job.installed().iter();
        own.any(|own| own.place == place.name && own.kind.name() == name(kind))
    };
    let mut all = all;
    all.retain(|kind| bears(kind) || there(kind));
    all
}

/// Kinds of supply that may feed a zone from a place.
pub(super) fn supplies<'j>(
    job: &'j Job,
    zone: &ZoneSpec,
    place: &PlaceSpec,
) -> Vec<&'j SupplySpec> {
    let Some(strip) = job.strip(&zone.strip) else {
        return Vec::new();
    };
    let all = job
        .supplies()
        .iter()
        .filter(|s| named(&zone.supplies, &s.name) && named(&place.supplies, &s.name))
        .filter(|s| same_voltage(s, strip))
        .collect();
    let bears = |s: &SupplySpec| strip_overvoltage::bears(strip, s);
    preferred(job, place, all, |s| &s.name, bears)
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
    let all: Vec<&DecoderSpec> = job
        .decoders()
        .iter()
        .filter(|d| serves(d, zone, place, strip))
        .collect();
    let supplies = supplies(job, zone, place).into_iter();
    let most = supplies.map(|s| s.highest_settable().value);
    let most = most.fold(0.0, f64::max);
    let bears = |d: &DecoderSpec| d.volts.1.value >= most;
    let mut all = preferred(job, place, all, |d| &d.name, bears);
    all.order_by_key(|d| (d.price, d.name.clone()));
    all
}

/// Share of its rated power that a supply gives in an ambient.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Derated {
    pub share: f64,
    /// Whether its points reach to this ambient; if not, the share is taken and a rule says so.
    pub stated: bool,
}

/// Straight lines between the stated points; the first point's share below it, the last point's above it; full
/// power where none is stated.
pub(super) fn derating(supply: &SupplySpec, ambient: ThermodynamicTemperature) -> Derated {
    let rows = &supply.derating;
    let stated = |share| Derated {
        share,
        stated: true,
    };
    let open = |share| Derated {
        share,
        stated: false,
    };
    let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
        return open(1.0);
    };
    if ambient.value <= first.0.value {
        return stated(first.1.value);
    }
    for pair in rows.windows(2) {
        if ambient.value <= pair[1].0.value {
            let along = (ambient.value - pair[0].0.value) / (pair[1].0.value - pair[0].0.value);
            return stated(pair[0].1.value + along * (pair[1].1.value - pair[0].1.value));
        }
    }
    open(last.1.value)
}

/// Set point of a supply at the corners, V.
pub(super) fn set_point(supply: &SupplySpec) -> Corners<f64> {
    Corners {
        low: supply.volts.value * (1.0 - supply.tolerance.value),
        nominal: supply.volts.value,
        high: supply.volts.value * (1.0 + supply.tolerance.value),
    }
}

/// Greatest current of the lead of a decoder of a zone at a place: what an output of a supply gives at most.
pub(super) fn lead_current(job: &Job, zone: &ZoneSpec, place: &PlaceSpec) -> ElectricCurrent {
    let all = supplies(job, zone, place);
    let most = all.iter().map(|s| s.output_current.value);
    let Some(most) = most.reduce(f64::max) else {
        return amps(f64::INFINITY);
    };
    let Control::Dmx { .. } = zone.control else {
        return amps(most);
    };
    let decoders = decoders(job, zone, place);
    let whole = decoders
        .iter()
        .map(|d| d.total_current.value.min(d.terminal_current.value));
    amps(most.min(whole.reduce(f64::max).unwrap_or(f64::INFINITY)))
}

/// Greatest current of a core of a feeder: that of a lead, of the outputs of a decoder together, and what one
/// connection to the tape and one core may carry.
pub(super) fn feeder_current(job: &Job, zone: &ZoneSpec, place: &PlaceSpec) -> ElectricCurrent {
    let strip = job.strip(&zone.strip);
    let limits = job.limits();
    let mut most = lead_current(job, zone, place).value;
    if let Control::Dmx { .. } = zone.control {
        let outputs = decoders(job, zone, place);
        let outputs = outputs.iter().map(|d| d.output_current.value);
        let emitters = strip.map_or(1, |s| s.emitters.len().max(1)) as f64;
        most = most.min(emitters * outputs.reduce(f64::max).unwrap_or(f64::INFINITY));
    }
    let stated = [
        strip.and_then(|s| s.pad_current),
        limits.connector_current,
        limits.core_current,
    ];
    amps(
        stated
            .into_iter()
            .flatten()
            .map(|a| a.value)
            .fold(most, f64::min),
    )
}

/// Cables of a lead between supply and decoder of a zone at a place, with their facts, thinnest first.
pub(super) fn lead_wires<'j>(
    job: &'j Job,
    zone: &ZoneSpec,
    place: &PlaceSpec,
) -> Vec<(&'j CableItem, WireFacts)> {
    let most = lead_current(job, zone, place);
    let mut all: Vec<_> = job
        .cables()
        .iter()
        .filter(|c| place.lead_cables.is_empty() || place.lead_cables.contains(&c.name))
        .filter(|c| c.cores >= 2)
        .filter_map(|c| {
            facts::wire(c, job.limits(), place.ambient, most)
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
