//! Limits of packet timing, row by row.

use crate::common::{Row, assert_within, rows};
use evenrun::dmx::timing::{
    self, OLDER, Packet, PacketSpec, Role, judge_bit_rate, judge_test_packet,
};
use evenrun::finding::Finding;
use evenrun::quantity::{hertz, seconds};

fn packet(change: impl FnOnce(&mut PacketSpec)) -> Packet {
    let mut spec = PacketSpec::shortest(512, Role::Transmitter);
    change(&mut spec);
    spec.check().expect("in range")
}

fn fails(findings: &[Finding], id: &str) -> bool {
    findings
        .iter()
        .any(|finding| finding.rule.as_str() == id && finding.is_fail())
}

#[test]
fn limits_of_timing() {
    let [sends, takes] = [Role::Transmitter, Role::Receiver].map(Role::limits);
    let micro = 1e6;
    for row in rows("dmx/dmx_timing_limits.csv", 25) {
        let (quantity, role) = (row.text("quantity"), row.text("role"));
        let what = format!("line {}: {quantity}", row.line);
        let least = |found: f64| assert_within(&what, found, row.number("minimum"), 1e-9);
        let most = |found: f64| assert_within(&what, found, row.number("maximum"), 1e-4);
        // "Below 1 s" stands in the table as 999999 µs.
        let below =
            |found: f64| assert_within(&what, found * micro - 1.0, row.number("maximum"), 1e-4);
        let limits = if role == "receiver must accept" {
            takes
        } else {
            sends
        };
        match quantity {
            "bit rate" => {
                least(timing::BIT_RATE[0] / 1e3);
                most(timing::BIT_RATE[1] / 1e3);
                for (rate, wrong) in [(244.9, true), (245.0, false), (255.0, false), (255.1, true)]
                {
                    assert_eq!(
                        judge_bit_rate(&"a".into(), hertz(rate * 1e3)).is_fail(),
                        wrong
                    );
                }
            }
            "bit time" => {
                assert_within(
                    &what,
                    timing::BIT_SECONDS * micro,
                    row.number("typical"),
                    1e-9,
                );
                assert_within(
                    &what,
                    micro / timing::BIT_RATE[1],
                    row.number("minimum"),
                    2e-3,
                );
                assert_within(
                    &what,
                    micro / timing::BIT_RATE[0],
                    row.number("maximum"),
                    2e-3,
                );
            }
            "slot" => least(timing::SLOT_SECONDS * micro),
            "slot value" => {
                least(f64::from(u8::MIN));
                most(f64::from(u8::MAX));
            }
            "break" => {
                least(limits.least_break.value * micro);
                most(limits.most_break_to_break.value * micro);
            }
            "mark after break" => {
                least(limits.least_mark_after_break.value * micro);
                below(limits.mark_below.value);
            }
            "idle between slots" | "mark before break" => {
                let (id, at): (_, fn(&mut PacketSpec, f64)) = if quantity == "idle between slots" {
                    ("packet-idle", |spec, time| spec.idle = seconds(time))
                } else {
                    ("packet-mark-before-break", |spec, time| {
                        spec.mark_before_break = seconds(time)
                    })
                };
                let judged =
                    |time: f64| fails(&packet(|spec| at(spec, time)).judge(Role::Transmitter), id);
                assert!(!judged(row.number("minimum")) && judged(1.0), "{what}");
                assert!(!judged(row.number("maximum") / micro), "{what}");
            }
            "break to break" => {
                least(limits.least_break_to_break.value * micro);
                most(limits.most_break_to_break.value * micro);
            }
            "data slots in a packet" => {
                most(f64::from(timing::SLOTS));
                least(packet(|spec| spec.slots = 0).spec().slots.into());
                assert!(
                    PacketSpec::shortest(513, Role::Transmitter)
                        .check()
                        .is_err()
                );
            }
            "packet of 512 slots" => least(packet(|_| {}).duration().value * micro),
            text if text.starts_with("refresh rate") => {
                let slots = if text.contains("512") { 512 } else { 24 };
                let rate = packet(|spec| spec.slots = slots)
                    .refresh(Role::Transmitter)
                    .value;
                assert_within(&what, rate, row.number("maximum"), 5e-4);
                least(1.0 / sends.most_break_to_break.value);
            }
            "loss of data" => most(timing::DATA_LOSS_SECONDS),
            "slowest permitted refresh" => least(1.0 / sends.most_break_to_break.value),
            text if text.ends_with(" text") => {
                let year: u16 = text
                    .split(' ')
                    .rev()
                    .nth(1)
                    .and_then(|y| y.parse().ok())
                    .expect("a year");
                let older = OLDER
                    .iter()
                    .find(|older| older.year == year)
                    .expect("listed");
                let found = if text.starts_with("mark") {
                    older.mark_seconds
                } else {
                    older.break_seconds.expect("a break")
                };
                least(found * micro);
            }
            text if text.starts_with("test packet") => test_packet(&row, text),
            other => panic!("line {}: no check for `{other}`", row.line),
        }
    }
}

/// The limit holds, and just outside of it does not.
fn test_packet(row: &Row, quantity: &str) {
    let judged = |change: &dyn Fn(&mut PacketSpec)| {
        let packet = packet(|spec| {
            (spec.break_time, spec.mark_after_break) = (seconds(100e-6), seconds(12e-6));
            change(spec);
        });
        let findings = judge_test_packet(&packet, &[0x55; 512]);
        findings.iter().any(|finding| finding.is_fail())
    };
    assert!(!judged(&|_| {}));
    let set = |spec: &mut PacketSpec, micro: f64| {
        let time = seconds(micro * 1e-6);
        match quantity {
            "test packet break" => spec.break_time = time,
            "test packet mark after break" => spec.mark_after_break = time,
            "test packet mark before break" => spec.mark_before_break = time,
            // The whole, through the idle time: 100 + 12 + 513 · 44 + 512 · idle.
            _ => spec.idle = seconds((micro - 22_684.0) / 512.0 * 1e-6),
        }
    };
    let most = row.number("maximum");
    assert!(
        !judged(&|spec| set(spec, most)) && judged(&|spec| set(spec, most + 0.1)),
        "{quantity}"
    );
    if let Some(least) = row.optional("minimum") {
        assert!(
            !judged(&|spec| set(spec, least)) && judged(&|spec| set(spec, least - 0.1)),
            "{quantity}"
        );
    }
    let wrong = judge_test_packet(&packet(|_| {}), &[0x54; 512]);
    assert!(fails(&wrong, "test-packet-slots"));
}
