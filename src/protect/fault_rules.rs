//! Rules on the short circuits of one conductor: cleared, borne, broken.

use super::conductor_rules::{Case, SHORT_CIRCUIT};
use super::fault::{
    ADIABATIC_TO_SECONDS, Clearing, FaultCurrent, adiabatic_time, clearing, fault_current,
};
use super::spec::HeatLimit;
use crate::finding::plain::Finding;
use crate::quantity::{amps, seconds, show};
use crate::source::Source;

impl Case<'_> {
    /// Least fault of any one output, greatest of all together.
    pub fn faults(&self) -> Option<(FaultCurrent, f64)> {
        let fault_loop = self.conductor.fault_loop?;
        let least = self
            .outputs
            .iter()
            .map(|output| fault_current(output, output.volts_low, fault_loop.far_hot))
            .min_by(|a, b| a.amps().total_cmp(&b.amps()))?;
        let greatest: f64 = self
            .outputs
            .iter()
            .map(|output| fault_current(output, output.volts_high, fault_loop.near_cold).amps())
            .sum();
        Some((least, greatest))
    }

    pub fn cleared(&self, least: FaultCurrent, greatest: f64) -> Finding {
        let id = "conductor-fault";
        let place = self.place();
        let current = show(amps(least.amps()));
        let bearable = self.iz.is_some_and(|iz| least.amps() <= iz);
        let finding = match clearing(self.device, least) {
            Clearing::ByOutput => Finding::pass(id, place).says(format!(
                "a far short circuit is interrupted by the output itself at {current}; no device opens, and the output may try again"
            )),
            _ if bearable && self.most.is_some_and(|most| self.iz.is_some_and(|iz| most <= iz)) => {
                Finding::pass(id, place).says(format!(
                    "a far short circuit draws {current}, which the conductor may carry for ever"
                ))
            }
            Clearing::NotEvaluated(reason) => Finding::not_evaluated(id, place, reason),
            Clearing::Never if bearable => Finding::pass(id, place).says(format!(
                "a far short circuit draws {current}; nothing opens, and the conductor may carry it for ever"
            )),
            Clearing::Never if self.iz.is_none() => Finding::not_evaluated(
                id,
                place,
                "no ampacity is known, so whether the conductor bears it for ever is not known",
            )
            .says(format!("a far short circuit draws {current}, and nothing opens")),
            Clearing::Never => Finding::fail(id, place)
                .says(format!("a far short circuit draws {current}, and nothing opens"))
                .remedy("a device that opens at this current, a shorter or thicker conductor"),
            Clearing::ByDevice(time) => self.heat_borne(least.amps(), greatest, time),
        };
        finding.figure(current).source(SHORT_CIRCUIT)
    }

    /// The device opens after `time`: does the insulation bear it at both ends of the current range?
    fn heat_borne(&self, least: f64, greatest: f64, time: f64) -> Finding {
        let id = "conductor-fault";
        let place = self.place();
        let Some(heat) = &self.conductor.heat else {
            return Finding::not_evaluated(
                id,
                place,
                format!(
                    "the device opens within {}, but k and area of the conductor are not stated",
                    show(seconds(time))
                ),
            );
        };
        let far = self.borne(heat, least, time);
        let near_time = self
            .device
            .and_then(|device| device.curve.as_ref())
            .and_then(|curve| super::fault::time_on_curve(curve, amps(greatest)))
            .map_or(time, |t| t.value);
        let near = self.borne(heat, greatest, near_time);
        if far.is_fail() || !near.is_fail() {
            far
        } else {
            near
        }
    }

    fn borne(&self, heat: &HeatLimit, current: f64, time: f64) -> Finding {
        let id = "conductor-fault";
        let bears = adiabatic_time(heat, amps(current)).value;
        if !(time <= ADIABATIC_TO_SECONDS) {
            return Finding::not_evaluated(
                id,
                self.place(),
                format!(
                    "{} opens only after {}, longer than the {ADIABATIC_TO_SECONDS} s that t = (k S / I)² is used for",
                    self.device.map_or("the device", |d| d.name.as_str()),
                    show(seconds(time))
                ),
            );
        }
        Finding::judged_at_most(id, self.place(), time, bears)
            .says(format!(
                "a short circuit of {} is cleared within {}; the insulation bears it for {}",
                show(amps(current)),
                show(seconds(time)),
                show(seconds(bears))
            ))
            .limit(show(seconds(bears)))
            .remedy("a faster device, or a thicker conductor")
    }

    pub fn breaking(&self, greatest: f64) -> Vec<Finding> {
        let Some(device) = self.device else {
            return Vec::new();
        };
        let mut out = Vec::new();
        let id = "device-breaking";
        let figure = show(amps(greatest));
        out.push(match device.breaking {
            Some(capacity) => Finding::judged_at_most(id, self.place(), greatest, capacity.value)
                .says(format!(
                    "greatest fault {figure} against {} that {} breaks",
                    show(capacity),
                    device.name
                ))
                .figure(figure)
                .limit(show(capacity))
                .source(Source::data_sheet("breaking capacity of the device for dc"))
                .remedy("a device of a higher breaking capacity"),
            None => Finding::not_evaluated(
                id,
                self.place(),
                format!(
                    "the breaking capacity of {} for dc is not stated",
                    device.name
                ),
            )
            .figure(figure)
            .source(Source::data_sheet("breaking capacity of the device for dc")),
        });
        let high = self.outputs.iter().map(|output| output.volts_high).fold(
            crate::quantity::volts(0.0),
            |a, b| if b > a { b } else { a },
        );
        let id = "device-dc-voltage";
        out.push(match device.dc_volts {
            Some(rated) => Finding::judged_at_most(id, self.place(), high.value, rated.value)
                .says(format!(
                    "highest voltage {} against {} of {}",
                    show(high),
                    show(rated),
                    device.name
                ))
                .figure(show(high))
                .limit(show(rated))
                .source(Source::data_sheet("rated voltage of the device for dc"))
                .remedy("a device rated for this dc voltage"),
            None => Finding::not_evaluated(
                id,
                self.place(),
                format!(
                    "the dc voltage rating of {} is not stated; an ac rating does not stand for it",
                    device.name
                ),
            )
            .figure(show(high))
            .source(Source::data_sheet("rated voltage of the device for dc")),
        });
        out
    }
}
