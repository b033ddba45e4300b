//! Levels on the line, and the light asked for by them.
//!
//! A level of 8 bits stands for `value/255`, one of 16 for `(256·coarse + fine)/65535`.
//! With `x` that fraction and `y` the fraction of full output:
//!
//! ```text
//! linear     y = x
//! square     y = x²
//! lightness  y = ((L + 16)/116)³ for L = 100 x above 8, else L / (29/3)³     (CIE 1976)
//! ```
//!
//! ```
//! use evenrun::dmx::levels::Curve;
//! assert_eq!(Curve::Square.output(0.5), 0.25);
//! assert!((Curve::Lightness.output(0.5) - 0.18419).abs() < 1e-5);
//! ```

use crate::device::LevelBits;
use crate::quantity::ElectricCurrent;
use thiserror::Error;

/// L* below which the CIE 1976 curve is a straight line.
const JOIN: f64 = 8.0;
/// (29/3)³.
const SLOPE: f64 = 24_389.0 / 27.0;
/// Most points of a table.
const MOST_POINTS: usize = 65_536;

/// Relation between level and output.
#[derive(Debug, Clone, PartialEq)]
pub enum Curve {
    /// Output in proportion to level.
    Linear,
    /// Output as the square of level.
    Square,
    /// Level in proportion to CIE 1976 lightness (CIE 015: L*).
    Lightness,
    /// Straight between stated points.
    Table(LevelTable),
}

/// Outputs at evenly spaced levels, as a device's sheet states them.
#[derive(Debug, Clone, PartialEq)]
pub struct LevelTable {
    outputs: Vec<f64>,
}

/// A list is no level table.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum LevelTableError {
    /// Too few or too many points.
    #[error("{found} points; write 2 to 65536, the first for level 0 and the last for full")]
    Points {
        /// How many.
        found: usize,
    },
    /// An output out of range, or below the one before.
    #[error("point {place} is {found}; outputs run from 0 to 1 and never fall")]
    Output {
        /// Its index, from 0.
        place: usize,
        /// The output.
        found: f64,
    },
}

impl LevelTable {
    /// A table of outputs, 0 to 1, for evenly spaced levels from zero to full.
    ///
    /// # Errors
    /// [`LevelTableError`] at the first fault.
    pub fn new(outputs: Vec<f64>) -> Result<Self, LevelTableError> {
        if outputs.len() < 2 || outputs.len() > MOST_POINTS {
            return Err(LevelTableError::Points {
                found: outputs.len(),
            });
        }
        let mut before = 0.0;
        for (place, &found) in outputs.iter().enumerate() {
            if !(found >= before && found <= 1.0) {
                return Err(LevelTableError::Output { place, found });
            }
            before = found;
        }
        Ok(Self { outputs })
    }

    fn output(&self, level: f64) -> f64 {
        let at = level * (self.outputs.len() - 1) as f64;
        let below = libm::floor(at) as usize;
        let low = self.outputs.get(below).copied().unwrap_or(1.0);
        let high = self.outputs.get(below + 1).copied().unwrap_or(low);
        low + (high - low) * (at - below as f64)
    }
}

impl Curve {
    /// Output, 0 to 1, at a level, 0 to 1; levels outside are taken at the nearer end, NaN as zero.
    #[must_use]
    pub fn output(&self, level: f64) -> f64 {
        let level = if level > 0.0 { level.min(1.0) } else { 0.0 };
        match self {
            Self::Linear => level,
            Self::Square => level * level,
            Self::Lightness => {
                let lightness = 100.0 * level;
                if lightness > JOIN {
                    let root = (lightness + 16.0) / 116.0;
                    root * root * root
                } else {
                    lightness / SLOPE
                }
            }
            Self::Table(table) => table.output(level),
        }
    }

    /// The least level, 0 to 1, whose output is at least `output`.
    #[must_use]
    pub fn level(&self, output: f64) -> f64 {
        let output = if output > 0.0 { output.min(1.0) } else { 0.0 };
        match self {
            Self::Linear => output,
            Self::Square => libm::sqrt(output),
            Self::Lightness => {
                let straight = output * SLOPE;
                let lightness = if straight <= JOIN {
                    straight
                } else {
                    116.0 * libm::cbrt(output) - 16.0
                };
                lightness / 100.0
            }
            Self::Table(table) => {
                let spaces = (table.outputs.len() - 1) as f64;
                let above = table.outputs.partition_point(|&point| point < output);
                let Some(&high) = table.outputs.get(above) else {
                    return 1.0;
                };
                let low = above
                    .checked_sub(1)
                    .and_then(|at| table.outputs.get(at).copied());
                match low {
                    Some(low) => ((above - 1) as f64 + (output - low) / (high - low)) / spaces,
                    None => 0.0,
                }
            }
        }
    }

    /// Current of an emitter at a level on the line, where current follows output.
    #[must_use]
    pub fn current(&self, value: u16, bits: LevelBits, full: ElectricCurrent) -> ElectricCurrent {
        full * self.output(level_of(value, bits))
    }

    /// How much brighter the next level is than this one: `y(n+1)/y(n) − 1`; none where this one is dark or the last.
    ///
    /// A step is seen about where it exceeds one or two percent (common practice).
    #[must_use]
    pub fn step(&self, value: u16, bits: LevelBits) -> Option<f64> {
        let next = value
            .checked_add(1)
            .filter(|&next| next <= full_value(bits))?;
        let here = self.output(level_of(value, bits));
        (here > 0.0).then(|| self.output(level_of(next, bits)) / here - 1.0)
    }

    /// The lowest level from which on every step is at most `limit`; none where the last step is larger.
    #[must_use]
    pub fn smooth_from(&self, bits: LevelBits, limit: f64) -> Option<u16> {
        let full = full_value(bits);
        let rough = (0..full)
            .rev()
            .find(|&value| !self.step(value, bits).is_some_and(|step| step <= limit));
        match rough {
            None => Some(0),
            Some(value) => value.checked_add(1).filter(|&value| value < full),
        }
    }
}

/// The largest value of a level.
#[must_use]
pub fn full_value(bits: LevelBits) -> u16 {
    match bits {
        LevelBits::Eight => 255,
        LevelBits::Sixteen => 65_535,
    }
}

/// The fraction, 0 to 1, that a level stands for.
#[must_use]
pub fn level_of(value: u16, bits: LevelBits) -> f64 {
    (f64::from(value) / f64::from(full_value(bits))).min(1.0)
}
