//! From the cells of a data sheet to what one cut increment draws.

use super::class::Side;
use super::error::StripError;
use super::spec::{CellSpec, EmitterSpec, StripSpec};
use crate::load::{
    ConstantCurrent, ConstantPower, Diode, Law, Load, LoadError, SeriesString, StraightLine,
};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ThermodynamicTemperature, amps, celsius, ohms,
};
use crate::source::Source;

/// Ideality factor taken for every diode, where a sheet states one point of its curve only.
pub const IDEALITY: f64 = 2.0;
/// Change of forward voltage taken for every diode, V/K.
pub const VOLTS_PER_KELVIN: f64 = -0.002;
/// Temperature of the cells to which the currents of a sheet refer, °C.
pub const SHEET_CELSIUS: f64 = 25.0;

/// Where [`IDEALITY`], [`VOLTS_PER_KELVIN`] and [`SHEET_CELSIUS`] come from.
#[must_use]
pub fn diode_source() -> Source {
    Source::assumption(
        "a diode of which one point is stated: ideality 2, no series resistance of its own, −2 mV/K, stated at 25 °C",
    )
}

fn diode(forward: ElectricPotential, current: ElectricCurrent) -> Diode {
    Diode {
        forward_voltage: forward,
        at_current: current,
        ideality: IDEALITY,
        series_resistance: ohms(0.0),
        volts_per_kelvin: VOLTS_PER_KELVIN,
    }
}

impl CellSpec {
    /// The load of one cell of a tape of `rated` volts.
    ///
    /// A string without a stated ballast gets the one that its current at the rated voltage
    /// asks for: `Rb = (V − N·Vf)/I`; a straight line has the slope `(V − knee)/I`, and no
    /// temperature, as the number of its diodes is not known; a string of a class is that of its middle.
    #[must_use]
    pub fn load(&self, rated: ElectricPotential) -> Load {
        match self {
            Self::Series {
                diodes,
                forward,
                current,
                ballast,
            } => {
                let left = rated.value - f64::from(*diodes) * forward.value;
                Load::Series(SeriesString {
                    diode: diode(*forward, *current),
                    count: *diodes,
                    ballast: ballast.unwrap_or_else(|| ohms(left / current.value)),
                })
            }
            Self::ConstantCurrent {
                diodes,
                forward,
                current,
                drop_out,
            } => Load::ConstantCurrent(ConstantCurrent {
                current: *current,
                diode: diode(*forward, *current),
                count: *diodes,
                drop_out: *drop_out,
            }),
            Self::StraightLine { knee, current } => Load::Straight(StraightLine {
                knee: *knee,
                resistance: ohms((rated.value - knee.value) / current.value),
                limit: None,
                volts_per_kelvin: 0.0,
            }),
            Self::ConstantPower { power, works_from } => Load::ConstantPower(ConstantPower {
                power: *power,
                works_from: *works_from,
            }),
            Self::Class { strings, current } => {
                strings.side(Side::Middle, rated, *current).load(rated)
            }
        }
    }

    /// Current that the sheet states for one cell at the rated voltage.
    #[must_use]
    pub fn stated_current(&self, rated: ElectricPotential) -> ElectricCurrent {
        match self {
            Self::Series { current, .. }
            | Self::ConstantCurrent { current, .. }
            | Self::StraightLine { current, .. }
            | Self::Class { current, .. } => *current,
            Self::ConstantPower { power, .. } => amps(power.value / rated.value),
        }
    }
}

/// One cell at the temperature that its sheet refers to.
pub(super) fn as_stated(
    cell: &CellSpec,
    rated: ElectricPotential,
) -> Result<ElectricCurrent, LoadError> {
    Ok(cell.load(rated).law(celsius(SHEET_CELSIUS))?.current(rated))
}

/// What one increment of an emitter draws at one temperature, `scale` times its stated current.
fn increment(
    strip: &StripSpec,
    emitter: &EmitterSpec,
    at: ThermodynamicTemperature,
    scale: f64,
) -> Result<Law, StripError> {
    emitter
        .cell
        .load(strip.rated)
        .law(at)
        .and_then(|law| law.times(f64::from(strip.cells) * scale))
        .map_err(|error| StripError::Cell {
            strip: strip.name.clone(),
            emitter: emitter.name.clone(),
            why: error.to_string(),
        })
}

/// What one increment of each emitter draws at one temperature, `scale` times what is stated.
pub(super) fn increments(
    strip: &StripSpec,
    at: ThermodynamicTemperature,
    scale: f64,
) -> Result<Vec<Law>, StripError> {
    strip
        .emitters
        .iter()
        .map(|emitter| {
            let law = increment(strip, emitter, at, scale)?;
            if law.current(strip.rated).value > 0.0 {
                return Ok(law);
            }
            Err(StripError::Cell {
                strip: strip.name.clone(),
                emitter: emitter.name.clone(),
                why: format!(
                    "it draws nothing at the rated {} V: fewer diodes in series, or a higher rated voltage",
                    strip.rated.value
                ),
            })
        })
        .collect()
}
