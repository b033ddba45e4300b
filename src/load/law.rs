//! A checked load: current and slope at a voltage, voltage for a current.

use super::custom::Characteristic;
use super::error::LoadError;
use super::form::{Form, Line};
use super::judge::in_range;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, ElectricalConductance, amps, siemens, volts,
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

/// A checked load at a junction temperature. Cheap to clone.
#[derive(Debug, Clone)]
pub struct Law(pub(crate) Arc<Form>);

impl Law {
    /// Surely the same characteristic: shared, or of equal numbers.
    #[cfg(feature = "choose")]
    pub(crate) fn is_same(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0)
            || match (&*self.0, &*other.0) {
                (Form::Series(a), Form::Series(b)) => a == b,
                (Form::Line(a), Form::Line(b)) => a == b,
                (Form::Readings(a), Form::Readings(b)) => a == b,
                _ => false,
            }
    }

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
