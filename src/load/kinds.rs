//! The kinds of load, as on a data sheet.

use super::custom::Characteristic;
use crate::quantity::{ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio};
use std::sync::Arc;

/// One light-emitting diode: a point of its curve, and how the curve runs.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Diode {
    /// Forward voltage at `at_current` and 25 °C.
    #[serde(with = "crate::quantity::valued")]
    pub forward_voltage: ElectricPotential,
    /// Current of that point.
    #[serde(with = "crate::quantity::valued")]
    pub at_current: ElectricCurrent,
    /// Ideality factor `n`, dimensionless; 1 to 4 is usual for coloured and white diodes.
    pub ideality: f64,
    /// Series resistance of the diode, `Rs`.
    #[serde(with = "crate::quantity::valued")]
    pub series_resistance: ElectricalResistance,
    /// Change of forward voltage with temperature, V/K; negative.
    #[serde(default)]
    pub volts_per_kelvin: f64,
}

/// `count` equal diodes and one ballast resistor in series.
///
/// `I = (a/R)·W0((Is·R/a)·exp((V + Is·R)/a)) − Is`, `a = count·n·VT`,
/// `R = count·Rs + Rb`; at temperature `T` the string behaves as one at 25 °C
/// under `V − count·kv·(T − 25 °C)`.
///
/// # Source
/// T. C. Banwell and A. Jayakumar, Exact analytical solution for current flow through diode with
/// series resistance, Electronics Letters 36 (2000): one diode; `count` diodes follow from the same equation.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SeriesString {
    /// The diode.
    pub diode: Diode,
    /// Diodes in series.
    pub count: u32,
    /// Ballast resistor; together with the diodes' own resistance it must exceed 0 ohm.
    #[serde(with = "crate::quantity::valued")]
    pub ballast: ElectricalResistance,
}

/// Straight-line diode string: nothing up to a knee, a straight line above it, and
/// where given a plateau: `I = clamp((V − knee)/resistance, 0, limit)`.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct StraightLine {
    /// Voltage below which nothing flows, at 25 °C.
    #[serde(with = "crate::quantity::valued")]
    pub knee: ElectricPotential,
    /// Slope of the line, as a resistance.
    #[serde(with = "crate::quantity::valued")]
    pub resistance: ElectricalResistance,
    /// Plateau, where the cell regulates its current.
    #[serde(default, with = "crate::quantity::valued::optional")]
    pub limit: Option<ElectricCurrent>,
    /// Change of the knee of the whole string with temperature, V/K.
    #[serde(default)]
    pub volts_per_kelvin: f64,
}

/// Constant-current cell: a linear regulator in series with a string.
///
/// Flat at `current` down to the drop-out; below, the regulator is the resistor
/// `drop_out/current`: `I = min(current, string with that ballast)`.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ConstantCurrent {
    /// Regulated current.
    #[serde(with = "crate::quantity::valued")]
    pub current: ElectricCurrent,
    /// The diode.
    pub diode: Diode,
    /// Diodes in series.
    pub count: u32,
    /// Voltage the regulator needs at the regulated current.
    #[serde(with = "crate::quantity::valued")]
    pub drop_out: ElectricPotential,
}

/// Pixel cell: a controller that idles, and emitters whose current it regulates.
///
/// `I = idle·min(1, V/idle_from) + level·regulated·clamp((V − dark_below)/(full_from − dark_below), 0, 1)`.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pixel {
    /// Current of the controller with all emitters off.
    #[serde(with = "crate::quantity::valued")]
    pub idle: ElectricCurrent,
    /// Voltage from which the controller draws its full idle current.
    #[serde(with = "crate::quantity::valued")]
    pub idle_from: ElectricPotential,
    /// Current of all emitters of the cell at full level.
    #[serde(with = "crate::quantity::valued")]
    pub regulated: ElectricCurrent,
    /// Level commanded, 0 to 1.
    #[serde(with = "crate::quantity::valued")]
    pub level: Ratio,
    /// Voltage below which the emitters are dark.
    #[serde(with = "crate::quantity::valued")]
    pub dark_below: ElectricPotential,
    /// Voltage from which the emitters carry their full current.
    #[serde(with = "crate::quantity::valued")]
    pub full_from: ElectricPotential,
}

/// A resistor: `I = V/R`. Also a shorted cell (a few milliohm).
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Resistive {
    /// Its resistance.
    #[serde(with = "crate::quantity::valued")]
    pub resistance: ElectricalResistance,
}

/// A cell with a switching converter: `I = P/V`, so its current *falls* as the voltage rises.
///
/// Below `works_from` the converter has stopped and is taken as the resistor
/// `works_from²/P`; a solution with a cell there is no operating point of the
/// tape, and the solver says so instead of returning it.
#[derive(Debug, Clone, Copy, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ConstantPower {
    /// Power drawn.
    #[serde(with = "crate::quantity::valued")]
    pub power: Power,
    /// Lowest voltage at which the converter holds its power.
    #[serde(with = "crate::quantity::valued")]
    pub works_from: ElectricPotential,
}

/// Readings of a cell: voltage and current, both rising.
///
/// Joined by the monotone cubic of Fritsch and Carlson; straight to 0 V, 0 A below the
/// first reading, and held at the last current above the last (the solver lists cells that are there).
#[derive(Debug, Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Readings {
    /// Voltage and current, by rising voltage.
    #[serde(with = "crate::quantity::valued::pairs")]
    pub rows: Vec<(ElectricPotential, ElectricCurrent)>,
}

/// What one emitter of one cell is, electrically.
#[derive(Debug, Clone, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Load {
    /// Diodes and a ballast resistor in series.
    Series(SeriesString),
    /// Straight-line string.
    Straight(StraightLine),
    /// Regulated string with drop-out.
    ConstantCurrent(ConstantCurrent),
    /// Pixel controller and its emitters.
    Pixel(Pixel),
    /// Resistor.
    Resistive(Resistive),
    /// Switching converter: falls with voltage.
    ConstantPower(ConstantPower),
    /// Readings.
    Readings(Readings),
    /// A characteristic of the embedding program.
    #[serde(skip)]
    Custom(Arc<dyn Characteristic>),
    /// Draws nothing: an open cell.
    Open,
}
