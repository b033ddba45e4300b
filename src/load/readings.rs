//! Monotone cubic through readings.

use super::error::LoadError;
use super::kinds::Readings;

/// Most readings of one table.
pub(super) const MOST_READINGS: usize = 100_000;

/// Knots and slopes of a monotone cubic, in volt, ampere and siemens.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Curve {
    volts: Vec<f64>,
    amps: Vec<f64>,
    siemens: Vec<f64>,
}

impl Curve {
    pub fn new(readings: &Readings) -> Result<Self, LoadError> {
        let rows = &readings.rows;
        if !(2..=MOST_READINGS).contains(&rows.len()) {
            return Err(LoadError::ReadingCount {
                found: rows.len(),
                most: MOST_READINGS,
            });
        }
        let mut volts = Vec::with_capacity(rows.len() + 1);
        let mut amps = Vec::with_capacity(rows.len() + 1);
        for (row, (v, i)) in rows.iter().enumerate() {
            let (v, i) = (v.value, i.value);
            if !(v.is_finite() && i.is_finite() && v >= 0.0 && i >= 0.0) {
                return Err(LoadError::BadReading {
                    row: row + 1,
                    volts: v,
                    amps: i,
                });
            }
            if let (Some(&v0), Some(&i0)) = (volts.last(), amps.last()) {
                if !(v > v0 && i >= i0) {
                    return Err(LoadError::NotMonotone {
                        row: row + 1,
                        volts: v,
                        amps: i,
                        volts_before: v0,
                        amps_before: i0,
                    });
                }
            } else if v == 0.0 && i > 0.0 {
                return Err(LoadError::NotMonotone {
                    row: 1,
                    volts: v,
                    amps: i,
                    volts_before: 0.0,
                    amps_before: 0.0,
                });
            } else if v > 0.0 {
                volts.push(0.0);
                amps.push(0.0);
            }
            volts.push(v);
            amps.push(i);
        }
        let siemens = slopes(&volts, &amps);
        Ok(Self {
            volts,
            amps,
            siemens,
        })
    }

    /// The curve of `count` cells side by side.
    pub fn times(&self, count: f64) -> Self {
        let all = |v: &[f64]| v.iter().map(|x| x * count).collect();
        Self {
            volts: self.volts.clone(),
            amps: all(&self.amps),
            siemens: all(&self.siemens),
        }
    }

    /// Last voltage read.
    pub fn last_volts(&self) -> f64 {
        self.volts.last().copied().unwrap_or(0.0)
    }

    /// Current and slope at `v` of at least 0.
    pub fn at(&self, v: f64) -> (f64, f64) {
        let above = self.volts.partition_point(|&knot| knot <= v);
        let (Some(low), Some(&v1)) = (above.checked_sub(1), self.volts.get(above)) else {
            return (self.amps.last().copied().unwrap_or(0.0), 0.0);
        };
        let (v0, i0, i1) = (self.volts[low], self.amps[low], self.amps[above]);
        let (s0, s1) = (self.siemens[low], self.siemens[above]);
        let h = v1 - v0;
        let t = (v - v0) / h;
        let secant = (i1 - i0) / h;
        let (c2, c3) = (3.0 * secant - 2.0 * s0 - s1, s0 + s1 - 2.0 * secant);
        (
            i0 + h * t * (s0 + t * (c2 + t * c3)),
            s0 + t * (2.0 * c2 + t * 3.0 * c3),
        )
    }

    /// Lowest voltage with `amps`, if any.
    pub fn volts_for(&self, amps: f64) -> Option<f64> {
        let above = self.amps.partition_point(|&i| i < amps);
        let high = *self.volts.get(above)?;
        let Some(low) = above.checked_sub(1) else {
            return Some(high);
        };
        Some(super::law::bisect(self.volts[low], high, |v| {
            self.at(v).0 - amps
        }))
    }
}

/// Fritsch and Carlson's slopes: harmonic mean of the secants, zero where one is flat.
fn slopes(volts: &[f64], amps: &[f64]) -> Vec<f64> {
    let secants: Vec<f64> = volts
        .windows(2)
        .zip(amps.windows(2))
        .map(|(v, i)| (i[1] - i[0]) / (v[1] - v[0]))
        .collect();
    let mut slopes = Vec::with_capacity(volts.len());
    slopes.push(secants.first().copied().unwrap_or(0.0));
    for (pair, v) in secants.windows(2).zip(volts.windows(3)) {
        let (h0, h1) = (v[1] - v[0], v[2] - v[1]);
        let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
        let flat = !(pair[0] > 0.0 && pair[1] > 0.0);
        slopes.push(if flat {
            0.0
        } else {
            (w0 + w1) / (w0 / pair[0] + w1 / pair[1])
        });
    }
    slopes.push(secants.last().copied().unwrap_or(0.0));
    slopes
}
