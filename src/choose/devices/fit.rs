//! What may share a unit beyond power and current: outputs, and zones that never share.

use super::check::{Item, Kind};
use super::outputs::{Part, Quick, least_outputs, quick};
use crate::choose::packing::Fit;
use std::cell::{Cell, RefCell};
use std::cmp::Reverse;
use std::collections::BTreeSet;

/// Whether no two of the zones are listed as separate.
pub fn apart(zones: &[usize], separate: &BTreeSet<(usize, usize)>) -> bool {
    zones.iter().enumerate().all(|(n, &a)| {
        zones[n + 1..]
            .iter()
            .all(|&b| !separate.contains(&(a.min(b), a.max(b))))
    })
}

/// One kind of bin of the kernel.
pub struct Place<'a> {
    /// Its kind.
    pub kind: &'a Kind,
    /// Loads that are on it already.
    pub kept: Vec<&'a Item>,
}

/// A unit that is being filled load by load, each current on the first output with room.
#[derive(Default)]
struct Filling {
    bin: usize,
    /// Loads beside those kept, with how many currents of each were placed.
    loads: Vec<(usize, usize)>,
    /// Signal and current of each output.
    outputs: Vec<(usize, u64)>,
    /// Output of each current placed, and what it is.
    placed: Vec<(usize, u64)>,
    /// Whether the loads kept do not lie so.
    kept_odd: bool,
    /// From which load on they do not.
    odd: Option<usize>,
}

impl Filling {
    /// Puts currents onto the first outputs with room; how many were placed, and whether all.
    fn place(&mut self, parts: &[Part], kind: &Kind) -> (usize, bool) {
        for (at, part) in parts.iter().enumerate() {
            let own = part.microamps;
            let room = |&(signal, load): &(usize, u64)| {
                signal == part.signal && load.saturating_add(own) <= kind.output
            };
            if let Some(output) = self.outputs.iter().position(room) {
                self.outputs[output].1 += own;
                self.placed.push((output, own));
            } else if self.outputs.len() < kind.outputs as usize && own <= kind.output {
                self.outputs.push((part.signal, own));
                self.placed.push((self.outputs.len() - 1, own));
            } else {
                return (at, false);
            }
        }
        (parts.len(), true)
    }

    /// Takes the last currents out again.
    fn undo(&mut self, count: usize) {
        for _ in 0..count {
            if let Some((output, own)) = self.placed.pop() {
                self.outputs[output].1 -= own;
                if self.outputs[output].1 == 0 {
                    self.outputs.pop();
                }
            }
        }
    }
}

/// The rule beyond capacities.
pub struct Shares<'a> {
    items: Vec<&'a Item>,
    places: Vec<Place<'a>>,
    /// By place and item whether zones keep it away; empty where none do.
    barred: Vec<bool>,
    /// By item and item whether zones keep them apart; empty where none do.
    apart: Vec<bool>,
    /// Whether the outputs count.
    outputs: bool,
    /// Whether every item has one current only, and all drive the same.
    is_plain: bool,
    room: RefCell<(Vec<Part>, Vec<u64>)>,
    filling: RefCell<Filling>,
    /// Whether a step limit was met.
    pub unsure: Cell<bool>,
}

impl<'a> Shares<'a> {
    /// By item of the kernel one of its loads, by bin of the kernel its place; pairs of zones; whether
    /// the outputs count.
    pub fn new(
        items: Vec<&'a Item>,
        places: Vec<Place<'a>>,
        separate: Option<&BTreeSet<(usize, usize)>>,
        outputs: bool,
    ) -> Self {
        let mut table = (Vec::new(), Vec::new());
        if let Some(separate) = separate.filter(|pairs| !pairs.is_empty()) {
            let never = |a: &Item, b: &Item| {
                let pair = (a.zone.min(b.zone), a.zone.max(b.zone));
                pair.1 != usize::MAX && separate.contains(&pair)
            };
            for place in &places {
                let kept = |item: &&Item| place.kept.iter().any(|kept| never(kept, item));
                table.0.extend(items.iter().map(kept));
            }
            for item in &items {
                table.1.extend(items.iter().map(|other| never(item, other)));
            }
        }
        let kept = places.iter().flat_map(|place| place.kept.iter());
        let is_plain = items
            .iter()
            .chain(kept)
            .all(|item| matches!(item.parts[..], [Part { signal: 0, .. }]));
        Self {
            items,
            places,
            barred: table.0,
            apart: table.1,
            outputs,
            is_plain,
            room: RefCell::default(),
            filling: RefCell::default(),
            unsure: Cell::new(false),
        }
    }

    fn is_apart(&self, bin: usize, content: &[(usize, u32)]) -> bool {
        if self.apart.is_empty() {
            return false;
        }
        let count = self.items.len();
        let mut items = content.iter().enumerate();
        items.any(|(n, &(a, _))| {
            self.barred.get(bin * count + a) == Some(&true)
                || (content[n + 1..].iter())
                    .any(|&(b, _)| self.apart.get(a * count + b) == Some(&true))
        })
    }
}

impl Shares<'_> {
    /// Whether the loads of a filling and one more fit.
    fn fits_with(&self, filling: &Filling, item: usize) -> bool {
        let content: Vec<(usize, u32)> = filling.loads.iter().map(|&(load, _)| (load, 1)).collect();
        self.fits(filling.bin, &[&content[..], &[(item, 1)]].concat())
    }
}

impl Fit for Shares<'_> {
    fn start(&self, bin: usize) {
        let mut filling = self.filling.borrow_mut();
        filling.bin = bin;
        filling.loads.clear();
        filling.outputs.clear();
        filling.placed.clear();
        filling.kept_odd = false;
        filling.odd = None;
        let place = &self.places[bin];
        if self.outputs && !place.kept.is_empty() {
            let kept = place
                .kept
                .iter()
                .flat_map(|item| item.parts.iter().copied());
            let (_, all) = filling.place(&kept.collect::<Vec<_>>(), place.kind);
            filling.kept_odd = !all;
        }
    }

    fn add(&self, item: usize) -> bool {
        let mut filling = self.filling.borrow_mut();
        let count = self.items.len();
        if !self.apart.is_empty() {
            let barred = self.barred[filling.bin * count + item];
            let row = &self.apart[item * count..(item + 1) * count];
            if barred || filling.loads.iter().any(|&(load, _)| row[load]) {
                return false;
            }
        }
        let kind = self.places[filling.bin].kind;
        let mut placed = 0;
        if self.outputs && !(self.is_plain && kind.outputs == 1) {
            let mut all = false;
            if filling.odd.is_none() && !filling.kept_odd {
                (placed, all) = filling.place(&self.items[item].parts, kind);
            }
            if !all {
                filling.undo(std::mem::take(&mut placed));
                if !self.fits_with(&filling, item) {
                    return false;
                }
                let here = filling.loads.len();
                filling.odd.get_or_insert(here);
            }
        }
        filling.loads.push((item, placed));
        true
    }

    fn remove(&self) {
        let mut filling = self.filling.borrow_mut();
        if let Some((_, placed)) = filling.loads.pop() {
            filling.undo(placed);
            let here = filling.loads.len();
            filling.odd = filling.odd.filter(|&odd| odd < here);
        }
    }

    fn fits(&self, bin: usize, content: &[(usize, u32)]) -> bool {
        let Some(place) = self.places.get(bin) else {
            return false;
        };
        if self.is_apart(bin, content) {
            return false;
        }
        // Of one output the capacity says all.
        let (limit, most) = (place.kind.output, place.kind.outputs as usize);
        if !self.outputs || (self.is_plain && most == 1) {
            return true;
        }
        let (parts, load) = &mut *self.room.borrow_mut();
        parts.clear();
        for item in &place.kept {
            parts.extend_from_slice(&item.parts);
        }
        for &(at, count) in content {
            for _ in 0..count {
                parts.extend_from_slice(&self.items[at].parts);
            }
        }
        parts.sort_unstable_by_key(|part| (part.signal, Reverse(part.microamps)));
        match quick(parts, limit, most, load) {
            Quick::Yes => true,
            Quick::No => false,
            Quick::Open => {
                let found = least_outputs(parts, limit, most);
                if found.unsure && found.outputs.is_none() {
                    self.unsure.set(true);
                }
                found.outputs.is_some()
            }
        }
    }
}
