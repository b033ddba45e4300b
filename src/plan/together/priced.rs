//! What decoders and supplies for some segments cost, chosen together.
//!
//! ```text
//!  every segment by itself ─► supplies at least ─┐
//!  ways to part ─► decoders at least ────────────┼─► a bound; a way whose decoders and supplies
//!      cheapest first ─► its own supplies        ┘   cost no more is the cheapest
//! ```
//! Segments on one decoder share an output of a supply, so its supplies carry no less than what the segments
//! by themselves would lay on them: the bound holds for every parting.

use crate::job::Job;
use crate::job::spec::InstalledKind;
use crate::plan::devices::{
    self, DecoderUnit, Driven, Parting, Parts, Refused, SegmentWork, Spent,
};
use crate::plan::fixed;
use std::collections::BTreeMap;

/// Most steps in which the segments of one whole plan are dealt out to decoders.
const STEPS: u64 = 200_000;

/// What supplies cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Supplied {
    Cost {
        cost: i64,
        lower: i64,
    },
    /// No permitted kinds hold the decoder_units, or the room is not enough.
    Never,
    /// The assignment found none, and proved nothing.
    Unknown,
}

/// A decoder_unit as the supplies see it: place, zone, bits of current and power.
type Load = (usize, usize, u64, u64);

/// The answer for some segments.
pub(super) struct Devices<'j> {
    /// Decoders and supplies, minor units.
    pub cost: i64,
    pub decoders: Vec<Driven<'j>>,
}

/// Prices devices, and remembers what supplies cost.
pub(super) struct Pricer<'j> {
    job: &'j Job,
    /// Where supplies are installed, it matters which segment is which.
    by_name: bool,
    known: BTreeMap<Vec<Load>, Supplied>,
    /// Assignments of supplies.
    pub assigned: u64,
}

impl<'j> Pricer<'j> {
    pub fn new(job: &'j Job) -> Self {
        let supply = |kind: &InstalledKind| matches!(kind, InstalledKind::Supply(_));
        Self {
            job,
            by_name: job.installed().iter().any(|i| supply(&i.kind)),
            known: BTreeMap::new(),
            assigned: 0,
        }
    }

    /// What devices for the segments cost at least, none where no kinds hold them.
    pub fn lower(&mut self, segments: &[SegmentWork]) -> Option<i64> {
        let supplies = self.bare(segments)?;
        let decoders = match Parts::new(self.job, segments, STEPS).map(|mut p| p.cheapest()) {
            Some(Ok(None)) => return None,
            Some(Ok(Some(parting))) => parting.cost,
            Some(Err(Spent)) | None => 0,
        };
        Some(supplies + decoders)
    }

    /// The cheapest devices for the segments, if they cost less than `most`, and a bound that holds for all.
    pub fn price(&mut self, segments: &[SegmentWork], most: i64) -> (Option<Devices<'j>>, i64) {
        let Some(supplies) = self.bare(segments) else {
            return (None, i64::MAX);
        };
        let Some(mut parts) = Parts::new(self.job, segments, STEPS) else {
            return (None, supplies);
        };
        let least = match parts.cheapest() {
            Ok(Some(parting)) => parting,
            Ok(None) => return (None, i64::MAX),
            Err(Spent) => return (None, supplies),
        };
        let lower = supplies + least.cost;
        if lower >= most {
            return (None, lower);
        }
        let mut best: Option<Devices<'j>> = None;
        let mut open = i64::MAX;
        self.supply(segments, least, &mut best, &mut open);
        let reached = |best: &Option<Devices<'j>>| best.as_ref().map_or(most, |b| b.cost.min(most));
        if reached(&best) > lower {
            match parts.below(reached(&best) - supplies) {
                Err(Spent) => return (best, lower),
                Ok(all) => {
                    for parting in all {
                        if parting.cost + supplies >= reached(&best) {
                            break;
                        }
                        self.supply(segments, parting, &mut best, &mut open);
                    }
                }
            }
        }
        let proven = reached(&best).min(open).max(lower);
        (best.filter(|b| b.cost < most), proven)
    }

    /// Adds the supplies of a parting; `open` is the least that what is left undecided may cost.
    fn supply(
        &mut self,
        segments: &[SegmentWork],
        parting: Parting<'j>,
        best: &mut Option<Devices<'j>>,
        open: &mut i64,
    ) {
        let decoder_units = devices::parted(self.job, segments, &parting.decoders);
        match self.supplies(segments, &decoder_units) {
            Supplied::Never => {}
            Supplied::Unknown => *open = (*open).min(parting.cost),
            Supplied::Cost { cost, lower } => {
                if lower < cost {
                    *open = (*open).min(parting.cost + lower);
                }
                let cost = parting.cost + cost;
                if best.as_ref().is_none_or(|b| cost < b.cost) {
                    *best = Some(Devices {
                        cost,
                        decoders: parting.decoders,
                    });
                }
            }
        }
    }

    /// What supplies cost at least, whatever the decoders.
    fn bare(&mut self, segments: &[SegmentWork]) -> Option<i64> {
        match self.supplies(segments, &devices::bare(segments)) {
            Supplied::Cost { lower, .. } => Some(lower),
            Supplied::Unknown => Some(0),
            Supplied::Never => None,
        }
    }

    fn supplies(
        &mut self,
        segments: &[SegmentWork],
        decoder_units: &[DecoderUnit<'j>],
    ) -> Supplied {
        let load = |b: &DecoderUnit<'_>| (b.place, b.zone, b.current.to_bits(), b.watts.to_bits());
        let mut loads: Vec<Load> = decoder_units.iter().map(load).collect();
        loads.sort_unstable();
        if !self.by_name
            && let Some(known) = self.known.get(&loads)
        {
            return *known;
        }
        self.assigned += 1;
        let answer = supplies(self.job, segments, decoder_units);
        self.known.insert(loads, answer);
        answer
    }
}

fn supplies(job: &Job, segments: &[SegmentWork], decoder_units: &[DecoderUnit<'_>]) -> Supplied {
    let chosen = devices::units(job, segments, decoder_units);
    let unassigned = |r: &Refused| matches!(r, Refused::Unassigned(_));
    if chosen.refused.iter().any(unassigned) {
        return Supplied::Unknown;
    }
    let roomy = job.places().iter().enumerate().all(|(at, place)| {
        let units = chosen.devices.iter().filter(|u| u.place == at).count();
        let standby = chosen.standby.iter().filter(|s| s.0 == at).count();
        let most = place.most_supplies;
        let idle = || fixed::idle_at(job, at, false, &chosen.names());
        most.is_none_or(|most| units + standby + idle() <= most as usize)
    });
    let alone = chosen.assigned.iter().any(|a| a.alone > 0);
    let fed: usize = chosen
        .devices
        .iter()
        .flat_map(|u| &u.outputs)
        .map(Vec::len)
        .sum();
    if alone || !roomy || !chosen.refused.is_empty() || fed < decoder_units.len() {
        return Supplied::Never;
    }
    Supplied::Cost {
        cost: chosen.assigned.iter().map(|a| a.priced()[0]).sum(),
        lower: chosen.assigned.iter().map(|a| a.priced()[1]).sum(),
    }
}
