//! One field of a table: its text, quantity, length, count or word.

use super::table::{Table, called, number_text};
use crate::exact::{CutPitch, ExactError, ExactLength};
use crate::job::fault::FaultKind;
use crate::job::spec::Bound;
use crate::quantity::{MOST_PRICE, Measured, QuantityError, Unit, example, parse, shorten};
use std::fmt::Display;
use std::str::FromStr;
use toml::Spanned;
use toml::de::DeValue;

impl<'t> Table<'t> {
    /// Text of a key that is there.
    pub(super) fn text_in(
        &self,
        key: &'static str,
        value: &'t Spanned<DeValue<'t>>,
        needed: &str,
    ) -> Option<&'t str> {
        match value.get_ref() {
            DeValue::String(text) => Some(text.as_ref()),
            other => {
                self.wrong_type(key, other, needed);
                None
            }
        }
    }

    /// Text that is needed.
    pub(super) fn text(&self, key: &'static str, write: &str) -> String {
        match self.value(key) {
            None => {
                self.missing(key, write);
                String::new()
            }
            Some(value) => self
                .text_in(key, value, "text")
                .unwrap_or_default()
                .to_string(),
        }
    }

    /// Text, empty where there is none.
    pub(super) fn text_or_empty(&self, key: &'static str) -> String {
        self.maybe_text(key).unwrap_or_default()
    }

    /// Text, if it is there.
    pub(super) fn maybe_text(&self, key: &'static str) -> Option<String> {
        let value = self.value(key)?;
        Some(
            self.text_in(key, value, "text")
                .unwrap_or_default()
                .to_string(),
        )
    }

    /// A quantity with its unit in the text.
    pub(super) fn measured<Q: Measured>(&self, key: &'static str) -> Q {
        self.maybe_measured(key).unwrap_or_else(|| {
            let like = example_of(key, Q::CALLED, Q::UNITS);
            self.missing(key, &format!("{} like {like}", Q::CALLED));
            Q::from_si(1.0)
        })
    }

    /// A quantity, if it is there.
    pub(super) fn maybe_measured<Q: Measured>(&self, key: &'static str) -> Option<Q> {
        let value = self.value(key)?;
        Some(self.measured_in(key, value))
    }

    fn measured_in<Q: Measured>(&self, key: &'static str, value: &'t Spanned<DeValue<'t>>) -> Q {
        let read = match value.get_ref() {
            DeValue::String(text) => parse(text)
                .map_err(|error: QuantityError| {
                    let like = example_of(key, Q::CALLED, Q::UNITS);
                    self.unreadable(key, &error.like(like.trim_matches('"')));
                })
                .ok(),
            other => {
                self.no_quantity(key, other, Q::CALLED, Q::UNITS);
                None
            }
        };
        read.unwrap_or_else(|| Q::from_si(1.0))
    }

    /// Says that a bare number, or something else that is not text, stands where a quantity is needed.
    fn no_quantity(&self, key: &'static str, value: &DeValue<'_>, called: &str, units: &[Unit]) {
        match value {
            DeValue::Integer(_) | DeValue::Float(_) => {
                let found = number_text(value);
                let accepted = spellings(units);
                let unit = accepted.first().copied().unwrap_or("");
                let share = found
                    .parse::<f64>()
                    .ok()
                    .filter(|n| unit == "%" && *n <= 1.0);
                let write = match share {
                    // 0.8 for a share is more often 80 % than 0.8 %.
                    Some(share) => format!(
                        "\"{} %\" or \"{found} %\", whichever is meant",
                        libm::round(share * 1e8) / 1e6
                    ),
                    None => format!("\"{found} {unit}\""),
                };
                self.bare(key, &found, &write, &accepted.join(", "));
            }
            other => {
                let like = example_of(key, called, units);
                self.wrong_type(key, other, &format!("{called} like {like}"));
            }
        }
    }

    /// A limit, if it is there: a quantity, or `"none"`.
    pub(super) fn maybe_bound<Q: Measured>(&self, key: &'static str) -> Option<Bound<Q>> {
        let value = self.value(key)?;
        Some(match value.get_ref().as_str() {
            Some("none") => Bound::None,
            _ => Bound::AtMost(self.measured_in(key, value)),
        })
    }

    /// A limit that is an exact length, if it is there: a length, or `"none"`.
    pub(super) fn maybe_length_bound(&self, key: &'static str) -> Option<Bound<ExactLength>> {
        let value = self.value(key)?;
        Some(match value.get_ref().as_str() {
            Some("none") => Bound::None,
            _ => Bound::AtMost(self.length_in(key, value)),
        })
    }

    /// The text of a key as it stands, if it is text; nothing is said.
    pub(super) fn word(&self, key: &'static str) -> Option<&'t str> {
        self.value(key)?.get_ref().as_str()
    }

    /// An exact length that is needed.
    pub(super) fn length(&self, key: &'static str) -> ExactLength {
        self.maybe_length(key).unwrap_or_else(|| {
            self.missing(key, "a length like \"7.5 m\" or \"25 ft\"");
            ExactLength::from_millimetres(1000)
        })
    }

    /// An exact length, or what is taken where the file is silent.
    pub(super) fn length_or(&self, key: &'static str, silent: ExactLength) -> ExactLength {
        self.maybe_length(key).unwrap_or(silent)
    }

    /// An exact length, if it is there.
    pub(super) fn maybe_length(&self, key: &'static str) -> Option<ExactLength> {
        let value = self.value(key)?;
        Some(self.length_in(key, value))
    }

    pub(super) fn length_in(
        &self,
        key: &'static str,
        value: &'t Spanned<DeValue<'t>>,
    ) -> ExactLength {
        self.exact_in(
            key,
            value,
            ExactLength::from_millimetres(1000),
            "a length like \"7.5 m\"",
            |found| (format!("\"{found} m\" or \"25 ft\""), "m, cm, mm, ft, in"),
        )
    }

    /// A cut pitch that is needed.
    pub(super) fn pitch(&self, key: &'static str) -> CutPitch {
        let stand_in = CutPitch::MILLIMETRE;
        match self.value(key) {
            None => {
                self.missing(
                    key,
                    "a cut pitch like \"50 mm\", \"24 per m\" or \"1000/24 mm\"",
                );
                stand_in
            }
            Some(value) => self.exact_in(
                key,
                value,
                stand_in,
                "a cut pitch like \"50 mm\"",
                |found| {
                    (
                        format!("\"{found} mm\" or \"24 per m\""),
                        "a length, a count per m or per ft",
                    )
                },
            ),
        }
    }

    fn exact_in<T: FromStr<Err = ExactError>>(
        &self,
        key: &'static str,
        value: &'t Spanned<DeValue<'t>>,
        stand_in: T,
        needed: &str,
        write: impl Fn(&str) -> (String, &'static str),
    ) -> T {
        match value.get_ref() {
            DeValue::String(text) => text.parse().unwrap_or_else(|error: ExactError| {
                self.unreadable(key, &error);
                stand_in
            }),
            DeValue::Integer(_) | DeValue::Float(_) => {
                let found = number_text(value.get_ref());
                let (write, accepted) = write(&found);
                self.bare(key, &found, &write, accepted);
                stand_in
            }
            other => {
                self.wrong_type(key, other, needed);
                stand_in
            }
        }
    }

    fn unreadable(&self, key: &str, error: &impl Display) {
        self.say(FaultKind::Unreadable, key, error.to_string(), "", "");
    }

    fn bare(&self, key: &str, found: &str, write: &str, accepted: &str) {
        self.say(
            FaultKind::BareNumber,
            key,
            format!("is {found}, a bare number"),
            format!("Write {write}"),
            accepted,
        );
    }

    /// A whole number from `range`, if the key is there.
    pub(super) fn maybe_count(
        &self,
        key: &'static str,
        range: std::ops::RangeInclusive<u64>,
    ) -> Option<u64> {
        let value = self.value(key)?;
        let (low, high) = (*range.start(), *range.end());
        let refuse = |kind, found: String| {
            self.say(
                kind,
                key,
                format!("is {found}"),
                format!("Write {}", whole_number(low, high)),
                "",
            );
            Some(low)
        };
        match value.get_ref() {
            DeValue::Integer(number) => {
                let read = u64::from_str_radix(number.as_str(), number.radix());
                match read {
                    Ok(count) if range.contains(&count) => Some(count),
                    _ => refuse(FaultKind::OutOfRange, shorten(number.as_str())),
                }
            }
            other => refuse(FaultKind::WrongType, called(other)),
        }
    }

    /// A whole number that is needed.
    pub(super) fn count(&self, key: &'static str, range: std::ops::RangeInclusive<u64>) -> u64 {
        let (low, high) = (*range.start(), *range.end());
        self.maybe_count(key, range).unwrap_or_else(|| {
            self.missing(key, &whole_number(low, high));
            low
        })
    }

    /// A price in whole minor units, if it is there.
    pub(super) fn price(&self, key: &'static str) -> Option<u64> {
        self.maybe_count(key, 0..=MOST_PRICE)
    }

    /// Anything read from text, if it is there.
    pub(super) fn maybe_parsed<T>(&self, key: &'static str, needed: &str, stand_in: T) -> Option<T>
    where
        T: FromStr,
        T::Err: Display,
    {
        let value = self.value(key)?;
        let Some(text) = self.text_in(key, value, needed) else {
            return Some(stand_in);
        };
        Some(text.parse().unwrap_or_else(|error: T::Err| {
            self.unreadable(key, &error);
            stand_in
        }))
    }
}

/// A whole number in a range, in words.
fn whole_number(low: u64, high: u64) -> String {
    if low == high {
        low.to_string()
    } else {
        format!("a whole number from {low} to {high}")
    }
}

/// One spelling of each unit.
fn spellings(units: &[Unit]) -> Vec<&'static str> {
    let mut seen: Vec<(f64, f64)> = Vec::new();
    let mut names = Vec::new();
    for unit in units {
        if !seen.contains(&(unit.factor, unit.offset)) {
            seen.push((unit.factor, unit.offset));
            names.push(unit.spelling);
        }
    }
    names
}

/// Keys whose figures are unlike others of their kind.
const EXAMPLES: &[(&str, &str)] = &[
    ("common", "30 mΩ/m"),
    ("returns", "60 mΩ/m"),
    ("time", "300 µs"),
    ("ballast", "240 ohm"),
    ("current", "20 mA"),
    ("current_tolerance", "5 %"),
    ("efficiency", "91 %"),
    ("far_current", "15 mA"),
    ("far_volts", "21.6 V"),
    ("forward", "3.0 V"),
    ("insulation", "70 °C"),
    ("knee", "18 V"),
    ("leakage", "0.5 mA"),
    ("drop_out", "0.5 V"),
    ("output_resistance", "10 mΩ"),
    ("power", "14.4 W/m"),
    ("rail_tolerance", "10 %"),
    ("shortest_pulse", "2 µs"),
    ("spare_tape", "5 %"),
    ("terminator", "120 ohm"),
    ("thickness", "70 µm"),
    ("common_width", "4 mm"),
    ("return_width", "4 mm"),
    ("tolerance", "2 %"),
    ("visible_step", "10 %"),
    ("works_from", "18 V"),
];

/// A text that a key would take: that of its own, where its unit is one of the quantity, or that of the quantity.
fn example_of(key: &str, called: &str, units: &[Unit]) -> String {
    let own = EXAMPLES.iter().find(|(of, text)| {
        let unit = text.split_once(' ').map_or("", |(_, unit)| unit);
        *of == key && units.iter().any(|known| known.spelling == unit)
    });
    own.map_or_else(|| example(called, units), |(_, text)| format!("\"{text}\""))
}
