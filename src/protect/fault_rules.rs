//! Rules on the short circuits of one conductor: cleared, borne, broken.

use super::conductor::{ConductorFacts, Faults};
use super::fault::{
    ADIABATIC_TO_SECONDS, Clearing, FaultCurrent, Missing, adiabatic_time, clearing, time_on_curve,
};
use super::spec::{DeviceSpec, HeatLimit};
use crate::finding::{Case, Finding, Rule, Subject, Value};
use crate::quantity::{ElectricCurrent, Seconds, Time, seconds, volts};
use crate::source::{Source, documents};

/// Short circuits.
pub const SHORT_CIRCUIT: Source = documents::IEC_60364_4_43
    .at("434.5.2: t = (k S / I)^2")
    .from_memory();
const BREAKING_CAPACITY: Source = Source::label("breaking capacity of the device for dc");
const DC_RATING: Source = Source::label("rated voltage of the device for dc");

const CURVE: &str = "a time-current curve of the device for direct current";

/// Why it cannot be said whether a short circuit is cleared. What resistance alone would allow is no figure: the
/// output may give far less.
pub(super) const NO_OUTPUT_LIMIT: Case = Case::open(
    "no-output-limit",
    "",
    "the short-circuit current of the output is not stated: its limit and behaviour on overload are needed",
)
.figure("unknown");
pub(super) const NO_CURVE: Case = Case::open(
    "no-curve",
    "",
    "no time-current curve for direct current was supplied for {device}",
)
.figure("{figure}");
pub(super) const ALTERNATING_CURVE: Case = Case::open(
    "alternating-curve",
    "",
    "the curve of {device} is for alternating current and does not hold for direct current",
)
.figure("{figure}");

/// That it cannot be said whether a short circuit of `rule` is cleared. The rule has the three cases above.
pub(super) fn not_known(
    rule: &Rule,
    about: Subject,
    missing: Missing,
    device: Option<&DeviceSpec>,
    fault: FaultCurrent,
) -> Finding {
    let case = match missing {
        Missing::OutputLimit => &NO_OUTPUT_LIMIT,
        Missing::Curve => &NO_CURVE,
        Missing::DirectCurrentCurve => &ALTERNATING_CURVE,
    };
    let finding = rule.not_evaluated(case, about);
    let finding = match fault.known() {
        Some(current) => finding.figure(current),
        None => finding,
    };
    match device {
        Some(device) => finding.fact("device", Value::name(&*device.name)),
        None => finding,
    }
}

const BY_OUTPUT: Case = Case::plain(
    "by-output",
    "a short circuit at the far end is interrupted by the output itself at {figure}; no device trips, and the output may restart",
)
.figure("{figure}");
const BORNE: Case = Case::plain(
    "borne",
    "a short circuit at the far end draws {figure}, within the continuous rating of the conductor",
)
.figure("{figure}");
const BORNE_AT_MOST: Case = Case::plain(
    "borne-at-most",
    "a short circuit at the far end draws {figure} at most, within the continuous rating of the conductor",
)
.figure("at most {figure}");
const BORNE_CLOSED: Case = Case::plain(
    "borne-closed",
    "a short circuit at the far end draws {figure}; nothing trips, and it is within the continuous rating of the conductor",
)
.figure("{figure}");
const CLOSED_NO_AMPACITY: Case = Case::open(
    "closed-no-ampacity",
    "a short circuit at the far end draws {figure}, and nothing trips",
    "no ampacity is known to compare it with the continuous rating of the conductor",
)
.figure("{figure}");
const CLOSED: Case = Case::plain(
    "closed",
    "a short circuit at the far end draws {figure}, and nothing trips",
)
.figure("{figure}")
.remedy("a device that trips at this current, or a shorter or larger conductor");
const NO_HEAT: Case = Case::open(
    "no-heat-limit",
    "",
    "the device trips within {time}, but k and area of the conductor are not stated",
)
.figure("{figure}");
const SLOW: Case = Case::open(
    "slow",
    "",
    "{device} trips only after {time}, longer than the {longest} that t = (k S / I)² is used for",
)
.figure("{far}");
/// The figure that is judged is the time; beside it stands the current of a short circuit at the far end.
const CLEARED: Case = Case::judged(
    "cleared",
    "a short circuit of {current} is cleared within {figure}; the insulation withstands it for {limit}",
)
.figure("{far}")
.remedy("a faster device, or a larger conductor");

/// The current at the near end has no bound, so no time is short enough.
const CLEARED_NO_LIMIT: Case = Case::judged(
    "cleared-no-limit",
    "nothing stated limits a short circuit at the near end: cleared within {figure}, it may still exceed what the insulation withstands",
)
.figure("{far}")
.limit("")
.remedy("state the limit of the output and its behaviour on overload, or the resistance of the loop");

/// A short circuit at either end: interrupted, borne, or cleared in time.
pub(super) const FAULT: Rule = Rule {
    id: "conductor-fault",
    title: "Short circuit of a conductor",
    asks: "Is a short circuit at either end interrupted by the output, within the continuous rating of the conductor, or cleared before the insulation is damaged?",
    source: SHORT_CIRCUIT,
    needs: &[
        "the loop resistance of a short circuit",
        "limit and behaviour of the output on overload",
        CURVE,
        "k and area of the conductor",
    ],
    cases: &[
        &BY_OUTPUT,
        &BORNE,
        &BORNE_AT_MOST,
        &BORNE_CLOSED,
        &CLOSED,
        &CLEARED,
        &CLEARED_NO_LIMIT,
        &CLOSED_NO_AMPACITY,
        &NO_OUTPUT_LIMIT,
        &NO_CURVE,
        &ALTERNATING_CURVE,
        &NO_HEAT,
        &SLOW,
    ],
};

pub(super) fn fault(facts: &ConductorFacts<'_>, faults: Faults) -> Finding {
    let about = facts.about();
    let least = faults.least.current();
    let within = |current: ElectricCurrent| facts.iz.is_some_and(|iz| current <= iz);
    let held = facts.most.filter(|most| within(*most));
    let case = match (clearing(facts.device, faults.least), faults.least.known()) {
        (Clearing::ByOutput, _) => FAULT.passes(&BY_OUTPUT, about),
        (_, Some(least)) if held.is_some() && within(least) => FAULT.passes(&BORNE, about),
        (Clearing::NotEvaluated(missing), None) => {
            let Some(most) = held else {
                return not_known(&FAULT, about, missing, facts.device, faults.least);
            };
            let most = if most < least { most } else { least };
            return FAULT.passes(&BORNE_AT_MOST, about).figure(most);
        }
        (Clearing::NotEvaluated(missing), _) => {
            return not_known(&FAULT, about, missing, facts.device, faults.least);
        }
        (Clearing::Never, _) if within(least) => FAULT.passes(&BORNE_CLOSED, about),
        (Clearing::Never, _) if facts.iz.is_none() => {
            FAULT.not_evaluated(&CLOSED_NO_AMPACITY, about)
        }
        (Clearing::Never, _) => FAULT.fails(&CLOSED, about),
        (Clearing::ByDevice(time), _) => return insulation(facts, faults, time),
    };
    case.figure(least)
}

/// The device opens after `time`: does the insulation bear it at both ends of the current range?
fn insulation(facts: &ConductorFacts<'_>, faults: Faults, time: Seconds) -> Finding {
    let least = faults.least.current();
    let Some(heat) = &facts.conductor.heat else {
        return FAULT
            .not_evaluated(&NO_HEAT, facts.about())
            .figure(least)
            .fact("time", time);
    };
    let far = borne(facts, heat, least, time.0);
    let near_time = facts
        .device
        .and_then(|device| device.curve.as_ref())
        .and_then(|curve| time_on_curve(curve, faults.greatest))
        .unwrap_or(time.0);
    let near = borne(facts, heat, faults.greatest, near_time);
    let worse = if far.is_fail() || !near.is_fail() {
        far
    } else {
        near
    };
    worse.fact("far", least)
}

fn borne(
    facts: &ConductorFacts<'_>,
    heat: &HeatLimit,
    current: ElectricCurrent,
    time: Time,
) -> Finding {
    let longest = seconds(ADIABATIC_TO_SECONDS);
    if time <= longest {
        let bears = adiabatic_time(heat, current);
        let case = if current.is_finite() {
            &CLEARED
        } else {
            &CLEARED_NO_LIMIT
        };
        return FAULT
            .at_most(case, facts.about(), time, bears)
            .fact("current", current);
    }
    let device = facts
        .device
        .map_or("the device", |device| device.name.as_str());
    FAULT
        .not_evaluated(&SLOW, facts.about())
        .fact("device", Value::name(device))
        .fact("time", time)
        .fact("longest", longest)
}

const BREAKS: Case = Case::judged(
    "breaks",
    "greatest fault {figure} against {limit} that {device} breaks",
)
.remedy("a device of a higher breaking capacity");
const BREAKS_NO_LIMIT: Case = Case::judged(
    "breaks-no-limit",
    "nothing stated limits the greatest fault, against {limit} that {device} breaks",
)
.figure("no limit stated")
.remedy("a device of a higher breaking capacity");
const NO_CAPACITY: Case = Case::open(
    "no-capacity",
    "",
    "the breaking capacity of {device} for dc is not stated",
)
.figure("{figure}");
const NO_CAPACITY_NO_LIMIT: Case = Case::open(
    "no-capacity-no-limit",
    "",
    "the breaking capacity of {device} for dc is not stated",
)
.figure("no limit stated");

/// Greatest fault current against the breaking capacity of the device.
pub(super) const BREAKING: Rule = Rule {
    id: "device-breaking",
    title: "Breaking capacity of a device",
    asks: "Is the greatest fault current behind each device within its breaking capacity for direct current?",
    source: BREAKING_CAPACITY,
    needs: &["the breaking capacity of the device for dc"],
    cases: &[
        &BREAKS,
        &BREAKS_NO_LIMIT,
        &NO_CAPACITY,
        &NO_CAPACITY_NO_LIMIT,
    ],
};

pub(super) fn breaking(
    facts: &ConductorFacts<'_>,
    device: &DeviceSpec,
    greatest: ElectricCurrent,
) -> Finding {
    let about = facts.about();
    let (known, unknown) = if greatest.is_finite() {
        (&BREAKS, &NO_CAPACITY)
    } else {
        (&BREAKS_NO_LIMIT, &NO_CAPACITY_NO_LIMIT)
    };
    match device.breaking {
        Some(capacity) => BREAKING.at_most(known, about, greatest, capacity),
        None => BREAKING.not_evaluated(unknown, about).figure(greatest),
    }
    .fact("device", Value::name(&*device.name))
}

const VOLTAGE: Case = Case::judged(
    "voltage",
    "highest voltage {figure} against {limit} of {device}",
)
.remedy("a device rated for this dc voltage");
const NO_RATING: Case = Case::open(
    "no-rating",
    "",
    "the dc voltage rating of {device} is not stated; an ac rating does not stand for it",
)
.figure("{figure}");

/// Highest voltage against the dc rating of the device.
pub(super) const DC_VOLTAGE: Rule = Rule {
    id: "device-dc-voltage",
    title: "Direct voltage of a device",
    asks: "Is the highest voltage at each device within its rating for direct current?",
    source: DC_RATING,
    needs: &["the rated voltage of the device for dc"],
    cases: &[&VOLTAGE, &NO_RATING],
};

pub(super) fn dc_voltage(facts: &ConductorFacts<'_>, device: &DeviceSpec) -> Finding {
    let high = facts
        .outputs
        .iter()
        .map(|output| output.volts_high)
        .fold(volts(0.0), |a, b| if b > a { b } else { a });
    match device.dc_volts {
        Some(rated) => DC_VOLTAGE.at_most(&VOLTAGE, facts.about(), high, rated),
        None => DC_VOLTAGE
            .not_evaluated(&NO_RATING, facts.about())
            .figure(high),
    }
    .fact("device", Value::name(&*device.name))
}
