//! Loss of a pair.

use crate::cable::skin;
use crate::dmx::chain::{LineCable, NEPER_DECIBELS};
use crate::quantity::{Frequency, ThermodynamicTemperature, celsius, in_celsius, metres};

/// Frequencies of the published limits, MHz, from and to.
pub const CATEGORY_5E_MEGAHERTZ: [f64; 2] = [0.064, 100.0];

/// The loss that category 5e cable may have at 20 °C, dB per 100 m: `1.967 √f + 0.023 f + 0.050/√f`, f in MHz.
///
/// The coefficients are from memory; they give all 14 published limits (TIA-568-C as quoted in a handbook) within
/// 0.05 dB. None outside 0.064 to 100 MHz; below 0.772 MHz the limits are for reference only.
#[must_use]
pub fn category_5e_limit(frequency: Frequency) -> Option<f64> {
    let f = frequency.value / 1e6;
    let [least, most] = CATEGORY_5E_MEGAHERTZ;
    // A billionth forgives the rounding of the unit.
    if !(f >= least * (1.0 - 1e-9) && f <= most * (1.0 + 1e-9)) {
        return None;
    }
    let root = libm::sqrt(f);
    Some(1.967 * root + 0.023 * f + 0.050 / root)
}

/// A loss at 20 °C in a warmer place: 0.4 % a kelvin above 20 °C (TIA-568-C as quoted); unchanged below.
#[must_use]
pub fn warmer(loss_at_20: f64, temperature: ThermodynamicTemperature) -> f64 {
    loss_at_20 * (1.0 + 0.004 * (in_celsius(temperature) - 20.0).max(0.0))
}

/// Estimated loss of a pair of solid copper wires at 20 °C, dB per 100 m: `Re √((2 Zi + jωL) jωC)`.
///
/// `Zi` is that of a lone round wire (exact skin effect); the proximity of the other wire and the loss of the
/// insulation are left out, so it lies below what a cable has. None where the size of the cores is not known.
#[must_use]
pub fn estimated_loss(cable: &LineCable, frequency: Frequency) -> Option<f64> {
    let radius = metres(cable.core_diameter()?.value / 2.0);
    let depth = skin::skin_depth(frequency, celsius(20.0))?;
    let ratio = skin::lone_wire_impedance(radius.value / depth.value)?;
    let omega = 2.0 * std::f64::consts::PI * frequency.value;
    let series = [
        cable.loop_resistance.value * ratio[0],
        cable.loop_resistance.value * ratio[1] + omega * cable.inductance_per_metre(),
    ];
    // (p + jq) jωC = −qωC + jpωC; the real part of its root is √((|…| + Re)/2).
    let across = omega * cable.capacitance_per_metre();
    let (re, im) = (-series[1] * across, series[0] * across);
    let nepers = libm::sqrt((libm::hypot(re, im) + re) / 2.0);
    Some(nepers * 100.0 * NEPER_DECIBELS)
}
