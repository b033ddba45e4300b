//! Packets and bit rate against the limits of packet timing.

use super::super::sources::E1_11_TIMING;
use super::{BIT_RATE, Packet, Role};
use crate::finding::{Case, Finding, Limit, Rule, Subject, Verdict};
use crate::quantity::{Frequency, Time, hertz};

impl Packet {
    /// Judges break, marks and break to break against the limits of `role`.
    #[must_use]
    pub fn judge(&self, role: Role) -> Vec<Finding> {
        let spec = self.spec();
        let limits = role.limits();
        let about = Subject::from(role.words());
        let least = |rule: &Rule, case, time: Time, least: Time| {
            rule.at_least(case, about.clone(), time, least)
        };
        let below = |rule: &Rule, case, mark: Time| {
            let verdict = if mark.value < limits.mark_below.value {
                Verdict::Pass
            } else {
                Verdict::Fail
            };
            rule.finds(case, verdict, about.clone())
                .figure(mark)
                .limit(Limit::Below(limits.mark_below.into()))
        };
        let mark = spec.mark_after_break;
        vec![
            least(&BREAK, &BREAK_TIME, spec.break_time, limits.least_break),
            least(&MARK, &MARK_TIME, mark, limits.least_mark_after_break),
            below(&MARK_BELOW, &MARK_LONG, mark),
            below(&IDLE, &IDLE_TIME, spec.idle),
            below(&MARK_BEFORE_BREAK, &MARK_BEFORE, spec.mark_before_break),
            self.judge_period(role, &about),
        ]
    }

    fn judge_period(&self, role: Role, about: &Subject) -> Finding {
        let limits = role.limits();
        let (least, most) = (limits.least_break_to_break, limits.most_break_to_break);
        let period = self.break_to_break(role);
        BREAK_TO_BREAK
            .at_most(&PERIOD, about.clone(), period, most)
            .limit(Limit::Within(least.into(), most.into()))
    }
}

/// Words of a time that must not be shorter.
const fn at_least(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:~3 µs}")
        .limit("at least {limit:~3 µs}")
        .remedy("lengthen it at the transmitter")
}
/// Words of a time that must stay below its limit.
const fn below(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:~3 µs}")
        .limit("below {limit:~3 µs}")
        .remedy("shorten it at the transmitter")
}
const BREAK_TIME: Case = at_least("break", "break of {figure:~3 µs}");
const MARK_TIME: Case = at_least("mark", "mark after break of {figure:~3 µs}");
const MARK_LONG: Case = below("mark", "mark after break of {figure:~3 µs}");
const IDLE_TIME: Case = below("idle", "idle time between slots of {figure:~3 µs}");
const MARK_BEFORE: Case = below("mark", "mark before break of {figure:~3 µs}");
const PERIOD: Case = Case::judged("period", "a packet every {figure:~3 µs}")
    .figure("{figure:~3 µs}")
    .limit("{least:~3 (µs)} to {most:~3 µs}")
    .remedy("send more often, or fewer slots");
const RATE: Case = Case::judged("rate", "{figure:* (kHz)} kbit/s on the line")
    .figure("{figure:* (kHz)} kbit/s")
    .limit("{least:* (kHz)} to {most:* (kHz)} kbit/s")
    .remedy("correct the clock of the transmitter");

/// A rule of packet timing.
const fn rule(
    id: &'static str,
    title: &'static str,
    asks: &'static str,
    cases: &'static [&'static Case],
) -> Rule {
    Rule {
        id,
        title,
        asks,
        source: E1_11_TIMING,
        needs: &[],
        cases,
    }
}
pub(in crate::dmx) const BREAK: Rule = rule(
    "packet-break",
    "Break",
    "Is the break as long as a transmitter must send it, or a receiver needs it?",
    &[&BREAK_TIME],
);
pub(in crate::dmx) const MARK: Rule = rule(
    "packet-mark-after-break",
    "Mark after break",
    "Is the mark after break as long as a transmitter must send it, or a receiver needs it?",
    &[&MARK_TIME],
);
pub(in crate::dmx) const MARK_BELOW: Rule = rule(
    "packet-mark-below",
    "Longest mark after break",
    "Does the mark after break stay below a second?",
    &[&MARK_LONG],
);
pub(in crate::dmx) const IDLE: Rule = rule(
    "packet-idle",
    "Idle time between slots",
    "Does the idle time between slots stay below a second?",
    &[&IDLE_TIME],
);
pub(in crate::dmx) const MARK_BEFORE_BREAK: Rule = rule(
    "packet-mark-before-break",
    "Mark before break",
    "Does the mark before break stay below a second?",
    &[&MARK_BEFORE],
);
pub(in crate::dmx) const BREAK_TO_BREAK: Rule = rule(
    "packet-break-to-break",
    "Break to break",
    "Do packets follow one another within the time from break to break?",
    &[&PERIOD],
);
pub(in crate::dmx) const BIT_RATE_RULE: Rule = rule(
    "bit-rate",
    "Bit rate",
    "Does the transmitter send 250 kbit/s within 2 %?",
    &[&RATE],
);

/// Judges the bit rate of a transmitter: 245 to 255 kbit/s.
#[must_use]
pub fn judge_bit_rate(about: &Subject, rate: Frequency) -> Finding {
    let limits = BIT_RATE.map(|limit| hertz(limit).into());
    BIT_RATE_RULE.within(&RATE, about.clone(), rate, limits)
}
