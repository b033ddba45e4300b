//! What published rules and the habits of the trade say of a chain.

use super::super::electrical::MOST_UNIT_LOADS;
use super::super::sources as from;
use super::cable::CableKind;
use super::link::Link;
use super::model::Chain;
use super::part::PartKind;
use crate::device::PortIsolation;
use crate::finding::plain::Finding;

/// Most resistance of one core from the driver to the farthest device, ohm.
const CORE_OHMS: f64 = 200.0;
/// Longest line of the EIA-485 guidance, m.
const OUTER_LENGTH: f64 = 1200.0;

impl Chain {
    /// Judges every link against the published rules and, separately, against common practice.
    #[must_use]
    pub fn judge(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        let successors = self.successors();
        for link in self.links() {
            let place = link.place(&self.spec.name);
            loads(&mut findings, &link, &place);
            self.habits(&mut findings, &link, &place);
            self.length(&mut findings, &link, &place);
            self.branches(&mut findings, &link, &successors, &place);
            self.terminators(&mut findings, &link, &successors, &place);
            self.isolation(&mut findings, &link, &place);
            self.answers(&mut findings, &link, &place);
            self.plugs(&mut findings, &link, &place);
            self.grounds(&mut findings, &link, &place);
        }
        self.outputs(&mut findings, &successors);
        findings
    }

    pub(super) fn name(&self, part: usize) -> &str {
        self.spec.parts.get(part).map_or("", |part| &part.name)
    }

    fn length(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        let length = link.length();
        let metres = |limit: f64| format!("at most {limit} m");
        let figure = format!("{length:.1} m");
        let cables: Vec<_> = link.parts.iter().map(|&part| self.cable_of(part)).collect();
        // The thinnest core decides which of the two published lengths holds.
        let thinnest = cables
            .iter()
            .map(|cable| cable.awg)
            .try_fold(0, |worst, awg| awg.map(|awg| worst.max(awg)));
        let published = match thinnest {
            Some(awg) if awg <= 22 => Some(500.0),
            Some(awg) if awg <= 24 => Some(300.0),
            _ => None,
        };
        findings.push(match published {
            Some(limit) => Finding::judged_at_most("chain-length", place, length, limit)
                .says(format!("{figure} of cable from the driver to the farthest device"))
                .figure(&figure)
                .limit(metres(limit))
                .source(from::USITT_LENGTH)
                .remedy("put a repeater or splitter on the way"),
            None => Finding::not_evaluated(
                "chain-length",
                place,
                "the published lengths are for cores of 24 AWG and 22 AWG or thicker; the core here is thinner or not known",
            )
            .figure(&figure)
            .source(from::USITT_LENGTH)
            .remedy("state the core size, or use 24 AWG or thicker"),
        });
        findings.push(
            Finding::judged_at_most("chain-length-outer", place, length, OUTER_LENGTH)
                .says(format!(
                    "{figure} of cable from the driver to the farthest device"
                ))
                .figure(&figure)
                .limit(metres(OUTER_LENGTH))
                .source(from::EIA485_LENGTH)
                .remedy("put a repeater on the way"),
        );
        if cables.iter().all(|cable| cable.awg.is_some()) {
            let core = self.core_ohms(link);
            findings.push(
                Finding::judged_at_most("chain-resistance", place, core, CORE_OHMS)
                    .says(format!("{core:.1} ohm a core to the farthest device"))
                    .figure(format!("{core:.1} ohm"))
                    .limit(format!("at most {CORE_OHMS} ohm"))
                    .source(from::CORE_RESISTANCE)
                    .remedy("use thicker cores, or put a repeater on the way"),
            );
        }
        let kind = |kind| cables.iter().any(|cable| cable.kind == kind);
        findings.push(if kind(CableKind::Unknown) {
            Finding::not_evaluated("chain-cable", place, "the cable is not known")
                .source(from::E1_27_2)
                .remedy("state it: a data pair for EIA-485 or category 5 or higher")
        } else {
            let mixed = cables.windows(2).any(|pair| match pair {
                [a, b] => (a.impedance.value - b.impedance.value).abs() > 1e-9,
                _ => false,
            });
            let says = if mixed {
                "cables of different impedance on one link: a small echo where they meet"
            } else {
                "one impedance all along"
            };
            Finding::pass("chain-cable", place)
                .says(says)
                .source(from::E1_27_2)
        });
    }

    /// The largest resistance of one core from the driver to a part of the link, ohm.
    fn core_ohms(&self, link: &Link) -> f64 {
        let mut reached = vec![0.0_f64; self.spec.parts.len()];
        let mut most = 0.0_f64;
        for &part in &link.parts {
            let before = self.parents.get(part).copied().flatten();
            let before = before.filter(|&before| !self.is_splitter(before));
            let before = before.and_then(|before| reached.get(before).copied());
            let length = self.spec.parts.get(part).map_or(0.0, |p| p.length.value);
            let own = length * self.cable_of(part).loop_resistance.value / 2.0;
            let here = before.unwrap_or(0.0) + own;
            if let Some(reached) = reached.get_mut(part) {
                *reached = here;
            }
            most = most.max(here);
        }
        most
    }

    fn isolation(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        let mut joined = Vec::new();
        let mut unknown = Vec::new();
        for &part in &link.parts {
            match self.spec.parts.get(part).map(|part| part.kind) {
                Some(PartKind::Device {
                    isolation: PortIsolation::Joined,
                    ..
                }) => joined.push(self.name(part)),
                Some(PartKind::Device {
                    isolation: PortIsolation::Unknown,
                    ..
                }) => unknown.push(self.name(part)),
                _ => {}
            }
        }
        let named = |names: &[&str]| names.iter().take(5).copied().collect::<Vec<_>>().join(", ");
        findings.push(if !joined.is_empty() {
            Finding::fail("chain-isolation", place)
                .says(format!("{} ports are joined to supply minus ({})", joined.len(), named(&joined)))
                .figure(format!("{} ports", joined.len()))
                .limit("isolated receivers")
                .source(from::E1_11_EARTH)
                .remedy("use an isolated splitter; while one minus is open the load returns through the data cable")
        } else if !unknown.is_empty() {
            Finding::not_evaluated("chain-isolation", place, format!("isolation not stated: {}", named(&unknown)))
                .source(from::E1_11_EARTH)
                .remedy("read it from the device's sheet")
        } else {
            Finding::pass("chain-isolation", place).says("every port is isolated").source(from::E1_11_EARTH)
        });
    }

    fn outputs(&self, findings: &mut Vec<Finding>, successors: &[Vec<usize>]) {
        for (part, next) in self.spec.parts.iter().zip(successors) {
            if let PartKind::Splitter { outputs, .. } = part.kind {
                findings.push(
                    Finding::judged_at_most(
                        "splitter-outputs",
                        &part.name,
                        next.len() as f64,
                        f64::from(outputs),
                    )
                    .says(format!("{} cables leave its {outputs} outputs", next.len()))
                    .figure(next.len().to_string())
                    .limit(outputs.to_string())
                    .source(from::E1_11_TOPOLOGY)
                    .remedy("one cable an output: use a splitter with more"),
                );
            }
        }
    }
}

fn loads(findings: &mut Vec<Finding>, link: &Link, place: &str) {
    let limit = MOST_UNIT_LOADS * 10_000;
    // Whole ten-thousandths: 32 is at the limit and 32.0001 is over it.
    let verdict = match link.load.cmp(&limit) {
        std::cmp::Ordering::Less => Finding::pass("chain-unit-loads", place),
        std::cmp::Ordering::Equal => Finding::at_limit("chain-unit-loads", place),
        std::cmp::Ordering::Greater => Finding::fail("chain-unit-loads", place),
    };
    findings.push(
        verdict
            .says(format!("{} unit loads on one driver", link.unit_loads()))
            .figure(format!("{} unit loads", link.unit_loads()))
            .limit("32 unit loads")
            .source(from::UNIT_LOADS)
            .remedy("split the chain behind a splitter"),
    );
}
