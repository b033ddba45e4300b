//! A chain against the rules: loads, terminator, length.
//!
//! | rule | limit | source |
//! | --- | --- | --- |
//! | `chain-unit-loads` | 32 unit loads | TIA/EIA-485-A, to which ANSI E1.11 clause 4 refers |
//! | `chain-terminator` | 120 Ω at the far end, within 10 % | ANSI E1.11, data link termination |
//! | `chain-devices` | as the job keeps to, 20 | common practice |
//! | `chain-length` | 300 m (24 AWG pair) | USITT DMX512/1990 requirements; ANSI E1.11 leaves cable out of its scope |
//! | `chain-length-habit` | as the job keeps to, 300 ft, on category cable | common practice |
//! | `chain-isolation` | receivers isolated | ANSI E1.11 clause 4.6 |

use crate::device::{PortIsolation, UnitLoads};
use crate::exact::ExactLength;
use crate::finding::Finding;
use crate::quantity::{ElectricalResistance, show};
use crate::source::Source;

/// Unit loads of one link.
pub const MOST_UNIT_LOADS: u32 = 32;
/// Longest cable of the USITT requirements, 24 AWG.
pub const LONGEST: ExactLength = ExactLength::from_millimetres(300_000);

const LOADS: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "clause 4, through TIA-485-A 4.5.3: 32 unit loads on a link",
);
const TERMINATION: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "data link termination: 120 ohm at the end farthest from the transmitter, and only there",
);
const LENGTH: Source = Source::standard(
    "USITT DMX512/1990 cable requirements",
    "1990",
    "300 m on 24 AWG pairs; ANSI E1.11 clause 1.1 leaves cable out of its scope",
);
const GROUNDING: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "clause 4.6: earth-referenced transmitter, isolated receivers",
);

/// A device on a chain.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// Device.
    pub device: String,
    /// Cable into it.
    pub cable: ExactLength,
    /// Load on the line.
    pub unit_loads: UnitLoads,
    /// Isolation of its port.
    pub isolation: PortIsolation,
}

/// A chain: one line from a port through devices to a terminator.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    /// Name.
    pub name: String,
    /// Whether its cable is category cable (shielded or not).
    pub category_cable: bool,
    /// Whether the kind of cable is known at all.
    pub cable_known: bool,
    /// Devices, in the order of the cable.
    pub stops: Vec<Stop>,
    /// Terminator after the last.
    pub terminator: Option<ElectricalResistance>,
    /// Devices that careful practice keeps to.
    pub most_devices: u32,
    /// Length that careful practice keeps to on category cable.
    pub longest_by_habit: ExactLength,
}

impl Chain {
    /// Cable from the source to the last device.
    #[must_use]
    pub fn length(&self) -> ExactLength {
        self.stops.iter().fold(ExactLength::ZERO, |sum, stop| {
            sum.saturating_add(stop.cable)
        })
    }

    /// Unit loads of all devices, in ten-thousandths.
    #[must_use]
    pub fn ten_thousandths(&self) -> u64 {
        self.stops
            .iter()
            .map(|stop| u64::from(stop.unit_loads.ten_thousandths()))
            .sum()
    }

    /// What the rules say.
    #[must_use]
    pub fn judge(&self) -> Vec<Finding> {
        let place = format!("chain {}", self.name);
        let mut out = Vec::new();
        let loads = self.ten_thousandths() as f64 / 1e4;
        out.push(
            Finding::judged_at_most(
                "chain-unit-loads",
                &*place,
                loads,
                f64::from(MOST_UNIT_LOADS),
            )
            .says("loads of all ports on the line")
            .figure(format!("{loads} unit loads"))
            .limit(format!("{MOST_UNIT_LOADS} unit loads"))
            .source(LOADS)
            .remedy("divide the line with a splitter"),
        );
        let devices = self.stops.len() as f64;
        out.push(
            Finding::judged_at_most(
                "chain-devices",
                &*place,
                devices,
                f64::from(self.most_devices),
            )
            .says("devices on the line, against careful practice")
            .figure(format!("{devices}"))
            .limit(format!("{}", self.most_devices))
            .source(Source::common_practice(
                "20 devices on one chain, or as the job states",
            ))
            .remedy("divide the line with a splitter"),
        );
        out.push(match self.terminator {
            Some(ohms) if (ohms.value - 120.0).abs() <= 12.0 => {
                Finding::pass("chain-terminator", &*place)
                    .says("terminated at its far end")
                    .figure(show(ohms))
                    .limit("120 ohm, within 10 %")
                    .source(TERMINATION)
            }
            Some(ohms) => Finding::fail("chain-terminator", &*place)
                .says("the terminator does not match the line: part of each edge comes back")
                .figure(show(ohms))
                .limit("120 ohm, within 10 %")
                .source(TERMINATION)
                .remedy("fit 120 ohm after the last device"),
            None => Finding::fail("chain-terminator", &*place)
                .says("the far end is open: each edge comes back whole")
                .figure("no terminator")
                .limit("120 ohm after the last device, nowhere else")
                .source(TERMINATION)
                .remedy("fit 120 ohm after the last device"),
        });
        let length = self.length();
        out.push(
            Finding::judged_at_most("chain-length", &*place, length.metres(), LONGEST.metres())
                .says("cable from the source to the last device")
                .figure(length.to_string())
                .limit(LONGEST.to_string())
                .source(LENGTH)
                .remedy("regenerate the signal on the way"),
        );
        if self.category_cable {
            let habit = self.longest_by_habit;
            out.push(
                Finding::judged_at_most(
                    "chain-length-habit",
                    &*place,
                    length.metres(),
                    habit.metres(),
                )
                .says("cable from the source to the last device, against careful practice")
                .figure(length.to_string())
                .limit(habit.to_string())
                .source(Source::common_practice(
                    "300 ft on shielded category cable, or as the job states",
                ))
                .remedy("regenerate the signal on the way"),
            );
        }
        if !self.cable_known {
            out.push(
                Finding::not_evaluated(
                    "chain-cable",
                    &*place,
                    "the job does not say what cable the chain is made of",
                )
                .says("impedance and loss of the line")
                .source(LENGTH)
                .remedy("state the kind of cable"),
            );
        }
        for stop in &self.stops {
            let at = format!("{place}, {}", stop.device);
            match stop.isolation {
                PortIsolation::Isolated => {}
                PortIsolation::Joined => out.push(
                    Finding::fail("chain-isolation", at)
                        .says("its port is joined to the minus of its supply: drop in the feeders shifts the data common")
                        .figure("not isolated")
                        .limit("isolated receivers")
                        .source(GROUNDING)
                        .remedy("take a decoder with an isolated port, or isolate the line before it"),
                ),
                PortIsolation::Unknown => out.push(
                    Finding::not_evaluated("chain-isolation", at, "the job does not say whether its port is isolated")
                        .says("isolation of the data port")
                        .source(GROUNDING)
                        .remedy("ask its maker"),
                ),
            }
        }
        out
    }
}
