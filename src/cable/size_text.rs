//! Conductor sizes from text: a closed list of spellings, and errors that teach.

use super::size::{ConductorSize, Kind};
use crate::quantity::{NumberError, read_number, shorten};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::str::FromStr;
use thiserror::Error;

/// Why a text is not a conductor size.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum SizeError {
    /// Nothing there.
    #[error("is empty where a conductor size is needed: write \"18 AWG\" or \"0.75 mm²\"")]
    Empty,
    /// The number is not readable.
    #[error("`{found}` {reason}; a conductor size is written like \"18 AWG\" or \"0.75 mm²\"")]
    Number {
        /// The text.
        found: String,
        /// What is wrong.
        reason: NumberError,
    },
    /// A bare number: two systems could be meant.
    #[error(
        "`{found}` has no unit, and a gauge and an area are far apart: write \"{found} AWG\" or \"{found} mm²\""
    )]
    NoUnit {
        /// The text.
        found: String,
    },
    /// A unit that no size has.
    #[error(
        "`{found}` has the unit `{unit}`, which no conductor size has; accepted: AWG, kcmil, mm²{hint}"
    )]
    UnknownUnit {
        /// The text.
        found: String,
        /// The unit found.
        unit: String,
        /// A near miss, if there is one.
        hint: &'static str,
    },
    /// A gauge that does not exist.
    #[error(
        "`{found}` is not a gauge: AWG runs from 40 (thin) through 1 to 1/0, 2/0, 3/0 and 4/0 (thick){hint}"
    )]
    NoGauge {
        /// The text.
        found: String,
        /// What may have been meant.
        hint: &'static str,
    },
    /// An area outside what is sold, or finer than three decimals.
    #[error("`{found}` is outside the sizes on the market: {range}")]
    OutOfRange {
        /// The text.
        found: String,
        /// The range.
        range: &'static str,
    },
}

const METRIC_UNITS: &[&str] = &["mm²", "mm2", "mm^2", "sq mm", "sqmm", "sq. mm"];
const METRIC_RANGE: &str = "0.01 mm² to 2500 mm², with at most three decimals";
const KCMIL_RANGE: &str = "212 kcmil to 5000 kcmil, whole; below that write the gauge, 4/0 or less";

impl FromStr for ConductorSize {
    type Err = SizeError;

    /// Reads `18 AWG`, `18awg`, `#18 AWG`, `4/0`, `0000`, `250 kcmil`, `250 MCM`, `0.75 mm2`, `1 mm²`.
    fn from_str(text: &str) -> Result<Self, SizeError> {
        let found = text.trim();
        if found.is_empty() {
            return Err(SizeError::Empty);
        }
        if let Some(size) = aught(found)? {
            return Ok(size);
        }
        let numeric = found.strip_prefix('#').unwrap_or(found).trim_start();
        let number = read_number(numeric).map_err(|reason| SizeError::Number {
            found: shorten(found),
            reason,
        })?;
        let unit = numeric.get(number.bytes..).unwrap_or_default().trim();
        if unit.is_empty() {
            return Err(SizeError::NoUnit {
                found: shorten(numeric),
            });
        }
        if unit.eq_ignore_ascii_case("awg") {
            return gauge(found, number.value);
        }
        if unit.eq_ignore_ascii_case("kcmil") || unit.eq_ignore_ascii_case("mcm") {
            return kcmil(found, number.value);
        }
        if METRIC_UNITS.contains(&unit) && !found.starts_with('#') {
            return metric(found, number.value);
        }
        Err(SizeError::UnknownUnit {
            found: shorten(found),
            unit: shorten(unit),
            hint: unit_hint(unit),
        })
    }
}

/// `1/0` to `4/0` and `0` to `0000`, with or without `AWG`.
fn aught(found: &str) -> Result<Option<ConductorSize>, SizeError> {
    let bare = found.strip_prefix('#').unwrap_or(found);
    let cut = bare.len().saturating_sub(3);
    let named = bare.is_char_boundary(cut) && bare[cut..].eq_ignore_ascii_case("awg");
    let bare = if named {
        bare[..cut].trim()
    } else {
        bare.trim()
    };
    if let Some((count, zero)) = bare.split_once('/') {
        if zero.trim() != "0" {
            return Ok(None);
        }
        return match count.trim() {
            "1" => Ok(Some(ConductorSize(Kind::Gauge(0)))),
            "2" => Ok(Some(ConductorSize(Kind::Gauge(-1)))),
            "3" => Ok(Some(ConductorSize(Kind::Gauge(-2)))),
            "4" => Ok(Some(ConductorSize(Kind::Gauge(-3)))),
            _ => Err(SizeError::NoGauge {
                found: shorten(found),
                hint: "; above 4/0 write kcmil",
            }),
        };
    }
    Ok(match bare {
        "0" if named => Some(ConductorSize(Kind::Gauge(0))),
        "00" => Some(ConductorSize(Kind::Gauge(-1))),
        "000" => Some(ConductorSize(Kind::Gauge(-2))),
        "0000" => Some(ConductorSize(Kind::Gauge(-3))),
        _ => None,
    })
}

fn gauge(found: &str, value: f64) -> Result<ConductorSize, SizeError> {
    let hint = if value < 0.0 {
        "; thicker than 1/0 is written 2/0, 3/0, 4/0"
    } else if libm::trunc(value) != value {
        "; gauges are whole"
    } else {
        "; above 4/0 write kcmil"
    };
    let whole = value as i8;
    if value >= 0.0
        && f64::from(whole) == value
        && let Some(size) = ConductorSize::gauge(whole)
    {
        return Ok(size);
    }
    Err(SizeError::NoGauge {
        found: shorten(found),
        hint,
    })
}

fn kcmil(found: &str, value: f64) -> Result<ConductorSize, SizeError> {
    let whole = value as u16;
    if f64::from(whole) == value
        && let Some(size) = ConductorSize::kcmil(whole)
    {
        return Ok(size);
    }
    Err(SizeError::OutOfRange {
        found: shorten(found),
        range: KCMIL_RANGE,
    })
}

fn metric(found: &str, value: f64) -> Result<ConductorSize, SizeError> {
    let thousandths = libm::round(value * 1000.0);
    // Three decimals at most: the rounding may only remove binary noise.
    let exact = (value * 1000.0 - thousandths).abs() <= 1e-9 * thousandths.abs();
    let whole = thousandths as u32;
    if exact
        && f64::from(whole) == thousandths
        && let Some(size) = ConductorSize::thousandths_mm2(whole)
    {
        return Ok(size);
    }
    Err(SizeError::OutOfRange {
        found: shorten(found),
        range: METRIC_RANGE,
    })
}

fn unit_hint(unit: &str) -> &'static str {
    match unit {
        "mm" => "; mm is a length: an area is written mm²",
        "MM2" | "MM²" | "Mm2" | "Mm²" => "; did you mean mm²?",
        "ga" | "gauge" | "G" | "g" | "swg" | "SWG" | "bwg" | "BWG" => {
            "; several gauges exist: write AWG if the American one is meant"
        }
        "mil" | "mils" | "cmil" => "; thousands of circular mils are written kcmil",
        _ => "",
    }
}

impl Serialize for ConductorSize {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for ConductorSize {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer)?
            .parse()
            .map_err(serde::de::Error::custom)
    }
}
