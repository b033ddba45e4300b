//! Giving addresses: in cable order, tightest, or with the fewest changes.

use super::super::timing::SLOTS;
use super::judge;
use super::model::{AddressedProblem, Footprint, Patch, PatchRow};
use super::slots::Taken;
use crate::finding::Finding;
use crate::order::Order as _;
use std::collections::{BTreeMap, BTreeSet};

/// Last universe (ANSI E1.31-2018, clause 6.2.7).
const LAST_UNIVERSE: u16 = 63_999;

/// A patch after a change, and what has to be set anew.
#[derive(Debug, Clone, PartialEq)]
pub struct Changed {
    /// The new patch.
    pub patch: Patch,
    /// Devices of the old patch whose start address changed, in order.
    pub moved: Vec<String>,
    /// Devices that the old patch did not have, in order.
    pub added: Vec<String>,
    /// Devices of the old patch that are gone, in order.
    pub gone: Vec<String>,
}

/// Slots being handed out.
struct Desk<'a> {
    devices: &'a [Footprint],
    taken: Taken,
    rows: Vec<PatchRow>,
    findings: Vec<Finding>,
    placed: Vec<bool>,
}

impl AddressedProblem {
    /// Addresses in cable order: every device as soon after the one before it as free slots allow.
    ///
    /// Devices of a fixed address come first; a clash of two of them of which neither shares on purpose, or one
    /// that runs past slot 512, is a finding and leaves that device without an address.
    #[must_use]
    pub fn assign(&self) -> Patch {
        let mut desk = self.desk();
        let mut at = (self.spec.first_universe, 1);
        for device in 0..desk.devices.len() {
            if !desk.placed.get(device).copied().unwrap_or(true) {
                at = desk.place(device, at);
            }
        }
        self.finish(desk)
    }

    /// Addresses with few universes: the largest footprints first, each in the first gap that holds it.
    ///
    /// First fit decreasing is not always the tightest. Where [`Patch::universes`]
    /// is as many as [`Patch::least_universes`] no patch uses fewer.
    #[must_use]
    pub fn assign_tightest(&self) -> Patch {
        let mut desk = self.desk();
        desk.fill(self.spec.first_universe);
        self.finish(desk)
    }

    /// Addresses after a change: as many devices as possible keep the start address of `old`.
    ///
    /// Of the devices that could stay, a largest set whose slots do not meet is
    /// kept: per universe the one that ends first, and so on, which is exact for
    /// intervals. The rest go to free slots, the largest first.
    #[must_use]
    pub fn assign_again(&self, old: &Patch) -> Changed {
        let mut desk = self.desk();
        let before: BTreeMap<&str, &PatchRow> = {
            let mut first = BTreeMap::new();
            for row in &old.rows {
                first.entry(row.name.as_str()).or_insert(row);
            }
            first
        };
        let mut wishes = Vec::new();
        for (index, device) in desk.devices.iter().enumerate() {
            if desk.placed.get(index).copied().unwrap_or(true) {
                continue;
            }
            if let (Some(row), Some(slots)) = (before.get(device.name.as_str()), device.whole()) {
                let last = u32::from(row.first) + u32::from(slots) - 1;
                if row.first >= 1 && last <= u32::from(SLOTS) {
                    wishes.push((row.universe, last as u16, row.first, index));
                }
            }
        }
        wishes.sort_unstable();
        for (universe, last, first, index) in wishes {
            if !desk.taken.any(universe, first, last) {
                desk.put(index, 0, universe, first, last);
            }
        }
        desk.fill(self.spec.first_universe);
        let patch = self.finish(desk);
        let mut after = BTreeMap::new();
        for row in &patch.rows {
            after.entry(row.name.as_str()).or_insert(row);
        }
        let place = |row: &PatchRow| (row.universe, row.first);
        let mut moved = Vec::new();
        let mut added = Vec::new();
        for (name, row) in &after {
            match before.get(name) {
                Some(old) if place(old) != place(row) => moved.push((row.device, *name)),
                Some(_) => {}
                None => added.push((row.device, *name)),
            }
        }
        let in_order = |mut names: Vec<(usize, &str)>| {
            names.sort_unstable();
            names
                .into_iter()
                .map(|(_, name)| name.to_string())
                .collect()
        };
        let (moved, added) = (in_order(moved), in_order(added));
        let wanted: BTreeSet<&str> = self.spec.devices.iter().map(|d| d.name.as_str()).collect();
        let gone = before.keys().filter(|name| !wanted.contains(*name));
        let gone = gone.map(|name| (*name).to_string()).collect();
        Changed {
            patch,
            moved,
            added,
            gone,
        }
    }

    fn desk(&self) -> Desk<'_> {
        let devices = self.spec.devices.as_slice();
        let mut desk = Desk {
            devices,
            taken: Taken::default(),
            rows: Vec::with_capacity(devices.len()),
            findings: Vec::new(),
            placed: vec![false; devices.len()],
        };
        for range in &self.spec.reserved {
            desk.taken.take(range.universe, range.first, range.last);
        }
        let reserved = desk.taken.clone();
        // By slot the device that has it to itself.
        let mut owners: BTreeMap<(u16, u16), usize> = BTreeMap::new();
        for (index, device) in devices.iter().enumerate() {
            let Some(start) = device.fixed else { continue };
            if let Some(placed) = desk.placed.get_mut(index) {
                *placed = true;
            }
            let last = u64::from(start.address) + device.total() - 1;
            let Some(last) = u16::try_from(last).ok().filter(|&last| last <= SLOTS) else {
                desk.findings.push(judge::overrun(device, start, last));
                continue;
            };
            let slots = (start.universe, start.address)..=(start.universe, last);
            let met = owners.range(slots).next().filter(|_| !device.may_share);
            let other = met.and_then(|(_, owner)| devices.get(*owner));
            if reserved.any(start.universe, start.address, last) {
                desk.findings.push(judge::clash(device, start, last, None));
                continue;
            }
            if let Some(other) = other {
                let other = Some(other.name.as_str());
                desk.findings.push(judge::clash(device, start, last, other));
                continue;
            }
            if !device.may_share {
                let own = (start.address..=last).map(|slot| ((start.universe, slot), index));
                owners.extend(own);
            }
            desk.put(index, 0, start.universe, start.address, last);
        }
        desk
    }

    fn finish(&self, mut desk: Desk<'_>) -> Patch {
        desk.rows.order_by_key(|row| (row.device, row.first_pixel));
        let universes: BTreeSet<u16> = desk.rows.iter().map(|row| row.universe).collect();
        Patch {
            rows: desk.rows,
            universes: universes.into_iter().collect(),
            least_universes: self.least_universes(),
            findings: desk.findings,
        }
    }

    /// Universes that hold all slots of the movable devices, the emptiest first, beside those of fixed devices.
    fn least_universes(&self) -> usize {
        let fixed = self.desk();
        let used: BTreeSet<u16> = fixed.rows.iter().map(|row| row.universe).collect();
        let devices = self
            .spec
            .devices
            .iter()
            .filter(|device| device.fixed.is_none());
        let mut wanted: u64 = devices.map(Footprint::total).sum();
        for &universe in &used {
            wanted = wanted.saturating_sub(u64::from(fixed.taken.free(universe)));
        }
        used.len() + wanted.div_ceil(u64::from(SLOTS)) as usize
    }
}

impl Desk<'_> {
    fn put(&mut self, device: usize, first_pixel: u32, universe: u16, first: u16, last: u16) {
        self.taken.take(universe, first, last);
        if let (Some(footprint), Some(placed)) =
            (self.devices.get(device), self.placed.get_mut(device))
        {
            *placed = true;
            self.rows.push(PatchRow {
                device,
                name: footprint.name.clone(),
                first_pixel,
                universe,
                first,
                last,
            });
        }
    }

    /// Places every device that has no address yet, the largest first, each in the first gap.
    fn fill(&mut self, first_universe: u16) {
        let mut order: Vec<usize> = (0..self.devices.len()).collect();
        order.retain(|&index| !self.placed.get(index).copied().unwrap_or(true));
        order.order_by_key(|&index| {
            (
                std::cmp::Reverse(self.devices.get(index).map(Footprint::total)),
                index,
            )
        });
        // Where a device of some size was placed, no earlier gap holds that size.
        let (mut size, mut at) = (0, (first_universe, 1));
        for index in order {
            let wanted = self.devices.get(index).map_or(0, Footprint::total);
            if wanted != size {
                (size, at) = (wanted, (first_universe, 1));
            }
            at = self.place(index, at);
        }
    }

    /// Places a device at or after `at`; gives the place behind it.
    fn place(&mut self, index: usize, at: (u16, u16)) -> (u16, u16) {
        let Some(device) = self.devices.get(index) else {
            return at;
        };
        let (slots, pixels) = (device.slots, device.pixels);
        let (mut universe, mut from) = at;
        if let Some(slots) = device.whole() {
            while universe <= LAST_UNIVERSE {
                if let Some(first) = self.taken.gap(universe, from, slots) {
                    self.put(index, 0, universe, first, first + slots - 1);
                    return (universe, first + slots);
                }
                (universe, from) = (universe + 1, 1);
            }
        } else {
            let mut pixel = 0;
            while universe <= LAST_UNIVERSE {
                let Some(first) = self.taken.gap(universe, from, slots) else {
                    (universe, from) = (universe + 1, 1);
                    continue;
                };
                let fits =
                    u32::from(self.taken.run_from(universe, first) / slots).min(pixels - pixel);
                let last = first + (fits as u16) * slots - 1;
                self.put(index, pixel, universe, first, last);
                pixel += fits;
                from = last + 1;
                if pixel >= pixels {
                    return (universe, from);
                }
            }
        }
        self.findings.push(judge::none_free(device, LAST_UNIVERSE));
        (universe, from)
    }
}
