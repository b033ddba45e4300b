//! Packet time and refresh.
//!
//! ```text
//! packet          = break + mark + 44 µs·(n + 1) + idle·n
//! break to break  = max(packet + mark before break, 1204 µs)
//! refresh         = 1 ÷ break to break
//! ```
//!
//! ```
//! use evenrun::dmx::timing::Timing;
//! let packet = Timing::TRANSMITTER_MINIMUM.packet(512)?;
//! assert!((packet.value - 22_676e-6).abs() < 1e-12);
//! # Ok::<(), evenrun::dmx::timing::TimingError>(())
//! ```

use crate::quantity::{Frequency, Time, hertz, microseconds, seconds, show};
use crate::source::Source;
use thiserror::Error;

/// Data slots of a full packet.
pub const MOST_SLOTS: u16 = 512;
/// One slot: 11 bits of 4 µs.
const SLOT_US: f64 = 44.0;
/// Least time from break to break of a transmitter.
const BREAK_TO_BREAK_US: f64 = 1204.0;

/// Where the limits come from.
pub const E1_11_TIMING: Source = Source::standard(
    "ANSI E1.11, DMX512-A",
    "2008 (R2018)",
    "timing limits of transmitter and receiver, as quoted by two independent descriptions",
);

/// Timing of a transmitter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timing {
    /// Break.
    pub break_time: Time,
    /// Mark after break.
    pub mark: Time,
    /// Idle between slots.
    pub idle: Time,
    /// Mark before the next break.
    pub mark_before_break: Time,
}

/// A timing that a transmitter must not have.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum TimingError {
    /// Slots outside 0 to 512.
    #[error("{found} data slots: a packet has 0 to {MOST_SLOTS}")]
    Slots {
        /// Found.
        found: u16,
    },
    /// A time outside its range.
    #[error("{what} of {found}: a transmitter keeps {accepted}")]
    Time {
        /// Which.
        what: &'static str,
        /// Found.
        found: String,
        /// Accepted.
        accepted: &'static str,
    },
}

impl Timing {
    /// Shortest break and mark that a transmitter may send, nothing between slots.
    pub const TRANSMITTER_MINIMUM: Self = Self::of_microseconds(92.0, 12.0, 0.0, 0.0);

    /// From figures in µs: break, mark after break, idle between slots, mark before break.
    #[must_use]
    pub const fn of_microseconds(brk: f64, mark: f64, idle: f64, before: f64) -> Self {
        const fn us(value: f64) -> Time {
            Time {
                dimension: std::marker::PhantomData,
                units: std::marker::PhantomData,
                value: value * 1e-6,
            }
        }
        Self {
            break_time: us(brk),
            mark: us(mark),
            idle: us(idle),
            mark_before_break: us(before),
        }
    }

    fn check(&self, slots: u16) -> Result<(), TimingError> {
        if slots > MOST_SLOTS {
            return Err(TimingError::Slots { found: slots });
        }
        let limits = [
            ("a break", self.break_time, 92e-6, "92 µs to under 1 s"),
            ("a mark after break", self.mark, 12e-6, "12 µs to under 1 s"),
            (
                "an idle time between slots",
                self.idle,
                0.0,
                "0 to under 1 s",
            ),
            (
                "a mark before break",
                self.mark_before_break,
                0.0,
                "0 to under 1 s",
            ),
        ];
        for (what, found, least, accepted) in limits {
            // A hair of rounding is no fault: 92e-6 is not exact in binary.
            if !(found.value >= least * (1.0 - 1e-12) && found.value < 1.0) {
                return Err(TimingError::Time {
                    what,
                    found: show(found),
                    accepted,
                });
            }
        }
        Ok(())
    }

    /// Time of one packet with `slots` data slots.
    ///
    /// # Errors
    /// [`TimingError`] where slots or times are outside the limits of a transmitter.
    pub fn packet(&self, slots: u16) -> Result<Time, TimingError> {
        self.check(slots)?;
        let n = f64::from(slots);
        Ok(self.break_time
            + self.mark
            + microseconds(SLOT_US * (n + 1.0))
            + seconds(self.idle.value * n))
    }

    /// Time from one break to the next.
    ///
    /// # Errors
    /// As [`Timing::packet`].
    pub fn break_to_break(&self, slots: u16) -> Result<Time, TimingError> {
        let packet = self.packet(slots)? + self.mark_before_break;
        Ok(seconds(packet.value.max(BREAK_TO_BREAK_US * 1e-6)))
    }

    /// Packets a second.
    ///
    /// # Errors
    /// As [`Timing::packet`].
    pub fn refresh(&self, slots: u16) -> Result<Frequency, TimingError> {
        Ok(hertz(1.0 / self.break_to_break(slots)?.value))
    }
}
