//! Skin and proximity effect: from which frequency dc resistance stops being good enough.
//!
//! ```text
//! skin depth   δ = sqrt(ρ / (π f μ0))                           2.09 mm at 1 kHz, copper, 20 °C
//! lone wire    Rac/Rdc = Re[(k a/2) J0(k a)/J1(k a)], k = (1 − j)/δ, a = radius      5 % at a/δ = 1.2574
//! close pair   + (1/48)(a/δ)⁴ [3 (d/s)² + (d/s)⁴/8 + (d/s)⁶/96]                      low frequency, a/δ up to 1.5
//! ```
//!
//! The pair's series was derived by expanding the neighbour's vector potential; the
//! cable-rating standard's 2.9 in place of 3 is from memory. Solid wire: treat
//! strands that touch as solid. Nothing is extrapolated: beyond a/δ = 1.5 the pair
//! has no answer here.

use super::pair::MU_0;
use super::tables::materials;
use crate::quantity::{Frequency, Length, ThermodynamicTemperature, hertz, in_celsius, metres};
use crate::source::Source;

/// Largest a/δ for which the pair's series is used.
pub const PAIR_TO_RATIO: f64 = 1.5;
/// Above this a/δ the lone wire follows its asymptote (agrees to 1e-9 there).
const ASYMPTOTIC: f64 = 200.0;

/// Where the formulas come from.
pub const SOURCE: Source = Source::computed(
    "exact Bessel solution of the round wire; low-frequency proximity series of a pair",
);

/// Resistivity of annealed copper, Ω·m.
fn resistivity(at: ThermodynamicTemperature) -> f64 {
    materials::COPPER_OHM_METRE * (1.0 + materials::COPPER_ALPHA_20 * (in_celsius(at) - 20.0))
}

/// Skin depth in annealed copper. `None` unless the frequency is above zero.
#[must_use]
pub fn skin_depth(frequency: Frequency, at: ThermodynamicTemperature) -> Option<Length> {
    let depth = libm::sqrt(resistivity(at) / (std::f64::consts::PI * frequency.value * MU_0));
    (frequency.value > 0.0 && depth.is_finite()).then(|| metres(depth))
}

/// `Rac/Rdc` of a lone round wire from `a/δ`, radius over skin depth. `None` for a negative or no number.
#[must_use]
pub fn lone_wire_ratio(radius_over_depth: f64) -> Option<f64> {
    lone_wire_impedance(radius_over_depth).map(|[resistance, _]| resistance)
}

/// Resistance and inner reactance of a lone round wire, both over `Rdc`, from `a/δ`. `None` for a negative or no number.
#[must_use]
pub fn lone_wire_impedance(radius_over_depth: f64) -> Option<[f64; 2]> {
    let x = radius_over_depth;
    if !(x >= 0.0 && x.is_finite()) {
        return None;
    }
    if x < 1e-3 {
        return Some([1.0 + x * x * x * x / 48.0, x * x / 4.0]);
    }
    if x > ASYMPTOTIC {
        let small = 3.0 / (32.0 * x);
        return Some([x / 2.0 + 0.25 + small, x / 2.0 - small - small / x]);
    }
    // z = (1 − j) x; J1/J0 by its continued fraction 1/(2/z − 1/(4/z − 1/(6/z − …))), from the far end.
    // 1/z = (1 + j)/(2x), so 2n/z = (n/x)(1 + j).
    let terms = (1.5 * x) as u32 + 40;
    let (mut re, mut im) = (0.0_f64, 0.0_f64);
    for n in (1..=terms).rev() {
        let part = f64::from(n) / x;
        let (dr, di) = (part - re, part - im);
        let square = dr * dr + di * di;
        (re, im) = (dr / square, -di / square);
    }
    // (z/2) / (J1/J0), with z/2 = (x/2)(1 − j).
    let square = re * re + im * im;
    Some([x / 2.0 * (re - im) / square, -x / 2.0 * (re + im) / square])
}

/// `Rac/Rdc` of each wire of a close pair, from `a/δ` and `s/d`.
///
/// `None` beyond a/δ = 1.5, or unless `s/d > 1`.
#[must_use]
pub fn pair_ratio(radius_over_depth: f64, spacing_over_diameter: f64) -> Option<f64> {
    if !(radius_over_depth <= PAIR_TO_RATIO && spacing_over_diameter > 1.0) {
        return None;
    }
    let q = 1.0 / (spacing_over_diameter * spacing_over_diameter);
    let x2 = radius_over_depth * radius_over_depth;
    let near = x2 * x2 / 48.0 * (3.0 * q + q * q / 8.0 + q * q * q / 96.0);
    lone_wire_ratio(radius_over_depth).map(|alone| alone + near)
}

/// The frequency at which ac resistance exceeds dc resistance by `share`, for a lone wire or a pair of `s/d`.
///
/// For a share of 0.05 the lone wire reaches it at a/δ = 1.2574. `None` where the
/// share is not reached within the range of the formula, or the input is no number above zero.
///
/// # Example
/// ```
/// use evenrun::cable::skin::frequency_for_excess;
/// use evenrun::quantity::{celsius, millimetres};
/// let f = frequency_for_excess(millimetres(1.0236873), celsius(20.0), None, 0.05).unwrap();
/// assert!((f.value - 26_355.3).abs() < 0.5); // 18 AWG
/// ```
#[must_use]
pub fn frequency_for_excess(
    diameter: Length,
    at: ThermodynamicTemperature,
    spacing_over_diameter: Option<f64>,
    share: f64,
) -> Option<Frequency> {
    let ratio = |x: f64| match spacing_over_diameter {
        Some(spacing) => pair_ratio(x, spacing),
        None => lone_wire_ratio(x),
    };
    let (mut low, mut high) = (
        0.0,
        if spacing_over_diameter.is_some() {
            PAIR_TO_RATIO
        } else {
            1e3
        },
    );
    if !(share > 0.0 && diameter.value > 0.0 && diameter.value.is_finite()) {
        return None;
    }
    if !(ratio(high)? >= 1.0 + share) {
        return None;
    }
    // The ratio rises with a/δ: bisection to the last bit.
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if ratio(middle)? < 1.0 + share {
            low = middle;
        } else {
            high = middle;
        }
    }
    let depth = diameter.value / 2.0 / high;
    let frequency = resistivity(at) / (std::f64::consts::PI * MU_0 * depth * depth);
    (frequency > 0.0 && frequency.is_finite()).then(|| hertz(frequency))
}
