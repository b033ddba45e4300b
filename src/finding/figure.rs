//! The figures that findings carry: a quantity with its unit, a count, a name.

use super::Subject;
use crate::exact::{CutPitch, ExactLength};
use crate::quantity::{
    Amps, DeviceCount, Hertz, Measured, Metres, Money, Ohms, Seconds, Share, Temperature, Valued,
    Volts, Watts, WattsPerMetre, in_unit, show, show_in,
};
use serde::{Deserialize, Serialize};
use std::fmt;

/// A figure of any quantity. In data it is a number under its unit: `{"V": 23.1}`, `{"count": 24}`.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
#[non_exhaustive]
pub enum Figure {
    /// Volts.
    Voltage(Volts),
    /// Amperes.
    Current(Amps),
    /// Watts.
    Power(Watts),
    /// Watts a metre.
    LinearPower(WattsPerMetre),
    /// Ohms.
    Resistance(Ohms),
    /// A length that is exact.
    Length(ExactLength),
    /// A length that is computed.
    Distance(Metres),
    /// The distance between two permitted cuts.
    Pitch(CutPitch),
    /// A temperature.
    Temperature(Temperature),
    /// A share of something.
    Share(Share),
    /// A frequency.
    Frequency(Hertz),
    /// A time.
    Time(Seconds),
    /// So many of something.
    Count(Count),
    /// A number without a unit.
    Number(Number),
    /// Unit loads on a data line.
    UnitLoads(Loads),
    /// Money, in minor units of the job's currency.
    Cost(Money),
    /// Units bought, where a kind states no price.
    DeviceCount(DeviceCount),
}

/// So many of something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Count {
    /// How many.
    pub count: u64,
}

/// A number without a unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Number {
    /// The number.
    pub number: f64,
}

/// Unit loads of EIA-485, in whole ten-thousandths of one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Loads {
    /// Ten-thousandths of a unit load.
    pub unit_loads_e4: u64,
}

/// What a finding says beside its figure and its limit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
#[non_exhaustive]
pub enum Value {
    /// A figure.
    Figure(Figure),
    /// A name from the job: a device, a zone, a product.
    Name {
        /// The name.
        name: String,
    },
    /// Several names.
    Names {
        /// The names, in order.
        names: Vec<String>,
    },
    /// Several figures.
    Figures {
        /// The figures, in order.
        figures: Vec<Figure>,
    },
    /// Another thing of the plan.
    Subject {
        /// The thing.
        subject: Subject,
    },
    /// Several things of the plan.
    Subjects {
        /// The things, in order.
        subjects: Vec<Subject>,
    },
    /// Contacts of two connectors that are joined, here and there.
    Contacts {
        /// The pairs, in order.
        contacts: Vec<(u8, u8)>,
    },
    /// An explanation for people in the words of a lower room; no program needs it.
    Note {
        /// The explanation.
        note: String,
    },
}

impl Value {
    /// A name.
    #[must_use]
    pub fn name(name: impl Into<String>) -> Self {
        Self::Name { name: name.into() }
    }

    /// An explanation for people.
    #[must_use]
    pub fn note(note: impl Into<String>) -> Self {
        Self::Note { note: note.into() }
    }

    /// Several figures.
    pub fn figures<F: Into<Figure>>(figures: impl IntoIterator<Item = F>) -> Self {
        Self::Figures {
            figures: figures.into_iter().map(Into::into).collect(),
        }
    }

    /// Several things of the plan.
    #[must_use]
    pub fn subjects(subjects: Vec<Subject>) -> Self {
        Self::Subjects { subjects }
    }

    /// Several names.
    pub fn names<N: Into<String>>(names: impl IntoIterator<Item = N>) -> Self {
        Self::Names {
            names: names.into_iter().map(Into::into).collect(),
        }
    }
}

macro_rules! from {
    ($($variant:ident($type:ty);)*) => {$(
        impl From<$type> for Figure {
            fn from(of: $type) -> Self {
                Self::$variant(of)
            }
        }
        impl From<$type> for Value {
            fn from(of: $type) -> Self {
                Self::Figure(of.into())
            }
        }
    )*};
}
macro_rules! from_quantity {
    ($($variant:ident($valued:ident($type:ident));)*) => {
        from! { $($variant($valued);)* }
        $(
            impl From<crate::quantity::$type> for Figure {
                fn from(of: crate::quantity::$type) -> Self {
                    Self::$variant(Valued(of))
                }
            }
            impl From<crate::quantity::$type> for Value {
                fn from(of: crate::quantity::$type) -> Self {
                    Self::Figure(of.into())
                }
            }
        )*
    };
}

from! {
    Length(ExactLength);
    Pitch(CutPitch);
    Count(Count);
    Number(Number);
    UnitLoads(Loads);
    Cost(Money);
    DeviceCount(DeviceCount);
}
from_quantity! {
    Voltage(Volts(ElectricPotential));
    Current(Amps(ElectricCurrent));
    Power(Watts(Power));
    LinearPower(WattsPerMetre(LinearPower));
    Resistance(Ohms(ElectricalResistance));
    Distance(Metres(Length));
    Temperature(Temperature(ThermodynamicTemperature));
    Share(Share(Ratio));
    Frequency(Hertz(Frequency));
    Time(Seconds(Time));
}

impl From<Subject> for Value {
    fn from(subject: Subject) -> Self {
        Self::Subject { subject }
    }
}

impl From<Figure> for Value {
    fn from(figure: Figure) -> Self {
        Self::Figure(figure)
    }
}

impl Figure {
    /// So many of something.
    #[must_use]
    pub const fn count(count: u64) -> Self {
        Self::Count(Count { count })
    }

    /// A number without a unit.
    #[must_use]
    pub const fn number(number: f64) -> Self {
        Self::Number(Number { number })
    }

    /// The number that is compared: SI base units, metres, counts.
    #[must_use]
    pub fn value(&self) -> f64 {
        match self {
            Self::Voltage(q) => q.si(),
            Self::Current(q) => q.si(),
            Self::Power(q) => q.si(),
            Self::LinearPower(q) => q.si(),
            Self::Resistance(q) => q.si(),
            Self::Length(q) => q.metres(),
            Self::Distance(q) => q.si(),
            Self::Pitch(q) => q.to_length().value,
            Self::Temperature(q) => q.si(),
            Self::Share(q) => q.si(),
            Self::Frequency(q) => q.si(),
            Self::Time(q) => q.si(),
            Self::Count(q) => q.count as f64,
            Self::Number(q) => q.number,
            Self::UnitLoads(q) => q.unit_loads_e4 as f64 / 1e4,
            Self::Cost(q) => q.minor_units() as f64,
            Self::DeviceCount(q) => q.units as f64,
        }
    }

    /// Whether the number is finite.
    #[must_use]
    pub fn is_finite(&self) -> bool {
        self.value().is_finite()
    }

    /// The number in this unit of its list; its own where the unit is none of them.
    pub(super) fn number_in(&self, unit: &str) -> f64 {
        match *self {
            Self::Voltage(q) => in_unit(q.0, unit),
            Self::Current(q) => in_unit(q.0, unit),
            Self::Power(q) => in_unit(q.0, unit),
            Self::LinearPower(q) => in_unit(q.0, unit),
            Self::Resistance(q) => in_unit(q.0, unit),
            Self::Length(q) => in_unit(q.to_length(), unit),
            Self::Distance(q) => in_unit(q.0, unit),
            Self::Temperature(q) => in_unit(q.0, unit),
            Self::Share(q) => in_unit(q.0, unit),
            Self::Frequency(q) => in_unit(q.0, unit),
            Self::Time(q) => in_unit(q.0, unit),
            _ => self.value(),
        }
    }

    /// In this unit of its list, to so many decimals, unit included.
    pub(super) fn shown_in(&self, unit: &str, decimals: usize) -> String {
        fn one<Q: Measured>(q: Valued<Q>, unit: &str, decimals: usize) -> String {
            show_in(q.0, unit, decimals)
        }
        match *self {
            Self::Voltage(q) => one(q, unit, decimals),
            Self::Current(q) => one(q, unit, decimals),
            Self::Power(q) => one(q, unit, decimals),
            Self::LinearPower(q) => one(q, unit, decimals),
            Self::Resistance(q) => one(q, unit, decimals),
            Self::Length(q) => show_in(q.to_length(), unit, decimals),
            Self::Distance(q) => one(q, unit, decimals),
            Self::Temperature(q) => one(q, unit, decimals),
            Self::Share(q) => one(q, unit, decimals),
            Self::Frequency(q) => one(q, unit, decimals),
            Self::Time(q) => one(q, unit, decimals),
            _ => format!("{:.decimals$} {unit}", self.value()),
        }
    }
}

/// As a person reads it: four significant digits with the unit that suits the size.
impl fmt::Display for Figure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let text = match self {
            Self::Voltage(q) => show(q.0),
            Self::Current(q) => show(q.0),
            Self::Power(q) => show(q.0),
            Self::LinearPower(q) => show(q.0),
            Self::Resistance(q) => show(q.0),
            Self::Length(q) => q.to_string(),
            Self::Distance(q) => show(q.0),
            Self::Pitch(q) => q.to_string(),
            Self::Temperature(q) => show(q.0),
            Self::Share(q) => show(q.0),
            Self::Frequency(q) => show(q.0),
            Self::Time(q) => show(q.0),
            Self::Count(q) => q.count.to_string(),
            Self::Number(q) => q.number.to_string(),
            Self::UnitLoads(q) => (q.unit_loads_e4 as f64 / 1e4).to_string(),
            Self::Cost(q) => q.minor_units().to_string(),
            Self::DeviceCount(q) => q.units.to_string(),
        };
        f.pad(&text)
    }
}

/// A limit: a figure with its direction.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Limit {
    /// The figure may be this at most.
    AtMost(Figure),
    /// The figure must be this at least.
    AtLeast(Figure),
    /// The figure must lie between the two.
    Within(Figure, Figure),
    /// The figure must stay below this.
    Below(Figure),
    /// The figure must be above this.
    Above(Figure),
}

impl Limit {
    /// Its figure; of two the greater one.
    #[must_use]
    pub const fn figure(&self) -> Figure {
        match *self {
            Self::AtMost(one)
            | Self::AtLeast(one)
            | Self::Within(_, one)
            | Self::Below(one)
            | Self::Above(one) => one,
        }
    }
}
