//! How far direct volts and bits reach.

use crate::quantity::{ElectricalResistance, Frequency, Length, LinearResistance, metres};

/// Share of the driver's volts at the end of a line of one receiver: `Rt/(Rt + R)`, `R` the loop resistance.
#[must_use]
pub fn steady_share(end: ElectricalResistance, loop_resistance: ElectricalResistance) -> f64 {
    end.value / (end.value + loop_resistance.value)
}

/// The length at which `share` of the driver's volts is left on `end`: `Rt (1/share − 1)/R'`.
///
/// For 24 AWG, 120 Ω and 0.2 V of 1.5 V it is 4.6 km: direct current never limits a DMX512 line.
#[must_use]
pub fn length_for_share(
    share: f64,
    end: ElectricalResistance,
    loop_resistance: LinearResistance,
) -> Length {
    metres(end.value * (1.0 / share - 1.0) / loop_resistance.value)
}

/// Published rules that bound the length of an EIA-485 line by its bit rate.
///
/// They differ: the first two agree within a tenth at 250 kbit/s (432 m and 400 m), the third, 40 m, is
/// for long cable at large margins and would forbid nearly every DMX512 line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RateRule {
    /// 1200 m to 90 kbit/s, falling as one over the rate (TIA-422-B annex A.1.1, as quoted: 24 AWG, 52.5 pF/m, 100 Ω, 66 % loss).
    Curve,
    /// Length times rate at most 10⁸ m bit/s (handbooks).
    ProductLong,
    /// Length times rate at most 10⁷ m bit/s (an application note, as quoted).
    ProductShort,
}

impl RateRule {
    /// The longest line at a bit rate, at most 1200 m.
    #[must_use]
    pub fn longest(self, bits_per_second: Frequency) -> Length {
        let product = match self {
            Self::Curve => 1200.0 * 90e3,
            Self::ProductLong => 1e8,
            Self::ProductShort => 1e7,
        };
        metres((product / bits_per_second.value).min(1200.0))
    }
}
