//! Every rule on outputs, in order: the label, standing alone, paralleling, the voltage for place and waveform.

use super::check::Protection;
use super::classes::Classes;
use super::joins::Tied;
use super::spec::{OutputId, ProtectionSpec};
use super::voltage::{INTERRUPTED_FROM_HZ, INTERRUPTED_TO_HZ, judge_class_2_voltage};
use super::{joined_rules, label_rules};
use crate::device::EnergyLimit;
use crate::finding::Finding;
use crate::quantity::{Frequency, hertz};
use std::collections::BTreeSet;

/// All findings about outputs.
pub(super) fn judge(protection: &Protection, tied: &[Tied], classes: &Classes) -> Vec<Finding> {
    let outputs = &protection.0.outputs;
    let mut findings = Vec::new();
    for (k, output) in outputs.iter().enumerate() {
        let bound = tied.iter().find(|t| t.output == k);
        findings.extend(label_rules::judge(output));
        findings.extend(joined_rules::alone(outputs, output, bound));
        if let Some(tied) = bound.filter(|tied| tied.paralleled) {
            findings.push(joined_rules::paralleled(outputs, output, tied));
            findings.extend(joined_rules::stays_live(outputs, output, tied));
        }
        findings.push(label_rules::shock(output, classes.output(OutputId(k))));
        findings.extend(label_rules::energy_class(output));
    }
    findings.extend(voltages(&protection.0, classes));
    findings
}

/// Class 2 circuits against the voltage for their place and waveform: one answer per output and condition met.
fn voltages(spec: &ProtectionSpec, classes: &Classes) -> Vec<Finding> {
    let mut met: Vec<BTreeSet<(bool, bool)>> =
        vec![BTreeSet::from([(false, false)]); spec.outputs.len()];
    let slow = |f: Frequency| (INTERRUPTED_FROM_HZ..=INTERRUPTED_TO_HZ).contains(&f.value);
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
            let chopped = interrupted.then(|| hertz(INTERRUPTED_TO_HZ));
            let about = output.about.clone();
            findings.push(judge_class_2_voltage(
                about,
                output.volts_high,
                wet,
                chopped,
            ));
        }
    }
    findings
}
