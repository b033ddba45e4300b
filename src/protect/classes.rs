//! The class of every circuit: from the label of what feeds it, downstream, never upgraded.

use super::check::Protection;
use super::joins::{Islands, Tied};
use super::spec::{ConductorSpec, OutputId, OutputSpec};
use super::tables::power_limits::{Limited, Rule};
use crate::device::{EnergyLimit, ShockProtection};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};

/// The class that a circuit has in fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct CircuitClass {
    /// Shock protection: the weakest of everything its copper reaches.
    pub shock: ShockProtection,
    /// Energy limit: the label's, as long as the output stands alone.
    pub energy: EnergyLimit,
}

/// Higher is weaker; unknown behaves as none.
fn shock_rank(shock: ShockProtection) -> u8 {
    match shock {
        ShockProtection::Selv => 0,
        ShockProtection::Pelv => 1,
        ShockProtection::Other => 2,
        ShockProtection::Unknown => 3,
    }
}

fn energy_rank(energy: EnergyLimit) -> u8 {
    match energy {
        EnergyLimit::Class2 => 0,
        EnergyLimit::LimitedPower => 1,
        EnergyLimit::None => 2,
        EnergyLimit::Unknown => 3,
    }
}

fn weaker(a: CircuitClass, b: CircuitClass) -> CircuitClass {
    CircuitClass {
        shock: if shock_rank(b.shock) > shock_rank(a.shock) {
            b.shock
        } else {
            a.shock
        },
        energy: if energy_rank(b.energy) > energy_rank(a.energy) {
            b.energy
        } else {
            a.energy
        },
    }
}

/// The class of every output in fact, and what feeds each conductor.
#[derive(Debug, Clone)]
pub struct Classes {
    of_output: Vec<CircuitClass>,
    islands: Islands,
}

impl Classes {
    /// Works the classes out.
    ///
    /// An output keeps its energy class while no copper ties it to another output
    /// (or both are marked for it); a shock class is as weak as the weakest output
    /// that its copper reaches, and PELV as soon as its minus is earthed.
    #[must_use]
    pub fn of(protection: &Protection, islands: &Islands, tied: &[Tied]) -> Self {
        let outputs = &protection.0.outputs;
        let label = |output: &OutputSpec| CircuitClass {
            shock: match output.shock {
                ShockProtection::Selv if output.minus_earthed == Some(true) => {
                    ShockProtection::Pelv
                }
                shock => shock,
            },
            energy: output.energy,
        };
        let mut weakest: BTreeMap<usize, CircuitClass> = BTreeMap::new();
        for output in outputs {
            for pole in [output.plus, output.minus] {
                let here = label(output);
                weakest
                    .entry(islands.island(pole))
                    .and_modify(|class| *class = weaker(*class, here))
                    .or_insert(here);
            }
        }
        let lost: BTreeSet<usize> = tied
            .iter()
            .filter(|tied| !may_stay_joined(outputs, tied))
            .map(|tied| tied.output)
            .collect();
        let of_output = outputs
            .iter()
            .enumerate()
            .map(|(k, output)| {
                let mut class = label(output);
                for pole in [output.plus, output.minus] {
                    if let Some(other) = weakest.get(&islands.island(pole)) {
                        class = weaker(class, *other);
                    }
                }
                if lost.contains(&k) && class.energy.is_limited() {
                    class.energy = EnergyLimit::None;
                }
                class
            })
            .collect();
        Self {
            of_output,
            islands: islands.clone(),
        }
    }

    /// The class of an output in fact.
    #[must_use]
    pub fn output(&self, OutputId(output): OutputId) -> CircuitClass {
        self.of_output.get(output).copied().unwrap_or(CircuitClass {
            shock: ShockProtection::Unknown,
            energy: EnergyLimit::Unknown,
        })
    }

    /// The outputs that feed a conductor, by place: as stated, else every one its copper reaches.
    #[must_use]
    pub fn feeding(&self, conductor: &ConductorSpec) -> Vec<OutputId> {
        if conductor.fed_by.is_empty() {
            self.islands
                .outputs_at(conductor.from)
                .iter()
                .map(|&k| OutputId(k))
                .collect()
        } else {
            conductor.fed_by.clone()
        }
    }

    /// The class of a conductor: the weakest of what feeds it; unknown where nothing does.
    #[must_use]
    pub fn conductor(&self, conductor: &ConductorSpec) -> CircuitClass {
        self.feeding(conductor)
            .into_iter()
            .map(|output| self.output(output))
            .reduce(weaker)
            .unwrap_or(CircuitClass {
                shock: ShockProtection::Unknown,
                energy: EnergyLimit::Unknown,
            })
    }
}

/// Whether the labels of an output and of all it is tied to allow it.
pub(super) fn may_stay_joined(outputs: &[OutputSpec], tied: &Tied) -> bool {
    std::iter::once(&tied.output)
        .chain(&tied.with)
        .all(|&k| outputs.get(k).is_some_and(|output| output.may_be_joined))
}

/// The greatest current that an output can keep up, A, and whose word that is. `None`: not known.
///
/// The stated limit; else what a Class 2 or limited-power label means at the
/// highest voltage (the row of inherently limited sources, which is the greater).
#[must_use]
pub fn greatest_sustained(output: &OutputSpec) -> Option<(f64, &'static str)> {
    if let Some(limit) = output.limit {
        return Some((limit.value, "its stated limit"));
    }
    let rule = match output.energy {
        EnergyLimit::Class2 => Rule::Class2Dc,
        EnergyLimit::LimitedPower => Rule::LimitedPowerDc,
        EnergyLimit::None | EnergyLimit::Unknown => return None,
    };
    super::class2::power_limits(rule, Limited::Inherently, output.volts_high)
        .ok()
        .and_then(|limits| limits.current)
        .map(|current| (current, "what its label means at most"))
}
