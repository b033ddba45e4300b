//! Pulses of one-wire pixels.

use crate::finding::plain::Finding;
use crate::quantity::Time;
use crate::source::Source;

const DRIVER: Source = Source::handbook(
    "Notes of an open driver for one-wire pixels",
    "",
    "a 0 high for at most 0.5 µs, a 1 for at least 0.625 µs, a bit of 1 to 5 µs, a latch above 280 µs (as read)",
);
/// Longest a 0 may be high, s.
const ZERO_HIGH: f64 = 0.5e-6;
/// Shortest a 1 may be high, s.
const ONE_HIGH: f64 = 0.625e-6;
/// Shortest and longest bit, s.
const BIT: (f64, f64) = (1e-6, 5e-6);
/// Newer parts take a frame over after more than this at rest, s.
const LATCH: f64 = 280e-6;

/// Times of a one-wire driver, to be held against what such pixels take. A part's own sheet goes before these.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OneWireTiming {
    /// How long the line is high for a 0.
    pub zero_high: Time,
    /// How long the line is high for a 1.
    pub one_high: Time,
    /// A whole bit.
    pub bit: Time,
    /// At rest between frames.
    pub latch: Time,
}

impl OneWireTiming {
    /// Judges the times.
    #[must_use]
    pub fn judge(&self, place: &str) -> Vec<Finding> {
        let micro = |time: f64| format!("{:.3} µs", time * 1e6);
        let dress = |finding: Finding, says: &str, figure: f64, limit: String| {
            finding
                .says(says)
                .figure(micro(figure))
                .limit(limit)
                .source(DRIVER)
                .remedy("take the times of the part's own sheet")
        };
        let (zero, one, bit, latch) = (
            self.zero_high.value,
            self.one_high.value,
            self.bit.value,
            self.latch.value,
        );
        let inside = bit >= BIT.0 && bit <= BIT.1;
        let whole = if inside {
            Finding::pass("pixel-bit", place)
        } else {
            Finding::fail("pixel-bit", place)
        };
        let above = if latch > LATCH {
            Finding::pass("pixel-latch", place)
        } else {
            Finding::fail("pixel-latch", place)
        };
        vec![
            dress(
                Finding::judged_at_most("pixel-zero", place, zero, ZERO_HIGH),
                "high time of a 0",
                zero,
                "at most 0.5 µs".to_string(),
            ),
            dress(
                Finding::judged_at_least("pixel-one", place, one, ONE_HIGH),
                "high time of a 1",
                one,
                "at least 0.625 µs".to_string(),
            ),
            dress(whole, "time of a bit", bit, "1 to 5 µs".to_string()),
            dress(
                above,
                "at rest between frames",
                latch,
                "above 280 µs".to_string(),
            ),
        ]
    }
}
