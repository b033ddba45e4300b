//! How long a feeder may be: the least of voltage drop, brightness and fault clearing, all shown.
//!
//! A longer feeder lowers the far fault current as well as the voltage, so the two
//! are one question. Route lengths are one way.

use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, LinearResistance, RouteLength,
    metres, show,
};
use serde::Serialize;

/// Which of the three binds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Binding {
    /// The voltage drop.
    Drop,
    /// The brightness at the far end.
    Brightness,
    /// The device would no longer clear a far short circuit.
    Clearing,
}

/// The three limits and the least of them. `None`: not stated or not evaluated.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct LengthLimit {
    /// By voltage drop.
    pub drop: Option<RouteLength>,
    /// By brightness.
    pub brightness: Option<RouteLength>,
    /// By clearing of a far short circuit.
    pub clearing: Option<RouteLength>,
}

impl LengthLimit {
    /// The least, and which it is; `None` when none is known. Ties go to the first of drop, brightness, clearing.
    #[must_use]
    pub fn least(&self) -> Option<(RouteLength, Binding)> {
        [
            (self.drop, Binding::Drop),
            (self.brightness, Binding::Brightness),
            (self.clearing, Binding::Clearing),
        ]
        .into_iter()
        .filter_map(|(limit, binding)| limit.map(|limit| (limit, binding)))
        .filter(|(limit, _)| !limit.length().value.is_nan())
        .min_by(|a, b| {
            a.0.length()
                .value
                .total_cmp(&b.0.length().value)
                .then(a.1.cmp(&b.1))
        })
    }
}

/// `drop 7.0 m, brightness 5.5 m, clearing not evaluated: at most 5.5 m`.
impl std::fmt::Display for LengthLimit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let part = |limit: Option<RouteLength>| match limit {
            Some(limit) => show(limit),
            None => "not evaluated".to_string(),
        };
        write!(
            f,
            "drop {}, brightness {}, clearing {}",
            part(self.drop),
            part(self.brightness),
            part(self.clearing)
        )?;
        match self.least() {
            Some((least, binding)) => {
                let word = match binding {
                    Binding::Drop => "drop",
                    Binding::Brightness => "brightness",
                    Binding::Clearing => "clearing",
                };
                write!(f, ": at most {}, by {word}", show(least))
            }
            None => write!(f, ": no limit known"),
        }
    }
}

/// Longest route for a drop: `L = ΔV / (2 R' I)`, both cores of resistance `R'`, current at the far end.
///
/// `None` unless drop, resistance and current are above zero.
#[must_use]
pub fn longest_for_drop(
    drop: ElectricPotential,
    per_core: LinearResistance,
    current: ElectricCurrent,
) -> Option<RouteLength> {
    let length = drop.value / (2.0 * per_core.value * current.value);
    sound(
        drop.value > 0.0 && per_core.value > 0.0 && current.value > 0.0,
        length,
    )
}

/// Longest route whose far short circuit still draws `needed`: `L = (V_low / I − R_rest) / (2 R')`.
///
/// `R'` hot; `R_rest` is everything else in the loop, output included. `None` where
/// even no cable at all would draw less, or a figure is not above zero.
#[must_use]
pub fn longest_for_clearing(
    volts_low: ElectricPotential,
    needed: ElectricCurrent,
    per_core_hot: LinearResistance,
    rest: ElectricalResistance,
) -> Option<RouteLength> {
    let length = (volts_low.value / needed.value - rest.value) / (2.0 * per_core_hot.value);
    sound(
        volts_low.value > 0.0
            && needed.value > 0.0
            && per_core_hot.value > 0.0
            && rest.value >= 0.0,
        length,
    )
}

fn sound(inputs: bool, length: f64) -> Option<RouteLength> {
    (inputs && length >= 0.0 && length.is_finite()).then(|| RouteLength::new(metres(length)))
}
