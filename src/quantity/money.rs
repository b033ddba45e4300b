//! Money: whole minor units, and the currency that they are printed in.

use serde::{Deserialize, Serialize};
use std::fmt;

/// Highest price of one thing, in minor units, that a job may state: ten million of a currency in hundredths.
///
/// A bound on each price bounds every sum of them far below what [`Money`] holds: nine thousand million things.
pub const MOST_PRICE: u64 = 1_000_000_000;

/// Currencies of which a hundred minor units make one: a hundred cents, pence, öre or rappen to the unit
/// (common practice of the trade in those countries).
///
/// Where another number of decimals holds, or none is known, amounts are printed in minor units.
const HUNDREDTHS: [&str; 9] = [
    "AUD", "CAD", "CHF", "DKK", "EUR", "GBP", "NOK", "SEK", "USD",
];

/// An amount of money in whole minor units of the job's currency; a difference may be negative.
///
/// Its arithmetic is checked: a sum that cannot be held is none, and never another amount.
///
/// ```
/// use evenrun::quantity::{Currency, Money};
/// let price = Money::from_minor_units(123_405);
/// let two = price.times(2);
/// assert_eq!(two.map(Money::minor_units), Some(246_810));
/// assert_eq!(Money::from_minor_units(i64::MAX).plus(price), None);
/// assert_eq!(Currency::of(Some("EUR")).words(price), "EUR 1234.05");
/// assert_eq!(serde_json::to_string(&price)?, r#"{"minor_units":123405}"#);
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize,
)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Money {
    minor_units: i64,
}

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self::from_minor_units(0);

    /// So many minor units.
    #[must_use]
    pub const fn from_minor_units(minor_units: i64) -> Self {
        Self { minor_units }
    }

    /// A price, where it can be held.
    #[must_use]
    pub fn of_price(price: u64) -> Option<Self> {
        i64::try_from(price).ok().map(Self::from_minor_units)
    }

    /// How many minor units.
    #[must_use]
    pub const fn minor_units(self) -> i64 {
        self.minor_units
    }

    /// The sum, where it can be held.
    #[must_use]
    pub fn plus(self, other: Self) -> Option<Self> {
        let sum = self.minor_units.checked_add(other.minor_units)?;
        Some(Self::from_minor_units(sum))
    }

    /// The difference, where it can be held.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        let rest = self.minor_units.checked_sub(other.minor_units)?;
        Some(Self::from_minor_units(rest))
    }

    /// So many times the amount, where that can be held.
    #[must_use]
    pub fn times(self, count: u64) -> Option<Self> {
        let count = i64::try_from(count).ok()?;
        let product = self.minor_units.checked_mul(count)?;
        Some(Self::from_minor_units(product))
    }

    /// The sum of all, where it can be held.
    pub fn sum(all: impl IntoIterator<Item = Self>) -> Option<Self> {
        all.into_iter().try_fold(Self::ZERO, Self::plus)
    }
}

/// The currency of a job: how amounts are printed.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(transparent)]
pub struct Currency {
    code: Option<String>,
}

impl Currency {
    /// The currency that a job names; none: the job has no prices.
    #[must_use]
    pub fn of(code: Option<&str>) -> Self {
        Self {
            code: code.map(str::to_string),
        }
    }

    /// As the job names it.
    #[must_use]
    pub fn code(&self) -> Option<&str> {
        self.code.as_deref()
    }

    /// With how many decimals amounts are printed: two where a hundred minor units are known to make one.
    #[must_use]
    pub fn decimals(&self) -> usize {
        match self.code() {
            Some(code) if HUNDREDTHS.contains(&code) => 2,
            _ => 0,
        }
    }

    /// What printed amounts are counted in: `EUR`, `minor units of JPY`.
    #[must_use]
    pub fn unit(&self) -> String {
        match self.code() {
            Some(code) if self.decimals() > 0 => code.to_string(),
            Some(code) => format!("minor units of {code}"),
            None => "minor units".to_string(),
        }
    }

    /// An amount as it is printed: `EUR 1234.05`, `123405 minor units of JPY`.
    #[must_use]
    pub fn words(&self, amount: Money) -> String {
        match (self.code(), self.decimals()) {
            (Some(code), 2) => {
                let sign = if amount.minor_units < 0 { "-" } else { "" };
                let minor = amount.minor_units.unsigned_abs();
                format!("{code} {sign}{}.{:02}", minor / 100, minor % 100)
            }
            _ => format!("{} {}", amount.minor_units, self.unit()),
        }
    }
}

/// What something costs: money where everything is priced, else the number of units that are bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum Cost {
    /// Money.
    Priced(Money),
    /// Units: a kind states no price.
    Counted(DeviceCount),
}

/// A number of devices.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DeviceCount {
    /// How many.
    pub units: i64,
}

impl Cost {
    /// The amount, where it is money.
    #[must_use]
    pub const fn money(self) -> Option<Money> {
        match self {
            Self::Priced(money) => Some(money),
            Self::Counted(_) => None,
        }
    }

    /// How much more than another of its kind; none for one of the other kind.
    #[must_use]
    pub fn minus(self, other: Self) -> Option<Self> {
        match (self, other) {
            (Self::Priced(own), Self::Priced(other)) => own.minus(other).map(Self::Priced),
            (Self::Counted(own), Self::Counted(other)) => {
                let units = own.units.checked_sub(other.units)?;
                Some(Self::Counted(DeviceCount { units }))
            }
            _ => None,
        }
    }

    /// The bare count of minor units, or of units bought, and with how many decimals it is printed.
    #[must_use]
    pub fn printed(self, currency: &Currency) -> (i64, usize) {
        match self {
            Self::Priced(money) => (money.minor_units(), currency.decimals()),
            Self::Counted(DeviceCount { units }) => (units, 0),
        }
    }

    /// What it is counted in: `EUR`, `units`.
    #[must_use]
    pub fn unit(self, currency: &Currency) -> String {
        match self {
            Self::Priced(_) => currency.unit(),
            Self::Counted(_) => "units".to_string(),
        }
    }

    /// As it is printed: `EUR 12.00`, `3 units`.
    #[must_use]
    pub fn words(self, currency: &Currency) -> String {
        match self {
            Self::Priced(money) => currency.words(money),
            Self::Counted(units) => units.to_string(),
        }
    }
}

impl fmt::Display for DeviceCount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&match self.units {
            1 => "1 unit".to_string(),
            many => format!("{many} units"),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn sums_are_those_of_whole_numbers_or_none(a in any::<i64>(), b in any::<i64>(), n in any::<u64>()) {
            let [one, other] = [a, b].map(Money::from_minor_units);
            let held = |exact: i128| i64::try_from(exact).ok();
            let minor = |money: Option<Money>| money.map(Money::minor_units);
            let [wide, next, times] = [i128::from(a), i128::from(b), i128::from(n)];
            prop_assert_eq!(minor(one.plus(other)), held(wide + next));
            prop_assert_eq!(minor(one.minus(other)), held(wide - next));
            if n <= i64::MAX as u64 {
                prop_assert_eq!(minor(one.times(n)), wide.checked_mul(times).and_then(held));
            } else {
                prop_assert_eq!(one.times(n), None);
            }
            prop_assert_eq!(Money::sum([one, other]), one.plus(other));
            prop_assert_eq!(minor(Money::of_price(n)), held(times));
        }
    }

    #[test]
    fn nothing_is_printed_as_another_amount() {
        let euro = Currency::of(Some("EUR"));
        let plain = Currency::of(None);
        for (minor, hundredths, whole) in [
            (0, "EUR 0.00", "0 minor units"),
            (7, "EUR 0.07", "7 minor units"),
            (-1205, "EUR -12.05", "-1205 minor units"),
            (
                i64::MIN,
                "EUR -92233720368547758.08",
                "-9223372036854775808 minor units",
            ),
        ] {
            let money = Money::from_minor_units(minor);
            assert_eq!(euro.words(money), hundredths);
            assert_eq!(plain.words(money), whole);
        }
        let cost = |units| Cost::Counted(DeviceCount { units });
        assert_eq!(cost(1).words(&euro), "1 unit");
        assert_eq!(cost(3).minus(cost(1)), Some(cost(2)));
        assert_eq!(cost(3).minus(Cost::Priced(Money::ZERO)), None);
    }
}
