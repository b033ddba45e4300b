//! One thing wrong at a time.

use super::super::chain::{Chain, ChainSpec, Part, PartKind};
use super::result::Signal;
use super::run::{SignalError, SignalPlan};
use crate::quantity::{ElectricalResistance, Length};
use std::collections::BTreeMap;

/// Something to change about a chain.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// No terminator anywhere.
    NoTerminator,
    /// Every terminator of another value.
    Terminators(ElectricalResistance),
    /// One more terminator, at a part.
    TerminatorAlso(String, ElectricalResistance),
    /// The line joined at a part to an open cable of this length.
    Split(String, Length),
    /// A part moved to the end of a stub of this length.
    Stub(String, Length),
    /// Devices like the last one put behind it, until the chain has so many; the terminator moves to the end.
    Devices(usize),
}

impl Change {
    /// What is changed, in words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::NoTerminator => "no terminator anywhere".to_string(),
            Self::Terminators(value) => format!("every terminator {} Ω", value.value),
            Self::TerminatorAlso(part, value) => {
                format!("one more terminator, {} Ω, at {part}", value.value)
            }
            Self::Split(part, length) => {
                format!("split at {part} into an open cable of {} m", length.value)
            }
            Self::Stub(part, length) => format!("{part} on a stub of {} m", length.value),
            Self::Devices(count) => format!("{count} devices"),
        }
    }

    /// The part it names.
    fn part(&self) -> Option<&str> {
        match self {
            Self::TerminatorAlso(part, _) | Self::Split(part, _) | Self::Stub(part, _) => {
                Some(part)
            }
            Self::NoTerminator | Self::Terminators(_) | Self::Devices(_) => None,
        }
    }

    fn apply(&self, mut chain: ChainSpec) -> ChainSpec {
        let unused = |chain: &ChainSpec, stem: &str| {
            let mut name = stem.to_string();
            while chain.parts.iter().any(|part| part.name == name) {
                name.push('\'');
            }
            name
        };
        match self {
            Self::NoTerminator => {
                chain
                    .parts
                    .iter_mut()
                    .for_each(|part| part.terminator = None);
                chain.source_terminator = None;
            }
            Self::Terminators(value) => {
                let ends = chain
                    .parts
                    .iter_mut()
                    .filter(|part| part.terminator.is_some());
                ends.for_each(|part| part.terminator = Some(*value));
            }
            Self::TerminatorAlso(name, value) => {
                for part in chain.parts.iter_mut().filter(|part| &part.name == name) {
                    let others = part.terminator.map_or(0.0, |other| 1.0 / other.value);
                    part.terminator =
                        Some(crate::quantity::ohms(1.0 / (others + 1.0 / value.value)));
                }
            }
            Self::Split(name, length) => {
                if chain.parts.iter().any(|part| &part.name == name) {
                    let arm = unused(&chain, &format!("arm at {name}"));
                    chain
                        .parts
                        .push(Part::joint(arm, *length).from(name.clone()));
                }
            }
            Self::Stub(name, length) => {
                let joint = unused(&chain, &format!("tap of {name}"));
                let mut tap = None;
                for part in chain.parts.iter_mut().filter(|part| &part.name == name) {
                    let mut way = Part::joint(joint.clone(), part.length).from(part.from.clone());
                    (way.cable, way.terminator) = (part.cable, part.terminator.take());
                    (part.from, part.length) = (joint.clone(), *length);
                    tap = Some(way);
                }
                if let Some(tap) = tap {
                    for part in chain.parts.iter_mut().filter(|part| &part.from == name) {
                        part.from.clone_from(&joint);
                    }
                    chain.parts.push(tap);
                }
            }
            Self::Devices(count) => {
                let is_device = |part: &Part| matches!(part.kind, PartKind::Device { .. });
                let mut have = chain.parts.iter().filter(|part| is_device(part)).count();
                if let Some(mut last) = chain.parts.iter().rposition(is_device) {
                    while have < (*count).min(1000) {
                        let name = unused(&chain, &format!("added {}", have + 1));
                        let Some(like) = chain.parts.get_mut(last) else {
                            break;
                        };
                        let mut part = like.clone();
                        like.terminator = None;
                        part.from.clone_from(&like.name);
                        part.name = name;
                        chain.parts.push(part);
                        last = chain.parts.len() - 1;
                        have += 1;
                    }
                }
            }
        }
        chain
    }
}

/// Margins of every device, as the chain is and with one change at a time.
#[derive(Debug, Clone, PartialEq)]
pub struct WhatIf {
    /// Names of the devices, those of the chain first.
    pub devices: Vec<String>,
    /// What each column is; the first is the chain as it is.
    pub columns: Vec<String>,
    /// The signals, column by column.
    pub signals: Vec<Signal>,
    /// Margin of each device in each column, V; none where the device is not there.
    pub margins: Vec<Vec<Option<f64>>>,
}

impl Chain {
    /// Simulates the chain as it is and with each change, one at a time.
    ///
    /// # Errors
    /// [`SignalError`] when a change names no part of the chain or has a number out of range, or a net would be too large.
    pub fn what_if(&self, plan: &SignalPlan, changes: &[Change]) -> Result<WhatIf, SignalError> {
        let mut columns = vec!["as drawn".to_string()];
        let mut signals = vec![self.simulate(plan)?];
        for change in changes {
            let fault = |reason: String| SignalError::Change {
                change: change.words(),
                reason,
            };
            if let Some(name) = change.part()
                && !self.spec.parts.iter().any(|part| part.name == name)
            {
                return Err(fault(format!("the chain has no part `{name}`")));
            }
            let changed = change.apply(self.spec.clone()).check().map_err(|errors| {
                fault(
                    errors
                        .iter()
                        .map(ToString::to_string)
                        .collect::<Vec<_>>()
                        .join("; "),
                )
            })?;
            columns.push(change.words());
            signals.push(changed.simulate(plan)?);
        }
        let mut devices: Vec<String> = Vec::new();
        let mut index = BTreeMap::new();
        for device in signals.iter().flat_map(Signal::devices) {
            index.entry(device.name.clone()).or_insert_with(|| {
                devices.push(device.name.clone());
                devices.len() - 1
            });
        }
        let mut margins = vec![vec![None; columns.len()]; devices.len()];
        for (column, signal) in signals.iter().enumerate() {
            for device in signal.devices() {
                let row = index
                    .get(&device.name)
                    .and_then(|&row| margins.get_mut(row));
                if let Some(margin) = row.and_then(|row| row.get_mut(column)) {
                    *margin = Some(device.margin());
                }
            }
        }
        Ok(WhatIf {
            devices,
            columns,
            signals,
            margins,
        })
    }
}
