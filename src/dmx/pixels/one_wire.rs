//! Pulses of one-wire pixels.

use crate::finding::{Case, Finding, Limit, Rule, Subject, Verdict};
use crate::quantity::{Time, seconds};
use crate::source::{Source, documents};

const DRIVER: Source = documents::PIXEL_DRIVER.at("a 0 high for at most 0.5 µs, a 1 for at least 0.625 µs, a bit of 1 to 5 µs, a latch above 280 µs");
/// Longest a 0 may be high, s.
const ZERO_HIGH: f64 = 0.5e-6;
/// Shortest a 1 may be high, s.
const ONE_HIGH: f64 = 0.625e-6;
/// Shortest and longest bit, s.
const BIT: [f64; 2] = [1e-6, 5e-6];
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
    /// The times of a driver: high for a 0, high for a 1, a whole bit, at rest between frames.
    #[must_use]
    pub fn new(zero_high: Time, one_high: Time, bit: Time, latch: Time) -> Self {
        Self {
            zero_high,
            one_high,
            bit,
            latch,
        }
    }

    /// Judges the times.
    #[must_use]
    pub fn judge(&self, about: &Subject) -> Vec<Finding> {
        let verdict = |kept| if kept { Verdict::Pass } else { Verdict::Fail };
        let [least, most] = BIT;
        let in_bit = verdict(self.bit.value >= least && self.bit.value <= most);
        let at_rest = verdict(self.latch.value > LATCH);
        vec![
            ZERO.at_most(
                &ZERO_TIME,
                about.clone(),
                self.zero_high,
                seconds(ZERO_HIGH),
            ),
            ONE.at_least(&ONE_TIME, about.clone(), self.one_high, seconds(ONE_HIGH)),
            WHOLE
                .finds(&BIT_TIME, in_bit, about.clone())
                .figure(self.bit)
                .limit(Limit::Within(seconds(least).into(), seconds(most).into())),
            REST.finds(&REST_TIME, at_rest, about.clone())
                .figure(self.latch)
                .limit(Limit::Above(seconds(LATCH).into())),
        ]
    }
}

/// Words of a time.
const fn time(key: &'static str, says: &'static str, limit: &'static str) -> Case {
    Case::judged(key, says)
        .figure("{figure:.3 µs}")
        .limit(limit)
        .remedy("take the times of the part's own sheet")
}
const ZERO_TIME: Case = time("zero", "high time of a 0", "at most {limit:~3 µs}");
const ONE_TIME: Case = time("one", "high time of a 1", "at least {limit:~3 µs}");
const BIT_TIME: Case = time("bit", "time of a bit", "{least:~3 (µs)} to {most:~3 µs}");
const REST_TIME: Case = time("rest", "at rest between frames", "above {limit:~3 µs}");

/// A rule of this driver.
const fn rule(
    id: &'static str,
    title: &'static str,
    asks: &'static str,
    cases: &'static [&'static Case],
) -> Rule {
    Rule {
        id,
        title,
        asks,
        source: DRIVER,
        needs: &[],
        cases,
    }
}
pub(in crate::dmx) const ZERO: Rule = rule(
    "pixel-zero",
    "High time of a 0",
    "Is the line high for 0.5 µs at most where a 0 is sent?",
    &[&ZERO_TIME],
);
pub(in crate::dmx) const ONE: Rule = rule(
    "pixel-one",
    "High time of a 1",
    "Is the line high for 0.625 µs at least where a 1 is sent?",
    &[&ONE_TIME],
);
pub(in crate::dmx) const WHOLE: Rule = rule(
    "pixel-bit",
    "Time of a bit",
    "Does a bit last 1 to 5 µs?",
    &[&BIT_TIME],
);
pub(in crate::dmx) const REST: Rule = rule(
    "pixel-latch",
    "Rest between frames",
    "Does the line rest for more than 280 µs between frames?",
    &[&REST_TIME],
);
