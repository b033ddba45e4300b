//! The closed forms, on plain numbers: current and slope at a voltage.

use super::custom::Characteristic;
use super::omega_table::omega_table;
use super::readings::Curve;
use super::string::StringLaw;
use std::sync::Arc;

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

    /// Current at a voltage; strings go through the table.
    #[cfg(feature = "choose")]
    #[inline]
    pub fn amps(&self, v: f64) -> f64 {
        match self {
            Self::Series(string) => string.at_tabled(omega_table(), v).0,
            Self::Regulated {
                string,
                limit,
                from,
            } => {
                if v >= *from {
                    *limit
                } else {
                    string.at_tabled(omega_table(), v).0
                }
            }
            _ => self.at(v).0,
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
