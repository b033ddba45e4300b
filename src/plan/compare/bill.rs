//! What a plan costs by the prices that the job states.

use crate::design::{Design, Stock, StockKind};
use crate::job::Job;
use crate::layout::lay;
use crate::quantity::Money;
use crate::strip::StripSpec;
use std::collections::{BTreeMap, BTreeSet};

/// A part of the bill.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// Reels of tape.
    Tape,
    /// Feeders and leads, whole metres of each kind.
    Cable,
    /// Supplies.
    Supplies,
    /// Decoders.
    Decoders,
    /// Bars of profile and cover.
    Profile,
    /// Segments, feeds, breaks that are not forced and joints of reels, at the prices of the job.
    Making,
}

impl Part {
    /// All, in the order of print.
    pub const ALL: [Self; 6] = [
        Self::Tape,
        Self::Cable,
        Self::Supplies,
        Self::Decoders,
        Self::Profile,
        Self::Making,
    ];

    /// The words printed for it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Tape => "tape",
            Self::Cable => "cable",
            Self::Supplies => "supplies",
            Self::Decoders => "decoders",
            Self::Profile => "profile and cover",
            Self::Making => "segments, feeds, joints",
        }
    }
}

/// The bill of a plan, without spares.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Bill {
    /// Sums by part, of what has a price.
    pub parts: BTreeMap<Part, Money>,
    /// What is used and has no price: the sum is too low by it.
    pub missing: BTreeSet<String>,
    /// Parts whose sum is more than can be held: they are in no sum.
    pub beyond: BTreeSet<Part>,
}

impl Bill {
    /// Sum of all that has a price; none where it cannot be held.
    #[must_use]
    pub fn priced(&self) -> Option<Money> {
        let sum = Money::sum(self.parts.values().copied())?;
        self.beyond.is_empty().then_some(sum)
    }

    /// The whole cost: none where a price is missing, or the sum cannot be held.
    #[must_use]
    pub fn total(&self) -> Option<Money> {
        self.priced().filter(|_| self.missing.is_empty())
    }

    /// One part, nothing where there is nothing of it; none where its sum cannot be held.
    #[must_use]
    pub fn part(&self, part: Part) -> Option<Money> {
        let sum = self.parts.get(&part).copied().unwrap_or_default();
        (!self.beyond.contains(&part)).then_some(sum)
    }

    fn add(&mut self, part: Part, what: &str, price: Option<u64>, count: u64) {
        if count == 0 {
            return;
        }
        let Some(price) = price else {
            self.missing.insert(what.to_string());
            return;
        };
        let sum = self.parts.entry(part).or_default();
        let more = Money::of_price(price).and_then(|price| price.times(count));
        match more.and_then(|more| sum.plus(more)) {
            Some(more) => *sum = more,
            None => {
                self.beyond.insert(part);
            }
        }
    }

    pub(super) fn of(job: &Job, design: &Design) -> Self {
        let mut bill = Self::default();
        let stock = |kind: StockKind| design.stock.iter().filter(move |s| s.kind == kind);
        for (kind, count) in counted(stock(StockKind::Reel).map(|r| r.product.as_str())) {
            let price = job.strip(kind).and_then(|s| s.price);
            bill.add(Part::Tape, &format!("tape {kind}"), price, count);
        }
        let mut metres: BTreeMap<&str, f64> = BTreeMap::new();
        for row in &design.cables {
            *metres.entry(row.kind.as_str()).or_default() += row.route.metres();
        }
        for (kind, metres) in metres {
            let price = job.cable(kind).and_then(|c| c.price_per_metre);
            let whole = (metres - 1e-9).ceil().max(0.0) as u64;
            bill.add(Part::Cable, &format!("cable {kind}"), price, whole);
        }
        for (kind, count) in counted(
            design
                .supplies
                .iter()
                .filter(|s| !s.fixed)
                .map(|s| s.kind.as_str()),
        ) {
            let price = job.supply(kind).and_then(|s| s.price);
            bill.add(Part::Supplies, &format!("supply {kind}"), price, count);
        }
        for (kind, count) in counted(
            design
                .decoders
                .iter()
                .filter(|d| !d.fixed)
                .map(|d| d.kind.as_str()),
        ) {
            let price = job.decoder(kind).and_then(|d| d.price);
            bill.add(Part::Decoders, &format!("decoder {kind}"), price, count);
        }
        for bar in stock(StockKind::Bar).chain(stock(StockKind::Cover)) {
            let what = format!("bar of {}, {}", bar.length, bar.called());
            bill.add(Part::Profile, &what, bar_price(job, bar), 1);
        }
        let costs = job.costs();
        let (segments, feeds) = (design.segments.len() as u64, design.feeds.len() as u64);
        bill.add(Part::Making, "segments", Some(costs.segment), segments);
        bill.add(Part::Making, "feeds", Some(costs.feed), feeds);
        for (strip, joints) in reel_joints(job, design) {
            // Not stated at all, it is a question that the plan names.
            let Some(joint) = &strip.reel_joint else {
                continue;
            };
            let price = joint.price;
            let what = format!("joints of reels of tape {}", strip.name);
            bill.add(Part::Making, &what, price, joints);
        }
        bill.add(
            Part::Making,
            "breaks",
            Some(costs.cut),
            free_breaks(job, design),
        );
        bill
    }
}

/// Joints of reels by tape.
fn reel_joints<'j>(job: &'j Job, design: &Design) -> Vec<(&'j StripSpec, u64)> {
    let strips = job.strips().iter();
    let joints = |strip: &'j StripSpec| {
        let cuts = design
            .pieces
            .iter()
            .filter(|cut| cut.strip.as_str() == strip.name);
        let joints = cuts.map(|cut| strip.joints_in(cut.increments)).sum();
        (strip, joints)
    };
    strips.map(joints).collect()
}

fn counted<'a>(kinds: impl Iterator<Item = &'a str>) -> BTreeMap<&'a str, u64> {
    let mut count = BTreeMap::new();
    for kind in kinds {
        *count.entry(kind).or_insert(0) += 1;
    }
    count
}

fn bar_price(job: &Job, bar: &Stock) -> Option<u64> {
    let profile = job.profile(bar.product.as_str())?;
    let sold = match bar.kind {
        StockKind::Cover => &profile.cover.as_ref()?.bars,
        _ => &profile.bars,
    };
    sold.iter().find(|sold| sold.length == bar.length)?.price
}

/// Breaks between segments, without those that the drawing forces.
fn free_breaks(job: &Job, design: &Design) -> u64 {
    let mut free = 0;
    for run in job.runs() {
        let segments = design
            .segments
            .iter()
            .filter(|s| s.run.as_str() == run.name)
            .count();
        let strip = job.zone(&run.zone).and_then(|zone| job.strip(&zone.strip));
        let forced = strip
            .and_then(|strip| lay(&run.layout, strip.pitch).ok())
            .map_or(0, |layout| layout.breaks().len());
        free += segments.saturating_sub(1).saturating_sub(forced);
    }
    free as u64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_cannot_be_summed_has_no_total() {
        let mut bill = Bill::default();
        bill.add(Part::Tape, "tape", Some(1_000), 3);
        bill.add(Part::Cable, "cable", Some(1_000_000_000), 9_000_000_000);
        let both = bill.priced().map(Money::minor_units);
        assert_eq!(both, Some(9_000_000_000_000_003_000));
        bill.add(Part::Cable, "cable", Some(1_000_000_000), 9_000_000_000);
        assert_eq!(
            (bill.priced(), bill.total(), bill.part(Part::Cable)),
            (None, None, None)
        );
        assert_eq!(bill.part(Part::Tape).map(Money::minor_units), Some(3_000));
        assert_eq!(bill.part(Part::Decoders), Some(Money::ZERO));
    }
}
