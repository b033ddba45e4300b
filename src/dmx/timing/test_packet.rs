//! The test packet of ANSI E1.11.

use super::{Packet, SLOTS};
use crate::dmx::sources::E1_11_TEST;
use crate::dmx::start_code;
use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject, Verdict};
use crate::quantity::{Time, seconds};

/// Break, mark after break, mark before break, and break to the end of the last slot, s: from and to.
const BREAK: [f64; 2] = [88e-6, 120e-6];
const MARK: [f64; 2] = [8e-6, 16e-6];
const BEFORE: [f64; 2] = [0.0, 88e-6];
const WHOLE: [f64; 2] = [0.0, 25e-3];

/// Judges a packet with START code 0x55 as a test packet: 512 slots of 0x55, break 88 to 120 µs, mark 8 to
/// 16 µs, at most 88 µs before the next break, all within 25 ms.
#[must_use]
pub fn judge_test_packet(packet: &Packet, slots: &[u8]) -> Vec<Finding> {
    let spec = packet.spec();
    let about = Subject::from("test packet");
    let within = |rule: &Rule, case, time: Time, limits: [f64; 2]| {
        let limits = limits.map(|limit| seconds(limit).into());
        rule.within(case, about.clone(), time, limits)
    };
    let right = slots.len() == usize::from(SLOTS)
        && spec.slots == SLOTS
        && slots.iter().all(|&slot| slot == start_code::TEST);
    let verdict = if right { Verdict::Pass } else { Verdict::Fail };
    let all = Figure::count(u64::from(SLOTS));
    vec![
        TEST_SLOTS
            .finds(&CONTENT, verdict, about.clone())
            .figure(Figure::count(slots.len() as u64))
            .limit(Limit::Within(all, all)),
        within(&TEST_BREAK, &BREAK_TIME, spec.break_time, BREAK),
        within(&TEST_MARK, &MARK_TIME, spec.mark_after_break, MARK),
        within(&TEST_BEFORE, &BEFORE_TIME, spec.mark_before_break, BEFORE),
        within(&TEST_WHOLE, &WHOLE_TIME, packet.duration(), WHOLE),
    ]
}

const CONTENT: Case = Case::plain("content", "{figure} slots")
    .limit("512 slots, each 0x55")
    .remedy("send 512 slots of 0x55");
/// Words of a time.
const fn time(key: &'static str, says: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:~3 µs}")
        .limit("{least:~3 (µs)} to {most:~3 µs}")
        .remedy("correct it at the transmitter")
}
const BREAK_TIME: Case = time("break", "break of {figure:~3 µs}");
const MARK_TIME: Case = time("mark", "mark after break of {figure:~3 µs}");
const BEFORE_TIME: Case = time("before", "mark before break of {figure:~3 µs}");
const WHOLE_TIME: Case = time("whole", "packet of {figure:~3 µs}");

/// A rule of the test packet.
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
        source: E1_11_TEST,
        needs: &[],
        cases,
    }
}
pub(in crate::dmx) const TEST_SLOTS: Rule = rule(
    "test-packet-slots",
    "Slots of the test packet",
    "Are there 512 slots of 0x55 in the test packet?",
    &[&CONTENT],
);
pub(in crate::dmx) const TEST_BREAK: Rule = rule(
    "test-packet-break",
    "Break of the test packet",
    "Does the break of the test packet last 88 to 120 µs?",
    &[&BREAK_TIME],
);
pub(in crate::dmx) const TEST_MARK: Rule = rule(
    "test-packet-mark",
    "Mark after break of the test packet",
    "Does the mark after break of the test packet last 8 to 16 µs?",
    &[&MARK_TIME],
);
pub(in crate::dmx) const TEST_BEFORE: Rule = rule(
    "test-packet-before",
    "Mark before break of the test packet",
    "Does the mark before break of the test packet last 88 µs at most?",
    &[&BEFORE_TIME],
);
pub(in crate::dmx) const TEST_WHOLE: Rule = rule(
    "test-packet-whole",
    "Length of the test packet",
    "Does the test packet end within 25 ms?",
    &[&WHOLE_TIME],
);
