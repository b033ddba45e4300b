//! The text of a length: decimals, fractions, mixed numbers, feet and inches.

use super::length::{ExactError, NM_PER_M};
use crate::quantity::{NumberError, shorten};

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

/// Nanometres of a length without sign, and whether they were rounded; `found` is the whole text, for errors.
pub(super) fn magnitude(body: &str, found: &str) -> Result<(i128, bool), ExactError> {
    if let Some((feet, inches)) = feet_and_inches(body) {
        let feet = amount(feet, "ft", found)?;
        let inches = amount(inches, "in", found)?;
        return Ok((feet.0 + inches.0, feet.1 || inches.1));
    }
    let (number, unit) = split_unit(body, found)?;
    amount(number, unit, found)
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
            !(c.is_numeric() || c.is_whitespace() || matches!(c, '.' | ',' | '-' | '/' | '+'))
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
