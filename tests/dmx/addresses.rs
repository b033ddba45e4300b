//! Footprints, addresses and universes.

use crate::common::rows;
use crate::rule_id;
use evenrun::device::LevelBits;
use evenrun::dmx::address::{
    AddressProblem, Footprint, Patch, Reserved, multicast, multicast_v6, universe,
};
use proptest::prelude::*;
use std::collections::BTreeSet;

fn patch(devices: Vec<Footprint>, reserved: Vec<Reserved>) -> Patch {
    let problem = AddressProblem {
        devices,
        reserved,
        first_universe: 1,
    };
    problem.check().expect("in range").assign()
}

fn many(count: usize, slots: u16) -> Vec<Footprint> {
    (0..count)
        .map(|n| Footprint::new(format!("D{n}"), slots, LevelBits::Eight))
        .collect()
}

#[test]
fn packed_in_order() {
    for row in rows("dmx/address_check.csv", 10) {
        let first = row.number("first_address") as u16;
        let slots = row.number("footprint_slots") as u16;
        let reserved = (first > 1).then_some(Reserved {
            universe: 1,
            first: 1,
            last: first - 1,
        });
        let patch = patch(
            many(row.number("devices") as usize, slots),
            reserved.into_iter().collect(),
        );
        let last = patch.rows.last().expect("a device");
        assert_eq!(
            f64::from(last.universe),
            row.number("universe_of_last_device")
        );
        assert_eq!(f64::from(last.first), row.number("address_of_last_device"));
        assert_eq!(f64::from(last.last), row.number("last_slot_of_last_device"));
        assert_eq!(
            f64::from(last.absolute()),
            row.number("absolute_slot_of_last_device")
        );
    }
}

#[test]
fn whole_devices_in_a_universe() {
    for row in rows("dmx/universe_capacity.csv", 12) {
        let bits = if row.text("bits_per_channel") == "16" {
            LevelBits::Sixteen
        } else {
            LevelBits::Eight
        };
        let emitters = row.number("channels") as u16;
        let devices = (0..=512)
            .map(|n| Footprint::new(format!("D{n}"), emitters, bits))
            .collect();
        let patch = patch(devices, vec![]);
        let here: Vec<_> = patch.rows.iter().filter(|row| row.universe == 1).collect();
        assert_eq!(here.len() as f64, row.number("devices_per_universe"));
        let last = here.last().expect("a device");
        assert_eq!(f64::from(last.first), row.number("address_of_last_device"));
        assert_eq!(f64::from(last.slots()), row.number("footprint_slots"));
    }
}

#[test]
fn multicast_addresses() {
    for row in rows("dmx/sacn_multicast_check.csv", 15) {
        let number = row.number("universe") as u32;
        if row.text("use") == "discovery only" || row.text("ipv4_multicast") == "refused" {
            assert!(
                universe(number).is_err()
                    && multicast(number).is_err()
                    && multicast_v6(number).is_err()
            );
        } else {
            assert_eq!(
                multicast(number).expect("in range").to_string(),
                row.text("ipv4_multicast")
            );
            let v6: std::net::Ipv6Addr = row.text("ipv6_multicast").parse().expect("an address");
            assert_eq!(multicast_v6(number).expect("in range"), v6);
        }
    }
}

#[test]
fn what_is_shown_on_a_device() {
    let patch = patch(
        vec![Footprint::new("D", 4, LevelBits::Sixteen).at(3, 37)],
        vec![],
    );
    let row = patch.row("D").expect("placed");
    assert_eq!(
        (row.universe, row.first, row.last, row.display().as_str()),
        (3, 37, 44, "037")
    );
    let on: Vec<u16> = (0..10)
        .filter(|&n| row.switches()[n as usize])
        .map(|n| 1 << n)
        .collect();
    assert_eq!(on, [1, 4, 32]);
}

#[test]
fn clashes_and_overruns_are_found() {
    let five = |name: &str| Footprint::new(name, 5, LevelBits::Eight);
    let devices = vec![
        five("over").at(1, 510),
        five("a").at(1, 10),
        five("b").at(1, 14),
        five("c").at(1, 100),
    ];
    let found = patch(
        devices.clone(),
        vec![Reserved {
            universe: 1,
            first: 104,
            last: 104,
        }],
    );
    let ids: Vec<_> = found
        .findings
        .iter()
        .map(|f| (rule_id(f), f.about.to_string()))
        .collect();
    assert_eq!(
        ids,
        [
            ("address-overrun", "over at 1.510".to_string()),
            ("address-clash", "b at 1.014".to_string()),
            ("address-clash", "c at 1.100".to_string())
        ]
    );
    assert_eq!(found.rows.len(), 1, "only `a` has an address");
    let mut shared = devices;
    shared[2].may_share = true;
    assert_eq!(
        patch(shared, vec![]).findings.len(),
        1,
        "sharing on purpose is no clash"
    );
}

#[test]
fn what_cannot_be_a_problem() {
    let bad = AddressProblem {
        devices: vec![
            Footprint::new("zero", 0, LevelBits::Eight),
            Footprint::new("big", 300, LevelBits::Sixteen),
            Footprint::new("x", 1, LevelBits::Eight).at(0, 0),
            Footprint::new("x", 1, LevelBits::Eight).at(64_000, 513),
        ],
        reserved: vec![Reserved {
            universe: 1,
            first: 9,
            last: 3,
        }],
        first_universe: 0,
    };
    assert_eq!(bad.check().expect_err("faults").len(), 9);
}

/// 400 pixels of 3 slots: 170, 170, 60; no pixel lies in two universes.
#[test]
fn a_pixel_string_is_cut_between_pixels() {
    let strip = Footprint::new("strip", 3, LevelBits::Eight).pixels(400);
    let found = patch(
        vec![Footprint::new("first", 500, LevelBits::Eight), strip],
        vec![],
    );
    let parts: Vec<_> = found
        .rows
        .iter()
        .map(|r| (r.universe, r.first, r.last, r.first_pixel))
        .collect();
    assert_eq!(
        parts,
        [
            (1, 1, 500, 0),
            (1, 501, 512, 0),
            (2, 1, 510, 4),
            (3, 1, 510, 174),
            (4, 1, 168, 344)
        ]
    );
}

fn footprints() -> impl Strategy<Value = Vec<Footprint>> {
    let one = (
        1_u16..=12,
        1_u32..=60,
        prop::option::weighted(0.2, (1_u16..=3, 1_u16..=512)),
    );
    prop::collection::vec(one, 1..120).prop_map(|all| {
        let made = all
            .into_iter()
            .enumerate()
            .map(|(n, (slots, pixels, fixed))| {
                let device =
                    Footprint::new(format!("D{n}"), slots, LevelBits::Eight).pixels(pixels);
                match fixed {
                    Some((universe, address)) => device.at(universe, address),
                    None => device,
                }
            });
        made.collect()
    })
}

/// No two rows share a slot, none leaves 1 to 512 or meets reserved slots, and all movable slots are there.
fn sound(devices: &[Footprint], reserved: &[Reserved], patch: &Patch) {
    let mut seen = BTreeSet::new();
    for range in reserved {
        seen.extend((range.first..=range.last).map(|slot| (range.universe, slot)));
    }
    for row in &patch.rows {
        assert!(
            row.first >= 1 && row.first <= row.last && row.last <= 512,
            "{row:?}"
        );
        for slot in row.first..=row.last {
            assert!(
                seen.insert((row.universe, slot)),
                "slot {slot} twice: {row:?}"
            );
        }
    }
    for (index, device) in devices.iter().enumerate() {
        let slots: u64 = patch
            .rows
            .iter()
            .filter(|r| r.device == index)
            .map(|r| u64::from(r.slots()))
            .sum();
        assert!(
            slots == device.total() || (slots == 0 && device.fixed.is_some()),
            "{device:?}"
        );
    }
    assert!(patch.universes.len() >= patch.least_universes);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn addresses_never_overlap_nor_leave_a_universe(devices in footprints(), from in 1_u16..=512, to in 1_u16..=512) {
        let reserved = vec![Reserved { universe: 2, first: from.min(to), last: from.max(to) }];
        let problem = AddressProblem { devices: devices.clone(), reserved: reserved.clone(), first_universe: 1 };
        let problem = problem.check().expect("in range");
        let in_order = problem.assign();
        sound(&devices, &reserved, &in_order);
        let tightest = problem.assign_tightest();
        sound(&devices, &reserved, &tightest);
        prop_assert!(tightest.universes.len() <= in_order.universes.len() + 1);
        // A patch changed into itself moves nothing that one universe holds.
        let again = problem.assign_again(&in_order);
        sound(&devices, &reserved, &again.patch);
        prop_assert!(again.added.is_empty() && again.gone.is_empty());
        for name in &again.moved {
            let device = devices.iter().find(|device| &device.name == name).expect("known");
            prop_assert!(device.total() > 512, "{} moved", name);
        }
    }
}

/// Every subset of what could stay is tried; none keeps more than the greedy choice.
#[test]
fn re_addressing_moves_the_fewest() {
    let old = patch(many(10, 3), vec![]);
    for grown in 0..1024_u32 {
        let mut devices = many(10, 3);
        for (n, device) in devices.iter_mut().enumerate() {
            device.slots = if grown >> n & 1 == 1 { 5 } else { 3 };
        }
        let problem = AddressProblem {
            devices: devices.clone(),
            reserved: vec![],
            first_universe: 1,
        };
        let changed = problem.check().expect("in range").assign_again(&old);
        let wanted: Vec<(u16, u16)> = old
            .rows
            .iter()
            .zip(&devices)
            .map(|(row, device)| (row.first, row.first + device.slots - 1))
            .collect();
        let most = (0..1024_u32)
            .filter(|kept| {
                let kept: Vec<_> = wanted
                    .iter()
                    .enumerate()
                    .filter(|(n, _)| kept >> n & 1 == 1)
                    .collect();
                kept.windows(2).all(|pair| pair[0].1.1 < pair[1].1.0)
            })
            .map(u32::count_ones)
            .max();
        assert_eq!(
            Some(10 - changed.moved.len() as u32),
            most,
            "grown {grown:010b}"
        );
    }
}
