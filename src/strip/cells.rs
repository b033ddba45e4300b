//! From the cells of a data sheet to what one cut increment draws.

use super::error::StripError;
use super::model::CornerSet;
use super::spec::{CellSpec, EmitterSpec, StripSpec};
use crate::load::{ConstantCurrent, ConstantPower, Diode, Law, Load, SeriesString};
use crate::quantity::{
    Corners, ElectricCurrent, ElectricPotential, ThermodynamicTemperature, ohms,
};
use crate::source::Source;

/// Ideality factor taken for every diode, where a sheet states one point of its curve only.
pub const IDEALITY: f64 = 2.0;
/// Change of forward voltage taken for every diode, V/K.
pub const VOLTS_PER_KELVIN: f64 = -0.002;

/// Where [`IDEALITY`] and [`VOLTS_PER_KELVIN`] come from.
#[must_use]
pub fn diode_source() -> Source {
    Source::common_practice(
        "a diode of which one point is stated: ideality 2, no series resistance of its own, −2 mV/K",
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
    /// asks for: `Rb = (V − N·Vf)/I`.
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
            Self::ConstantPower { power, works_from } => Load::ConstantPower(ConstantPower {
                power: *power,
                works_from: *works_from,
            }),
        }
    }
}

/// What one increment of an emitter draws at one temperature, `scale` times its stated current.
fn law(
    strip: &StripSpec,
    emitter: &EmitterSpec,
    at: ThermodynamicTemperature,
    scale: f64,
) -> Result<Law, StripError> {
    let fault = |why: String| StripError::Cell {
        strip: strip.name.clone(),
        emitter: emitter.name.clone(),
        why,
    };
    emitter
        .cell
        .load(strip.rated)
        .law(at)
        .and_then(|law| law.times(f64::from(strip.cells) * scale))
        .map_err(|e| fault(e.to_string()))
}

/// The three corners of an emitter.
pub(super) fn laws(
    strip: &StripSpec,
    emitter: &EmitterSpec,
    corners: &CornerSet,
) -> Result<Corners<Law>, StripError> {
    let tolerance = corners.current_tolerance.value;
    let laws = Corners {
        low: law(strip, emitter, corners.cell.low, 1.0 - tolerance)?,
        nominal: law(strip, emitter, corners.cell.nominal, 1.0)?,
        high: law(strip, emitter, corners.cell.high, 1.0 + tolerance)?,
    };
    let nominal = laws.nominal.current(strip.rated);
    if !(nominal.value > 0.0) {
        return Err(StripError::Cell {
            strip: strip.name.clone(),
            emitter: emitter.name.clone(),
            why: format!(
                "it draws nothing at the rated {} V: fewer diodes in series, or a higher rated voltage",
                strip.rated.value
            ),
        });
    }
    Ok(laws)
}
