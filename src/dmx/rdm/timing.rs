//! How long requests and answers last.

use super::super::sources::{E1_20, E1_20_TIMING};
use super::super::timing::{Packet, PacketSpec, Role, SLOT_SECONDS};
use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject, Verdict};
use crate::quantity::{Frequency, Time, hertz, seconds};
use thiserror::Error;

/// Break of a packet, from and to, s (ANSI E1.20, tables 3-1 and 3-3, from memory).
pub const BREAK_SECONDS: [f64; 2] = [176e-6, 352e-6];
/// Mark after break, from and to, s (ANSI E1.20, tables 3-1 and 3-3, from memory).
pub const MARK_SECONDS: [f64; 2] = [12e-6, 88e-6];
/// An answer begins so long after the request, from and to, s.
pub const ANSWER_SECONDS: [f64; 2] = [176e-6, 2e-3];
/// A controller waits so long for it, s.
pub const WAIT_SECONDS: f64 = 2.8e-3;
/// From a request whose answer was lost to the next packet, at least, s.
pub const AFTER_LOST_SECONDS: f64 = 3.0e-3;
/// From one packet of a controller to the next otherwise, at least, s.
pub const SPACING_SECONDS: f64 = 176e-6;
/// From a discovery request to the next packet, at least, s.
pub const AFTER_DISCOVERY_SECONDS: f64 = 5.8e-3;
/// Idle between two slots of an answer, at most, s.
pub const IDLE_SECONDS: f64 = 2e-3;
/// Slots of a packet with its START code, from and to.
pub const SLOTS: [u16; 2] = [26, 257];
/// Most octets of parameter data.
pub const MOST_OCTETS: u16 = SLOTS[1] - SLOTS[0];
/// Slots of the answer to a discovery request, which has no break.
pub const DISCOVERY_SLOTS: u16 = 24;
/// Octet behind the START code.
pub const SUB_START_CODE: u8 = 0x01;
/// Splitters and repeaters between controller and the farthest device, at most.
pub const MOST_IN_LINE: u32 = 4;
/// Sub-devices of a device, at most.
pub const MOST_SUB_DEVICES: u16 = 512;

/// More parameter data than a packet holds.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error(
    "{found} octets of parameter data; an RDM packet holds at most 231: ask for less at a time"
)]
pub struct PacketTooLong {
    /// The octets.
    pub found: u16,
}

/// The shortest packet with so many octets of parameter data: break 176 µs, mark 12 µs, `26 + octets` slots.
///
/// # Errors
/// [`PacketTooLong`] above 231 octets.
pub fn packet(octets: u16) -> Result<Packet, PacketTooLong> {
    let too_long = PacketTooLong { found: octets };
    if octets > MOST_OCTETS {
        return Err(too_long);
    }
    let spec = PacketSpec {
        // The START code is one of the 26.
        slots: SLOTS[0] - 1 + octets,
        break_time: seconds(BREAK_SECONDS[0]),
        mark_after_break: seconds(MARK_SECONDS[0]),
        idle: seconds(0.0),
        mark_before_break: seconds(0.0),
    };
    spec.check().map_err(|_| too_long)
}

/// Length of the answer to a discovery request: 24 slots without a break.
#[must_use]
pub fn discovery_answer() -> Time {
    seconds(f64::from(DISCOVERY_SLOTS) * SLOT_SECONDS)
}

/// A request and its answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exchange {
    /// Octets of parameter data asked with, at most 231.
    pub asked: u16,
    /// Octets of parameter data answered, at most 231.
    pub answered: u16,
    /// From the end of the request to the start of the answer.
    pub after: Time,
}

impl Exchange {
    /// So many octets of parameter data asked with and answered, the answer so long after the request.
    #[must_use]
    pub fn new(asked: u16, answered: u16, after: Time) -> Self {
        Self {
            asked,
            answered,
            after,
        }
    }

    /// From the start of the request to the start of the next packet: request, wait, answer, 176 µs.
    ///
    /// # Errors
    /// [`PacketTooLong`] above 231 octets.
    pub fn duration(&self) -> Result<Time, PacketTooLong> {
        let (asked, answered) = (packet(self.asked)?, packet(self.answered)?);
        let packets = asked.duration().value + answered.duration().value;
        Ok(seconds(packets + self.after.value + SPACING_SECONDS))
    }

    /// Packets of levels a second where each is followed by one such exchange, 176 µs after it.
    ///
    /// # Errors
    /// [`PacketTooLong`] above 231 octets.
    pub fn refresh_beside(&self, levels: &Packet) -> Result<Frequency, PacketTooLong> {
        let period = levels.break_to_break(Role::Transmitter).value + SPACING_SECONDS;
        Ok(hertz(1.0 / (period + self.duration()?.value)))
    }
}

/// Judges break and mark of an RDM packet.
#[must_use]
pub fn judge_packet(packet: &Packet, about: &Subject) -> Vec<Finding> {
    let spec = packet.spec();
    let within = |rule: &Rule, case, time: Time, limits: [f64; 2]| {
        let limits = limits.map(|limit| seconds(limit).into());
        rule.within(case, about.clone(), time, limits)
    };
    vec![
        within(&RDM_BREAK, &BREAK, spec.break_time, BREAK_SECONDS),
        within(&RDM_MARK, &MARK, spec.mark_after_break, MARK_SECONDS),
    ]
}

/// Words of a time.
const fn time(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:~3 µs}")
        .limit("{least:~3 (µs)} to {most:~3 µs}")
        .remedy("correct it at the sender")
}
const BREAK: Case = time("break", "break of {figure:~3 µs}");
const MARK: Case = time("mark", "mark after break of {figure:~3 µs}");

pub(in crate::dmx) const RDM_BREAK: Rule = Rule {
    id: "rdm-break",
    title: "Break of an RDM packet",
    asks: "Does the break of an RDM packet last 176 to 352 µs?",
    source: E1_20_TIMING,
    needs: &[],
    cases: &[&BREAK],
};
pub(in crate::dmx) const RDM_MARK: Rule = Rule {
    id: "rdm-mark",
    title: "Mark after break of an RDM packet",
    asks: "Does the mark after break of an RDM packet last 12 to 88 µs?",
    source: E1_20_TIMING,
    needs: &[],
    cases: &[&MARK],
};

const ARRIVES: Case = Case::judged(
    "arrives",
    "an answer through {devices} in-line devices arrives {figure:~3 ms} after the request",
)
.figure("{figure:~3 ms}, {devices} devices")
.limit("{limit:~3 ms}, at most {most_devices} devices")
.remedy("put the devices nearer to the controller, with fewer splitters between");

pub(in crate::dmx) const RDM_ANSWER: Rule = Rule {
    id: "rdm-answer",
    title: "Arrival of an RDM answer",
    asks: "Does an answer reach the controller while it waits, through four in-line devices at most?",
    source: E1_20,
    needs: &[],
    cases: &[&ARRIVES],
};

/// Judges whether a controller still waits for an answer that comes through `in_line` devices of `delay` each way.
///
/// `after + 2 · in_line · delay` against 2.8 ms.
#[must_use]
pub fn judge_answer(about: &Subject, after: Time, in_line: u32, delay: Time) -> Finding {
    let arrives = super::super::timing::latency(in_line.saturating_mul(2), delay, after);
    let verdict = if in_line > MOST_IN_LINE {
        Verdict::Fail
    } else {
        Verdict::at_most(arrives.value, WAIT_SECONDS)
    };
    RDM_ANSWER
        .finds(&ARRIVES, verdict, about.clone())
        .figure(arrives)
        .limit(Limit::AtMost(seconds(WAIT_SECONDS).into()))
        .fact("devices", Figure::count(u64::from(in_line)))
        .fact("most_devices", Figure::count(u64::from(MOST_IN_LINE)))
}
