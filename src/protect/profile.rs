//! Faults to an earthed profile: plus touching it, a return touching it.
//!
//! With minus earthed (PELV) a plus that touches the earthed profile is a short
//! circuit through the profile and the earth conductor: no decoder can interrupt
//! it, since it bypasses every low-side switch. A return that touches bypasses the
//! switch: the light stays on. With nothing earthed (SELV) a first touch draws
//! nothing and is not seen.

use super::check::Protection;
use super::fault::{Clearing, clearing, fault_current};
use super::fault_rules::{ALTERNATING_CURVE, NO_CURVE, NO_OUTPUT_LIMIT, not_known};
use super::spec::{OutputSpec, ProfileSpec, ProtectionSpec};
use crate::finding::{Case, Finding, Rule};
use crate::source::Source;

const FAULT: Source = Source::computed(
    "V_low over the resistance of output and fault path, limited to what the output delivers",
);
const BYPASS: Source =
    Source::common_practice("a return that touches earthed metal bypasses its low-side switch");

const NO_WAY: Case = Case::open(
    "no-way",
    "plus touching the earthed profile, with minus earthed (PELV)",
    "the resistance of the fault path through profile and earth is not stated",
)
.remedy("a device in plus that trips at the current of this fault");
const EARTH_NOT_KNOWN: Case = Case::open(
    "earth-not-known",
    "plus touching the profile",
    "the label says neither SELV nor PELV, so that minus may be earthed or not",
)
.remedy("read the label of the supply");
const PROFILE_NOT_STATED: Case = Case::open(
    "profile-not-stated",
    "plus touching the profile, with minus earthed (PELV)",
    "whether the profile is connected to earth is not stated",
)
.remedy("state `earthed` of the profile; where it is, a device in plus that trips at the current of this fault");
const MINUS_FREE: Case = Case::plain(
    "minus-free",
    "minus is not earthed: a first fault, plus to profile, draws no current and is not detected; a second, minus to profile, is a short circuit",
);
const PROFILE_FREE: Case = Case::plain(
    "profile-free",
    "the profile is not earthed: a fault of plus makes it live at the circuit voltage and draws no current",
);
const BOTH_FREE: Case = Case::plain(
    "both-free",
    "neither profile nor minus is earthed: a fault of plus draws no current",
);
const BY_OUTPUT: Case = Case::plain(
    "by-output",
    "plus to the earthed profile draws more than the output delivers; the output interrupts it at {figure}",
)
.figure("{figure}");
const BY_DEVICE: Case = Case::plain(
    "by-device",
    "plus to the earthed profile draws {figure}; the device trips within {time}",
)
.figure("{figure}");
const CLOSED: Case = Case::plain(
    "closed",
    "plus to the earthed profile draws {figure}; nothing trips, and no decoder can interrupt it",
)
.figure("{figure}")
.remedy("a device in plus that trips at this current, or a fault path of less resistance");

/// Plus touches the profile.
pub(super) const PLUS: Rule = Rule {
    id: "profile-plus",
    title: "Plus on a profile",
    asks: "What follows when plus touches each metal profile, and does anything trip?",
    source: FAULT,
    needs: &[
        "whether minus and the profile are earthed",
        "the resistance of the fault path through profile and earth",
        "limit and behaviour of the output on overload",
    ],
    cases: &[
        &MINUS_FREE,
        &PROFILE_FREE,
        &BOTH_FREE,
        &BY_OUTPUT,
        &BY_DEVICE,
        &CLOSED,
        &EARTH_NOT_KNOWN,
        &PROFILE_NOT_STATED,
        &NO_WAY,
        &NO_OUTPUT_LIMIT,
        &NO_CURVE,
        &ALTERNATING_CURVE,
    ],
};

const MAY_STAY_LIT: Case = Case::plain(
    "may-stay-lit",
    "where both the profile and minus are earthed, a return that touches the profile bypasses its switch: that emitter stays lit at full",
);
const STAYS_LIT: Case = Case::plain(
    "stays-lit",
    "a return that touches the profile bypasses its switch: that emitter stays lit at full, and its return current flows in the earth conductor",
);
const TWO_RETURNS: Case = Case::plain(
    "two-returns",
    "a return that touches the profile draws nothing by itself; two returns of different emitters that touch it light together",
);

/// A switched return touches the profile.
pub(super) const RETURN: Rule = Rule {
    id: "profile-return",
    title: "A return on a profile",
    asks: "What follows when a switched return touches each metal profile?",
    source: BYPASS,
    needs: &[],
    cases: &[&STAYS_LIT, &MAY_STAY_LIT, &TWO_RETURNS],
};

/// Findings `profile-plus` and `profile-return` of every profile.
pub(super) fn judge(protection: &Protection) -> Vec<Finding> {
    let spec = &protection.0;
    let mut findings = Vec::new();
    for profile in &spec.profiles {
        let Some(output) = spec.outputs.get(profile.output.0) else {
            continue;
        };
        findings.push(plus(spec, profile, output));
        findings.extend(switched_return(profile, output));
    }
    findings
}

fn plus(spec: &ProtectionSpec, profile: &ProfileSpec, output: &OutputSpec) -> Finding {
    let about = profile.about.clone();
    match (profile.earthed, output.minus_earthed) {
        (Some(true), Some(true)) => {}
        (Some(false), Some(false)) => return PLUS.passes(&BOTH_FREE, about),
        (_, Some(false)) => return PLUS.passes(&MINUS_FREE, about),
        (Some(false), _) => return PLUS.passes(&PROFILE_FREE, about),
        (None, Some(true)) => return PLUS.not_evaluated(&PROFILE_NOT_STATED, about),
        (_, None) => return PLUS.not_evaluated(&EARTH_NOT_KNOWN, about),
    }
    let Some(way) = profile.fault_way else {
        return PLUS.not_evaluated(&NO_WAY, about);
    };
    let device = profile.device.and_then(|id| spec.devices.get(id.0));
    let fault = fault_current(output, output.volts_low, way);
    let current = fault.current();
    match clearing(device, fault) {
        Clearing::ByOutput => PLUS.passes(&BY_OUTPUT, about).figure(current),
        Clearing::ByDevice(time) => PLUS
            .passes(&BY_DEVICE, about)
            .figure(current)
            .fact("time", time),
        Clearing::Never => PLUS.fails(&CLOSED, about).figure(current),
        Clearing::NotEvaluated(missing) => not_known(&PLUS, about, missing, device, fault),
    }
}

fn switched_return(profile: &ProfileSpec, output: &OutputSpec) -> Option<Finding> {
    let case = match (profile.earthed, output.minus_earthed) {
        (Some(true), Some(true)) => &STAYS_LIT,
        (Some(false), _) | (_, Some(false)) => &TWO_RETURNS,
        _ => &MAY_STAY_LIT,
    };
    profile
        .switched_returns
        .then(|| RETURN.passes(case, profile.about.clone()))
}
