//! Footprints, the patch, and what is wrong with a problem.

use super::super::timing::SLOTS;
use crate::device::LevelBits;
use crate::error::SpecErrors;
use crate::finding::Finding;
use serde::Serialize;
use std::collections::BTreeSet;
use thiserror::Error;

/// Most devices of one problem.
pub(super) const MOST_DEVICES: usize = 1_000_000;
/// Most units (pixels) of one device.
const MOST_UNITS: u32 = 1_000_000;
/// Most errors listed.
const MOST_ERRORS: usize = 50;

/// The slots a device takes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Footprint {
    /// Name, unlike every other.
    pub name: String,
    /// Slots of the device, or of one of its pixels; 1 to 512.
    pub slots: u16,
    /// Pixels of a pixel device; 1 for any other.
    pub pixels: u32,
    /// A start address that must not change.
    pub fixed: Option<Start>,
    /// Shares its slots, on purpose, with other devices of a fixed address.
    pub may_share: bool,
}

impl Footprint {
    /// The footprint of a device of `emitters` emitters: one slot each at 8 bits, two at 16.
    #[must_use]
    pub fn new(name: impl Into<String>, emitters: u16, bits: LevelBits) -> Self {
        Self {
            name: name.into(),
            slots: emitters.saturating_mul(bits.slots()),
            pixels: 1,
            fixed: None,
            may_share: false,
        }
    }

    /// The same footprint, repeated for every pixel.
    #[must_use]
    pub fn pixels(mut self, pixels: u32) -> Self {
        self.pixels = pixels;
        self
    }

    /// The same footprint at a start address that must not change.
    #[must_use]
    pub fn at(mut self, universe: u16, address: u16) -> Self {
        self.fixed = Some(Start { universe, address });
        self
    }

    /// Slots of all pixels.
    #[must_use]
    pub fn total(&self) -> u64 {
        u64::from(self.slots) * u64::from(self.pixels)
    }

    /// The slots, where one universe holds them.
    pub(super) fn whole(&self) -> Option<u16> {
        u16::try_from(self.total())
            .ok()
            .filter(|&slots| slots <= SLOTS)
    }
}

/// A universe and an address in it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Start {
    /// Universe, 1 to 63999.
    pub universe: u16,
    /// Slot, 1 to 512.
    pub address: u16,
}

impl Start {
    /// An address in a universe.
    #[must_use]
    pub fn new(universe: u16, address: u16) -> Self {
        Self { universe, address }
    }
}

/// Slots that something outside this problem uses, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Reserved {
    /// Universe, 1 to 63999.
    pub universe: u16,
    /// First slot, 1 to 512.
    pub first: u16,
    /// Last slot, 1 to 512.
    pub last: u16,
}

impl Reserved {
    /// Slots of a universe from the first to the last.
    #[must_use]
    pub fn new(universe: u16, first: u16, last: u16) -> Self {
        Self {
            universe,
            first,
            last,
        }
    }
}

/// Devices that want addresses.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AddressProblem {
    /// The devices, in the order of the cable.
    pub devices: Vec<Footprint>,
    /// Slots that are not free.
    pub reserved: Vec<Reserved>,
    /// The first universe to fill.
    pub first_universe: u16,
}

/// What is wrong with an address problem.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum AddressError {
    /// A footprint is empty or larger than a universe.
    #[error("`{device}` takes {slots} slots; a device, or one pixel of it, takes 1 to 512")]
    Slots {
        /// The device.
        device: String,
        /// The slots.
        slots: u16,
    },
    /// No pixels, or too many.
    #[error("`{device}` has {pixels} pixels; write 1 to 1000000")]
    Pixels {
        /// The device.
        device: String,
        /// The pixels.
        pixels: u32,
    },
    /// No universe.
    #[error("{place}: universe {found}; universes count from 1 to 63999 (ANSI E1.31-2018, 6.2.7)")]
    Universe {
        /// Where.
        place: String,
        /// The number.
        found: u16,
    },
    /// No slot.
    #[error("{place}: slot {found}; slots count from 1 to 512 (the START code is slot 0)")]
    Slot {
        /// Where.
        place: String,
        /// The number.
        found: u16,
    },
    /// A range that ends before it begins.
    #[error(
        "reserved slots {first} to {last} of universe {universe}: write the lower number first"
    )]
    Backwards {
        /// The universe.
        universe: u16,
        /// First slot.
        first: u16,
        /// Last slot.
        last: u16,
    },
    /// Two devices of one name.
    #[error("two devices are called `{device}`; give each a name of its own")]
    SameName {
        /// The name.
        device: String,
    },
    /// More than can be addressed.
    #[error("{found} {what}; at most {limit}: split the job")]
    TooMany {
        /// What.
        what: &'static str,
        /// How many.
        found: usize,
        /// The limit.
        limit: usize,
    },
}

/// A problem whose numbers are in range.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AddressedProblem {
    pub(super) spec: AddressProblem,
}

impl AddressProblem {
    /// These devices in the order of the cable, from universe 1 on, with every slot free.
    #[must_use]
    pub fn new(devices: Vec<Footprint>) -> Self {
        Self {
            devices,
            reserved: Vec::new(),
            first_universe: 1,
        }
    }

    /// Checks names and ranges; clashes and overruns are findings of the patch.
    ///
    /// # Errors
    /// Every [`AddressError`] found, at most 50.
    pub fn check(self) -> Result<AddressedProblem, SpecErrors<AddressError>> {
        let mut errors = Vec::new();
        for (what, found) in [
            ("devices", self.devices.len()),
            ("reserved ranges", self.reserved.len()),
        ] {
            if found > MOST_DEVICES {
                errors.push(AddressError::TooMany {
                    what,
                    found,
                    limit: MOST_DEVICES,
                });
                return Err(SpecErrors(errors));
            }
        }
        check_universe(&mut errors, "first universe", self.first_universe);
        let mut names = BTreeSet::new();
        for device in &self.devices {
            let name = || crate::quantity::shorten(&device.name);
            if !names.insert(device.name.as_str()) {
                errors.push(AddressError::SameName { device: name() });
            }
            if device.slots == 0 || device.slots > SLOTS {
                errors.push(AddressError::Slots {
                    device: name(),
                    slots: device.slots,
                });
            }
            if device.pixels == 0 || device.pixels > MOST_UNITS {
                errors.push(AddressError::Pixels {
                    device: name(),
                    pixels: device.pixels,
                });
            }
            if let Some(start) = device.fixed {
                check_universe(&mut errors, &name(), start.universe);
                check_slot(&mut errors, &name(), start.address);
            }
            if errors.len() >= MOST_ERRORS {
                break;
            }
        }
        for range in self
            .reserved
            .iter()
            .take(MOST_ERRORS.max(self.reserved.len()))
        {
            if errors.len() >= MOST_ERRORS {
                break;
            }
            check_universe(&mut errors, "reserved slots", range.universe);
            check_slot(&mut errors, "reserved slots", range.first);
            check_slot(&mut errors, "reserved slots", range.last);
            if range.first > range.last {
                errors.push(AddressError::Backwards {
                    universe: range.universe,
                    first: range.first,
                    last: range.last,
                });
            }
        }
        errors.truncate(MOST_ERRORS);
        if errors.is_empty() {
            Ok(AddressedProblem { spec: self })
        } else {
            Err(SpecErrors(errors))
        }
    }
}

fn check_universe(errors: &mut Vec<AddressError>, place: &str, found: u16) {
    if super::network::universe(u32::from(found)).is_err() {
        errors.push(AddressError::Universe {
            place: place.into(),
            found,
        });
    }
}

fn check_slot(errors: &mut Vec<AddressError>, place: &str, found: u16) {
    if found == 0 || found > SLOTS {
        errors.push(AddressError::Slot {
            place: place.into(),
            found,
        });
    }
}

/// One stretch of slots of one device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PatchRow {
    /// Index of the device in the problem.
    pub device: usize,
    /// Its name.
    pub name: String,
    /// First pixel of this stretch, counted from 0; 0 for a device without pixels.
    pub first_pixel: u32,
    /// Universe.
    pub universe: u16,
    /// First slot: the start address to set on the device.
    pub first: u16,
    /// Last slot.
    pub last: u16,
}

impl PatchRow {
    /// The start address as a display of three digits shows it.
    #[must_use]
    pub fn display(&self) -> String {
        format!("{:03}", self.first)
    }

    /// The start address on ten on/off switches of weight 1, 2, 4 … 512.
    ///
    /// Some devices count such switches from 0 and want the address less one: see the device's own sheet.
    #[must_use]
    pub fn switches(&self) -> [bool; 10] {
        let mut switches = [false; 10];
        for (place, switch) in switches.iter_mut().enumerate() {
            *switch = self.first >> place & 1 == 1;
        }
        switches
    }

    /// Slots of this stretch.
    #[must_use]
    pub fn slots(&self) -> u16 {
        (self.last + 1).saturating_sub(self.first)
    }

    /// The first slot counted through all universes: `512 · (universe − 1) + slot`.
    #[must_use]
    pub fn absolute(&self) -> u32 {
        u32::from(SLOTS) * u32::from(self.universe.saturating_sub(1)) + u32::from(self.first)
    }
}

/// Who listens to which slots.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Patch {
    /// One row a device (more for a device cut between pixels), in the order of the devices.
    pub rows: Vec<PatchRow>,
    /// Universes used, in ascending order.
    pub universes: Vec<u16>,
    /// No patch of these devices and reserved slots, kept to universes from the first on, uses fewer universes.
    pub least_universes: usize,
    /// Clashes, overruns and devices without an address.
    pub findings: Vec<Finding>,
}

impl Patch {
    /// The row of a device, the first where it is cut.
    #[must_use]
    pub fn row(&self, name: &str) -> Option<&PatchRow> {
        self.rows.iter().find(|row| row.name == name)
    }
}
