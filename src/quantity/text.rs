//! Serialise a quantity as text with its unit: `#[serde(with = "evenrun::quantity::text")]`.
//!
//! Writing keeps every digit that the value has (the shortest text that reads
//! back to the same number, in the quantity's first unit).

use super::{Measured, parse};
use serde::{Deserialize, Deserializer, Serializer};

/// Writes the quantity as text with its unit.
///
/// # Errors
/// Whatever the serializer reports.
pub fn serialize<Q: Measured, S: Serializer>(
    quantity: &Q,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.collect_str(&exact_text(*quantity))
}

/// Reads the quantity from text with a unit.
///
/// # Errors
/// A text that is not this quantity, with what is accepted.
pub fn deserialize<'de, Q: Measured, D: Deserializer<'de>>(deserializer: D) -> Result<Q, D::Error> {
    let text = String::deserialize(deserializer)?;
    parse(&text).map_err(serde::de::Error::custom)
}

/// The quantity in its first listed unit with every digit it has.
#[must_use]
pub fn exact_text<Q: Measured>(quantity: Q) -> String {
    match Q::UNITS.first() {
        Some(unit) => format!(
            "{} {}",
            (quantity.si() - unit.offset) / unit.factor,
            unit.spelling
        ),
        None => quantity.si().to_string(),
    }
}
