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
    ElectricCurrent, ElectricPotential, ElectricalResistance, Time, amps, seconds,
};
use serde::Serialize;

/// Longest time for which the adiabatic equation is used, s (IEC 60364-4-43, 434.5.2, from memory).
pub const ADIABATIC_TO_SECONDS: f64 = 5.0;

/// The current of a short circuit behind an output.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum FaultCurrent {
    /// So much flows until something opens.
    Sustained(f64),
    /// The output itself interrupts it, from this current on.
    Interrupted(f64),
    /// Resistance allows this much, and what the output gives is not known.
    UpTo(f64),
}

impl FaultCurrent {
    /// The current, A.
    #[must_use]
    pub fn amps(self) -> f64 {
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
    let by_copper = volts.value / (output.resistance.value + fault_loop.value);
    let Some(limit) = output.limit.map(|limit| limit.value) else {
        return FaultCurrent::UpTo(by_copper);
    };
    if by_copper <= limit {
        return FaultCurrent::Sustained(by_copper);
    }
    match output.overload {
        Overload::ConstantCurrent => FaultCurrent::Sustained(limit),
        Overload::FoldBack {
            into_short: Some(short),
        } => FaultCurrent::Sustained(short.value.min(limit)),
        Overload::FoldBack { into_short: None } | Overload::Unknown => FaultCurrent::UpTo(limit),
        Overload::Hiccup | Overload::LatchOff => FaultCurrent::Interrupted(limit),
    }
}

/// Whether a short circuit ends, and by what.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub enum Clearing {
    /// The device opens within this time, s.
    ByDevice(f64),
    /// The output interrupts it itself; the device stays closed.
    ByOutput,
    /// Nothing opens: the current is below every point of the curve.
    Never,
    /// Not evaluated, for this reason.
    NotEvaluated(String),
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
        FaultCurrent::UpTo(_) => {
            return Clearing::NotEvaluated(
                "what the output gives into a short circuit is not stated: its limit and behaviour are needed".to_string(),
            );
        }
        FaultCurrent::Sustained(_) => {}
    }
    let Some(device) = device else {
        return Clearing::Never;
    };
    let Some(curve) = &device.curve else {
        return Clearing::NotEvaluated(format!(
            "no time-current curve for direct current was supplied for {}",
            device.name
        ));
    };
    if curve.holds_for != CurveFor::DirectCurrent {
        return Clearing::NotEvaluated(format!(
            "the curve of {} is for alternating current and does not hold for direct current",
            device.name
        ));
    }
    match time_on_curve(curve, amps(fault.amps())) {
        Some(time) => Clearing::ByDevice(time.value),
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
