//! A quantity as data: a number under the symbol of its unit.

use super::{Measured, kinds::*, parse, show};
use serde::de::{Error, MapAccess, Visitor};
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::marker::PhantomData;

/// A quantity that is written as data with its unit: `{"V": 24.0}`.
///
/// The number is in the SI base unit that is its key ([`Measured::SI`]), so that nothing is lost on the way.
/// Reading also takes the text that a person writes: `"24 V"`. A figure that is not finite is not written: it
/// is an error, since a program that reads it could do nothing with it.
///
/// ```
/// use evenrun::quantity::{Volts, volts};
/// let written = serde_json::to_string(&Volts::from(volts(23.5)))?;
/// assert_eq!(written, r#"{"V":23.5}"#);
/// let read: Volts = serde_json::from_str(r#""23.5 V""#)?;
/// assert_eq!((read.0, read.to_string()), (volts(23.5), "23.5 V".to_string()));
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Valued<Q>(pub Q);

/// A voltage as data, `V`.
pub type Volts = Valued<ElectricPotential>;
/// A current as data, `A`.
pub type Amps = Valued<ElectricCurrent>;
/// A power as data, `W`.
pub type Watts = Valued<Power>;
/// A resistance as data, `ohm`.
pub type Ohms = Valued<ElectricalResistance>;
/// A length that is not exact, as data, `m`.
pub type Metres = Valued<Length>;
/// A temperature as data, `K`.
pub type Temperature = Valued<ThermodynamicTemperature>;
/// A share as data, `share`: 1 is the whole.
pub type Share = Valued<Ratio>;
/// A frequency as data, `Hz`.
pub type Hertz = Valued<Frequency>;
/// A time as data, `s`.
pub type Seconds = Valued<Time>;
/// A mass as data, `kg`.
pub type Kilograms = Valued<Mass>;
/// A power per length as data, `W/m`.
pub type WattsPerMetre = Valued<LinearPower>;
/// A cross-section as data, `m2`.
pub type SquareMetres = Valued<Area>;

impl<Q: Measured> Valued<Q> {
    /// The quantity, where the number in SI base units is finite.
    #[must_use]
    pub fn finite(si: f64) -> Option<Self> {
        si.is_finite().then(|| Self(Q::from_si(si)))
    }

    /// The number in SI base units.
    #[must_use]
    pub fn si(self) -> f64 {
        self.0.si()
    }
}

impl<Q> From<Q> for Valued<Q> {
    fn from(quantity: Q) -> Self {
        Self(quantity)
    }
}

/// To four significant digits, with the unit that suits the size.
impl<Q: Measured> fmt::Display for Valued<Q> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&show(self.0))
    }
}

impl<Q: Measured> Serialize for Valued<Q> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serialize(&self.0, serializer)
    }
}

impl<'de, Q: Measured> Deserialize<'de> for Valued<Q> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserialize(deserializer).map(Self)
    }
}

/// Writes a quantity as a number under the symbol of its SI unit; for `#[serde(with = "…::quantity::valued")]`.
///
/// # Errors
/// A figure that is not finite, or whatever the serializer reports.
pub fn serialize<Q: Measured, S: Serializer>(
    quantity: &Q,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    let value = quantity.si();
    if !value.is_finite() {
        let what = Q::CALLED;
        return Err(serde::ser::Error::custom(format!(
            "{what} that is no finite number"
        )));
    }
    let mut map = serializer.serialize_map(Some(1))?;
    map.serialize_entry(Q::SI, &value)?;
    map.end()
}

/// Reads a quantity: a number under the symbol of its SI unit, or text with a unit.
///
/// # Errors
/// Another unit, no finite number, or a text that is not this quantity, with what is accepted.
pub fn deserialize<'de, Q: Measured, D: Deserializer<'de>>(deserializer: D) -> Result<Q, D::Error> {
    struct Reading<Q>(PhantomData<Q>);
    impl<'de, Q: Measured> Visitor<'de> for Reading<Q> {
        type Value = Q;
        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            write!(
                f,
                "{} as {{\"{}\": number}} or as text with its unit",
                Q::CALLED,
                Q::SI
            )
        }
        fn visit_str<E: Error>(self, text: &str) -> Result<Q, E> {
            parse(text).map_err(E::custom)
        }
        fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Q, A::Error> {
            read_map(map, Q::CALLED, Q::SI).map(Q::from_si)
        }
    }
    deserializer.deserialize_any(Reading(PhantomData))
}

/// The number of a quantity so called under the symbol of its SI unit; compiled once for all quantities.
fn read_map<'de, A: MapAccess<'de>>(mut map: A, called: &str, si: &str) -> Result<f64, A::Error> {
    let (key, value) = map
        .next_entry::<String, f64>()?
        .ok_or_else(|| A::Error::custom(format!("no figure: write {{\"{si}\": number}}")))?;
    if key != si || map.next_key::<String>()?.is_some() {
        return Err(A::Error::custom(format!(
            "`{}` is not the unit of {called}: write {{\"{si}\": number}}",
            super::shorten(&key),
        )));
    }
    if !value.is_finite() {
        return Err(A::Error::custom(format!(
            "{called} must be a finite number"
        )));
    }
    Ok(value)
}

/// The same for a quantity that may be absent; for `#[serde(default, with = "…::quantity::valued::optional")]`.
pub mod optional {
    use super::{Measured, Valued};
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    /// Writes a quantity as [`valued`](super) does, none as `null`.
    ///
    /// # Errors
    /// A figure that is not finite, or whatever the serializer reports.
    pub fn serialize<Q: Measured, S: Serializer>(
        quantity: &Option<Q>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        quantity.map(Valued).serialize(serializer)
    }

    /// Reads a quantity as [`valued`](super) does, `null` as none.
    ///
    /// # Errors
    /// As for [`deserialize`](super::deserialize).
    pub fn deserialize<'de, Q: Measured, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Option<Q>, D::Error> {
        let read = Option::<Valued<Q>>::deserialize(deserializer)?;
        Ok(read.map(|valued| valued.0))
    }
}

/// The same at the three corners of tolerance; for `#[serde(with = "…::quantity::valued::corners")]`.
pub mod corners {
    use super::{Measured, Valued};
    use crate::quantity::Corners;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    /// Writes the three figures by the names of their corners.
    ///
    /// # Errors
    /// A figure that is not finite, or whatever the serializer reports.
    pub fn serialize<Q: Measured, S: Serializer>(
        corners: &Corners<Q>,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        corners.map(|figure| Valued(*figure)).serialize(serializer)
    }

    /// Reads three figures, or one that holds at every corner.
    ///
    /// # Errors
    /// As for [`deserialize`](super::deserialize).
    pub fn deserialize<'de, Q: Measured, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Corners<Q>, D::Error> {
        #[derive(Deserialize)]
        #[serde(
            untagged,
            bound = "Q: Measured",
            expecting = "one quantity, or three as {\"low\": …, \"nominal\": …, \"high\": …}, each as {\"unit\": number} or as text with its unit"
        )]
        enum Written<Q> {
            One(Valued<Q>),
            Three(Corners<Valued<Q>>),
        }
        Ok(match Written::deserialize(deserializer)? {
            Written::One(figure) => Corners::same(figure.0),
            Written::Three(figures) => figures.map(|figure| figure.0),
        })
    }
}

/// The same for a list of pairs; for `#[serde(with = "…::quantity::valued::pairs")]`.
pub mod pairs {
    use super::{Measured, Valued};
    use serde::{Deserialize, Deserializer, Serializer};

    /// Writes each pair as a list of two.
    ///
    /// # Errors
    /// A figure that is not finite, or whatever the serializer reports.
    pub fn serialize<P: Measured, Q: Measured, S: Serializer>(
        pairs: &[(P, Q)],
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(pairs.iter().map(|(a, b)| (Valued(*a), Valued(*b))))
    }

    /// Reads a list of lists of two.
    ///
    /// # Errors
    /// As for [`deserialize`](super::deserialize).
    pub fn deserialize<'de, P: Measured, Q: Measured, D: Deserializer<'de>>(
        deserializer: D,
    ) -> Result<Vec<(P, Q)>, D::Error> {
        let read = Vec::<(Valued<P>, Valued<Q>)>::deserialize(deserializer)?;
        Ok(read.into_iter().map(|(a, b)| (a.0, b.0)).collect())
    }
}

#[cfg(feature = "schema")]
impl<Q: Measured> schemars::JsonSchema for Valued<Q> {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        format!("Quantity, {}", Q::SI).into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({
            "type": "object",
            "description": format!("{} in {}", Q::CALLED, Q::SI),
            "properties": { Q::SI: { "type": "number" } },
            "required": [Q::SI],
            "additionalProperties": false,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{amps, celsius, volts};

    #[test]
    fn every_bit_survives_and_other_units_are_refused() {
        for value in [0.1 + 0.2, 1e-300, -7.3, 23.874_000_000_000_01] {
            let text = serde_json::to_string(&Volts::from(volts(value))).unwrap();
            let back: Volts = serde_json::from_str(&text).unwrap();
            assert_eq!(back.si().to_bits(), value.to_bits(), "{text}");
        }
        for wrong in [
            r#"{"A": 1.0}"#,
            r#"{"V": 1.0, "A": 2.0}"#,
            "{}",
            "24",
            r#""24""#,
            r#""24 A""#,
        ] {
            assert!(serde_json::from_str::<Volts>(wrong).is_err(), "{wrong}");
        }
        assert!(serde_json::to_string(&Amps::from(amps(f64::NAN))).is_err());
        assert_eq!(Volts::finite(f64::NAN), None);
        let warm: Temperature = serde_json::from_str(r#""45 °C""#).unwrap();
        assert_eq!(warm.0, celsius(45.0));
    }
}
