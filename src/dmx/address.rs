//! Footprints to addresses and universes.
//!
//! A footprint is the slots of one device, one after the other: emitters times slots of each. It lies
//! in one universe, on slots 1 to 512, and overlaps nothing. Devices are placed in the order
//! given, each at the first free slots after the one before; a gap that is left by a taken range is
//! used by a later device that fits there only with [`Order::Tightest`].

use crate::finding::Finding;
use crate::source::Source;
use std::net::Ipv4Addr;
use thiserror::Error;

/// Slots of a universe.
pub const SLOTS: u16 = 512;
/// Most devices of one patch.
pub const MOST_DEVICES: usize = 100_000;

const E1_11: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "at most 512 data slots in a packet",
);

/// A device that takes slots.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Footprint {
    /// Name.
    pub device: String,
    /// Slots, 1 to 512.
    pub slots: u16,
    /// Address that is already set; none: to be assigned.
    pub fixed: Option<(u16, u16)>,
}

/// Slots `from` to `to` of a universe that something else uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Taken {
    /// Universe.
    pub universe: u16,
    /// First slot.
    pub from: u16,
    /// Last slot.
    pub to: u16,
}

/// In which order free slots are used.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Order {
    /// As the devices are listed: addresses rise along the list.
    #[default]
    AsListed,
    /// Each device in the first gap it fits in.
    Tightest,
}

/// What is to be addressed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AddressProblem {
    /// Devices.
    pub devices: Vec<Footprint>,
    /// Slots in use by others.
    pub taken: Vec<Taken>,
    /// Universes that may be used, in order.
    pub universes: Vec<u16>,
    /// Order.
    pub order: Order,
}

/// A device that cannot be addressed.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum AddressError {
    /// No slots, or more than a universe.
    #[error("device \"{device}\" takes {slots} slots; 1 to {SLOTS} are accepted")]
    Footprint {
        /// Device.
        device: String,
        /// Found.
        slots: u16,
    },
    /// A universe number that E1.31 does not use.
    #[error("universe {found}: 1 to 63999 are used")]
    Universe {
        /// Found.
        found: u16,
    },
    /// Too many devices.
    #[error("{found} devices; at most {MOST_DEVICES} are addressed at once")]
    TooMany {
        /// Found.
        found: usize,
    },
    /// The same device twice.
    #[error("device \"{device}\" is listed twice")]
    Twice {
        /// Device.
        device: String,
    },
}

/// A device with its slots.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Patched {
    /// Device.
    pub device: String,
    /// Universe.
    pub universe: u16,
    /// First slot: the start address to set.
    pub first: u16,
    /// Last slot.
    pub last: u16,
}

/// Addresses of all devices, and what is wrong with them.
#[derive(Debug, Clone, PartialEq)]
pub struct Patch {
    /// Devices in their order; one that found no place is missing.
    pub devices: Vec<Patched>,
    /// Clashes, overruns and devices without a place.
    pub findings: Vec<Finding>,
}

impl AddressProblem {
    /// Assigns addresses.
    ///
    /// # Errors
    /// Every footprint and universe that cannot be, at once.
    pub fn assign(&self) -> Result<Patch, Vec<AddressError>> {
        self.check()?;
        let mut used: Vec<Vec<bool>> =
            vec![vec![false; usize::from(SLOTS) + 1]; self.universes.len()];
        let place = |universe: u16| self.universes.iter().position(|u| *u == universe);
        for taken in &self.taken {
            if let Some(slots) = place(taken.universe).and_then(|p| used.get_mut(p)) {
                for slot in taken.from..=taken.to.min(SLOTS) {
                    slots[usize::from(slot)] = true;
                }
            }
        }
        let mut findings = Vec::new();
        let mut devices: Vec<Option<Patched>> = vec![None; self.devices.len()];
        for (row, device) in self.devices.iter().enumerate() {
            let Some((universe, first)) = device.fixed else {
                continue;
            };
            let last = u32::from(first) + u32::from(device.slots) - 1;
            let name = format!("device {}", device.device);
            let range = format!("universe {universe}, slots {first} to {last}");
            if first == 0 || last > u32::from(SLOTS) {
                findings.push(
                    Finding::fail("address-range", name)
                        .says("its slots leave the universe")
                        .figure(range)
                        .limit(format!("slots 1 to {SLOTS}"))
                        .source(E1_11)
                        .remedy(format!("set it to {} or less", SLOTS + 1 - device.slots)),
                );
                continue;
            }
            let last = last as u16;
            if let Some(slots) = place(universe).and_then(|p| used.get_mut(p)) {
                let own = usize::from(first)..=usize::from(last);
                if slots[own.clone()].iter().any(|u| *u) {
                    findings.push(
                        Finding::fail("address-clash", name)
                            .says("its slots are used by something else too")
                            .figure(range)
                            .limit("slots of its own")
                            .source(E1_11)
                            .remedy(
                                "give it another address, or patch the two together on purpose",
                            ),
                    );
                }
                slots[own].fill(true);
            }
            devices[row] = Some(Patched {
                device: device.device.clone(),
                universe,
                first,
                last,
            });
        }
        let mut from = (0_usize, 1_u16);
        for (row, device) in self.devices.iter().enumerate() {
            if device.fixed.is_some() {
                continue;
            }
            let begin = if self.order == Order::AsListed {
                from
            } else {
                (0, 1)
            };
            match free(&used, begin, device.slots) {
                Some((at, first)) => {
                    let last = first + (device.slots - 1);
                    used[at][usize::from(first)..=usize::from(last)].fill(true);
                    from = (at, last + 1);
                    devices[row] = Some(Patched {
                        device: device.device.clone(),
                        universe: self.universes[at],
                        first,
                        last,
                    });
                }
                None => findings.push(
                    Finding::fail("address-space", format!("device {}", device.device))
                        .says("no universe of its zone has enough free slots after the devices before it")
                        .figure(format!("{} slots", device.slots))
                        .limit("none free")
                        .source(E1_11)
                        .remedy("add a universe, or free a range"),
                ),
            }
        }
        Ok(Patch {
            devices: devices.into_iter().flatten().collect(),
            findings,
        })
    }

    fn check(&self) -> Result<(), Vec<AddressError>> {
        let mut faults = Vec::new();
        if self.devices.len() > MOST_DEVICES {
            return Err(vec![AddressError::TooMany {
                found: self.devices.len(),
            }]);
        }
        let mut names: Vec<&str> = self.devices.iter().map(|d| d.device.as_str()).collect();
        names.sort_unstable();
        for pair in names.windows(2) {
            if pair[0] == pair[1] {
                faults.push(AddressError::Twice {
                    device: pair[0].to_string(),
                });
            }
        }
        for device in &self.devices {
            if !(1..=SLOTS).contains(&device.slots) {
                faults.push(AddressError::Footprint {
                    device: device.device.clone(),
                    slots: device.slots,
                });
            }
        }
        let fixed = self.devices.iter().filter_map(|d| d.fixed.map(|f| f.0));
        for universe in self.universes.iter().copied().chain(fixed) {
            if !(1..=63_999).contains(&universe) {
                faults.push(AddressError::Universe { found: universe });
            }
        }
        if faults.is_empty() {
            Ok(())
        } else {
            Err(faults)
        }
    }
}

/// First run of `slots` free slots at or after `from`, within one universe.
fn free(used: &[Vec<bool>], from: (usize, u16), slots: u16) -> Option<(usize, u16)> {
    for (at, universe) in used.iter().enumerate().skip(from.0) {
        let mut length = 0;
        let begin = if at == from.0 { from.1 } else { 1 };
        for slot in begin..=SLOTS {
            length = if universe[usize::from(slot)] {
                0
            } else {
                length + 1
            };
            if length == slots {
                return Some((at, slot + 1 - slots));
            }
        }
    }
    None
}

/// Multicast address of a universe: 239.255.*high*.*low* (ANSI E1.31-2018, 9.3.1).
#[must_use]
pub fn multicast(universe: u16) -> Option<Ipv4Addr> {
    let [high, low] = universe.to_be_bytes();
    (1..=63_999)
        .contains(&universe)
        .then(|| Ipv4Addr::new(239, 255, high, low))
}
