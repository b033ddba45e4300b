//! What things cost where the job states a price, and how they rank where it does not: the one rule.
//!
//! | | with a price | where none is stated |
//! | --- | --- | --- |
//! | supply, decoder | the price of the kind | of kinds among which one states none, the fewest units, then the least rated size |
//! | cable | the price of its metres | [`PER_SQUARE_MILLIMETRE`] of all its cores a metre, so that the thinnest that holds is taken |
//! | joint between reels | its price | nothing |
//!
//! A bound on the whole job counts what states no price as nothing, so that it stays a bound; everything is
//! [chosen together](super::together) only where every supply and decoder states one. A [bill](super::compare::Bill) is different: it sums
//! what is stated and names what is not. The prices of a checked job are at most [`MOST_PRICE`](crate::quantity::MOST_PRICE) each.

use crate::design::{Assumed, Assumption};
use crate::finding::Figure;
use crate::job::Job;
use crate::job::spec::CableItem;
use crate::quantity::{Cost, DeviceCount, Money, square_millimetres};
use crate::source::Source;
use crate::strip::ReelJointSpec;

/// Minor units of a metre of cable without a price, for each square millimetre of its cores.
const PER_SQUARE_MILLIMETRE: f64 = 10.0;
/// One unit where units are counted.
const UNIT: u64 = 1_000_000;
/// Most that the size of a unit counts: sizes then decide only between equal numbers of units.
const SIZE: u64 = UNIT / 100;

/// How the cost of devices is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Costing {
    /// Minor units.
    Priced,
    /// Units, then their rated size: a kind states no price.
    Counted,
}

impl Costing {
    /// How kinds that may take each other's place are counted.
    pub fn of<T>(kinds: &[&T], price: fn(&T) -> Option<u64>) -> Self {
        if kinds.iter().all(|kind| price(kind).is_some()) {
            Self::Priced
        } else {
            Self::Counted
        }
    }

    /// What the assignment takes as the price of a kind.
    pub fn price(self, stated: Option<u64>, size: f64) -> u64 {
        match self {
            Self::Priced => stated.unwrap_or(0),
            Self::Counted => UNIT + (libm::ceil(size).max(0.0) as u64).min(SIZE),
        }
    }

    /// A cost of the assignment.
    pub fn cost(self, cost: u64) -> Cost {
        match self {
            Self::Priced => Cost::Priced(Money::from_minor_units(minor_units(cost))),
            Self::Counted => units(cost / UNIT),
        }
    }

    /// A bound of the assignment: of units, no fewer than reach it at their greatest size.
    pub fn bound(self, lower: u64) -> Cost {
        match self {
            Self::Priced => self.cost(lower),
            Self::Counted => units(lower.div_ceil(UNIT + SIZE)),
        }
    }
}

fn units(count: u64) -> Cost {
    Cost::Counted(DeviceCount {
        units: minor_units(count),
    })
}

/// A price, or a sum of prices, of a checked job as the searches count it.
pub(super) fn minor_units(price: u64) -> i64 {
    // Each price is at most a thousand million, and no job holds as many things.
    price as i64
}

/// A price that may be none, in a bound.
pub(super) fn at_least(price: Option<u64>) -> i64 {
    price.map_or(0, minor_units)
}

/// Whether every supply and decoder of the job states a price.
pub(super) fn every_device_is_priced(job: &Job) -> bool {
    job.supplies().iter().all(|s| s.price.is_some())
        && job.decoders().iter().all(|d| d.price.is_some())
}

/// What a metre of cable ranks as.
pub(super) fn metre_of(item: &CableItem) -> i64 {
    let mm2 = item.size.area().value / square_millimetres(1.0).value;
    let rank = || (mm2 * f64::from(item.cores) * PER_SQUARE_MILLIMETRE).ceil() as i64;
    item.price_per_metre.map_or_else(rank, minor_units)
}

/// What a joint between reels costs.
pub(super) fn reel_joint(joint: &ReelJointSpec) -> i64 {
    at_least(joint.price)
}

/// What is assumed where a price is not stated.
pub(super) fn assumptions(job: &Job) -> Vec<Assumption> {
    let mut out = Vec::new();
    if !every_device_is_priced(job) {
        out.push(Assumption {
            what: Assumed::UnpricedDevices,
            of: None,
            values: Vec::new(),
            source: Source::computed("assignment of loads to devices"),
        });
    }
    if job.cables().iter().any(|c| c.price_per_metre.is_none()) {
        out.push(Assumption {
            what: Assumed::UnpricedCable,
            of: None,
            values: vec![Figure::number(PER_SQUARE_MILLIMETRE)],
            source: Source::computed("break and feed search"),
        });
    }
    out
}
