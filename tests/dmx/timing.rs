//! Packet time and refresh.

use crate::common::{assert_relative, assert_within, rows};
use crate::rule_id;
use evenrun::dmx::timing::{PacketSpec, Role, break_left, latency, most_slots_at};
use evenrun::quantity::{hertz, seconds};

#[test]
fn the_refresh_table() {
    for row in rows("dmx/dmx_refresh.csv", 80) {
        let micro = |column: &str| seconds(row.number(column) * 1e-6);
        let spec = PacketSpec {
            slots: row.number("data_slots") as u16,
            break_time: micro("break_us"),
            mark_after_break: micro("mab_us"),
            idle: micro("idle_between_slots_us"),
            mark_before_break: micro("mark_before_break_us"),
        };
        let receiver = row.text("timing_set") == "receiver minimum";
        let role = if receiver {
            Role::Receiver
        } else {
            Role::Transmitter
        };
        let packet = spec.check().expect("in range");
        let what = format!("line {}", row.line);
        assert_within(
            &what,
            packet.duration().value * 1e6,
            row.number("packet_us"),
            1e-6,
        );
        assert_within(
            &what,
            packet.break_to_break(role).value * 1e6,
            row.number("break_to_break_us"),
            1e-6,
        );
        assert_within(
            &what,
            packet.padding(role).value * 1e6,
            row.number("padding_us"),
            1e-6,
        );
        assert_relative(
            &what,
            packet.refresh(role).value,
            row.number("refresh_hz"),
            1e-6,
        );
    }
}

/// Hand case: 92 + 12 + 513 · 44 = 22676 µs, 44.1 packets a second; 223 slots at 100 Hz.
#[test]
fn a_full_packet_by_hand() {
    let spec = PacketSpec::shortest(512, Role::Transmitter);
    let packet = spec.check().expect("in range");
    assert_within("packet", packet.duration().value, 22_676e-6, 1e-12);
    assert_relative(
        "refresh",
        packet.refresh(Role::Transmitter).value,
        44.09948845,
        1e-9,
    );
    assert_eq!(most_slots_at(hertz(100.0), spec), Some(223));
    assert_eq!(most_slots_at(hertz(44.0), spec), Some(512));
    assert_eq!(most_slots_at(hertz(1e6), spec), None);
    assert_eq!(most_slots_at(hertz(f64::NAN), spec), None);
}

#[test]
fn limits_of_transmitter_and_receiver_differ() {
    let judged = |spec: PacketSpec, role| {
        let findings = spec.check().expect("in range").judge(role);
        findings
            .iter()
            .filter(|f| f.is_fail())
            .map(rule_id)
            .collect::<Vec<_>>()
    };
    let mut spec = PacketSpec::shortest(512, Role::Transmitter);
    assert_eq!(judged(spec, Role::Transmitter), [""; 0]);
    spec.break_time = seconds(88e-6);
    assert_eq!(judged(spec, Role::Transmitter), ["packet-break"]);
    assert_eq!(judged(spec, Role::Receiver), [""; 0]);
    spec = PacketSpec::shortest(512, Role::Transmitter);
    spec.mark_before_break = seconds(0.95);
    spec.idle = seconds(0.0);
    spec.break_time = seconds(0.15);
    assert_eq!(judged(spec, Role::Transmitter), ["packet-break-to-break"]);
    assert_eq!(judged(spec, Role::Receiver), [""; 0]);
}

#[test]
fn numbers_that_are_none_are_refused() {
    let mut spec = PacketSpec::shortest(513, Role::Transmitter);
    spec.break_time = seconds(f64::NAN);
    spec.idle = seconds(-1.0);
    let errors = spec.check().expect_err("three faults");
    assert_eq!(errors.len(), 3);
    assert!(
        errors
            .iter()
            .any(|error| error.to_string().contains("at most 512"))
    );
}

/// Four in-line devices of 22 µs loss leave 88 µs of a 176 µs break; of 88 µs delay each way they make 2 ms into 2.704 ms.
#[test]
fn repeaters_delay_and_shorten() {
    assert_within(
        "break",
        break_left(seconds(176e-6), 4, seconds(22e-6)).value,
        88e-6,
        1e-12,
    );
    assert_within(
        "delay",
        latency(8, seconds(88e-6), seconds(2000e-6)).value,
        2704e-6,
        1e-12,
    );
    assert_eq!(break_left(seconds(88e-6), 9, seconds(22e-6)), seconds(0.0));
}
