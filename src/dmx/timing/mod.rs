//! How long a packet lasts, and how often it can be sent.
//!
//! A slot is 11 bits of 4 µs: one start bit, 8 data bits, two stop bits. With
//! `n` data slots behind the START code,
//!
//! ```text
//! packet         = break + mark after break + 44 µs · (n + 1) + idle · n
//! break to break = max(packet + mark before break, least break to break)
//! refresh        = 1 / (break to break)
//! ```
//!
//! ```
//! use evenrun::dmx::timing::{PacketSpec, Role};
//! let packet = PacketSpec::shortest(512, Role::Transmitter).check().unwrap();
//! assert!((packet.duration().value - 22_676e-6).abs() < 1e-12);
//! assert!((packet.refresh(Role::Transmitter).value - 44.0995).abs() < 1e-4);
//! ```
//!
//! Limits: ANSI E1.11-2008 (R2018), as quoted by public documents.

use crate::error::SpecErrors;
use crate::quantity::{Frequency, Time, hertz, seconds};
use thiserror::Error;

pub(super) mod judge;
mod limits;
pub(super) mod test_packet;

pub use judge::judge_bit_rate;
pub use limits::{OLDER, OlderText, Role, TimingLimits};
pub use test_packet::judge_test_packet;

/// Data slots of a full universe.
pub const SLOTS: u16 = 512;
/// Length of a slot, s: 11 bits at 250 kbit/s.
pub const SLOT_SECONDS: f64 = 44e-6;
/// Length of a bit, s.
pub const BIT_SECONDS: f64 = 4e-6;
/// Bits a second, from and to: 250 kbit/s within 2 %.
pub const BIT_RATE: [f64; 2] = [245e3, 255e3];
/// A receiver that had no good packet for so long has lost the data, s.
pub const DATA_LOSS_SECONDS: f64 = 1.25;

/// A packet as a transmitter sends it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PacketSpec {
    /// Data slots behind the START code, 0 to 512.
    pub slots: u16,
    /// Break.
    pub break_time: Time,
    /// Mark after break.
    pub mark_after_break: Time,
    /// Idle time after each data slot.
    pub idle: Time,
    /// Mark between the last slot and the next break.
    pub mark_before_break: Time,
}

/// What is wrong with a packet.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum TimingError {
    /// More slots than a universe has.
    #[error("{found} data slots in a packet; at most 512: split over more universes")]
    TooManySlots {
        /// The number.
        found: u16,
    },
    /// A time that is negative, infinite or no number.
    #[error("{what} is {found} s; write a time of zero or more, at most 3600 s")]
    NoTime {
        /// Which time.
        what: &'static str,
        /// What it was, s.
        found: f64,
    },
}

impl PacketSpec {
    /// The shortest packet that the limits of `role` permit, without idle time.
    #[must_use]
    pub fn shortest(slots: u16, role: Role) -> Self {
        let limits = role.limits();
        Self {
            slots,
            break_time: limits.least_break,
            mark_after_break: limits.least_mark_after_break,
            idle: seconds(0.0),
            mark_before_break: seconds(0.0),
        }
    }

    /// Checks the numbers; whether they keep the standard is for [`Packet::judge`].
    ///
    /// # Errors
    /// Every [`TimingError`] found.
    pub fn check(self) -> Result<Packet, SpecErrors<TimingError>> {
        let mut errors = Vec::new();
        if self.slots > SLOTS {
            errors.push(TimingError::TooManySlots { found: self.slots });
        }
        for (what, time) in [
            ("the break", self.break_time),
            ("the mark after break", self.mark_after_break),
            ("the idle time between slots", self.idle),
            ("the mark before break", self.mark_before_break),
        ] {
            if !(time.value >= 0.0 && time.value <= 3600.0) {
                errors.push(TimingError::NoTime {
                    what,
                    found: time.value,
                });
            }
        }
        if errors.is_empty() {
            Ok(Packet { spec: self })
        } else {
            Err(SpecErrors(errors))
        }
    }
}

/// A packet whose numbers are numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Packet {
    spec: PacketSpec,
}

impl Packet {
    /// Its times, as written.
    #[must_use]
    pub fn spec(&self) -> &PacketSpec {
        &self.spec
    }

    /// From the start of the break to the end of the last slot.
    #[must_use]
    pub fn duration(&self) -> Time {
        let slots = f64::from(self.spec.slots);
        seconds(
            self.spec.break_time.value
                + self.spec.mark_after_break.value
                + SLOT_SECONDS * (slots + 1.0)
                + self.spec.idle.value * slots,
        )
    }

    /// From one break to the next, drawn out to the least that `role` permits.
    #[must_use]
    pub fn break_to_break(&self, role: Role) -> Time {
        let natural = self.duration().value + self.spec.mark_before_break.value;
        seconds(natural.max(role.limits().least_break_to_break.value))
    }

    /// Idle line that the packet must add to reach the least break to break.
    #[must_use]
    pub fn padding(&self, role: Role) -> Time {
        seconds(self.break_to_break(role).value - self.duration().value)
    }

    /// Packets per second.
    #[must_use]
    pub fn refresh(&self, role: Role) -> Frequency {
        hertz(1.0 / self.break_to_break(role).value)
    }
}

/// The most data slots a packet may have at a wanted refresh, with break, marks and idle time of `spec`.
///
/// `None` where not even the START code fits, or the rate is no rate.
#[must_use]
pub fn most_slots_at(rate: Frequency, spec: PacketSpec) -> Option<u16> {
    if !(rate.value > 0.0 && rate.value.is_finite()) {
        return None;
    }
    let room = 1.0 / rate.value
        - spec.break_time.value
        - spec.mark_after_break.value
        - spec.mark_before_break.value
        - SLOT_SECONDS;
    let each = SLOT_SECONDS + spec.idle.value;
    if !(room >= 0.0 && each > 0.0) {
        return None;
    }
    // A billionth of a slot forgives the rounding of the subtraction.
    Some(libm::floor(room / each + 1e-9).min(f64::from(SLOTS)) as u16)
}

/// Delay of a chain of repeaters and cable: `repeaters · each + line`.
#[must_use]
pub fn latency(repeaters: u32, each: Time, line: Time) -> Time {
    seconds(f64::from(repeaters) * each.value + line.value)
}

/// Break left behind repeaters that each shorten it: `break − repeaters · loss`, at least zero.
#[must_use]
pub fn break_left(break_time: Time, repeaters: u32, loss: Time) -> Time {
    seconds((break_time.value - f64::from(repeaters) * loss.value).max(0.0))
}
