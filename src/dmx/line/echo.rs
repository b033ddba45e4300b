//! What comes back from where a line ends, splits or is loaded.

use crate::quantity::{Capacitance, ElectricalResistance, Time, ohms};

/// Share of a wave that a load sends back: `(Z − Z0)/(Z + Z0)`; 1 for an open end (infinite resistance).
///
/// A textbook form. The voltage that goes on is `1 +` this share.
#[must_use]
pub fn reflection(impedance: ElectricalResistance, load: ElectricalResistance) -> f64 {
    if load.value == f64::INFINITY {
        1.0
    } else {
        (load.value - impedance.value) / (load.value + impedance.value)
    }
}

/// Decibels by which an echo is below its wave: `−20 lg |r|`; infinite without an echo.
#[must_use]
pub fn return_loss(reflection: f64) -> f64 {
    let decibels = -20.0 * libm::log10(reflection.abs());
    // No minus zero for a full echo.
    decibels + 0.0
}

/// Share of a wave that a split into `ways` lines like the one it came on sends back: `(1 − m)/(1 + m)`.
#[must_use]
pub fn split(ways: u16) -> f64 {
    let ways = f64::from(ways);
    (1.0 - ways) / (1.0 + ways)
}

/// Share of a wave that a resistance across a line that goes on sends back: `−Z0/(Z0 + 2R)`.
#[must_use]
pub fn across(impedance: ElectricalResistance, shunt: ElectricalResistance) -> f64 {
    -impedance.value / (impedance.value + 2.0 * shunt.value)
}

/// Peak echo of a capacitor across a line that goes on, as a share of a straight edge of length `rise`:
/// `(τ/t)(1 − e^(−t/τ))`, `τ = Z0 C/2`; 1 for a step, 0 without a capacitor.
#[must_use]
pub fn capacitor_echo(
    impedance: ElectricalResistance,
    capacitance: Capacitance,
    rise: Time,
) -> f64 {
    let tau = impedance.value * capacitance.value / 2.0;
    if tau == 0.0 {
        return 0.0;
    }
    let edges = rise.value / tau;
    if edges == 0.0 {
        return 1.0;
    }
    -libm::expm1(-edges) / edges
}

/// A line with equal capacitors at equal distances.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loaded {
    /// Delay over that of the bare line.
    pub slowing: f64,
    /// Wave impedance.
    pub impedance: ElectricalResistance,
}

/// A line of `impedance` with `capacitance` after every stretch of `delay`: `k = √(1 + Z0 C/d)`.
///
/// Holds for edges much longer than `delay`.
#[must_use]
pub fn loaded(impedance: ElectricalResistance, capacitance: Capacitance, delay: Time) -> Loaded {
    let slowing = libm::sqrt(1.0 + impedance.value * capacitance.value / delay.value);
    Loaded {
        slowing,
        impedance: ohms(impedance.value / slowing),
    }
}
