//! Rules on outputs: the label against the power-limit tables, standing alone, paralleling.

use super::check::Protection;
use super::class2::power_limits;
use super::classes::{Classes, may_stay_joined};
use super::joins::Tied;
use super::spec::{OutputId, OutputSpec};
use super::tables::power_limits::{Limited, Rule};
use super::voltage::judge_class_2_voltage;
use crate::device::EnergyLimit;
use crate::finding::plain::Finding;
use crate::quantity::{Frequency, amps, hertz, show, watts};
use crate::source::Source;
use std::collections::BTreeSet;

/// Interconnection of Class 2 outputs.
pub const INTERCONNECTION: Source = Source::standard(
    "National Electrical Code",
    "NFPA 70-2017",
    "725.121(B) (2023: 725.60)",
);
/// Supplies side by side.
const PARALLELING: Source = Source::common_practice(
    "outputs are paralleled only where their maker states a parallel mode: a set point 1 % apart sends nearly all current through one of them",
);

/// Fed from two sides.
const DOUBLE_FEEDING: Source = Source::common_practice(
    "what is fed from two supplies is labelled as such and disconnected at one point",
);

/// All findings about outputs.
pub(super) fn judge(protection: &Protection, tied: &[Tied], classes: &Classes) -> Vec<Finding> {
    let spec = &protection.0;
    let mut findings = Vec::new();
    for (k, output) in spec.outputs.iter().enumerate() {
        let bound = tied.iter().find(|t| t.output == k);
        let rule = match output.energy {
            EnergyLimit::Class2 => Some(Rule::Class2Dc),
            EnergyLimit::LimitedPower => Some(Rule::LimitedPowerDc),
            EnergyLimit::None | EnergyLimit::Unknown => None,
        };
        if let Some(rule) = rule {
            findings.extend(label(output, rule));
            findings.push(alone(&spec.outputs, output, bound));
        }
        if let Some(tied) = bound.filter(|tied| tied.paralleled) {
            findings.push(paralleled(&spec.outputs, output, tied));
            findings.extend(stays_live(&spec.outputs, output, tied));
        }
        if output.energy == EnergyLimit::Unknown {
            findings.push(
                Finding::not_evaluated(
                    "energy-class",
                    &output.name,
                    "the energy class on the label is not stated; it counts as none",
                )
                .says("read the label: Class 2, limited power, or neither")
                .source(Source::data_sheet("label of the supply")),
            );
        }
    }
    findings.extend(voltages(protection, classes));
    findings
}

/// The label against the table at the highest voltage: nameplate and short-circuit current.
fn label(output: &OutputSpec, rule: Rule) -> Vec<Finding> {
    let place = output.name.as_str();
    let called = output.energy.word();
    let high = show(output.volts_high);
    let limits = match power_limits(rule, Limited::Inherently, output.volts_high) {
        Ok(limits) => limits,
        Err(error) => {
            return vec![
                Finding::fail("class-2-nameplate", place)
                    .says(format!("labelled {called}, but {error}"))
                    .figure(high)
                    .source(super::tables::power_limits::TABLE.source)
                    .remedy("check the label and the highest voltage that the trimmer reaches"),
            ];
        }
    };
    let mut out = Vec::new();
    if let Some(most) = limits.nameplate_current {
        out.push(
            Finding::judged_at_most("class-2-nameplate", place, output.rated.value, most)
                .says(format!(
                    "labelled {called}; nameplate {} against {} at {high}, the highest it can be set to",
                    show(output.rated),
                    show(amps(most))
                ))
                .figure(show(output.rated))
                .limit(show(amps(most)))
                .source(limits.source.clone())
                .remedy("check the label; block the trimmer; or count the output as not limited"),
        );
    }
    if let (Some(power), Some(most)) = (output.nameplate, limits.nameplate_power) {
        out.push(
            Finding::judged_at_most("class-2-nameplate-power", place, power.value, most)
                .says(format!(
                    "labelled {called}; nameplate {} against {} at {high}",
                    show(power),
                    show(watts(most))
                ))
                .figure(show(power))
                .limit(show(watts(most)))
                .source(limits.source.clone())
                .remedy("check the label; or count the output as not limited"),
        );
    }
    out.push(short_circuit(output, rule, called));
    out
}

fn short_circuit(output: &OutputSpec, rule: Rule, called: &str) -> Finding {
    let place = output.name.as_str();
    let id = "class-2-short-circuit";
    let by_device = power_limits(rule, Limited::ByDevice, output.volts_high).ok();
    let inherently = power_limits(rule, Limited::Inherently, output.volts_high).ok();
    let Some(limit) = output.limit else {
        return Finding::not_evaluated(
            id,
            place,
            "the greatest current into a short circuit is not stated; the label is believed",
        )
        .source(inherently.map_or(super::tables::power_limits::TABLE.source, |l| l.source));
    };
    let own = inherently.as_ref().and_then(|l| l.current).unwrap_or(0.0);
    let with_device = by_device.as_ref().and_then(|l| l.current).unwrap_or(0.0);
    let source = inherently.map_or(super::tables::power_limits::TABLE.source, |l| l.source);
    if limit.value > own && limit.value <= with_device {
        let device = by_device.and_then(|l| l.device).unwrap_or(0.0);
        return Finding::not_evaluated(
            id,
            place,
            format!(
                "{} is more than an inherently limited {called} source may give ({}); it can be one only with an overcurrent device of {} at most inside, which the label must show",
                show(limit),
                show(amps(own)),
                show(amps(device))
            ),
        )
        .figure(show(limit))
        .limit(show(amps(own)))
        .source(source);
    }
    Finding::judged_at_most(id, place, limit.value, own)
        .says(format!(
            "labelled {called}; greatest current {} against {}",
            show(limit),
            show(amps(own))
        ))
        .figure(show(limit))
        .limit(show(amps(own)))
        .source(source)
        .remedy("check the label; count the output as not limited")
}

fn names(outputs: &[OutputSpec], tied: &Tied) -> String {
    let names: Vec<&str> = tied
        .with
        .iter()
        .filter_map(|&k| outputs.get(k))
        .map(|o| o.name.as_str())
        .collect();
    names.join(", ")
}

fn way(tied: &Tied) -> String {
    match tied.through.len() {
        0 => String::new(),
        n if n <= 6 => format!(" through {}", tied.through.join(", ")),
        n => {
            let first: Vec<&str> = tied.through.iter().take(5).map(String::as_str).collect();
            format!(" through {} and {} more", first.join(", "), n - 5)
        }
    }
}

/// A power-limited output stands alone, or is marked for joining with all it is joined to.
fn alone(outputs: &[OutputSpec], output: &OutputSpec, tied: Option<&Tied>) -> Finding {
    let called = output.energy.word();
    let finding = match tied {
        None => Finding::pass("class-2-alone", &output.name)
            .says(format!("no copper ties this {called} output to another output")),
        Some(tied) if may_stay_joined(outputs, tied) => Finding::pass("class-2-alone", &output.name)
            .says(format!(
                "tied to {}{}; the labels allow it",
                names(outputs, tied),
                way(tied)
            )),
        Some(tied) => Finding::fail("class-2-alone", &output.name)
            .says(format!(
                "this {called} output is tied to {}{}: what they feed together is not {called}",
                names(outputs, tied),
                way(tied)
            ))
            .remedy("cut the tape between the feeds, or keep each output's conductors apart, plus, minus and data common; or use outputs marked for interconnection"),
    };
    finding.limit("alone").source(INTERCONNECTION)
}

fn paralleled(outputs: &[OutputSpec], output: &OutputSpec, tied: &Tied) -> Finding {
    let id = "outputs-paralleled";
    let finding = if may_stay_joined(outputs, tied) {
        Finding::pass(id, &output.name).says(format!(
            "plus joined with {}{}; a parallel mode is declared",
            names(outputs, tied),
            way(tied)
        ))
    } else {
        Finding::fail(id, &output.name)
            .says(format!(
                "plus joined with {}{}",
                names(outputs, tied),
                way(tied)
            ))
            .remedy("break plus between them, or use supplies with a declared parallel mode")
    };
    finding.source(PARALLELING)
}

/// Copper fed from two supplies stays live with one of them off; one point of disconnection is not in the facts.
fn stays_live(outputs: &[OutputSpec], output: &OutputSpec, tied: &Tied) -> Option<Finding> {
    let others = || tied.with.iter().filter_map(|&k| outputs.get(k));
    others().any(|other| other.unit != output.unit).then(|| {
        Finding::not_evaluated(
            "output-stays-live",
            &output.name,
            "whether one point disconnects all of its supplies is not stated",
        )
        .says(format!(
            "with this output off, what it feeds stays live from {}{}",
            names(outputs, tied),
            way(tied)
        ))
        .source(DOUBLE_FEEDING)
        .remedy("label both ends, list it among the isolations, and give the zone one point of disconnection")
    })
}

/// Class 2 circuits against the voltage for their place and waveform: one answer per output and condition met.
fn voltages(protection: &Protection, classes: &Classes) -> Vec<Finding> {
    let spec = &protection.0;
    let mut met: Vec<BTreeSet<(bool, bool)>> =
        vec![BTreeSet::from([(false, false)]); spec.outputs.len()];
    let slow = |f: Frequency| {
        (super::voltage::INTERRUPTED_FROM_HZ..=super::voltage::INTERRUPTED_TO_HZ).contains(&f.value)
    };
    for conductor in &spec.conductors {
        let condition = (conductor.wet, conductor.chopped.is_some_and(slow));
        for OutputId(k) in classes.feeding(conductor) {
            if let Some(set) = met.get_mut(k) {
                set.insert(condition);
            }
        }
    }
    let mut findings = Vec::new();
    for (output, conditions) in spec.outputs.iter().zip(&met) {
        if output.energy != EnergyLimit::Class2 {
            continue;
        }
        for &(wet, interrupted) in conditions {
            let chopped = interrupted.then(|| hertz(super::voltage::INTERRUPTED_TO_HZ));
            findings.push(judge_class_2_voltage(
                &output.name,
                output.volts_high,
                wet,
                chopped,
            ));
        }
    }
    findings
}
