//! The test packet of ANSI E1.11.

use super::{Packet, SLOTS, micro};
use crate::dmx::sources::E1_11_TEST;
use crate::dmx::start_code;
use crate::finding::plain::Finding;
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
    let within = |id, what: &str, time: Time, [least, most]: [f64; 2]| {
        Finding::judged_within(id, "test packet", time.value, [least, most])
            .says(format!("{what} of {} µs", micro(time)))
            .figure(format!("{} µs", micro(time)))
            .limit(format!(
                "{} to {} µs",
                micro(seconds(least)),
                micro(seconds(most))
            ))
            .source(E1_11_TEST)
            .remedy("correct it at the transmitter")
    };
    let right = slots.len() == usize::from(SLOTS)
        && spec.slots == SLOTS
        && slots.iter().all(|&slot| slot == start_code::TEST);
    let content = if right {
        Finding::pass("test-packet-slots", "test packet")
    } else {
        Finding::fail("test-packet-slots", "test packet")
    };
    vec![
        content
            .says(format!("{} slots", slots.len()))
            .limit("512 slots, each 0x55")
            .source(E1_11_TEST)
            .remedy("send 512 slots of 0x55"),
        within("test-packet-break", "break", spec.break_time, BREAK),
        within(
            "test-packet-mark",
            "mark after break",
            spec.mark_after_break,
            MARK,
        ),
        within(
            "test-packet-before",
            "mark before break",
            spec.mark_before_break,
            BEFORE,
        ),
        within("test-packet-whole", "packet", packet.duration(), WHOLE),
    ]
}
