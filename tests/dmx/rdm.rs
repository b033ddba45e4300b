//! RDM: limits and exchanges, row by row.

use crate::common::{assert_relative, assert_within, rows};
use evenrun::device::{PortIsolation, UnitLoads};
use evenrun::dmx::bias::Bias;
use evenrun::dmx::chain::{ChainSpec, LineCable, Part, SOURCE};
use evenrun::dmx::connector::{Connector, Wire};
use evenrun::dmx::electrical::{MOST_UNIT_LOADS, RDM_IDLE_VOLTS};
use evenrun::dmx::rdm::{self, Exchange, Uid, judge_answer, judge_packet, packet};
use evenrun::dmx::start_code::RDM;
use evenrun::dmx::timing::{PacketSpec, Role, break_left, latency};
use evenrun::quantity::{metres, ohms, seconds, volts};
use proptest::prelude::*;

#[test]
fn exchanges() {
    let exchange = Exchange {
        asked: 0,
        answered: 19,
        after: seconds(rdm::ANSWER_SECONDS[1]),
    };
    let full = PacketSpec::shortest(512, Role::Transmitter)
        .check()
        .expect("in range");
    let micro = |octets| packet(octets).expect("short").duration().value * 1e6;
    let most = rdm::MOST_IN_LINE;
    let delayed = latency(2 * most, seconds(88e-6), exchange.after).value * 1e6;
    for row in rows("dmx/rdm_timing_check.csv", 10) {
        let whole = exchange.duration().expect("short").value * 1e6;
        let rate = exchange.refresh_beside(&full).expect("short").value;
        let found = match row.text("id") {
            "rdm-1" => micro(0),
            "rdm-2" => micro(231),
            "rdm-3" => rdm::discovery_answer().value * 1e6,
            "rdm-4" => micro(19),
            "rdm-5" => whole,
            "rdm-6" => 1e6 / rate,
            "rdm-7" => rate,
            "rdm-8" => break_left(seconds(176e-6), most, seconds(22e-6)).value * 1e6,
            "rdm-9" => delayed,
            "rdm-10" => {
                let idle = f64::from(rdm::DISCOVERY_SLOTS) * 76.0;
                delayed + rdm::discovery_answer().value * 1e6 + idle
            }
            other => panic!("{other}: no check for this row"),
        };
        assert_relative(row.text("id"), found, row.number("value"), 1e-7);
    }
    assert!(packet(232).is_err_and(|error| error.to_string().contains("at most 231")));
    assert!(
        Exchange {
            asked: 300,
            ..exchange
        }
        .duration()
        .is_err()
    );
}

/// Three devices that answer, terminated at the far end, and at the port if so wanted.
fn answering(near: bool) -> ChainSpec {
    let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
    chain.rdm = true;
    for n in 1..=3 {
        let part = Part::device(format!("D{n}"), metres(10.0));
        chain.next(part.port(UnitLoads::ONE, PortIsolation::Isolated));
    }
    chain.terminate(ohms(120.0));
    chain.source_terminator = near.then(|| ohms(120.0));
    chain
}

#[test]
fn facts() {
    let micro = |seconds: f64| format!("{}", (seconds * 1e6).round());
    let span = |[from, to]: [f64; 2]| format!("{} to {}", micro(from), micro(to));
    let (mut asserted, mut memory) = (0, 0);
    for row in rows("dmx/rdm_facts.csv", 29) {
        if !row.may_be_asserted() {
            memory += 1;
            continue;
        }
        asserted += 1;
        let (item, value) = (row.text("item"), row.text("value"));
        let found = match item {
            "direction" => {
                let contact = |wire| Connector::FivePinXlr.contact(wire).expect("a contact");
                let (minus, plus) = (contact(Wire::Data1Minus), contact(Wire::Data1Plus));
                format!("half duplex on the same pair (XLR {minus}, {plus})")
            }
            "controllers on a link" => {
                let links = answering(true).check().expect("a tree").links();
                links
                    .iter()
                    .filter(|link| link.driver == SOURCE)
                    .count()
                    .to_string()
            }
            "terminate" => {
                let judged = |near| answering(near).check().expect("a tree").judge();
                let fails = |near| judged(near).iter().any(|f| f.is_fail());
                if fails(false) && !fails(true) {
                    "both ends"
                } else {
                    "the far end"
                }
                .to_string()
            }
            "bias" => format!("{}", RDM_IDLE_VOLTS * 1e3),
            "bias held under" => format!("{MOST_UNIT_LOADS} unit loads, -7 to +7 V common mode"),
            "reference bias network, as built by one board" => {
                let bias = Bias {
                    supply: volts(5.0),
                    resistor: ohms(562.0),
                };
                let idle = bias.idle_volts(&[ohms(130.0), ohms(120.0)], 32.0).value;
                assert!(
                    row.text("note")
                        .starts_with(&format!("{:.1} mV", idle * 1e3))
                );
                assert!(idle < RDM_IDLE_VOLTS, "short of 245 mV");
                "562 / 130 / 562 at 5 V".to_string()
            }
            "splitters in series, controller to farthest responder" => {
                rdm::MOST_IN_LINE.to_string()
            }
            "responders on a link" => format!("{MOST_UNIT_LOADS} unit loads between regenerations"),
            "UID" => Uid::BITS.to_string(),
            "UID broadcast to all" => Uid::ALL.to_string(),
            "UID broadcast to one manufacturer" => {
                Uid::to_all_of(0xABCD).to_string().replace("abcd", "mmmm")
            }
            "lowest UID" => Uid::LOWEST.to_string(),
            "highest UID met in practice" => Uid::HIGHEST.to_string(),
            "START code" => {
                assert!(
                    row.text("note")
                        .ends_with(&format!("{:02X}", rdm::SUB_START_CODE))
                );
                format!("{RDM:X}")
            }
            "packet length" => format!("{} to {}", rdm::SLOTS[0], rdm::SLOTS[1]),
            "break, sent" => span(rdm::BREAK_SECONDS),
            "mark after break, sent" => span(rdm::MARK_SECONDS),
            "responder starts to answer" => span(rdm::ANSWER_SECONDS),
            "controller waits for an answer" => micro(rdm::WAIT_SECONDS),
            "controller packet spacing after a lost answer" => micro(rdm::AFTER_LOST_SECONDS),
            "controller packet spacing otherwise" => micro(rdm::SPACING_SECONDS),
            "after a discovery request" => micro(rdm::AFTER_DISCOVERY_SECONDS),
            "idle between slots, responder" => micro(rdm::IDLE_SECONDS),
            "discovery answer" => format!("{} slots without break", rdm::DISCOVERY_SLOTS),
            "sub-devices" => rdm::MOST_SUB_DEVICES.to_string(),
            other => panic!("line {}: no check for `{other}`", row.line),
        };
        assert_eq!(found, value, "line {}: {item}", row.line);
    }
    // From memory, and not asserted: the standard's own network, in-line delay and break loss, average idle.
    assert_eq!((asserted, memory), (25, 4));
}

#[test]
fn packets_and_answers_are_judged() {
    let good = packet(0).expect("short");
    assert!(
        judge_packet(&good, &"controller".into())
            .iter()
            .all(|f| !f.is_fail())
    );
    let mut spec = *good.spec();
    (spec.break_time, spec.mark_after_break) = (seconds(92e-6), seconds(89e-6));
    let bad = judge_packet(&spec.check().expect("in range"), &"controller".into());
    assert!(
        bad.iter().all(|f| f.is_fail()),
        "92 µs is a break for levels, not for RDM"
    );
    let (late, delay) = (seconds(2e-3), seconds(88e-6));
    assert!(!judge_answer(&"a".into(), late, 4, delay).is_fail());
    assert!(
        judge_answer(&"a".into(), late, 4, seconds(101e-6)).is_fail(),
        "2.808 ms"
    );
    assert!(
        judge_answer(&"a".into(), late, 5, seconds(0.0)).is_fail(),
        "five in a row"
    );
    assert!(judge_answer(&"a".into(), seconds(f64::NAN), 0, delay).is_fail());
    assert_within("wait", rdm::WAIT_SECONDS, 2.8e-3, 1e-12);
}

proptest! {
    /// An identity is read back as it was written, and orders as its 48 bits do.
    #[test]
    fn identities(maker in any::<u16>(), device in any::<u32>(), other in any::<u32>()) {
        let uid = Uid { maker, device };
        prop_assert_eq!(uid.to_string().parse::<Uid>(), Ok(uid));
        let second = Uid { maker, device: other };
        prop_assert_eq!(uid < second, uid.number() < second.number());
        prop_assert!(Uid::ALL.is_for(uid) && Uid::to_all_of(maker).is_for(uid) && uid.is_for(uid));
        prop_assert!(!Uid::to_all_of(maker ^ 1).is_for(uid) || maker ^ 1 == u16::MAX);
    }

    #[test]
    fn other_text_is_no_identity(text in "[0-9a-fA-F:+ ]{0,14}") {
        let written = text.len() == 13 && text.as_bytes()[4] == b':'
            && text.bytes().enumerate().all(|(n, b)| n == 4 || b.is_ascii_hexdigit());
        prop_assert_eq!(text.parse::<Uid>().is_ok(), written);
    }
}
