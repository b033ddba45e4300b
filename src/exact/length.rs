//! A length as an integer number of nanometres, read from decimal, fraction or
//! feet-and-inches text.

use crate::quantity::{Length, NumberError, metres, shorten};
use std::fmt;
use std::str::FromStr;
use thiserror::Error;

const NM_PER_M: i64 = 1_000_000_000;
/// Nothing in this trade is longer: 1000 km. Sums of a million of them still fit.
const LONGEST_NM: i128 = 1_000_000 * NM_PER_M as i128;

/// The units of length that layout text may use, with their nanometres.
const UNITS: &[(&str, i64)] = &[
    ("m", NM_PER_M),
    ("cm", 10_000_000),
    ("mm", 1_000_000),
    ("km", 1000 * NM_PER_M),
    ("ft", 304_800_000),
    ("in", 25_400_000),
    ("µm", 1_000),
    ("μm", 1_000),
    ("um", 1_000),
    ("metre", NM_PER_M),
    ("metres", NM_PER_M),
    ("meter", NM_PER_M),
    ("meters", NM_PER_M),
    ("foot", 304_800_000),
    ("feet", 304_800_000),
    ("'", 304_800_000),
    ("′", 304_800_000),
    ("inch", 25_400_000),
    ("inches", 25_400_000),
    ("\"", 25_400_000),
    ("″", 25_400_000),
];

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
        "`{found}` has the unit `{unit}`, which is none of a length; accepted: m, cm, mm, ft, in"
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
    #[error("`{found}` is no cut pitch: it must be longer than nothing and at most 10 m")]
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
        let (nanometres, rounded) = if let Some(parts) = feet_and_inches(body) {
            let (feet, inches) = parts;
            let feet = amount(feet, "ft", found)?;
            let inches = amount(inches, "in", found)?;
            (feet.0 + inches.0, feet.1 || inches.1)
        } else {
            let (number, unit) = split_unit(body, found)?;
            amount(number, unit, found)?
        };
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

/// Splits `5 ft 3-1/2 in` and `5' 3"` into its two numbers.
fn feet_and_inches(text: &str) -> Option<(&str, &str)> {
    let (feet, rest) = ["feet", "foot", "ft", "'", "′"]
        .iter()
        .find_map(|mark| text.split_once(mark))?;
    let rest = rest.trim().trim_start_matches('-').trim_start();
    let inches = ["inches", "inch", "in", "\"", "″"]
        .iter()
        .find_map(|mark| rest.strip_suffix(mark))?;
    Some((feet.trim(), inches.trim()))
}

/// Splits a text into its number and its unit, and checks that the unit is a length's.
fn split_unit<'a>(text: &'a str, found: &str) -> Result<(&'a str, &'a str), ExactError> {
    let end = text
        .char_indices()
        .find(|(_, c)| {
            !(c.is_numeric() || matches!(c, '.' | ',' | '-' | '/' | '+' | ' ' | '\u{a0}'))
        })
        .map_or(text.len(), |(at, _)| at);
    // An exponent belongs to the number.
    let end = match text.get(end..) {
        Some(tail) if tail.starts_with(['e', 'E']) => {
            let sign = usize::from(tail.get(1..).is_some_and(|t| t.starts_with(['+', '-'])));
            let digits = tail
                .get(1 + sign..)
                .map_or(0, |t| t.bytes().take_while(u8::is_ascii_digit).count());
            if digits > 0 {
                end + 1 + sign + digits
            } else {
                end
            }
        }
        _ => end,
    };
    let (number, unit) = text.split_at(end);
    let (number, unit) = (number.trim(), unit.trim());
    if number.is_empty() {
        return Err(ExactError::Number {
            found: shorten(found),
            reason: NumberError::None,
        });
    }
    if unit.is_empty() {
        // A number that cannot be read is the first thing to say.
        decimal(number, found)?;
        return Err(ExactError::NoUnit {
            found: shorten(found),
        });
    }
    Ok((number, unit))
}

/// Nanometres of a number (decimal, fraction or mixed) in a unit, and whether they were rounded.
fn amount(number: &str, unit: &str, found: &str) -> Result<(i128, bool), ExactError> {
    let Some((_, per_unit)) = UNITS.iter().find(|(spelling, _)| *spelling == unit) else {
        return Err(ExactError::UnknownUnit {
            found: shorten(found),
            unit: shorten(unit),
        });
    };
    let per_unit = i128::from(*per_unit);
    let (numerator, denominator) = ratio(number, found)?;
    let too_long = || ExactError::TooLong {
        found: shorten(found),
    };
    let scaled = numerator.checked_mul(per_unit).ok_or_else(too_long)?;
    let quotient = scaled / denominator;
    let rest = scaled % denominator;
    let up = i128::from(rest * 2 >= denominator);
    Ok((quotient + up, rest != 0))
}

/// A mixed number `3-1/2`, `3 1/2`, `1/2`, or a decimal, as a ratio of integers.
fn ratio(number: &str, found: &str) -> Result<(i128, i128), ExactError> {
    let Some((before, below)) = number.split_once('/') else {
        return decimal(number, found);
    };
    let bad = || ExactError::Fraction {
        found: shorten(found),
    };
    let whole_number = |text: &str| -> Result<i128, ExactError> {
        let text = text.trim();
        if text.is_empty() || text.len() > 12 || !text.bytes().all(|b| b.is_ascii_digit()) {
            return Err(bad());
        }
        text.parse().map_err(|_| bad())
    };
    let below = whole_number(below)?;
    if below == 0 {
        return Err(bad());
    }
    let before = before.trim();
    let (whole, above) = match before.rsplit_once(['-', ' ']) {
        Some((whole, above)) => (
            whole_number(whole.trim_end_matches(['-', ' ']))?,
            whole_number(above)?,
        ),
        None => (0, whole_number(before)?),
    };
    Ok((whole * below + above, below))
}

/// A decimal number as a ratio of integers, without going through floating point.
fn decimal(number: &str, found: &str) -> Result<(i128, i128), ExactError> {
    let fail = |reason| ExactError::Number {
        found: shorten(found),
        reason,
    };
    // The shared reader decides what a number is, so that messages agree.
    let read = crate::quantity::read_number(number).map_err(fail)?;
    if read.bytes != number.len() || read.value < 0.0 {
        return Err(fail(NumberError::None));
    }
    let text = number.trim_start_matches('+');
    let (mantissa, exponent) = match text.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (
            mantissa,
            exponent
                .parse::<i32>()
                .map_err(|_| fail(NumberError::TooLarge))?,
        ),
        None => (text, 0),
    };
    let (whole, fraction) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let mut digits = String::with_capacity(whole.len() + fraction.len());
    digits.push_str(whole);
    digits.push_str(fraction);
    let digits = digits.trim_start_matches('0');
    let scale = exponent.saturating_sub(i32::try_from(fraction.len()).unwrap_or(i32::MAX));
    if digits.is_empty() {
        return Ok((0, 1));
    }
    if digits.len() as i64 + i64::from(scale) > 15 {
        return Err(ExactError::TooLong {
            found: shorten(found),
        });
    }
    if scale >= 0 {
        let value: i128 = digits.parse().map_err(|_| fail(NumberError::TooLarge))?;
        let power = 10i128
            .checked_pow(scale as u32)
            .ok_or_else(|| fail(NumberError::TooLarge))?;
        return Ok((
            value
                .checked_mul(power)
                .ok_or_else(|| fail(NumberError::TooLarge))?,
            1,
        ));
    }
    // Digits beyond the eighteenth decimal cannot reach a nanometre: they are cut.
    let drop = (-scale).saturating_sub(18).max(0) as usize;
    let kept = digits.len().saturating_sub(drop);
    let value: i128 = match digits.get(..kept) {
        Some("") | None => 0,
        Some(kept) => kept.parse().map_err(|_| fail(NumberError::TooLarge))?,
    };
    let places = (-scale).min(18) as u32;
    Ok((value, 10i128.pow(places)))
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

impl serde::Serialize for ExactLength {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> serde::Deserialize<'de> for ExactLength {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Self::parse(&text).map_err(serde::de::Error::custom)
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
