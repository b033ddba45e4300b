//! What devices cost: prices where every kind states one, else their number, then their size.

use crate::choose::devices::MOST_PRICE;
use crate::job::money;

/// One body where bodies are counted.
const BODY: u64 = 1_000_000;
/// Most that the size of a body counts: sizes then decide only between equal numbers of bodies.
const SIZE: u64 = BODY / 100;

/// How a cost is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) enum Money {
    /// Minor units.
    Priced,
    /// Bodies, then their rated size: a kind states no price.
    Counted,
}

impl Money {
    pub(super) fn of<T>(kinds: &[&T], price: fn(&T) -> Option<u64>) -> Self {
        if kinds.iter().all(|kind| price(kind).is_some()) {
            Self::Priced
        } else {
            Self::Counted
        }
    }

    /// What the assignment takes as the price of a kind.
    pub(super) fn price(self, stated: Option<u64>, size: f64) -> u64 {
        match self {
            Self::Priced => stated.unwrap_or(0).min(MOST_PRICE),
            Self::Counted => BODY + (libm::ceil(size).max(0.0) as u64).min(SIZE),
        }
    }

    /// A cost as it is shown: minor units, or bodies.
    pub(in crate::plan) fn shown(self, cost: u64) -> i64 {
        let shown = match self {
            Self::Priced => cost,
            Self::Counted => cost / BODY,
        };
        i64::try_from(shown).unwrap_or(i64::MAX)
    }

    /// A bound as it is shown: of bodies, no fewer than reach it at their greatest size.
    pub(in crate::plan) fn bound(self, lower: u64) -> i64 {
        let shown = match self {
            Self::Priced => lower,
            Self::Counted => lower.div_ceil(BODY + SIZE),
        };
        i64::try_from(shown).unwrap_or(i64::MAX)
    }

    /// What is counted, in words, and with how many decimals.
    pub(in crate::plan) fn unit(self, currency: Option<&str>) -> (String, usize) {
        match self {
            Self::Priced => (money::unit(currency), money::decimals(currency)),
            Self::Counted => ("bodies".to_string(), 0),
        }
    }

    /// What is shown, in words.
    pub(in crate::plan) fn words(self, shown: i64, currency: Option<&str>) -> String {
        match self {
            Self::Priced => money::amount(shown, currency),
            Self::Counted if shown == 1 => "1 body".to_string(),
            Self::Counted => format!("{shown} bodies"),
        }
    }
}
