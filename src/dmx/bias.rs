//! Fail-safe bias: what holds an idle line at a mark.
//!
//! ```text
//!   Vs ──Rb──●── data +
//!            │    │    │
//!           Rt1  Rt2  24 kΩ/n          V = (Vs/Rb) / (1/Rb + n/12 kΩ + 2 (1/Rt1 + 1/Rt2))
//!            │    │    │
//!    0 ──Rb──●── data −
//! ```
//!
//! Exact for equal resistors; a common-mode voltage moves both lines alike and leaves V as
//! it is. With RDM nobody drives the line between request and answer, so one device, at
//! the controller's end, holds at least 245 mV (ANSI E1.20, as quoted; clause 2 by memory).
//!
//! ```
//! use evenrun::dmx::bias::Bias;
//! use evenrun::quantity::{ohms, volts};
//! let bias = Bias::new(volts(5.0), ohms(562.0));
//! let idle = bias.idle_volts(&[ohms(133.0), ohms(120.0)], 32.0);
//! assert!((idle.value - 0.2461058529).abs() < 1e-9);
//! ```
//!
//! A handbook formula, `Rb = (Vs/V + 1)/0.036`, gives 275 mV where it promises 300 mV; the exact form stands here.

use super::electrical::{MOST_UNIT_LOADS, UNIT_LOAD_OHMS, pair_conductance};
use crate::quantity::{ElectricPotential, ElectricalResistance, ohms, volts};
use serde::{Deserialize, Serialize};

/// A pull-up on data + and an equal pull-down on data −.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bias {
    /// Volts of the pull-up.
    #[serde(with = "crate::quantity::valued")]
    pub supply: ElectricPotential,
    /// Each of the two resistors.
    #[serde(with = "crate::quantity::valued")]
    pub resistor: ElectricalResistance,
}

impl Bias {
    /// So many volts behind two resistors, each of this resistance.
    #[must_use]
    pub fn new(supply: ElectricPotential, resistor: ElectricalResistance) -> Self {
        Self { supply, resistor }
    }

    /// Volts across an idle pair with these terminators and unit loads, all at one place.
    ///
    /// Along a cable see [`Chain::judge`](super::chain::Chain::judge), which takes its resistance into account.
    #[must_use]
    pub fn idle_volts(
        &self,
        terminators: &[ElectricalResistance],
        unit_loads: f64,
    ) -> ElectricPotential {
        let pair = pair_conductance(terminators, unit_loads);
        volts(self.supply.value / (1.0 + 2.0 * self.resistor.value * pair))
    }

    /// What the pair sees of bias and the terminator beside it: `Rt || 2 Rb`.
    #[must_use]
    pub fn near_end(&self, terminator: Option<ElectricalResistance>) -> ElectricalResistance {
        let beside = terminator.map_or(0.0, |terminator| 1.0 / terminator.value);
        ohms(1.0 / (beside + 1.0 / self.across().value))
    }

    /// Resistance of both resistors together across the pair: `2 Rb`.
    #[must_use]
    pub fn across(&self) -> ElectricalResistance {
        ohms(2.0 * self.resistor.value)
    }

    /// The terminator beside it with which the near end is `impedance`: `2 Z0 Rb/(2 Rb − Z0)`.
    ///
    /// None where the resistors alone are below the impedance.
    #[must_use]
    pub fn matching_terminator(
        &self,
        impedance: ElectricalResistance,
    ) -> Option<ElectricalResistance> {
        let (across, z0) = (self.across().value, impedance.value);
        (across > z0).then(|| ohms(z0 * across / (across - z0)))
    }

    /// Load of the bias on each line in unit loads, `12 kΩ/Rb`, and what it leaves of 32 (below zero: nothing).
    ///
    /// It counts apart from the receivers: the guarantee is for 32 unit loads beside it.
    #[must_use]
    pub fn unit_loads(&self) -> (f64, f64) {
        let taken = UNIT_LOAD_OHMS / self.resistor.value;
        (taken, MOST_UNIT_LOADS as f64 - taken)
    }

    /// The resistor that gives `idle` where both ends are matched to `impedance`: `(Vs/V)/(n/12 kΩ + 4/Z0)`.
    ///
    /// For 120 Ω and 32 unit loads the divisor is 0.036 S.
    #[must_use]
    pub fn resistor_for(
        supply: ElectricPotential,
        idle: ElectricPotential,
        impedance: ElectricalResistance,
        unit_loads: f64,
    ) -> ElectricalResistance {
        let line = unit_loads / UNIT_LOAD_OHMS + 4.0 / impedance.value;
        ohms(supply.value / idle.value / line)
    }
}
