//! The kinds of load, as on a data sheet.

use super::custom::Characteristic;
use super::error::LoadError;
use super::judge::in_range;
use super::string::{K_OVER_Q, REFERENCE_KELVIN};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalResistance, Power, Ratio,
    ThermodynamicTemperature, milliamps, volts,
};
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

impl Diode {
    /// A diode from its saturation current `Is` at a junction temperature `T`, as circuit models state it.
    ///
    /// `V = n·(k·T/q)·ln(1 + I/Is) + Rs·I`, the Shockley equation, gives the point at 10 mA and `T`; `volts_per_kelvin`
    /// carries it to the 25 °C of [`Diode::forward_voltage`]. The ideality is carried as well, as `n·T/(25 °C)`, so that at `T`
    /// the slope of the curve is that of `T`. `Is` itself doubles about every 10 K: state it with its temperature.
    ///
    /// # Source
    /// W. Shockley, The theory of p-n junctions in semiconductors and p-n junction transistors, Bell System Technical Journal
    /// 28 (1949); `k` and `q` exact in the SI since 2019.
    ///
    /// # Errors
    /// [`LoadError::OutOfRange`]: a saturation current not above 0 A or above 1 A, a temperature outside 200 K to 500 K, an
    /// ideality outside 0.5 to 20. [`Load::law`] checks the rest.
    ///
    /// ```
    /// use evenrun::load::Diode;
    /// use evenrun::quantity::{amps, celsius, ohms};
    /// // Is = 1 pA, n = 1, at 25 °C: 25.693 mV · ln(1 + 10 mA/1 pA) = 25.693 mV · 23.0259 = 0.5916 V.
    /// let diode = Diode::from_saturation(amps(1e-12), 1.0, ohms(0.0), -0.002, celsius(25.0))?;
    /// assert!((diode.forward_voltage.value - 0.5916).abs() < 5e-5);
    /// # Ok::<(), evenrun::load::LoadError>(())
    /// ```
    pub fn from_saturation(
        saturation_current: ElectricCurrent,
        ideality: f64,
        series_resistance: ElectricalResistance,
        volts_per_kelvin: f64,
        junction: ThermodynamicTemperature,
    ) -> Result<Self, LoadError> {
        let amps = in_range(
            "the saturation current",
            saturation_current.value,
            f64::MIN_POSITIVE,
            1.0,
            "above 0 A and at most 1 A",
        )?;
        let ideality = in_range("the ideality factor", ideality, 0.5, 20.0, "0.5 to 20")?;
        let kelvin = in_range(
            "the junction temperature (in kelvin)",
            junction.value,
            200.0,
            500.0,
            "200 K to 500 K (-73 °C to 227 °C)",
        )?;
        let at_current = milliamps(10.0);
        let junction_volts = ideality * K_OVER_Q * kelvin * libm::log1p(at_current.value / amps);
        let shift = volts_per_kelvin * (kelvin - REFERENCE_KELVIN);
        Ok(Self {
            forward_voltage: volts(junction_volts - shift) + at_current * series_resistance,
            at_current,
            ideality: ideality * kelvin / REFERENCE_KELVIN,
            series_resistance,
            volts_per_kelvin,
        })
    }
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
