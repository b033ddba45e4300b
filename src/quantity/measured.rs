//! Quantities from text and to text.

use super::number::{NumberError, read_number};
use super::plain::shorten;
use thiserror::Error;

/// One spelling of one unit: `value in SI base = number · factor + offset`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// As written in a text; matched exactly, after blanks.
    pub spelling: &'static str,
    /// SI base units in one of this unit.
    pub factor: f64,
    /// SI base value of zero in this unit; not zero only for °C and °F.
    pub offset: f64,
}

/// A unit without an offset.
pub(super) const fn unit(spelling: &'static str, factor: f64) -> Unit {
    Unit {
        spelling,
        factor,
        offset: 0.0,
    }
}

/// A quantity that can be read from and written to text with a unit.
pub trait Measured: Copy + Sized {
    /// What it is called in a message: "a voltage".
    const CALLED: &'static str;
    /// Symbol of its SI base unit, the key of its value in data: `V`, `ohm`.
    const SI: &'static str;
    /// The closed list of spellings. The first of each unit is the one shown in messages.
    const UNITS: &'static [Unit];
    /// The units it is printed in, each with the least magnitude it is used for, largest first.
    const SHOWN: &'static [(f64, &'static str)];
    /// From SI base units.
    fn from_si(value: f64) -> Self;
    /// In SI base units.
    fn si(self) -> f64;
}

/// Why a text is not the quantity asked for.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum QuantityError {
    /// Nothing there.
    #[error("is empty where {called} is needed: write one like {example}")]
    Empty {
        /// What was asked for.
        called: &'static str,
        /// A text that would be taken.
        example: String,
    },
    /// The number is not readable.
    #[error("`{found}` {reason}; {called} is written like {example}")]
    Number {
        /// The text.
        found: String,
        /// What is wrong with the number.
        reason: NumberError,
        /// What was asked for.
        called: &'static str,
        /// A text that would be taken.
        example: String,
    },
    /// A number without a unit.
    #[error("`{found}` has no unit: {called} is written like {example}; accepted: {accepted}")]
    NoUnit {
        /// The text.
        found: String,
        /// What was asked for.
        called: &'static str,
        /// A text that would be taken.
        example: String,
        /// The units taken.
        accepted: String,
    },
    /// A unit that is not one of this quantity's.
    #[error(
        "`{found}` has the unit `{unit}`, which is not a unit for {called}; accepted: {accepted}{hint}"
    )]
    UnknownUnit {
        /// The text.
        found: String,
        /// The unit found.
        unit: String,
        /// What was asked for.
        called: &'static str,
        /// The units taken.
        accepted: String,
        /// A near miss, if there is one.
        hint: String,
    },
    /// Below absolute zero, or too large for a number.
    #[error("`{found}` is outside what {called} can be: {reason}")]
    OutOfRange {
        /// The text.
        found: String,
        /// What was asked for.
        called: &'static str,
        /// Why.
        reason: &'static str,
    },
}

#[cfg(feature = "job")]
impl QuantityError {
    /// The same with another text that would be taken.
    pub(crate) fn like(mut self, other: &str) -> Self {
        if let Self::Empty { example, .. }
        | Self::Number { example, .. }
        | Self::NoUnit { example, .. } = &mut self
        {
            *example = format!("\"{other}\"");
        }
        self
    }
}

/// The units of a quantity as a person would list them: one spelling each.
pub(crate) fn accepted(units: &[Unit]) -> String {
    let mut seen: Vec<(f64, f64)> = Vec::new();
    let mut names: Vec<&str> = Vec::new();
    for unit in units {
        if !seen.contains(&(unit.factor, unit.offset)) {
            seen.push((unit.factor, unit.offset));
            names.push(unit.spelling);
        }
    }
    names.join(", ")
}

/// A text that would be taken, of a figure that this trade has.
pub(crate) fn example(called: &str, units: &[Unit]) -> String {
    let text = match called {
        "a voltage" => "24 V",
        "a current" => "4 A",
        "a power" => "100 W",
        "a temperature" => "30 °C",
        "a share" => "80 %",
        "a resistance" => "30 mΩ",
        "a power per length" => "14.4 W/m",
        "a frequency" => "1 kHz",
        "a length" | "a route length" => "7.5 m",
        _ => {
            let unit = units.first().map_or("", |unit| unit.spelling);
            return format!("\"1.5 {unit}\"");
        }
    };
    format!("\"{text}\"")
}

/// Reads a quantity from text: a number, blanks or none, a unit of the closed list.
///
/// # Errors
/// [`QuantityError`]: empty, no number, no unit, a unit of another quantity, or
/// a value that cannot be.
pub fn parse<Q: Measured>(text: &str) -> Result<Q, QuantityError> {
    parse_si(text, Q::CALLED, Q::UNITS).map(Q::from_si)
}

/// The same in SI base units; compiled once for all quantities.
fn parse_si(text: &str, called: &'static str, units: &[Unit]) -> Result<f64, QuantityError> {
    let found = text.trim();
    if found.is_empty() {
        return Err(QuantityError::Empty {
            called,
            example: example(called, units),
        });
    }
    let number = read_number(found).map_err(|reason| QuantityError::Number {
        found: shorten(found),
        reason,
        called,
        example: example(called, units),
    })?;
    let written = found[number.bytes..].trim();
    if written.is_empty() {
        return Err(QuantityError::NoUnit {
            found: shorten(found),
            called,
            example: example(called, units),
            accepted: accepted(units),
        });
    }
    let Some(unit) = units.iter().find(|unit| unit.spelling == written) else {
        let near = units
            .iter()
            .map(|unit| unit.spelling)
            .find(|spelling| spelling.eq_ignore_ascii_case(written));
        return Err(QuantityError::UnknownUnit {
            found: shorten(found),
            unit: shorten(written),
            called,
            accepted: accepted(units),
            hint: near.map_or_else(String::new, |near| format!("; did you mean `{near}`?")),
        });
    };
    let value = number.value * unit.factor + unit.offset;
    let out_of_range = |reason| QuantityError::OutOfRange {
        found: shorten(found),
        called,
        reason,
    };
    if !value.is_finite() {
        return Err(out_of_range("it is too large"));
    }
    if units.iter().any(|unit| unit.offset != 0.0) && value < 0.0 {
        return Err(out_of_range("nothing is colder than 0 K (-273.15 °C)"));
    }
    Ok(value)
}

fn unit_of(units: &[Unit], spelling: &str) -> Unit {
    units
        .iter()
        .copied()
        .find(|unit| unit.spelling == spelling)
        .unwrap_or(unit("", 1.0))
}

/// Prints a quantity with its unit to four significant digits, trailing zeros cut.
#[must_use]
pub fn show<Q: Measured>(quantity: Q) -> String {
    let (value, spelling) = shown::<Q>(quantity);
    with_unit(&significant(value, 4), spelling)
}

/// Prints a quantity with its unit to a stated number of decimals.
#[must_use]
pub fn show_to<Q: Measured>(quantity: Q, decimals: usize) -> String {
    let (value, spelling) = shown::<Q>(quantity);
    with_unit(&no_negative_zero(format!("{value:.decimals$}")), spelling)
}

/// The number of a quantity in a unit of its list; in SI base units where the spelling is not in it.
pub(crate) fn in_unit<Q: Measured>(quantity: Q, spelling: &str) -> f64 {
    let unit = unit_of(Q::UNITS, spelling);
    (quantity.si() - unit.offset) / unit.factor
}

/// Prints a quantity in a stated unit of its list to a stated number of decimals, unit included.
///
/// A spelling that is not in the list prints the value in SI base units.
#[must_use]
pub fn show_in<Q: Measured>(quantity: Q, spelling: &str, decimals: usize) -> String {
    let unit = unit_of(Q::UNITS, spelling);
    let value = (quantity.si() - unit.offset) / unit.factor;
    with_unit(
        &no_negative_zero(format!("{value:.decimals$}")),
        unit.spelling,
    )
}

fn shown<Q: Measured>(quantity: Q) -> (f64, &'static str) {
    shown_si(quantity.si(), Q::UNITS, Q::SHOWN)
}

fn shown_si(value: f64, units: &[Unit], shown: &[(f64, &'static str)]) -> (f64, &'static str) {
    let fits = |(least, spelling): &&(f64, &'static str)| {
        if value == 0.0 {
            unit_of(units, spelling).factor == 1.0
        } else {
            value.abs() >= *least
        }
    };
    let (_, spelling) = shown
        .iter()
        .find(fits)
        .or(shown.last())
        .copied()
        .unwrap_or((0.0, ""));
    let unit = unit_of(units, spelling);
    ((value - unit.offset) / unit.factor, spelling)
}

fn with_unit(number: &str, spelling: &str) -> String {
    if spelling.is_empty() {
        number.to_string()
    } else {
        format!("{number} {spelling}")
    }
}

fn no_negative_zero(text: String) -> String {
    if text.starts_with('-') && text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.')) {
        text[1..].to_string()
    } else {
        text
    }
}

/// A number to so many significant digits, without trailing zeros.
pub(crate) fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}").replace("-0", "0");
    }
    let magnitude = libm::floor(libm::log10(value.abs())) as i32;
    let decimals = (digits - 1 - magnitude).clamp(0, 12) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        no_negative_zero(text.trim_end_matches('0').trim_end_matches('.').to_string())
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::super::build::*;
    use super::super::kinds::*;
    use super::*;

    #[test]
    fn spellings_are_read() {
        for text in ["24 V", "24V", "24 VDC", "24 V DC", " 24.0 volts "] {
            assert_eq!(parse::<ElectricPotential>(text), Ok(volts(24.0)), "{text}");
        }
        assert_eq!(parse::<ElectricalResistance>("5 \u{2126}"), Ok(ohms(5.0)));
        assert_eq!(parse::<ElectricalResistance>("5 Ohm"), Ok(ohms(5.0)));
        assert_eq!(parse::<Ratio>("80%"), Ok(percent(80.0)));
        assert_eq!(parse::<ThermodynamicTemperature>("35 C"), Ok(celsius(35.0)));
        // 100 °F is 37.777... °C: (100 - 32) · 5/9.
        let hot = parse::<ThermodynamicTemperature>("100 °F").unwrap();
        assert!((in_celsius(hot) - 340.0 / 9.0).abs() < 1e-9);
        assert_eq!(parse::<LinearPower>("3 W/ft"), Ok(watts_per_foot(3.0)));
    }

    #[test]
    fn each_refusal_teaches() {
        fn says<Q: Measured + std::fmt::Debug>(text: &str, words: &str) {
            let error = parse::<Q>(text).unwrap_err().to_string();
            assert!(error.contains(words), "{text}: {error}");
        }
        says::<ElectricPotential>("24", "has no unit");
        says::<ElectricPotential>("24 VA", "unit `VA`");
        says::<ElectricPotential>("24 v", "did you mean `V`?");
        says::<ElectricPotential>("NaN V", "does not start with a number");
        says::<ElectricPotential>("inf V", "does not start with a number");
        says::<ElectricPotential>("", "is empty");
        says::<Length>("7,5 m", "comma");
        says::<Length>("1 mil", "unit `mil`");
        says::<Length>("7.5 M", "did you mean `m`?");
        says::<ThermodynamicTemperature>("-300 °C", "colder than 0 K");
        says::<TemperatureInterval>("25 °C", "unit `°C`");
        says::<Ratio>("0.8", "has no unit");
    }

    #[test]
    fn every_shown_unit_is_one_that_is_read() {
        fn holds<Q: Measured>() {
            for (_, spelling) in Q::SHOWN {
                assert!(
                    Q::UNITS.iter().any(|unit| unit.spelling == *spelling),
                    "{}: {spelling}",
                    Q::CALLED
                );
            }
        }
        holds::<Length>();
        holds::<Area>();
        holds::<ElectricPotential>();
        holds::<ElectricCurrent>();
        holds::<ElectricalResistance>();
        holds::<LinearResistance>();
        holds::<Power>();
        holds::<LinearPower>();
        holds::<LinearCurrent>();
        holds::<LuminousFlux>();
        holds::<LinearLuminousFlux>();
        holds::<Time>();
        holds::<Frequency>();
        holds::<Capacitance>();
        holds::<LinearCapacitance>();
        holds::<Inductance>();
        holds::<LinearInductance>();
        holds::<Mass>();
        holds::<LinearMass>();
        holds::<Ratio>();
        holds::<TemperatureInterval>();
        holds::<ThermodynamicTemperature>();
    }

    #[test]
    fn prints_four_significant_digits() {
        for (text, shown) in [
            (show(volts(23.874)), "23.87 V"),
            (show(volts(24.0)), "24 V"),
            (show(milliohms(26.1)), "26.1 mΩ"),
            (show(amps(0.0)), "0 A"),
            (show(amps(-1e-9)), "-0.001 µA"),
            (show(celsius(25.0)), "25 °C"),
            (show_to(feet(25.0), 2), "7.62 m"),
            (show_in(feet(25.0), "ft", 0), "25 ft"),
            (show_to(volts(-0.001), 0), "-1 mV"),
            (show(watts(72.0)), "72 W"),
        ] {
            assert_eq!(text, shown);
        }
    }

    #[test]
    fn text_with_every_digit_reads_back_to_the_same_number() {
        for value in [25.0 * 0.3048, 1.0 / 3.0, 1e-9, 24.24] {
            let text = super::super::text::exact_text(volts(value));
            assert_eq!(parse::<ElectricPotential>(&text), Ok(volts(value)));
        }
    }
}
