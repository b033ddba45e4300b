//! Short circuits: how much current, whether the device clears it, and whether the insulation bears it.
//!
//! ```text
//! least     I = min(V_low  / (R_out + R_loop,far,hot ), what the output gives)     does the device open?
//! greatest  I = min(V_high / (R_out + R_loop,near,cold), what the output gives)    does it break that much?
//! adiabatic t = (k · S / I)²: the insulation bears I for that long
//! ```
//!
//! A short of low resistance only: an arc or a bad joint draws less than the least
//! fault current and is invisible to all of this.

use super::spec::{ClearingCurve, CurveFor, DeviceSpec, HeatLimit, OutputSpec, Overload};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Seconds, Time, amps, seconds,
};
use serde::{Deserialize, Serialize};

/// Longest time for which the adiabatic equation is used, s (IEC 60364-4-43, 434.5.2, from memory).
pub const ADIABATIC_TO_SECONDS: f64 = 5.0;

/// The current of a short circuit behind an output.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FaultCurrent {
    /// So much flows until something opens.
    Sustained(ElectricCurrent),
    /// The output itself interrupts it, from this current on.
    Interrupted(ElectricCurrent),
    /// Resistance allows this much, and what the output gives is not known.
    UpTo(ElectricCurrent),
}

impl FaultCurrent {
    /// The current, where what the output gives is known.
    #[must_use]
    pub fn known(self) -> Option<ElectricCurrent> {
        match self {
            Self::Sustained(i) | Self::Interrupted(i) => Some(i),
            Self::UpTo(_) => None,
        }
    }

    /// The current; infinite where neither resistance nor a stated limit holds it.
    #[must_use]
    pub fn current(self) -> ElectricCurrent {
        match self {
            Self::Sustained(i) | Self::Interrupted(i) | Self::UpTo(i) => i,
        }
    }
}

/// The current of a short circuit through a loop, the output's own resistance added.
///
/// `V / (R_out + R_loop)`, held to what the output gives: its limit (constant
/// current), its current into a short (fold-back), or interrupted by it (hiccup,
/// latch-off) once the loop would draw more than the limit.
#[must_use]
pub fn fault_current(
    output: &OutputSpec,
    volts: ElectricPotential,
    fault_loop: ElectricalResistance,
) -> FaultCurrent {
    let by_copper = amps(volts.value / (output.resistance.value + fault_loop.value));
    let Some(limit) = output.limit else {
        return FaultCurrent::UpTo(by_copper);
    };
    if by_copper <= limit {
        return FaultCurrent::Sustained(by_copper);
    }
    match output.overload {
        Overload::ConstantCurrent => FaultCurrent::Sustained(limit),
        Overload::FoldBack {
            into_short: Some(short),
        } => FaultCurrent::Sustained(if short < limit { short } else { limit }),
        Overload::FoldBack { into_short: None } | Overload::Unknown => FaultCurrent::UpTo(limit),
        Overload::Hiccup | Overload::LatchOff => FaultCurrent::Interrupted(limit),
    }
}

/// Whether a short circuit ends, and by what.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Clearing {
    /// The device opens within this time.
    ByDevice(Seconds),
    /// The output interrupts it itself; the device stays closed.
    ByOutput,
    /// Nothing opens: the current is below every point of the curve.
    Never,
    /// Not evaluated, for want of this.
    NotEvaluated(Missing),
}

/// What is missing to say whether a short circuit is cleared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Missing {
    /// Limit and behaviour of the output.
    OutputLimit,
    /// A time-current curve of the device.
    Curve,
    /// A curve for direct current: the one supplied is for alternating current.
    DirectCurrentCurve,
}

/// Longest time for a curve to clear a current: that of the greatest listed current not above it.
///
/// `None` below the first point: there the sheet promises nothing. Nothing is interpolated.
#[must_use]
pub fn time_on_curve(curve: &ClearingCurve, current: ElectricCurrent) -> Option<Time> {
    curve
        .points
        .iter()
        .take_while(|(listed, _)| listed.value <= current.value)
        .last()
        .map(|(_, time)| *time)
}

/// Whether a device clears a fault current.
#[must_use]
pub fn clearing(device: Option<&DeviceSpec>, fault: FaultCurrent) -> Clearing {
    match fault {
        FaultCurrent::Interrupted(_) => return Clearing::ByOutput,
        FaultCurrent::UpTo(_) => return Clearing::NotEvaluated(Missing::OutputLimit),
        FaultCurrent::Sustained(_) => {}
    }
    let Some(device) = device else {
        return Clearing::Never;
    };
    let Some(curve) = &device.curve else {
        return Clearing::NotEvaluated(Missing::Curve);
    };
    if curve.holds_for != CurveFor::DirectCurrent {
        return Clearing::NotEvaluated(Missing::DirectCurrentCurve);
    }
    match time_on_curve(curve, fault.current()) {
        Some(time) => Clearing::ByDevice(time.into()),
        None => Clearing::Never,
    }
}

/// How long the insulation bears a current: `t = (k · S / I)²`, S in mm².
///
/// Heat that leaves during the fault is not counted, so the true time is longer;
/// used up to 5 s.
#[must_use]
pub fn adiabatic_time(heat: &HeatLimit, current: ElectricCurrent) -> Time {
    let ratio = heat.k * heat.area.value * 1e6 / current.value;
    seconds(ratio * ratio)
}
