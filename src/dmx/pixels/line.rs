//! Time on the data line.

use super::super::timing::SLOTS;
use crate::quantity::{Frequency, Time, hertz, seconds};
use thiserror::Error;

/// Bit time of the one-wire kind, s: 800 kbit/s (as drivers of such pixels state it).
const ONE_WIRE_BIT: f64 = 1.25e-6;

/// A data line of pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PixelLine {
    bits: u16,
    bit: f64,
    latch: f64,
    /// Clock cycles of one pixel beside its data, and of a frame.
    frame_bits: u64,
}

/// Numbers that no data line of pixels has.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{what} is {found}; write {accepted}")]
pub struct PixelError {
    /// Which.
    pub what: &'static str,
    /// The number, SI.
    pub found: f64,
    /// What is accepted.
    pub accepted: &'static str,
}

impl PixelLine {
    /// Pixels on one wire at 800 kbit/s: `bits` a pixel, and the time at rest that ends a frame
    /// (above 280 µs for newer parts; take it from the sheet).
    ///
    /// # Errors
    /// [`PixelError`] for a number out of range.
    pub fn one_wire(bits: u16, latch: Time) -> Result<Self, PixelError> {
        Self::new(bits, ONE_WIRE_BIT, latch.value, 0)
    }

    /// Pixels on data and clock: `bits` a pixel on the line (with its header), clock rate, and the
    /// bits that open and close a frame.
    ///
    /// # Errors
    /// [`PixelError`] for a number out of range.
    pub fn clocked(bits: u16, clock: Frequency, frame_bits: u64) -> Result<Self, PixelError> {
        Self::new(bits, 1.0 / clock.value, 0.0, frame_bits)
    }

    fn new(bits: u16, bit: f64, latch: f64, frame_bits: u64) -> Result<Self, PixelError> {
        let within = |what, found: f64, low: f64, high: f64, accepted| {
            if found >= low && found <= high {
                Ok(())
            } else {
                Err(PixelError {
                    what,
                    found,
                    accepted,
                })
            }
        };
        within(
            "the number of bits a pixel",
            f64::from(bits),
            1.0,
            1024.0,
            "1 to 1024",
        )?;
        within(
            "the bit time, s",
            bit,
            1e-9,
            1e-2,
            "a rate from 100 Hz to 1 GHz",
        )?;
        within("the latch time, s", latch, 0.0, 1.0, "0 to 1 s")?;
        within(
            "the number of frame bits",
            frame_bits as f64,
            0.0,
            1e6,
            "0 to 1000000",
        )?;
        Ok(Self {
            bits,
            bit,
            latch,
            frame_bits,
        })
    }

    /// Time of one pixel.
    #[must_use]
    pub fn pixel(&self) -> Time {
        seconds(f64::from(self.bits) * self.bit)
    }

    /// Time of a frame.
    #[must_use]
    pub fn frame(&self, pixels: u32) -> Time {
        seconds(
            f64::from(pixels) * self.pixel().value + self.frame_bits as f64 * self.bit + self.latch,
        )
    }

    /// Frames per second; infinite for no pixels and no latch.
    #[must_use]
    pub fn rate(&self, pixels: u32) -> Frequency {
        hertz(1.0 / self.frame(pixels).value)
    }

    /// The longest string that keeps a rate; 0 where not one pixel does.
    #[must_use]
    pub fn most_pixels(&self, rate: Frequency) -> u32 {
        let room = 1.0 / rate.value - self.latch - self.frame_bits as f64 * self.bit;
        // A billionth of a pixel forgives the rounding of the subtraction.
        let pixels = libm::floor(room / self.pixel().value + 1e-9);
        if pixels > 0.0 && rate.value > 0.0 {
            pixels.min(f64::from(u32::MAX)) as u32
        } else {
            0
        }
    }
}

/// Universes that a string needs when no pixel lies in two: `⌈pixels / ⌊512/slots⌋⌉`; none for a pixel of no slots or over 512.
#[must_use]
pub fn universes(pixels: u32, slots: u16) -> Option<u32> {
    let each = u32::from(SLOTS.checked_div(slots)?);
    (each > 0).then(|| pixels.div_ceil(each))
}
