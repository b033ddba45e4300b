//! What can be wrong with a load.

use thiserror::Error;

/// A load that cannot be.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum LoadError {
    /// A figure outside the range in which the law means anything.
    #[error("{what} is {found}; it must be {accepted}. {remedy}")]
    OutOfRange {
        /// Which figure.
        what: &'static str,
        /// Its value in SI units.
        found: f64,
        /// The accepted range, in words.
        accepted: &'static str,
        /// What to do about it.
        remedy: &'static str,
    },
    /// A string without diodes, or with more than anybody builds.
    #[error(
        "a series string of {count} diodes; 1 to {most} are accepted. Give the diodes in series in one cell"
    )]
    DiodeCount {
        /// Diodes in series.
        count: u32,
        /// The cap.
        most: u32,
    },
    /// Too few or too many readings.
    #[error(
        "a table of {found} readings; 2 to {most} are accepted. Add readings, at least one on either side of the knee"
    )]
    ReadingCount {
        /// Readings given.
        found: usize,
        /// The cap.
        most: usize,
    },
    /// The readings do not rise.
    #[error(
        "reading {row}: {volts} V and {amps} A after {volts_before} V and {amps_before} A; voltage must rise from row to row and \
         current must not fall. Sort the readings; a current that falls with voltage is a constant-power load, not a table"
    )]
    NotMonotone {
        /// Row, counted from 1.
        row: usize,
        /// Voltage of the row.
        volts: f64,
        /// Current of the row.
        amps: f64,
        /// Voltage of the row before.
        volts_before: f64,
        /// Current of the row before.
        amps_before: f64,
    },
    /// A reading that is no number or is negative.
    #[error(
        "reading {row}: {volts} V, {amps} A; both must be finite and not negative. Correct the reading"
    )]
    BadReading {
        /// Row, counted from 1.
        row: usize,
        /// Voltage of the row.
        volts: f64,
        /// Current of the row.
        amps: f64,
    },
}
