//! What devices cost at least, however the runs are cut and fed.
//!
//! Every lit cell draws at least the least relative current that the job asks for, so a zone draws at
//! least `n · Σ nominal · least` amperes and, from the lowest set point, that many watts:
//!
//! ```text
//!  decoders of a zone   min Σ price · count    with  Σ count · (what one passes, of one supply output) ≥ amperes
//!  supplies             min Σ price · count    with  Σ count · min(outputs, watts / volts)             ≥ amperes
//! ```
//! each over whole counts; supplies for all zones that may share one. Devices are chosen for what the low corner draws too,
//! so the bound holds for every feeding. Leaves out: what a segment takes whole, and places that part the loads.
//! So it is a bound and no more.

use super::costing;
use super::devices::permitted_power;
use super::facts::TapeModels;
use super::kinds;
use super::laid::RunWork;
use crate::job::Job;
use crate::job::spec::{Control, InstalledKind, PlaceSpec, Service};
use crate::network::Polarity;
use std::collections::BTreeMap;

/// Least price of all decoders and supplies, minor units.
pub(super) fn devices(job: &Job, runs: &[RunWork<'_>], models: &TapeModels) -> i64 {
    // Least current of each zone.
    let mut zones: BTreeMap<usize, f64> = BTreeMap::new();
    for run in runs {
        let Some(model) = models.get(run.tape) else {
            continue;
        };
        let cell: f64 = model
            .emitters
            .iter()
            .map(|e| e.law.nominal.current(model.rated).value)
            .sum();
        let lit = run.layout.increments() as f64 * cell;
        *zones.entry(run.zone_at).or_default() += lit * job.limits().least_current.value;
    }
    let mut decoders = 0;
    // Of zones that may hang on one supply: their amperes, and the kinds of any of them.
    let mut together: BTreeMap<(Service, bool, u64), (f64, Vec<Kind>)> = BTreeMap::new();
    for (zone, amps) in zones {
        let zone = &job.zones()[zone];
        let places: Vec<&PlaceSpec> = job
            .places()
            .iter()
            .filter(|p| zone.places.is_empty() || zone.places.contains(&p.name))
            .collect();
        let mut supplies = Vec::new();
        for place in &places {
            supplies.extend(kinds::supplies(job, zone, place).into_iter().map(|s| {
                let outputs = s.output_current.value * f64::from(s.outputs.max(1));
                let watts = permitted_power(job, s, place) / kinds::set_point(s).low;
                let one = s.output_current.value.min(watts);
                (Kind::new(outputs.min(watts), s.price), one)
            }));
        }
        if let Control::Dmx { .. } = zone.control {
            // A decoder hangs on one output of one supply.
            let output = supplies.iter().map(|(_, one)| *one).fold(0.0, f64::max);
            let kinds = places.iter().flat_map(|p| kinds::decoders(job, zone, p));
            let kinds = kinds.map(|d| {
                let outputs = d.output_current.value * f64::from(d.outputs);
                let most = d.total_current.value.min(d.terminal_current.value);
                Kind::new(most.min(outputs).min(output), d.price)
            });
            decoders += cover(amps, &kinds.collect::<Vec<_>>());
        }
        let strip = job.strip(&zone.strip);
        let plus = strip.is_none_or(|s| s.polarity == Polarity::CommonPlus);
        let rated = strip.map_or(0, |s| s.rated.value.to_bits());
        let own = together.entry((zone.service, plus, rated)).or_default();
        own.0 += amps;
        own.1.extend(supplies.into_iter().map(|(kind, _)| kind));
    }
    let supplies: i64 = together
        .values()
        .map(|(amps, kinds)| cover(*amps, kinds))
        .sum();
    // What is there already costs nothing: at most its price is saved.
    let there: u64 = job
        .installed()
        .iter()
        .filter_map(|i| match &i.kind {
            InstalledKind::Supply(name) => job.supply(name)?.price,
            InstalledKind::Decoder(name) => job.decoder(name)?.price,
        })
        .sum();
    (decoders + supplies - costing::minor_units(there)).max(0)
}

/// A kind of device: what one carries at most, and its price.
struct Kind {
    amps: f64,
    price: i64,
}

impl Kind {
    fn new(amps: f64, price: Option<u64>) -> Self {
        let price = costing::at_least(price);
        Self { amps, price }
    }
}

/// Parts of the amperes that are covered.
const PARTS: usize = 2048;

/// The least price of devices that carry so many amperes together, none of them in part: by dynamic programming over parts
/// of the amperes, what one carries rounded up to whole parts. No kind at all bounds nothing.
fn cover(amps: f64, kinds: &[Kind]) -> i64 {
    let useful = || kinds.iter().filter(|kind| kind.amps > 0.0);
    let linear = useful().map(|kind| kind.price as f64 / kind.amps);
    let linear = amps * linear.fold(f64::INFINITY, f64::min);
    if !(amps > 0.0 && linear.is_finite()) {
        return 0;
    }
    let whole = |kind: &Kind| {
        // A part in a million more, for the rounding of sums.
        let parts = libm::ceil(kind.amps * (1.0 + 1e-6) / amps * PARTS as f64);
        ((parts as usize).clamp(1, PARTS), kind.price)
    };
    let whole: Vec<(usize, i64)> = useful().map(whole).collect();
    let mut least = vec![0; PARTS + 1];
    for parts in 1..=PARTS {
        let rest = whole
            .iter()
            .map(|(own, price)| price + least[parts.saturating_sub(*own)]);
        least[parts] = rest.min().unwrap_or(0);
    }
    // Where one carries but a few parts, rounding gives away much: then the cheapest ampere says more.
    least[PARTS].max(libm::floor(linear * (1.0 - 1e-6)) as i64)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Least price of whole counts of up to three kinds that carry so many amperes: each count of the first two is tried.
    fn every(amps: f64, kinds: &[Kind]) -> i64 {
        let counts = |kind: &Kind| 0..=libm::ceil(amps / kind.amps) as i64;
        let mut best = i64::MAX;
        let none = Kind::new(f64::INFINITY, Some(0));
        let of = |at: usize| kinds.get(at).unwrap_or(&none);
        for a in counts(&kinds[0]) {
            for b in counts(of(1)) {
                let carried = kinds[0].amps * a as f64
                    + kinds.get(1).map_or(0.0, |kind| kind.amps * b as f64);
                let left = (amps - carried).max(0.0);
                let rest = match kinds.get(2) {
                    Some(kind) => libm::ceil(left / kind.amps) as i64 * kind.price,
                    None if left > 0.0 => continue,
                    None => 0,
                };
                let second = kinds.get(1).map_or(0, |kind| kind.price * b);
                best = best.min(kinds[0].price * a + second + rest);
            }
        }
        best
    }

    proptest::proptest! {
        /// Never more than what trying every count says, and no less than that for a few per cent less.
        #[test]
        fn devices_that_cover_cost_what_trying_every_count_says(
            amps in 0.1..60.0_f64,
            kinds in proptest::collection::vec((1.0..25.0_f64, 100..20_000_u64), 1..4),
        ) {
            let kinds: Vec<Kind> = kinds.into_iter().map(|(a, p)| Kind::new(a, Some(p))).collect();
            let bound = cover(amps, &kinds);
            proptest::prop_assert!(bound <= every(amps, &kinds));
            proptest::prop_assert!(bound >= every(amps * 0.97, &kinds));
        }
    }

    #[test]
    fn nothing_to_carry_and_nothing_that_carries_cost_nothing() {
        assert_eq!(cover(0.0, &[Kind::new(4.0, Some(9_800))]), 0);
        assert_eq!(cover(9.0, &[]), 0);
        assert_eq!(cover(9.0, &[Kind::new(0.0, Some(9_800))]), 0);
        // 9 A at 4 A each: three, not 2.25 of them.
        assert_eq!(cover(9.0, &[Kind::new(4.0, Some(9_800))]), 29_400);
    }
}
