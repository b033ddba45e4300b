//! A length as an integer number of nanometres, read from decimal, fraction or
//! feet-and-inches text.

use super::text;
use crate::quantity::{Length, NumberError, metres, shorten};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

pub(super) const NM_PER_M: i64 = 1_000_000_000;
/// Nothing in this trade is longer: 1000 km. Sums of a million of them still fit.
const LONGEST_NM: i128 = 1_000_000 * NM_PER_M as i128;

/// A length held exactly, in whole nanometres. May be negative as a difference.
#[derive(Debug, Clone, Copy, Default)]
pub struct ExactLength {
    nanometres: i64,
    rounded: bool,
}

/// Why a text is not an exact length or a cut pitch.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ExactError {
    /// Nothing there.
    #[error("is empty where a length is needed: write one like \"7.5 m\" or \"5 ft 3-1/2 in\"")]
    Empty,
    /// The number is not readable.
    #[error("`{found}` {reason}; write a length like \"7.5 m\", \"25 ft\" or \"5 ft 3-1/2 in\"")]
    Number {
        /// The text.
        found: String,
        /// What is wrong with it.
        reason: NumberError,
    },
    /// A bare number.
    #[error(
        "`{found}` has no unit: write \"{found} m\", \"{found} mm\" or \"{found} ft\", whichever is meant; accepted: m, cm, mm, ft, in"
    )]
    NoUnit {
        /// The text.
        found: String,
    },
    /// A unit that is no unit of length here.
    #[error(
        "`{found}` has the unit `{unit}`, which is not a unit for a length; accepted: m, cm, mm, ft, in"
    )]
    UnknownUnit {
        /// The text.
        found: String,
        /// The unit.
        unit: String,
    },
    /// A fraction that is none.
    #[error("`{found}` has a fraction that cannot be read: write it like 3-1/2 in")]
    Fraction {
        /// The text.
        found: String,
    },
    /// Too long.
    #[error("`{found}` is longer than 1000 km, the greatest length taken here")]
    TooLong {
        /// The text.
        found: String,
    },
    /// A pitch that is nothing or negative.
    #[error("`{found}` is not a cut pitch: it must be longer than zero and at most 10 m")]
    Pitch {
        /// The text.
        found: String,
    },
}

impl ExactLength {
    /// No length.
    pub const ZERO: Self = Self::from_nanometres(0);

    /// From whole nanometres.
    #[must_use]
    pub const fn from_nanometres(nanometres: i64) -> Self {
        Self {
            nanometres,
            rounded: false,
        }
    }

    /// From whole millimetres; saturates far beyond any length of this trade.
    #[must_use]
    pub const fn from_millimetres(millimetres: i64) -> Self {
        Self::from_nanometres(millimetres.saturating_mul(1_000_000))
    }

    /// The nearest whole nanometre to a length, if it is finite and at most 1000 km.
    #[must_use]
    pub fn nearest(length: Length) -> Option<Self> {
        let nanometres = libm::round(length.value * 1e9);
        (nanometres.abs() <= LONGEST_NM as f64).then(|| Self::from_nanometres(nanometres as i64))
    }

    /// Whole nanometres.
    #[must_use]
    pub const fn nanometres(self) -> i64 {
        self.nanometres
    }

    /// Whether the text it was read from was no whole number of nanometres.
    #[must_use]
    pub const fn was_rounded(self) -> bool {
        self.rounded
    }

    /// As a quantity.
    #[must_use]
    pub fn to_length(self) -> Length {
        metres(self.nanometres as f64 / NM_PER_M as f64)
    }

    /// In metres, for kernels.
    #[must_use]
    pub fn metres(self) -> f64 {
        self.nanometres as f64 / NM_PER_M as f64
    }

    /// The sum, unless it leaves the range of the type.
    #[must_use]
    pub fn checked_add(self, other: Self) -> Option<Self> {
        let nanometres = self.nanometres.checked_add(other.nanometres)?;
        Some(Self {
            nanometres,
            rounded: self.rounded || other.rounded,
        })
    }

    /// The difference, unless it leaves the range of the type.
    #[must_use]
    pub fn checked_sub(self, other: Self) -> Option<Self> {
        let nanometres = self.nanometres.checked_sub(other.nanometres)?;
        Some(Self {
            nanometres,
            rounded: self.rounded || other.rounded,
        })
    }

    /// The sum, held at the end of the range if it would leave it.
    #[must_use]
    pub fn saturating_add(self, other: Self) -> Self {
        Self {
            nanometres: self.nanometres.saturating_add(other.nanometres),
            rounded: self.rounded || other.rounded,
        }
    }

    /// The difference, held at the end of the range if it would leave it.
    #[must_use]
    pub fn saturating_sub(self, other: Self) -> Self {
        Self {
            nanometres: self.nanometres.saturating_sub(other.nanometres),
            rounded: self.rounded || other.rounded,
        }
    }

    /// Reads a length: `"7.5 m"`, `"25 ft"`, `"5 ft 3-1/2 in"`, `"5' 3 1/2\""`, `"-3 mm"`.
    ///
    /// # Errors
    /// [`ExactError`], with the text and what to write.
    pub fn parse(text: &str) -> Result<Self, ExactError> {
        let found = text.trim();
        if found.is_empty() {
            return Err(ExactError::Empty);
        }
        let (minus, body) = match found
            .strip_prefix('-')
            .or_else(|| found.strip_prefix('\u{2212}'))
        {
            Some(body) => (true, body.trim_start()),
            None => (false, found),
        };
        let (nanometres, rounded) = text::magnitude(body, found)?;
        if nanometres > LONGEST_NM {
            return Err(ExactError::TooLong {
                found: shorten(found),
            });
        }
        let nanometres = i64::try_from(nanometres).map_err(|_| ExactError::TooLong {
            found: shorten(found),
        })?;
        Ok(Self {
            nanometres: if minus { -nanometres } else { nanometres },
            rounded,
        })
    }
}

impl FromStr for ExactLength {
    type Err = ExactError;
    fn from_str(text: &str) -> Result<Self, ExactError> {
        Self::parse(text)
    }
}

impl PartialEq for ExactLength {
    fn eq(&self, other: &Self) -> bool {
        self.nanometres == other.nanometres
    }
}

impl Eq for ExactLength {}

impl PartialOrd for ExactLength {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for ExactLength {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.nanometres.cmp(&other.nanometres)
    }
}

impl std::hash::Hash for ExactLength {
    fn hash<H: std::hash::Hasher>(&self, state: &mut H) {
        self.nanometres.hash(state);
    }
}

impl std::iter::Sum for ExactLength {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Self::saturating_add)
    }
}

/// Prints metres from one metre up, millimetres below, with every digit that is not zero.
impl fmt::Display for ExactLength {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let size = self.nanometres.unsigned_abs();
        let sign = if self.nanometres < 0 { "-" } else { "" };
        let (per_unit, places, unit) = if size >= 1_000_000_000 {
            (1_000_000_000, 9, "m")
        } else {
            (1_000_000, 6, "mm")
        };
        let fraction = format!("{:0places$}", size % per_unit);
        let fraction = fraction.trim_end_matches('0');
        let text = if fraction.is_empty() {
            format!("{sign}{} {unit}", size / per_unit)
        } else {
            format!("{sign}{}.{fraction} {unit}", size / per_unit)
        };
        f.pad(&text)
    }
}

/// Written as whole nanometres: `{"nm": 7500000000}`.
impl serde::Serialize for ExactLength {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        use serde::ser::SerializeMap;
        let mut map = serializer.serialize_map(Some(1))?;
        map.serialize_entry("nm", &self.nanometres)?;
        map.end()
    }
}

/// Read as whole nanometres, or as the text that a person writes: `"7.5 m"`.
impl<'de> serde::Deserialize<'de> for ExactLength {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        struct Whole {
            nm: i64,
        }
        #[derive(serde::Deserialize)]
        #[serde(
            untagged,
            expecting = "a length as {\"nm\": whole number} or as text with its unit"
        )]
        enum Written {
            Whole(Whole),
            Text(String),
        }
        match Written::deserialize(deserializer)? {
            Written::Whole(whole) => Ok(Self::from_nanometres(whole.nm)),
            Written::Text(text) => Self::parse(&text).map_err(serde::de::Error::custom),
        }
    }
}

#[cfg(feature = "schema")]
impl schemars::JsonSchema for ExactLength {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "ExactLength".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "object",
            "description": "a length in whole nanometres",
            "properties": { "nm": { "type": "integer" } },
            "required": ["nm"],
            "additionalProperties": false,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_people_write() {
        // 1 in = 25.4 mm exactly: international yard and pound agreement of 1959.
        for (text, nanometres) in [
            ("7.5 m", 7_500_000_000),
            ("7.5m", 7_500_000_000),
            ("4.35 m", 4_350_000_000),
            ("25 ft", 7_620_000_000),
            ("5 ft 3-1/2 in", 1_612_900_000),
            ("5 ft 3 1/2 in", 1_612_900_000),
            ("5'3-1/2\"", 1_612_900_000),
            ("5' 3\"", 1_600_200_000),
            ("1/64 in", 396_875),
            ("3/4 in", 19_050_000),
            ("-3 mm", -3_000_000),
            ("0.000001 mm", 1),
            ("1.5e1 m", 15_000_000_000),
            ("2e-3 m", 2_000_000),
            ("0 m", 0),
        ] {
            assert_eq!(
                ExactLength::parse(text).map(ExactLength::nanometres),
                Ok(nanometres),
                "{text}"
            );
        }
    }

    #[test]
    fn says_what_it_rounded() {
        assert!(!ExactLength::parse("1/64 in").unwrap().was_rounded());
        assert!(ExactLength::parse("1/128 in").unwrap().was_rounded());
        assert!(ExactLength::parse("0.0000000001 m").unwrap().was_rounded());
    }

    #[test]
    fn refuses_with_the_remedy() {
        for (text, words) in [
            ("7.5", "has no unit"),
            ("7,5 m", "comma"),
            (
                "1 000 mm",
                "`1 000 mm` has a blank between its digits: write it without, like 1000",
            ),
            ("1\u{a0}000 mm", "has a blank between its digits"),
            ("7.5 M", "unit `M`"),
            ("7.5 mm2", "unit `mm2`"),
            ("NaN m", "does not start with a number"),
            ("inf m", "does not start with a number"),
            ("", "is empty"),
            ("1e308 m", "longer than 1000 km"),
            (
                "99999999999999999999999999999999999999999 m",
                "longer than 1000 km",
            ),
            ("1/0 in", "fraction"),
            ("1 mil", "unit `mil`"),
            ("７ m", "plain 0 to 9"),
        ] {
            let error = ExactLength::parse(text).unwrap_err().to_string();
            assert!(error.contains(words), "{text}: {error}");
        }
    }

    #[test]
    fn prints_what_it_reads() {
        for text in ["7.5 m", "12 mm", "1.6129 m", "-3 mm", "0.396875 mm", "0 mm"] {
            assert_eq!(ExactLength::parse(text).unwrap().to_string(), text);
        }
    }
}
