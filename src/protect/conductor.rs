//! One conductor before its rules: what feeds it, what it may carry, what a short circuit behind it draws.

use super::check::Protection;
use super::classes::{CircuitClass, Classes, greatest_sustained};
use super::fault::{Clearing, FaultCurrent, adiabatic_time, clearing, fault_current};
use super::rules::RULES;
use super::spec::{ConductorSpec, DeviceSpec, MayCarry, OutputSpec};
use super::{conductor_rules, fault_rules};
use crate::finding::{Finding, Subject, Verdict};
use crate::id::RuleId;
use crate::quantity::{Amps, ElectricCurrent, Seconds, amps};
use serde::{Deserialize, Serialize};

/// What the rules found about one conductor: a line of the protection schedule.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ConductorRow {
    /// The conductor.
    pub about: Subject,
    /// The device upstream.
    pub device: Option<String>,
    /// Load current `Ib`.
    pub load: Amps,
    /// Rating of the device `In`.
    pub device_rating: Option<Amps>,
    /// Ampacity `Iz`; `None`: no table covers it.
    pub ampacity: Option<Amps>,
    /// Greatest current that what feeds it can keep up; `None`: not known.
    pub source_limit: Option<Amps>,
    /// Least fault current: far end, hot, low voltage; `None`: the loop, or what the output gives into a short, is not known.
    pub least_fault: Option<Amps>,
    /// Greatest fault current: near end, cold, high voltage; `None`: the loop, or the limit of an output, is not known.
    pub greatest_fault: Option<Amps>,
    /// Whether the least fault is cleared, and by what.
    pub clearing: Option<Clearing>,
    /// How long the insulation bears the least fault current.
    pub insulation_bears: Option<Seconds>,
    /// The class of its circuit in fact.
    pub class: CircuitClass,
    /// The worst that a rule says of it; of several as bad, the first that has a sentence for it.
    pub worst: Option<(RuleId, Verdict)>,
}

/// Facts that the rules on one conductor share.
pub(super) struct ConductorFacts<'p> {
    pub conductor: &'p ConductorSpec,
    pub device: Option<&'p DeviceSpec>,
    pub outputs: Vec<&'p OutputSpec>,
    pub class: CircuitClass,
    /// Greatest sustained current of what feeds it.
    pub most: Option<ElectricCurrent>,
    pub iz: Option<ElectricCurrent>,
    pub faults: Option<Faults>,
}

/// Currents of short circuits.
#[derive(Clone, Copy)]
pub(super) struct Faults {
    /// The least of any one output, at the far end.
    pub least: FaultCurrent,
    /// The greatest of all together, at the near end: what resistance allows where an output states no limit.
    pub greatest: ElectricCurrent,
    /// Whether every output states its limit.
    pub limited: bool,
}

impl<'p> ConductorFacts<'p> {
    fn of(protection: &'p Protection, classes: &Classes, conductor: &'p ConductorSpec) -> Self {
        let spec = &protection.0;
        let outputs: Vec<&OutputSpec> = classes
            .feeding(conductor)
            .into_iter()
            .filter_map(|id| spec.outputs.get(id.0))
            .collect();
        let most = outputs
            .iter()
            .map(|output| greatest_sustained(output).map(|(amps, _)| amps))
            .try_fold(0.0, |sum, limit| limit.map(|limit| sum + limit))
            .filter(|_| !outputs.is_empty())
            .map(amps);
        Self {
            conductor,
            device: conductor.device.and_then(|id| spec.devices.get(id.0)),
            faults: Faults::of(conductor, &outputs),
            outputs,
            class: classes.conductor(conductor),
            most,
            iz: match &conductor.may_carry {
                MayCarry::Current { current, .. } => Some(*current),
                MayCarry::NoTable(_) => None,
            },
        }
    }

    pub fn about(&self) -> Subject {
        self.conductor.about.clone()
    }

    fn row(&self, findings: &[Finding]) -> ConductorRow {
        let conductor = self.conductor;
        let least = self.faults.map(|faults| faults.least);
        let finite = |current: ElectricCurrent| Amps::finite(current.value);
        ConductorRow {
            about: self.about(),
            device: self.device.map(|device| device.name.clone()),
            load: conductor.load.into(),
            device_rating: self.device.map(|device| device.rated.into()),
            ampacity: self.iz.map(Amps::from),
            source_limit: self.most.and_then(finite),
            least_fault: least.and_then(|least| finite(least.known()?)),
            greatest_fault: self
                .faults
                .filter(|faults| faults.limited)
                .and_then(|faults| finite(faults.greatest)),
            clearing: least.map(|least| clearing(self.device, least)),
            insulation_bears: least
                .and_then(FaultCurrent::known)
                .zip(conductor.heat.as_ref())
                .and_then(|(least, heat)| Seconds::finite(adiabatic_time(heat, least).value)),
            class: self.class,
            worst: findings
                .iter()
                .min_by_key(|finding| rank(finding))
                .map(|finding| (finding.rule.clone(), finding.verdict)),
        }
    }
}

impl Faults {
    fn of(conductor: &ConductorSpec, outputs: &[&OutputSpec]) -> Option<Self> {
        let fault_loop = conductor.fault_loop?;
        let least = outputs
            .iter()
            .map(|output| fault_current(output, output.volts_low, fault_loop.far_hot))
            .min_by(|a, b| a.current().value.total_cmp(&b.current().value))?;
        let greatest = outputs
            .iter()
            .map(|output| fault_current(output, output.volts_high, fault_loop.near_cold).current())
            .sum();
        let limited = outputs.iter().all(|output| output.limit.is_some());
        Some(Self {
            least,
            greatest,
            limited,
        })
    }
}

/// How bad a finding is, worst first; of several as bad, one whose case has a sentence beside the reason.
pub(super) fn rank(finding: &Finding) -> (Verdict, bool) {
    let rule = RULES.iter().find(|rule| finding.rule.as_str() == rule.id);
    let case = rule.and_then(|rule| rule.cases.iter().find(|case| case.key == finding.case));
    let is_bare = case.is_none_or(|case| case.says.is_empty());
    (finding.verdict, is_bare)
}

/// The row and the findings of one conductor.
pub(super) fn judge(
    protection: &Protection,
    classes: &Classes,
    conductor: &ConductorSpec,
) -> (ConductorRow, Vec<Finding>) {
    let facts = ConductorFacts::of(protection, classes, conductor);
    let mut findings = vec![conductor_rules::load(&facts)];
    findings.extend(conductor_rules::device_load(&facts));
    findings.extend(conductor_rules::device_size(&facts));
    findings.push(conductor_rules::protected(&facts));
    if let Some(faults) = facts.faults {
        findings.push(fault_rules::fault(&facts, faults));
        if let Some(device) = facts.device {
            findings.push(fault_rules::breaking(&facts, device, faults.greatest));
            findings.push(fault_rules::dc_voltage(&facts, device));
        }
    }
    findings.extend(conductor_rules::feed_lost(&facts));
    (facts.row(&findings), findings)
}
