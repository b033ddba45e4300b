//! Plain decimal numbers in text: finite, ASCII, with a point.

use thiserror::Error;

/// A number read from text and where it ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Number {
    /// The value, finite.
    pub value: f64,
    /// How many bytes of the text it took.
    pub bytes: usize,
}

/// Why a text does not start with a number.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum NumberError {
    /// No digit where one is needed.
    #[error("does not start with a number")]
    None,
    /// A comma stands in the number.
    #[error("has a comma in the number: write a point for decimals and no separator for thousands")]
    Comma,
    /// A blank stands between digits.
    #[error("has a blank between its digits: write it without, like 1000")]
    Blank,
    /// Digits that are not 0 to 9 of ASCII.
    #[error("has digits that are not the plain 0 to 9: type them again")]
    OddDigits,
    /// The number overflows.
    #[error("is too large to be a number here")]
    TooLarge,
}

/// Reads a finite decimal number (`-1.5`, `.5`, `2e-3`) from the start of `text`.
///
/// A minus may be `-` or U+2212. `NaN` and `inf` are no numbers.
///
/// # Errors
/// [`NumberError`]: no digit, a comma, digits of another script, or overflow.
pub fn read_number(text: &str) -> Result<Number, NumberError> {
    let mut cleaned = String::new();
    let mut taken = 0;
    let mut rest = text;
    if let Some(after) = rest
        .strip_prefix('-')
        .or_else(|| rest.strip_prefix('\u{2212}'))
    {
        cleaned.push('-');
        taken += rest.len() - after.len();
        rest = after;
    } else if let Some(after) = rest.strip_prefix('+') {
        taken += 1;
        rest = after;
    }
    let digits = |part: &str| part.bytes().take_while(u8::is_ascii_digit).count();
    let whole = digits(rest);
    let mut at = whole;
    let mut fraction = 0;
    if rest[at..].starts_with('.') {
        fraction = digits(&rest[at + 1..]);
        if whole + fraction > 0 {
            at += 1 + fraction;
        }
    }
    if whole + fraction == 0 {
        let odd = rest
            .chars()
            .next()
            .is_some_and(|c| c.is_numeric() && !c.is_ascii());
        return Err(if odd {
            NumberError::OddDigits
        } else {
            NumberError::None
        });
    }
    match rest[at..].chars().next() {
        Some(',') => return Err(NumberError::Comma),
        // Superscripts belong to units (mm²); other digits of other scripts do not.
        Some(c) if c.is_numeric() && !c.is_ascii() && !matches!(c, '²' | '³' | '½' | '¼' | '¾') =>
        {
            return Err(NumberError::OddDigits);
        }
        // `1 000`, with a blank of any width; of another number of three digits nothing is known here.
        Some(c)
            if c.is_whitespace()
                && rest[at..]
                    .trim_start()
                    .starts_with(|c: char| c.is_ascii_digit()) =>
        {
            return Err(NumberError::Blank);
        }
        _ => {}
    }
    // An exponent only where digits follow it: "3 em" and "2 e" have none.
    let tail = &rest[at..];
    if tail.starts_with(['e', 'E']) {
        let sign = usize::from(tail[1..].starts_with(['+', '-']));
        let power = digits(&tail[1 + sign..]);
        if power > 0 {
            at += 1 + sign + power;
        }
    }
    cleaned.push_str(&rest[..at]);
    taken += at;
    let value: f64 = cleaned.parse().map_err(|_| NumberError::None)?;
    if !value.is_finite() {
        return Err(NumberError::TooLarge);
    }
    Ok(Number {
        value,
        bytes: taken,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_decimals_and_leaves_the_unit() {
        for (text, value, bytes) in [
            ("24 V", 24.0, 2),
            ("-1.5m", -1.5, 4),
            (".5", 0.5, 2),
            ("2e-3 A", 2e-3, 4),
            ("5em", 5.0, 1),
        ] {
            assert_eq!(read_number(text), Ok(Number { value, bytes }), "{text}");
        }
    }

    #[test]
    fn refuses_what_is_no_plain_number() {
        assert_eq!(read_number("NaN V"), Err(NumberError::None));
        assert_eq!(read_number("inf V"), Err(NumberError::None));
        assert_eq!(read_number(""), Err(NumberError::None));
        assert_eq!(read_number("."), Err(NumberError::None));
        assert_eq!(read_number("7,5 m"), Err(NumberError::Comma));
        assert_eq!(read_number("２４ V"), Err(NumberError::OddDigits));
        assert_eq!(read_number("1e999 V"), Err(NumberError::TooLarge));
        for blank in ["1 000 mm", "1\u{a0}000 mm", "1\u{202f}000", "1 000.5 mm"] {
            assert_eq!(read_number(blank), Err(NumberError::Blank), "{blank}");
        }
    }
}
