//! A packet as levels on the line.

use super::super::timing::BIT_SECONDS;

/// Mark before the first break, bits: the line settles before anything is judged.
const REST_BITS: usize = 12;

/// The levels of a packet, bit after bit: `true` is a mark (data + above data −).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Levels {
    bits: Vec<bool>,
}

impl Levels {
    /// Mark, a break of 23 bits (92 µs), a mark of 3 bits (12 µs), START code 0 and `slots`:
    /// each slot one start bit (space), 8 data bits, least significant first, and two stop bits (mark).
    ///
    /// Source: ANSI E1.11, slot format and shortest break and mark (as quoted).
    #[must_use]
    pub fn packet(slots: &[u8]) -> Self {
        let mut bits = vec![true; REST_BITS];
        bits.resize(bits.len() + 23, false);
        bits.resize(bits.len() + 3, true);
        for slot in std::iter::once(&0).chain(slots) {
            bits.push(false);
            bits.extend((0..8).map(|place| slot >> place & 1 == 1));
            bits.extend([true, true]);
        }
        bits.push(true);
        Self { bits }
    }

    /// Levels as they stand.
    #[must_use]
    pub fn of(bits: Vec<bool>) -> Self {
        Self { bits }
    }

    /// The levels.
    #[must_use]
    pub fn bits(&self) -> &[bool] {
        &self.bits
    }

    /// First bit that is judged.
    pub(super) fn first_judged(&self) -> usize {
        REST_BITS.min(self.bits.len())
    }

    /// Open-circuit volts of a driver of `high` volts whose straight edges last `rise`, for steps `first…`; at rest at 0 V before.
    pub(super) fn fill(&self, high: f64, rise: f64, step: f64, first: usize, out: &mut [f64]) {
        let level = |bit: usize| match self.bits.get(bit).or(self.bits.last()) {
            Some(true) => high,
            Some(false) => -high,
            None => 0.0,
        };
        let mut bit = usize::MAX;
        let (mut from, mut to) = (0.0, 0.0);
        for (offset, out) in out.iter_mut().enumerate() {
            let time = (first + offset) as f64 * step;
            let now = (time / BIT_SECONDS + 1e-9) as usize;
            if now != bit {
                bit = now;
                to = level(now);
                from = if now == 0 { 0.0 } else { level(now - 1) };
            }
            let since = (time - now as f64 * BIT_SECONDS).max(0.0);
            *out = if since < rise {
                from + (to - from) * since / rise
            } else {
                to
            };
        }
    }
}

/// Part of an edge of `rise` steps that has passed by a step: 0 before it, 1 behind it.
pub(super) fn edge(step: f64, rise: f64) -> f64 {
    if step < 0.0 {
        0.0
    } else if step < rise {
        step / rise
    } else {
        1.0
    }
}
