//! What devices cost at least, however the runs are cut and fed.
//!
//! Every lit cell draws at least the least relative current that the job asks for, so a zone draws at
//! least `n · Σ nominal · least` amperes and, from the lowest set point, that many watts. Each ampere and each
//! watt pays its share of the kind that gives it cheapest; a zone has at least one decoder, a job one supply.
//! Devices are chosen for what the low corner draws too, so the bound holds for every feeding.
//! Leaves out: outputs, places and zones that part the loads. So it is a bound and no more.

use super::costing;
use super::devices::permitted_power;
use super::facts::TapeModels;
use super::kinds;
use super::laid::RunWork;
use crate::job::Job;
use crate::job::spec::{Control, InstalledKind, PlaceSpec};
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
    let (mut decoders, mut supplies) = (0.0, 0.0);
    for (zone, amps) in zones {
        let zone = &job.zones()[zone];
        let places: Vec<&PlaceSpec> = job
            .places()
            .iter()
            .filter(|p| zone.places.is_empty() || zone.places.contains(&p.name))
            .collect();
        if let Control::Dmx { .. } = zone.control {
            let kinds = places.iter().flat_map(|p| kinds::decoders(job, zone, p));
            let (mut each, mut one) = (f64::INFINITY, f64::INFINITY);
            for d in kinds {
                let price = costing::at_least(d.price) as f64;
                let most = d.total_current.value.min(d.terminal_current.value);
                each = f64::min(each, price / most);
                one = f64::min(one, price);
            }
            decoders += sound((amps * each).max(one)).ceil();
        }
        let kinds = places.iter().flat_map(|p| {
            kinds::supplies(job, zone, p)
                .into_iter()
                .map(move |s| (s, p))
        });
        let (mut by_current, mut by_power) = (f64::INFINITY, f64::INFINITY);
        for (s, place) in kinds {
            let price = costing::at_least(s.price) as f64;
            let outputs = s.output_current.value * f64::from(s.outputs.max(1));
            let watts = permitted_power(job, s, place);
            by_current = f64::min(by_current, price / outputs);
            by_power = f64::min(by_power, price * kinds::set_point(s).low / watts);
        }
        supplies += sound(amps * by_current.max(by_power));
    }
    // What is there already costs nothing: at most its price is saved.
    let there: u64 = job
        .installed()
        .iter()
        .filter_map(|i| match &i.kind {
            InstalledKind::Supply(name) => job.supply(name)?.price,
            InstalledKind::Decoder(name) => job.decoder(name)?.price,
        })
        .sum();
    (decoders + supplies.ceil() - there as f64).max(0.0) as i64
}

/// No kind at all bounds nothing.
fn sound(price: f64) -> f64 {
    // A part in a million off, for the rounding of sums.
    if price.is_finite() {
        price * (1.0 - 1e-6)
    } else {
        0.0
    }
}
