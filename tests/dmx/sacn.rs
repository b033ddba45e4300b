//! Streaming ACN: octets against packets laid by hand from the standard's table, and hostile datagrams.

use crate::common::{assert_relative, assert_within, rows};
use evenrun::dmx::address::{MULTICAST_PORT, multicast, multicast_v6, universe};
use evenrun::dmx::sacn;
use evenrun::dmx::sacn::synchronization_packet;
use evenrun::dmx::sacn::{DataError, DataPacket, DataSpec, Options, ReadError};
use evenrun::quantity::hertz;
use proptest::prelude::*;

/// The octets of a packet of `sacn_packets.csv`; its rows must follow each other without a gap.
fn laid(packet: &str, octets: usize) -> Vec<u8> {
    let mut all = Vec::new();
    for row in rows("dmx/sacn_packets.csv", 55) {
        if row.text("packet") == packet {
            assert_eq!(
                row.number("first_octet") as usize,
                all.len(),
                "line {}",
                row.line
            );
            let hex = row.text("hex").split(' ');
            all.extend(hex.map(|octet| u8::from_str_radix(octet, 16).expect("an octet")));
        }
    }
    assert_eq!(all.len(), octets, "{packet}");
    all
}

const APPENDIX_B: [u8; 16] = [
    0xef, 0x07, 0xc8, 0xdd, 0x00, 0x64, 0x44, 0x01, 0xa3, 0xa2, 0x45, 0x9e, 0xf8, 0xe6, 0x14, 0x3e,
];

fn example() -> DataPacket {
    let slots = (0..512_u16).map(|slot| slot as u8).collect();
    let mut spec = DataSpec::new(1, "Source_A", APPENDIX_B, slots);
    (spec.synchronization, spec.sequence) = (7962, 154);
    spec.check().expect("in range")
}

#[test]
fn the_examples_laid_by_hand() {
    assert_eq!(example().octets(), laid("appendix B, data", 638));
    assert_eq!(
        DataPacket::read(&laid("appendix B, data", 638)),
        Ok(example())
    );
    let mut cid = [0; 16];
    (0..16).for_each(|n| cid[n] = n as u8);
    let short = DataSpec {
        universe: 63_999,
        priority: 200,
        sequence: 255,
        source_name: "Süd 2".into(),
        cid,
        synchronization: 0,
        options: Options {
            preview: true,
            terminated: true,
            force_synchronization: true,
        },
        slots: vec![1, 128, 255],
    };
    let short = short.check().expect("in range");
    assert_eq!(short.octets(), laid("three slots, data", 129));
    assert_eq!(DataPacket::read(&short.octets()), Ok(short.clone()));
    assert_eq!(short.next().spec().sequence, 0, "255 is followed by 0");
    let sync = synchronization_packet(APPENDIX_B, 67, 7962).expect("a universe");
    assert_eq!(sync, laid("appendix B, synchronization", 49));
    assert!(synchronization_packet(APPENDIX_B, 67, 0).is_err());
}

/// The lengths the appendix prints (as quoted) contradict its octets; a reader says where.
#[test]
fn the_lengths_as_printed_are_refused() {
    let mut octets = laid("appendix B, data", 638);
    octets[17] = 0x7d;
    let error = DataPacket::read(&octets).expect_err("637 for 622");
    assert_eq!(
        error.to_string(),
        "length of the root layer, octet 16: 637 where the packet has 622 octets from there on"
    );
}

#[test]
fn every_field_of_a_packet_is_looked_at() {
    let good = example().octets();
    let with = |at: usize, octet: u8| {
        let mut octets = good.clone();
        octets[at] = octet;
        DataPacket::read(&octets)
    };
    let said = |at, octet| with(at, octet).expect_err("a fault").to_string();
    for (at, field) in [
        (1, "preamble"),
        (3, "preamble"),
        (4, "packet identifier"),
        (15, "packet identifier"),
        (16, "flags"),
        (17, "length of the root layer"),
        (21, "vector of the root layer"),
        (39, "length of the framing layer"),
        (43, "vector of the framing layer"),
        (116, "length of the DMP layer"),
        (117, "vector of the DMP layer"),
        (118, "address type"),
        (120, "first property address"),
        (122, "address increment"),
        (124, "property value count"),
    ] {
        assert!(
            said(at, 0xFF).contains(field),
            "octet {at}: {}",
            said(at, 0xFF)
        );
    }
    assert_eq!(
        said(125, 0xCC),
        "START code 0xCC, octet 125: not dimmer data (START code 0x00)"
    );
    assert_eq!(
        with(108, 201),
        Err(ReadError::Range(DataError::Priority { found: 201 }))
    );
    assert!(said(113, 0xFF).contains("universe 65281"));
    assert!(said(109, 0xFF).contains("synchronisation address 65306"));
    assert!(said(44, 0xFF).contains("no UTF-8"));
    let mut endless = good.clone();
    endless[44..108].fill(b'x');
    assert!(
        DataPacket::read(&endless)
            .expect_err("no zero")
            .to_string()
            .contains("no zero")
    );
    // Every other octet is data: changing it changes what is read, or nothing that matters.
    for at in (22..38).chain([111, 114]).chain(126..638) {
        assert_ne!(
            with(at, good[at] ^ 1).as_ref(),
            Ok(&example()),
            "octet {at}"
        );
    }
}

#[test]
fn what_cannot_be_sent() {
    let mut spec = DataSpec::new(0, "a\0".to_string() + &"ü".repeat(32), [0; 16], vec![]);
    (spec.priority, spec.synchronization) = (201, 64_000);
    assert_eq!(spec.check().expect_err("faults").len(), 6);
    assert!(
        DataSpec::new(64_214, "", [0; 16], vec![0; 512])
            .check()
            .is_err(),
        "discovery only"
    );
    assert!(
        DataSpec::new(1, "x".repeat(63), [0; 16], vec![0; 512])
            .check()
            .is_ok()
    );
    assert!(DataSpec::new(1, "", [0; 16], vec![0; 513]).check().is_err());
}

fn specs() -> impl Strategy<Value = DataSpec> {
    (
        (1_u16..=63_999, 0_u8..=200, any::<u8>(), "[^\0]{0,15}"),
        (any::<[u8; 16]>(), 0_u16..=63_999, any::<[bool; 3]>()),
        prop::collection::vec(any::<u8>(), 1..=512),
    )
        .prop_map(|(head, (cid, synchronization, flags), slots)| DataSpec {
            universe: head.0,
            priority: head.1,
            sequence: head.2,
            source_name: head.3,
            cid,
            synchronization,
            options: Options {
                preview: flags[0],
                terminated: flags[1],
                force_synchronization: flags[2],
            },
            slots,
        })
}

proptest! {
    /// What is written is read back, whatever it says.
    #[test]
    fn out_and_back(spec in specs()) {
        let packet = spec.check().expect("in range");
        let octets = packet.octets();
        prop_assert_eq!(octets.len(), 126 + packet.spec().slots.len());
        prop_assert_eq!(DataPacket::read(&octets).expect("its own octets"), packet);
    }

    /// A datagram that is cut or grown is never read as a packet.
    #[test]
    fn another_length_is_no_packet(spec in specs(), length in 0_usize..700) {
        let mut octets = spec.check().expect("in range").octets();
        prop_assume!(length != octets.len());
        octets.resize(length, 0);
        prop_assert!(DataPacket::read(&octets).is_err());
    }

    /// Whatever comes, reading ends in a packet that would be written so, or in an error.
    #[test]
    fn hostile_datagrams(spec in specs(), changes in prop::collection::vec((0_usize..638, any::<u8>()), 1..8)) {
        let mut octets = spec.check().expect("in range").octets();
        for (at, octet) in changes {
            let at = at % octets.len();
            octets[at] = octet;
        }
        if let Ok(packet) = DataPacket::read(&octets) {
            let again = packet.octets();
            prop_assert_eq!(DataPacket::read(&again).expect("its own octets"), packet);
        }
    }
}

#[test]
fn load_on_the_network() {
    for row in rows("dmx/sacn_bandwidth_check.csv", 6) {
        let what = format!("line {}", row.line);
        let slots = row.number("data_slots") as u16;
        let payload = f64::from(sacn::payload_octets(slots));
        assert_within(&what, payload, row.number("udp_payload_bytes"), 0.0);
        let spec = DataSpec::new(1, "", [0; 16], vec![0; usize::from(slots)]);
        let octets = spec.check().expect("in range").octets().len();
        assert_within(&what, octets as f64, payload, 0.0);
        assert_within(
            &what,
            f64::from(sacn::wire_octets(slots)),
            row.number("bytes_on_wire"),
            0.0,
        );
        let at = |rate: f64| sacn::bits_per_second(slots, hertz(rate));
        assert_within(&what, at(44.0), row.number("bits_per_second_at_44_hz"), 0.0);
        let fastest = row.number("bits_per_second_at_44.0995_hz");
        assert_relative(&what, at(sacn::most_rate(512).value), fastest, 1e-6);
    }
}

#[test]
fn facts() {
    let seconds = |seconds: f64| format!("{seconds}");
    for row in rows("dmx/sacn_facts.csv", 15) {
        let what = format!("line {}: {}", row.line, row.text("item"));
        let found = match row.text("item") {
            "universe number" => {
                assert!(universe(0).is_err() && universe(64_000).is_err());
                let all = (1..=65_535).filter(|&number| universe(number).is_ok());
                format!("1 to {}", all.max().expect("some"))
            }
            "universe 0 and 64000 to 65535" => {
                assert!(
                    (64_000..=65_535)
                        .chain([0])
                        .all(|number| universe(number).is_err())
                );
                "not used".to_string()
            }
            "discovery universe" => sacn::DISCOVERY_UNIVERSE.to_string(),
            "IPv4 multicast" => {
                let address = multicast(0x1234).expect("a universe").to_string();
                assert_eq!(address, format!("239.255.{}.{}", 0x12, 0x34));
                "239.255.hi.lo".to_string()
            }
            "IPv4 multicast not to be used" => {
                let used =
                    (1..=63_999).map(|number| multicast(number).expect("a universe").octets()[2]);
                assert!(used.max().expect("some") < 255);
                "239.255.255.0 to 239.255.255.255".to_string()
            }
            "IPv6 multicast" => {
                let address = multicast_v6(0x1234).expect("a universe").to_string();
                assert_eq!(address, "ff18::8300:1234");
                "ff18::8300:hhll (universe in the last 16 bits)".to_string()
            }
            "UDP port" => MULTICAST_PORT.to_string(),
            "priority" => format!(
                "0 to {}, default {}",
                sacn::MOST_PRIORITY,
                sacn::DEFAULT_PRIORITY
            ),
            "slots per universe" => {
                let octets = example().octets();
                let values = u16::from_be_bytes([octets[123], octets[124]]);
                format!(
                    "{} plus START code ({values} property values)",
                    example().spec().slots.len()
                )
            }
            "packet rate" => {
                let rate = sacn::most_rate(512).value;
                format!(
                    "not above the E1.11 maximum refresh ({rate:.0} Hz for 512 slots) unless the user asks"
                )
            }
            "data that does not change" => {
                let [from, to] = sacn::KEEP_ALIVE_SECONDS.map(|seconds| seconds * 1e3);
                assert_eq!(sacn::REPEATS, 3);
                format!("three packets, then one every {from} to {to} ms")
            }
            "network data loss" => seconds(sacn::DATA_LOSS_SECONDS),
            "discovery interval" => seconds(sacn::DISCOVERY_SECONDS),
            "size of a full data packet" => example().octets().len().to_string(),
            // Any footprint is taken: rules.rs, `footprints_are_free`.
            "channels a fixture should use" => "none recommended by E1.31".to_string(),
            _ => panic!("{what}: no check for this row"),
        };
        assert_eq!(found, row.text("value"), "{what}");
    }
}
