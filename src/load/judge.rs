//! Whether a load can be, and its law at a junction temperature.

use super::custom::Characteristic;
use super::error::LoadError;
use super::form::{Form, Line};
use super::kinds::{ConstantPower, Load, Pixel, StraightLine};
use super::law::Law;
use super::readings::Curve;
use super::string::{REFERENCE_KELVIN, StringLaw};
use crate::quantity::ThermodynamicTemperature;
use std::sync::Arc;

impl Load {
    /// Checks the load and fixes its junction temperature.
    ///
    /// Loads without a temperature coefficient ignore the temperature.
    /// # Errors
    /// [`LoadError`] names the figure that cannot be, the range accepted and the remedy.
    pub fn law(&self, junction: ThermodynamicTemperature) -> Result<Law, LoadError> {
        let kelvin = in_range(
            "the junction temperature (in kelvin)",
            junction.value,
            200.0,
            500.0,
            "200 K to 500 K (-73 °C to 227 °C)",
        )?;
        let form = match self {
            Self::Series(s) => {
                Form::Series(StringLaw::new(&s.diode, s.count, s.ballast.value, kelvin)?)
            }
            Self::Straight(line) => Form::Line(straight(line, kelvin)?),
            Self::ConstantCurrent(cell) => {
                let limit = in_range(
                    "the regulated current",
                    cell.current.value,
                    1e-9,
                    1e4,
                    "1 nA to 10 kA",
                )?;
                let drop = in_range(
                    "the drop-out voltage",
                    cell.drop_out.value,
                    0.0,
                    1e3,
                    "0 V to 1 kV",
                )?;
                let string = StringLaw::new(&cell.diode, cell.count, drop / limit, kelvin)?;
                Form::Regulated {
                    string,
                    limit,
                    from: string.volts_for(limit),
                }
            }
            Self::Pixel(pixel) => regulated_pixel(pixel)?,
            Self::Resistive(resistor) => {
                let ohms = in_range(
                    "the resistance of the load",
                    resistor.resistance.value,
                    1e-9,
                    1e15,
                    "1 nohm to 1e15 ohm",
                )?;
                Form::Line(Line {
                    knee: 0.0,
                    siemens: 1.0 / ohms,
                    limit: f64::INFINITY,
                })
            }
            Self::ConstantPower(cell) => power(cell)?,
            Self::Readings(readings) => Form::Readings(Curve::new(readings)?),
            Self::Custom(custom) => probe(custom)?,
            Self::Open => Form::Open,
        };
        Ok(Law(Arc::new(form)))
    }
}

pub(super) fn in_range(
    what: &'static str,
    found: f64,
    low: f64,
    high: f64,
    accepted: &'static str,
) -> Result<f64, LoadError> {
    if found >= low && found <= high {
        Ok(found)
    } else {
        Err(LoadError::OutOfRange {
            what,
            found,
            accepted,
            remedy: "Read the figure again, and its unit",
        })
    }
}

fn straight(line: &StraightLine, kelvin: f64) -> Result<Line, LoadError> {
    let knee = in_range(
        "the knee of the straight line",
        line.knee.value,
        0.0,
        1e4,
        "0 V to 10 kV",
    )?;
    let ohms = in_range(
        "the slope resistance",
        line.resistance.value,
        1e-9,
        1e15,
        "1 nohm to 1e15 ohm",
    )?;
    let kv = in_range(
        "the change of the knee",
        line.volts_per_kelvin,
        -10.0,
        10.0,
        "-10 V/K to 10 V/K",
    )?;
    let limit = match line.limit {
        Some(limit) => in_range(
            "the plateau of the straight line",
            limit.value,
            0.0,
            1e6,
            "0 A to 1 MA",
        )?,
        None => f64::INFINITY,
    };
    let knee = knee + kv * (kelvin - REFERENCE_KELVIN);
    Ok(Line {
        knee: knee.max(0.0),
        siemens: 1.0 / ohms,
        limit,
    })
}

fn regulated_pixel(pixel: &Pixel) -> Result<Form, LoadError> {
    let idle = in_range(
        "the idle current",
        pixel.idle.value,
        0.0,
        1e3,
        "0 A to 1 kA",
    )?;
    let idle_from = in_range(
        "the voltage of the full idle current",
        pixel.idle_from.value,
        1e-3,
        1e3,
        "1 mV to 1 kV",
    )?;
    let regulated = in_range(
        "the regulated current",
        pixel.regulated.value,
        0.0,
        1e3,
        "0 A to 1 kA",
    )?;
    let level = in_range(
        "the level of the pixel",
        pixel.level.value,
        0.0,
        1.0,
        "0 to 1",
    )?;
    let dark = in_range(
        "the voltage of darkness",
        pixel.dark_below.value,
        0.0,
        1e3,
        "0 V to 1 kV",
    )?;
    let rise = in_range(
        "the voltage from darkness to full current",
        pixel.full_from.value - dark,
        1e-3,
        1e3,
        "1 mV to 1 kV",
    )?;
    let limit = level * regulated;
    Ok(Form::Pixel {
        idle: Line {
            knee: 0.0,
            siemens: idle / idle_from,
            limit: idle,
        },
        lit: Line {
            knee: dark,
            siemens: limit / rise,
            limit,
        },
    })
}

fn power(cell: &ConstantPower) -> Result<Form, LoadError> {
    let watts = in_range(
        "the power of the cell",
        cell.power.value,
        1e-9,
        1e6,
        "1 nW to 1 MW",
    )?;
    let from = in_range(
        "the lowest voltage of the converter",
        cell.works_from.value,
        1e-3,
        1e4,
        "1 mV to 10 kV",
    )?;
    Ok(Form::Power { watts, from })
}

/// Asks a custom characteristic at 256 voltages from 0 V to 256 V and at 2 of each octave beyond.
fn probe(custom: &Arc<dyn Characteristic>) -> Result<Form, LoadError> {
    let mut last = 0.0;
    let far = (0..16).map(|k| 256.0 * libm::exp2(f64::from(k) / 2.0));
    for v in (0..256).map(f64::from).chain(far) {
        let (i, g) = custom.amps_and_siemens(v);
        let remedy = "A custom characteristic must rise with voltage; a falling one is a constant-power load";
        if !(i >= last && i.is_finite()) {
            let accepted = "finite, at least 0 A, and never less than at a lower voltage";
            return Err(LoadError::OutOfRange {
                what: "a current of the custom characteristic",
                found: i,
                accepted,
                remedy,
            });
        }
        if !(g >= 0.0 && g.is_finite()) {
            let accepted = "finite and at least 0 S";
            return Err(LoadError::OutOfRange {
                what: "a slope of the custom characteristic",
                found: g,
                accepted,
                remedy,
            });
        }
        last = i;
    }
    Ok(Form::Custom(Arc::clone(custom)))
}
