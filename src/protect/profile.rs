//! Faults to an earthed profile: plus touching it, a return touching it.
//!
//! With minus earthed (PELV) a plus that touches the earthed profile is a short
//! circuit through the profile and the earth conductor: no decoder can interrupt
//! it, since it bypasses every low-side switch. A return that touches bypasses the
//! switch: the light stays on. With nothing earthed (SELV) a first touch draws
//! nothing and is not seen.

use super::check::Protection;
use super::fault::{Clearing, clearing, fault_current};
use super::spec::ProfileSpec;
use crate::finding::plain::Finding;
use crate::quantity::{amps, seconds, show};
use crate::source::Source;

const FAULT: Source = Source::computed(
    "V_low over output resistance plus the way of the fault, held to what the output gives",
);
const RETURN: Source =
    Source::common_practice("a return that touches earthed metal bypasses its low-side switch");

/// Findings `profile-plus` and `profile-return` of every profile.
pub(super) fn judge(protection: &Protection) -> Vec<Finding> {
    let spec = &protection.0;
    let mut findings = Vec::new();
    for profile in &spec.profiles {
        let Some(output) = spec.outputs.get(profile.output.0) else {
            continue;
        };
        let through_earth = profile.earthed && output.minus_earthed;
        findings.push(if through_earth {
            plus(protection, profile)
        } else {
            let why = match (profile.earthed, output.minus_earthed) {
                (true, false) => "minus is not earthed: a first touch of plus draws no current and is not seen; a second, at minus, is a short circuit through the profile",
                (false, true) => "the profile is not earthed: a touch of plus makes it live at the circuit's voltage and draws nothing",
                _ => "neither profile nor minus is earthed: a touch of plus draws nothing",
            };
            Finding::pass("profile-plus", &profile.name).says(why).source(FAULT)
        });
        if profile.switched_returns {
            let says = if through_earth {
                "a return that touches the profile bypasses its switch: that emitter stays lit at full, and its return current flows in the earth conductor"
            } else {
                "a return that touches the profile draws nothing by itself; two returns of different emitters that touch it light together"
            };
            findings.push(
                Finding::pass("profile-return", &profile.name)
                    .says(says)
                    .source(RETURN),
            );
        }
    }
    findings
}

fn plus(protection: &Protection, profile: &ProfileSpec) -> Finding {
    let spec = &protection.0;
    let id = "profile-plus";
    let place = profile.name.as_str();
    let (Some(output), Some(way)) = (spec.outputs.get(profile.output.0), profile.fault_way) else {
        return Finding::not_evaluated(
            id,
            place,
            "the resistance of the way through profile and earth is not stated",
        )
        .source(FAULT);
    };
    let device = profile.device.and_then(|id| spec.devices.get(id.0));
    let fault = fault_current(output, output.volts_low, way);
    let figure = show(amps(fault.amps()));
    let finding = match clearing(device, fault) {
        Clearing::ByOutput => Finding::pass(id, place).says(format!(
            "plus to the earthed profile draws more than the output gives; the output interrupts it at {figure}"
        )),
        Clearing::ByDevice(time) => Finding::pass(id, place).says(format!(
            "plus to the earthed profile draws {figure}; the device opens within {}",
            show(seconds(time))
        )),
        Clearing::Never => Finding::fail(id, place)
            .says(format!(
                "plus to the earthed profile draws {figure}; nothing opens, and no decoder can interrupt it"
            ))
            .remedy("a device in plus that opens at this current, or a fault way of less resistance"),
        Clearing::NotEvaluated(reason) => Finding::not_evaluated(id, place, reason),
    };
    finding.figure(figure).source(FAULT)
}
