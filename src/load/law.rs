//! A checked load: current and slope at a voltage, voltage for a current.

use super::custom::Characteristic;
use super::error::LoadError;
use super::kinds::{ConstantPower, Load, Pixel, StraightLine};
use super::omega_table::omega_table;
use super::readings::Curve;
use super::string::{REFERENCE_KELVIN, StringLaw};
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalConductance, ThermodynamicTemperature, amps,
    siemens, volts,
};
use std::sync::Arc;

/// Whether the current of a load can fall as its voltage rises.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Trend {
    /// Never falls: a network of such loads has exactly one solution.
    Monotone,
    /// Falls: a network has two solutions or none.
    Falling,
}

/// A line with a plateau: `I = clamp((V − knee)·siemens, 0, limit)`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Line {
    pub knee: f64,
    pub siemens: f64,
    pub limit: f64,
}

impl Line {
    #[inline]
    pub fn at(&self, v: f64) -> (f64, f64) {
        let i = (v - self.knee) * self.siemens;
        if !(i > 0.0) {
            (0.0, 0.0)
        } else if i < self.limit {
            (i, self.siemens)
        } else {
            (self.limit, 0.0)
        }
    }
}

/// The closed forms, on plain numbers.
#[derive(Debug, Clone)]
pub(crate) enum Form {
    Series(StringLaw),
    Line(Line),
    Regulated {
        string: StringLaw,
        limit: f64,
        from: f64,
    },
    Pixel {
        idle: Line,
        lit: Line,
    },
    Power {
        watts: f64,
        from: f64,
    },
    Readings(Curve),
    Custom(Arc<dyn Characteristic>),
    Open,
}

/// A checked load at a junction temperature. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Law(pub(crate) Arc<Form>);

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

fn in_range(
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

impl Form {
    /// Current, A, and slope, S, at a cell voltage in volt.
    #[inline]
    pub fn at(&self, v: f64) -> (f64, f64) {
        if !(v > 0.0) {
            return match self {
                Self::Line(line) if line.knee == 0.0 && v == 0.0 => (0.0, line.siemens),
                Self::Power { watts, from } => (0.0, watts / (from * from)),
                _ => (0.0, 0.0),
            };
        }
        match self {
            Self::Series(string) => string.at(v),
            Self::Line(line) => line.at(v),
            Self::Regulated {
                string,
                limit,
                from,
            } => {
                if v >= *from {
                    (*limit, 0.0)
                } else {
                    string.at(v)
                }
            }
            Self::Pixel { idle, lit } => {
                let ((i0, g0), (i1, g1)) = (idle.at(v), lit.at(v));
                (i0 + i1, g0 + g1)
            }
            Self::Power { watts, from } => {
                if v >= *from {
                    (watts / v, -watts / (v * v))
                } else {
                    (v * watts / (from * from), watts / (from * from))
                }
            }
            Self::Readings(curve) => curve.at(v),
            Self::Custom(custom) => custom.amps_and_siemens(v),
            Self::Open => (0.0, 0.0),
        }
    }
}

impl Law {
    /// Current at a cell voltage.
    #[must_use]
    pub fn current(&self, at: ElectricPotential) -> ElectricCurrent {
        amps(self.0.at(at.value).0)
    }

    /// Slope `dI/dV` at a cell voltage; at a kink, that of one side.
    #[must_use]
    pub fn slope(&self, at: ElectricPotential) -> ElectricalConductance {
        siemens(self.0.at(at.value).1)
    }

    /// Lowest voltage at which the cell draws `current`; none if it never does (above a plateau, or not a number).
    ///
    /// For constant power: the voltage at or above the converter's lowest.
    #[must_use]
    pub fn voltage_for(&self, current: ElectricCurrent) -> Option<ElectricPotential> {
        let i = current.value;
        if !(i >= 0.0 && i.is_finite()) {
            return None;
        }
        if i == 0.0 {
            return Some(volts(0.0));
        }
        let line = |line: &Line| (i <= line.limit).then(|| line.knee + i / line.siemens);
        let v = match &*self.0 {
            Form::Series(string) => Some(string.volts_for(i).max(0.0)),
            Form::Line(l) => line(l),
            Form::Regulated { string, limit, .. } => {
                (i <= *limit).then(|| string.volts_for(i).max(0.0))
            }
            Form::Pixel { idle, lit } => {
                let top = (lit.knee + lit.limit / lit.siemens.max(f64::MIN_POSITIVE))
                    .max(idle.limit / idle.siemens.max(f64::MIN_POSITIVE));
                let top = if top.is_finite() { top } else { 1e4 };
                (i <= self.0.at(top).0).then(|| bisect(0.0, top, |v| self.0.at(v).0 - i))
            }
            Form::Power { watts, from } => Some(watts / i).filter(|v| v >= from),
            Form::Readings(curve) => curve.volts_for(i),
            Form::Custom(_) => {
                (self.0.at(1e4).0 >= i).then(|| bisect(0.0, 1e4, |v| self.0.at(v).0 - i))
            }
            Form::Open => None,
        }?;
        Some(volts(v))
    }

    /// Whether the current can fall as the voltage rises.
    #[must_use]
    pub fn trend(&self) -> Trend {
        match *self.0 {
            Form::Power { .. } => Trend::Falling,
            _ => Trend::Monotone,
        }
    }

    /// The law of `count` such cells side by side (or of a cell that draws `count` times as much).
    /// # Errors
    /// [`LoadError::OutOfRange`] unless `count` lies between 1e-6 and 1e6.
    pub fn times(&self, count: f64) -> Result<Self, LoadError> {
        let count = in_range(
            "the number of cells side by side",
            count,
            1e-6,
            1e6,
            "1e-6 to 1e6",
        )?;
        let line = |l: &Line| Line {
            knee: l.knee,
            siemens: l.siemens * count,
            limit: l.limit * count,
        };
        Ok(Self(Arc::new(match &*self.0 {
            Form::Series(string) => Form::Series(string.times(count)),
            Form::Line(l) => Form::Line(line(l)),
            Form::Regulated {
                string,
                limit,
                from,
            } => Form::Regulated {
                string: string.times(count),
                limit: limit * count,
                from: *from,
            },
            Form::Pixel { idle, lit } => Form::Pixel {
                idle: line(idle),
                lit: line(lit),
            },
            Form::Power { watts, from } => Form::Power {
                watts: watts * count,
                from: *from,
            },
            Form::Readings(curve) => Form::Readings(curve.times(count)),
            Form::Custom(custom) => Form::Custom(Arc::new(Many {
                one: Arc::clone(custom),
                count,
            })),
            Form::Open => Form::Open,
        })))
    }

    /// Voltage up to which the law is backed by readings; none where it is a formula.
    #[must_use]
    pub fn known_up_to(&self) -> Option<ElectricPotential> {
        match &*self.0 {
            Form::Readings(curve) => Some(volts(curve.last_volts())),
            _ => None,
        }
    }
}

/// Several custom cells side by side.
#[derive(Debug)]
struct Many {
    one: Arc<dyn Characteristic>,
    count: f64,
}

impl Characteristic for Many {
    fn amps_and_siemens(&self, volts: f64) -> (f64, f64) {
        let (i, g) = self.one.amps_and_siemens(volts);
        (i * self.count, g * self.count)
    }
}

/// The root of a function that rises from at most 0 at `low` to at least 0 at `high`.
pub(super) fn bisect(mut low: f64, mut high: f64, rises: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if !(middle > low && middle < high) {
            break;
        }
        if rises(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

impl Form {
    /// Greatest `I''/I'`, 1/V, where the law is smooth.
    pub fn bend(&self) -> Option<f64> {
        match self {
            Self::Series(string) => Some(string.per_volt),
            Self::Line(line) if line.knee == 0.0 && line.limit == f64::INFINITY => Some(0.0),
            Self::Open => Some(0.0),
            _ => None,
        }
    }

    /// Currents and slopes of many cells at once; strings go through the table.
    pub fn fill(&self, volts: &[f64], amps: &mut [f64], siemens: &mut [f64]) {
        match self {
            Self::Series(string) => {
                let table = omega_table();
                each(volts, amps, siemens, |v| string.at_tabled(table, v));
            }
            Self::Regulated {
                string,
                limit,
                from,
            } => {
                let table = omega_table();
                each(volts, amps, siemens, |v| {
                    if v >= *from {
                        (*limit, 0.0)
                    } else {
                        string.at_tabled(table, v)
                    }
                });
            }
            Self::Line(line) if line.knee > 0.0 => each(volts, amps, siemens, |v| line.at(v)),
            _ => each(volts, amps, siemens, |v| self.at(v)),
        }
    }
}

#[inline(always)]
fn each(volts: &[f64], amps: &mut [f64], siemens: &mut [f64], at: impl Fn(f64) -> (f64, f64)) {
    for ((v, i), g) in volts.iter().zip(amps).zip(siemens) {
        (*i, *g) = at(*v);
    }
}
