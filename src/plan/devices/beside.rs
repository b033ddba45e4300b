//! Both sides of a break that is seen on one supply, where what is chosen permits it.
//!
//! ```text
//!  A.1 ┤├ A.2 seen      supply 1: A.1, B.1      supply 1: A.1, A.2
//!  B.1 ┤├ B.2 seen      supply 2: A.2, B.2  ──► supply 2: B.1, B.2
//! ```
//! Two supplies differ by their tolerance, one does not from itself. Outputs of the supplies that were chosen are exchanged,
//! two at a time, as long as more breaks then have both sides on one supply: what is bought and what it costs stay.

use super::supplies::number;
use super::{DecoderUnit, SegmentWork, SupplyUnit, permitted_power};
use crate::job::Job;
use crate::plan::feeding::BESIDE;
use crate::plan::laid::RunWork;
use std::collections::BTreeMap;

/// Rounds over all breaks.
const ROUNDS: usize = 3;

/// An output of a supply, by their places.
type At = (usize, usize);

struct Exchange<'a, 'j> {
    job: &'j Job,
    decoder_units: &'a [DecoderUnit<'j>],
    units: &'a mut [SupplyUnit<'j>],
    /// Where each decoder unit hangs.
    hangs: Vec<Option<At>>,
    /// Decoder units on the other side of a break that is seen.
    others: BTreeMap<usize, Vec<usize>>,
}

/// Exchanges outputs so that breaks that are seen have both sides on one supply.
pub(in crate::plan) fn bring_together<'j>(
    job: &'j Job,
    runs: &[RunWork<'j>],
    segments: &[SegmentWork],
    decoder_units: &[DecoderUnit<'j>],
    units: &mut Vec<SupplyUnit<'j>>,
) {
    let mut of_segment = vec![None; segments.len()];
    for (number, own) in decoder_units.iter().enumerate() {
        for segment in own.segments() {
            of_segment[segment] = Some(number);
        }
    }
    let mut others: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    let mut pairs = Vec::new();
    for at in 1..segments.len() {
        let (left, right) = (&segments[at - 1], &segments[at]);
        if left.run != right.run || !runs[left.run].is_seen(left.plan.to) {
            continue;
        }
        if let (Some(a), Some(b)) = (of_segment[at - 1], of_segment[at])
            && a != b
        {
            pairs.push((a, b));
            others.entry(a).or_default().push(b);
            others.entry(b).or_default().push(a);
        }
    }
    if pairs.is_empty() {
        return;
    }
    let mut hangs = vec![None; decoder_units.len()];
    for (unit, own) in units.iter().enumerate() {
        for (output, held) in own.outputs.iter().enumerate() {
            for decoder_unit in held {
                hangs[*decoder_unit] = Some((unit, output));
            }
        }
    }
    let mut exchange = Exchange {
        job,
        decoder_units,
        units,
        hangs,
        others,
    };
    let mut any = false;
    for _ in 0..ROUNDS {
        let mut changed = false;
        for (a, b) in &pairs {
            changed |= exchange.bring(*a, *b) || exchange.bring(*b, *a);
        }
        any |= changed;
        if !changed {
            break;
        }
    }
    if any {
        for unit in units.iter_mut() {
            let spare = unit.outputs.len();
            unit.outputs.retain(|held| !held.is_empty());
            unit.outputs.sort();
            unit.outputs.resize(spare, Vec::new());
        }
        number(job, units);
    }
}

impl Exchange<'_, '_> {
    /// Brings `b` to the supply of `a`, in exchange for another output of that; whether it did.
    fn bring(&mut self, a: usize, b: usize) -> bool {
        let (Some(to), Some(from)) = (self.hangs[a], self.hangs[b]) else {
            return false;
        };
        if to.0 == from.0 || !self.may(to.0, from.0) {
            return false;
        }
        let found = (0..self.units[to.0].outputs.len()).find(|output| {
            let there = (to.0, *output);
            *output != to.1 && self.fits(there, from) && self.gain(there, from) > 0
        });
        let Some(output) = found else { return false };
        let mine = std::mem::take(&mut self.units[from.0].outputs[from.1]);
        let own = std::mem::replace(&mut self.units[to.0].outputs[output], mine);
        self.units[from.0].outputs[from.1] = own;
        for at in [(to.0, output), from] {
            for held in &self.units[at.0].outputs[at.1] {
                self.hangs[*held] = Some(at);
            }
        }
        true
    }

    /// Whether two supplies may exchange outputs at all.
    fn may(&self, one: usize, other: usize) -> bool {
        let (one, other) = (&self.units[one], &self.units[other]);
        let free = |unit: &SupplyUnit<'_>| {
            let own = |i: &&crate::job::spec::InstalledSpec| i.name == unit.id;
            let installed = self.job.installed().iter().find(own);
            installed.is_none_or(|i| i.serves.is_empty())
        };
        one.place == other.place && one.assigned == other.assigned && free(one) && free(other)
    }

    /// Whether both supplies bear what they carry after the exchange, and none is left without a load.
    fn fits(&self, one: At, other: At) -> bool {
        let watts = |list: &[usize]| list.iter().map(|b| self.decoder_units[*b].watts).sum();
        let amps = |list: &[usize]| list.iter().map(|b| self.decoder_units[*b].current).sum();
        let bears = |at: At, by: At| {
            let unit = &self.units[at.0];
            let (own, new) = (&unit.outputs[at.1], &self.units[by.0].outputs[by.1]);
            let all: f64 = unit.outputs.iter().map(|held| watts(held)).sum::<f64>();
            let (before, after): (f64, f64) = (watts(own), watts(new));
            let place = &self.job.places()[unit.place];
            let most = permitted_power(self.job, unit.spec, place) * BESIDE;
            let current: f64 = amps(new);
            let used = unit.outputs.iter().filter(|held| !held.is_empty()).count();
            (after <= before || all - before + after <= most)
                && current <= unit.spec.output_current.value
                && (!new.is_empty() || used > 1)
        };
        bears(one, other) && bears(other, one)
    }

    /// How many more breaks have both sides on one supply after the exchange.
    fn gain(&self, one: At, other: At) -> i64 {
        let outputs = [one, other].map(|at| &self.units[at.0].outputs[at.1]);
        let after = |decoder_unit: usize| {
            let hangs = self.hangs[decoder_unit].map(|at| at.0);
            if outputs[0].contains(&decoder_unit) {
                Some(other.0)
            } else if outputs[1].contains(&decoder_unit) {
                Some(one.0)
            } else {
                hangs
            }
        };
        let before = |decoder_unit: usize| self.hangs[decoder_unit].map(|at| at.0);
        let mut gain = 0;
        for own in outputs.into_iter().flatten() {
            for other in self.others.get(own).into_iter().flatten() {
                gain += i64::from(after(*own) == after(*other));
                gain -= i64::from(before(*own) == before(*other));
            }
        }
        gain
    }
}
