//! Voltage drop of one load at the end of a two-core cable.
//!
//! The network room solves the real thing; these are the forms that textbooks and
//! codes print, for comparison and for the first choice of a wire. All are for one
//! current at the far end, the same in both cores.

use crate::quantity::{
    ElectricCurrent, ElectricPotential, LinearResistance, LoopLength, RouteLength, volts,
};
use crate::source::{Source, documents};

/// Annex G of IEC 60364-5-52.
pub const ANNEX_G: Source = documents::IEC_60364_5_52.at("annex G");

/// `ΔV = R' · loop · I`, with the resistance per core.
#[must_use]
pub fn loop_drop(
    per_core: LinearResistance,
    around: LoopLength,
    current: ElectricCurrent,
) -> ElectricPotential {
    volts(per_core.value * around.length().value * current.value)
}

/// The K-factor form `ΔV = 2 K I L / A`: K in Ω·cmil/ft (12.9 for copper at 75 °C), L in ft one way, A in circular mils.
#[must_use]
pub fn k_factor_drop(
    k: f64,
    route: RouteLength,
    current: ElectricCurrent,
    circular_mils: f64,
) -> ElectricPotential {
    volts(2.0 * k * current.value * (route.length().value / 0.3048) / circular_mils)
}

/// Annex G for dc: `u = 2 ρ1 L I / S`, ρ1 = 0.022 5 Ω·mm²/m for copper, 0.036 for aluminium; S in mm².
///
/// The annex says that ρ1 is 1.25 times the value at 20 °C; that implies 0.018 and
/// 0.028 8, not 0.017 24 and 0.028 26.
#[must_use]
pub fn annex_g_drop(
    rho_1: f64,
    route: RouteLength,
    area_mm2: f64,
    current: ElectricCurrent,
) -> ElectricPotential {
    volts(2.0 * rho_1 * route.length().value * current.value / area_mm2)
}
