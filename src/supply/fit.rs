//! Whether currents fit onto the outputs of one body: exact, within a step limit.

use super::check::{Item, Kind};
use crate::packing::Fit;
use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

/// Steps for one body; beyond, the answer counts as unproven.
const STEPS: u32 = 20_000;

/// A current that lies whole on one output, with others of its signal only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Part {
    /// What the output drives.
    pub signal: usize,
    /// Microamperes.
    pub microamps: u64,
}

/// What [`least_outputs`] finds.
pub struct Outputs {
    /// Output of each part, by index into the parts; none: they do not fit.
    pub outputs: Option<Vec<usize>>,
    /// Whether the step limit may have hidden an answer.
    pub unsure: bool,
}

enum Packed {
    Fits(Vec<usize>),
    No,
    Unsure,
}

/// Fewest outputs per signal, numbered signal by signal.
pub fn least_outputs(parts: &[Part], limit: u64, most: usize) -> Outputs {
    let mut signals: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (at, part) in parts.iter().enumerate() {
        signals.entry(part.signal).or_default().push(at);
    }
    let mut result = vec![0; parts.len()];
    let mut used = 0;
    let mut unsure = false;
    let mut steps = STEPS;
    for mut members in signals.into_values() {
        members.sort_by(|&a, &b| (parts[b].microamps, a).cmp(&(parts[a].microamps, b)));
        let amps: Vec<u64> = members.iter().map(|&at| parts[at].microamps).collect();
        let total: u64 = amps.iter().sum();
        let mut bins = usize::try_from(total.div_ceil(limit.max(1)))
            .unwrap_or(usize::MAX)
            .max(1);
        let outputs = loop {
            if bins > most - used {
                return Outputs {
                    outputs: None,
                    unsure,
                };
            }
            match pack(&amps, limit, bins, &mut steps) {
                Packed::Fits(outputs) => break outputs,
                Packed::No => {}
                Packed::Unsure => {
                    unsure = true;
                    steps = STEPS / 8;
                }
            }
            bins += 1;
        };
        for (&at, output) in members.iter().zip(outputs) {
            result[at] = used + output;
        }
        used += bins;
    }
    Outputs {
        outputs: Some(result),
        unsure,
    }
}

/// Whether currents of one signal go onto so many outputs, largest first onto the first with
/// room: quick, and no proof where it fails.
fn first_fit(parts: &mut [Part], limit: u64, most: usize) -> bool {
    let signal = parts.first().map(|p| p.signal);
    if parts.iter().any(|p| Some(p.signal) != signal) {
        return false;
    }
    parts.sort_unstable_by_key(|part| std::cmp::Reverse(part.microamps));
    let mut load: Vec<u64> = Vec::with_capacity(most.min(parts.len()));
    for part in parts {
        let mut loads = load.iter();
        match loads.position(|here| here.saturating_add(part.microamps) <= limit) {
            Some(at) => load[at] += part.microamps,
            None if load.len() < most && part.microamps <= limit => load.push(part.microamps),
            None => return false,
        }
    }
    true
}

/// Places amounts, largest first, into `bins` equal bins by going back where it fails.
fn pack(amps: &[u64], limit: u64, bins: usize, steps: &mut u32) -> Packed {
    if amps.first().is_some_and(|&a| a > limit) {
        return Packed::No;
    }
    let mut load = vec![0u64; bins.min(amps.len())];
    let mut at: Vec<usize> = Vec::with_capacity(amps.len());
    let mut opened = vec![0usize; amps.len() + 1];
    let mut from = 0;
    while let Some(&own) = amps.get(at.len()) {
        let item = at.len();
        let end = (opened[item] + 1).min(load.len());
        if let Some(&before) = at.last()
            && amps[item - 1] == own
        {
            from = from.max(before);
        }
        let mut found = None;
        for (bin, &here) in load.iter().enumerate().take(end).skip(from) {
            if *steps == 0 {
                return Packed::Unsure;
            }
            *steps -= 1;
            if here + own <= limit {
                found = Some(bin);
                break;
            }
        }
        if let Some(bin) = found {
            load[bin] += own;
            opened[item + 1] = opened[item].max(bin + 1);
            at.push(bin);
            from = 0;
        } else {
            let Some(bin) = at.pop() else {
                return Packed::No;
            };
            load[bin] -= amps[at.len()];
            from = bin + 1;
        }
    }
    Packed::Fits(at)
}

/// Whether no two of the zones are listed as separate.
pub fn apart(zones: &[usize], separate: &BTreeSet<(usize, usize)>) -> bool {
    if separate.is_empty() {
        return true;
    }
    let present: BTreeSet<usize> = zones.iter().copied().filter(|&z| z != usize::MAX).collect();
    let present: Vec<usize> = present.into_iter().collect();
    present.iter().enumerate().all(|(n, &a)| {
        present[n + 1..]
            .iter()
            .all(|&b| !separate.contains(&(a, b)))
    })
}

/// One kind of bin of the kernel.
pub struct Place<'a> {
    /// Its kind.
    pub kind: &'a Kind,
    /// Loads that are on it already.
    pub kept: Vec<&'a Item>,
}

/// The rule beyond capacities: outputs, and zones that never share.
pub struct Shares<'a> {
    /// By item of the kernel, one of its loads.
    pub items: Vec<&'a Item>,
    /// By bin of the kernel.
    pub places: Vec<Place<'a>>,
    /// Pairs of zones.
    pub separate: &'a BTreeSet<(usize, usize)>,
    /// Whether the outputs count.
    pub outputs: bool,
    /// Whether a step limit was met.
    pub unsure: Cell<bool>,
}

impl Fit for Shares<'_> {
    fn fits(&self, bin: usize, content: &[(usize, u32)]) -> bool {
        let Some(place) = self.places.get(bin) else {
            return false;
        };
        let loads = content
            .iter()
            .filter_map(|&(i, n)| Some((*self.items.get(i)?, n)));
        let all = place.kept.iter().map(|&item| (item, 1)).chain(loads);
        let mut zones = Vec::new();
        let mut parts = Vec::new();
        for (item, count) in all {
            zones.push(item.zone);
            for _ in 0..count {
                parts.extend(item.parts.iter().copied());
            }
        }
        if !apart(&zones, self.separate) {
            return false;
        }
        if !self.outputs {
            return true;
        }
        if first_fit(&mut parts, place.kind.output, place.kind.outputs as usize) {
            return true;
        }
        let found = least_outputs(&parts, place.kind.output, place.kind.outputs as usize);
        if found.unsure && found.outputs.is_none() {
            self.unsure.set(true);
        }
        found.outputs.is_some()
    }
}
