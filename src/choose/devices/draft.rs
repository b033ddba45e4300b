//! The checks that problems of supplies and of decoders share.

use super::check::{
    CheckedSupply, Group, Item, Kind, MOST_ENTRIES, MOST_LOADS, MOST_PRICE, Present, Tag,
};
use super::fault::SupplyFault;
use super::outputs::{Part, least_outputs};
use super::spec::{Installed, Rules};
use crate::order::Order as _;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Millionths, to the nearest; loads are then sums without rounding.
pub fn micro(x: f64) -> u64 {
    libm::round(x * 1e6) as u64
}

/// Thousandths, to the nearest.
pub fn milli(x: f64) -> u64 {
    libm::round(x * 1e3) as u64
}

/// A load with the names that are still to be numbered.
pub struct Listed {
    pub item: Item,
    pub tag: Tag,
    pub zone: String,
}

/// A load without place and zone.
pub fn item(id: String, whole: u64, parts: Vec<Part>) -> Item {
    Item {
        id,
        group: 0,
        class: 0,
        whole,
        amps: parts.iter().map(|p| p.microamps).sum(),
        parts,
        zone: usize::MAX,
        fixed: None,
    }
}

/// A problem on its way to be checked, with the faults found so far.
pub struct Draft {
    pub what: String,
    pub words: &'static str,
    pub items: Vec<Listed>,
    pub kinds: Vec<Kind>,
    pub signals: Vec<Option<(String, String)>>,
    pub faults: Vec<SupplyFault>,
}

impl Draft {
    /// A figure must lie above `low` and at most at `high`.
    pub fn figure(
        &mut self,
        place: String,
        value: f64,
        low: f64,
        high: f64,
        accepted: &'static str,
    ) {
        if !(value > low && value <= high) {
            let (what, found) = (self.what.clone(), format!("{value}"));
            self.faults.push(SupplyFault::Figure {
                what,
                place,
                found,
                accepted,
            });
        }
    }

    /// A current must be above nothing.
    pub fn current(&mut self, place: String, value: f64) {
        self.figure(place, value, 0.0, 1e5, "above 0 A and at most 100 000 A");
    }

    /// A voltage must be above nothing.
    pub fn volts(&mut self, place: String, value: f64) {
        self.figure(place, value, 0.0, 1e4, "above 0 V and at most 10 000 V");
    }

    /// Nothing may be listed too often.
    pub fn sizes(&mut self, loads: usize, kinds: usize, rules: &Rules) {
        let counts = [
            ("loads", loads, MOST_LOADS),
            ("kinds", kinds, MOST_ENTRIES),
            ("installed units", rules.installed.len(), MOST_ENTRIES),
            ("rooms", rules.rooms.len(), MOST_ENTRIES),
            ("separations", rules.separate.len(), MOST_ENTRIES),
        ];
        for (of, found, most) in counts {
            if found > most {
                let what = self.what.clone();
                self.faults.push(SupplyFault::TooMany {
                    what,
                    of,
                    found,
                    most,
                });
            }
        }
    }

    /// What every kind has: outputs and a price.
    pub fn kind(&mut self, name: &str, outputs: u32, price: u64) {
        let whole = "a whole number from 1 to 512";
        self.figure(
            format!("outputs of `{name}`"),
            f64::from(outputs),
            0.0,
            512.0,
            whole,
        );
        if price > MOST_PRICE {
            let (what, place) = (self.what.clone(), format!("price of `{name}`"));
            let accepted = "at most 1 000 000 000 minor units";
            self.faults.push(SupplyFault::Figure {
                what,
                place,
                found: price.to_string(),
                accepted,
            });
        }
    }

    fn unique<'n>(&mut self, among: &'static str, names: impl Iterator<Item = &'n str>) {
        let mut seen = BTreeSet::new();
        for name in names {
            if !seen.insert(name) {
                let (what, name) = (self.what.clone(), name.to_owned());
                self.faults.push(SupplyFault::Twice { what, among, name });
            }
        }
    }

    fn installed(&mut self, listed: &[Installed]) -> Vec<(Present, Tag)> {
        let mut present = Vec::new();
        let index: BTreeMap<String, usize> = self
            .items
            .iter()
            .enumerate()
            .map(|(n, listed)| (listed.item.id.clone(), n))
            .collect();
        let mut listed: Vec<&Installed> = listed.iter().collect();
        listed.order_by(|a, b| a.name.cmp(&b.name));
        for (at, one) in listed.into_iter().enumerate() {
            self.volts(format!("voltage of `{}`", one.name), one.volts.value);
            let unknown = |of, name: &str| SupplyFault::Unknown {
                what: self.what.clone(),
                by: one.name.clone(),
                of,
                name: name.to_owned(),
            };
            let Some(kind) = self.kinds.iter().position(|k| k.name == one.kind) else {
                let fault = unknown("kind", &one.kind);
                self.faults.push(fault);
                continue;
            };
            let tag = (one.place.clone(), one.emergency, milli(one.volts.value));
            let (low, high) = self.kinds[kind].volts;
            let mut limit = (!(low..=high).contains(&tag.2)).then_some("voltage");
            let mut kept: Vec<usize> = Vec::new();
            for id in &one.loads {
                let Some(&item) = index.get(id) else {
                    let fault = unknown("load", id);
                    self.faults.push(fault);
                    continue;
                };
                if self.items[item].item.fixed.is_some() {
                    let (what, name) = (self.what.clone(), id.clone());
                    let among = "loads fixed to installed units";
                    self.faults.push(SupplyFault::Twice { what, among, name });
                } else if self.items[item].tag != tag {
                    limit = Some("place, emergency or voltage");
                }
                self.items[item].item.fixed = Some(at);
                kept.push(item);
            }
            let own = &self.kinds[kind];
            let used: u64 = kept.iter().map(|&i| self.items[i].item.whole).sum();
            if used > own.whole {
                limit = Some("power or current");
            }
            let parts: Vec<Part> = kept
                .iter()
                .flat_map(|&i| self.items[i].item.parts.iter().copied())
                .collect();
            if least_outputs(&parts, own.output, own.outputs as usize)
                .outputs
                .is_none()
            {
                limit = Some("outputs");
            }
            if let Some(limit) = limit {
                let (what, name) = (self.what.clone(), one.name.clone());
                self.faults
                    .push(SupplyFault::Overloaded { what, name, limit });
            }
            let name = one.name.clone();
            let group = 0;
            present.push((Present { name, kind, group }, tag));
        }
        present
    }

    /// Names, installed units, zones, and whether each load fits anything at all.
    pub fn finish(mut self, rules: &Rules) -> Result<CheckedSupply, Vec<SupplyFault>> {
        let ids: Vec<String> = self.items.iter().map(|l| l.item.id.clone()).collect();
        self.unique("loads", ids.iter().map(String::as_str));
        let names: Vec<String> = self.kinds.iter().map(|k| k.name.clone()).collect();
        self.unique("kinds", names.iter().map(String::as_str));
        self.unique(
            "installed units",
            rules.installed.iter().map(|i| i.name.as_str()),
        );
        self.unique("rooms", rules.rooms.iter().map(|r| r.place.as_str()));
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        self.kinds
            .order_by(|a, b| (a.price, &a.name).cmp(&(b.price, &b.name)));
        self.items
            .order_by(|Listed { item: a, .. }, Listed { item: b, .. }| {
                let size = |i: &Item| Reverse((i.whole, i.amps));
                (size(a), &a.id).cmp(&(size(b), &b.id))
            });
        let mut installed = self.installed(&rules.installed);
        let separate = self.zones(rules, &installed);
        for Listed { item, tag, .. } in &mut self.items {
            item.parts
                .order_by_key(|part| (part.signal, Reverse(part.microamps)));
            let holds = |kind: &Kind| {
                (kind.volts.0..=kind.volts.1).contains(&tag.2)
                    && item.whole <= kind.whole
                    && least_outputs(&item.parts, kind.output, kind.outputs as usize)
                        .outputs
                        .is_some()
            };
            let placed = item.fixed.is_some() || self.kinds.iter().any(holds);
            if !placed {
                self.faults.push(SupplyFault::NoKind {
                    what: self.what.clone(),
                    load: item.id.clone(),
                    place: tag.0.clone(),
                });
            }
        }
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        let (places, groups) = numbered(&mut self.items, &mut installed, rules);
        let mut items: Vec<Item> = self.items.into_iter().map(|l| l.item).collect();
        classes(&mut items);
        Ok(CheckedSupply {
            what: self.what,
            words: self.words,
            items,
            kinds: self.kinds,
            installed: installed.into_iter().map(|(present, _)| present).collect(),
            places,
            groups,
            separate,
            signals: self.signals,
            spares: rules.spares,
            effort: rules.effort,
        })
    }

    /// Numbers the zones that are separate from any, by name; pairs that never share.
    fn zones(&mut self, rules: &Rules, installed: &[(Present, Tag)]) -> BTreeSet<(usize, usize)> {
        let names = rules.separate.iter().flat_map(|(a, b)| [a, b]);
        let names: BTreeSet<&str> = names.map(String::as_str).collect();
        let zones: BTreeMap<&str, usize> = names.into_iter().zip(0..).collect();
        let number = |zone: &str| zones.get(zone).copied().unwrap_or(usize::MAX);
        let mut separate = BTreeSet::new();
        for (a, b) in &rules.separate {
            if a == b {
                let (what, zone) = (self.what.clone(), a.clone());
                self.faults.push(SupplyFault::SelfSeparate { what, zone });
            }
            let (a, b) = (number(a), number(b));
            separate.insert((a.min(b), a.max(b)));
        }
        for Listed { item, zone, .. } in &mut self.items {
            item.zone = number(zone);
        }
        for (at, (one, _)) in installed.iter().enumerate() {
            let kept = self.items.iter().map(|l| &l.item);
            let kept = kept.filter(|i| i.fixed == Some(at)).map(|i| i.zone);
            if !super::fit::apart(&kept.collect::<Vec<_>>(), &separate) {
                let (what, name) = (self.what.clone(), one.name.clone());
                let limit = "separate zones";
                self.faults
                    .push(SupplyFault::Overloaded { what, name, limit });
            }
        }
        separate
    }
}

/// Numbers places and groups in the order of their names.
fn numbered(
    items: &mut [Listed],
    installed: &mut [(Present, Tag)],
    rules: &Rules,
) -> (Vec<(String, Option<u32>)>, Vec<Group>) {
    let tags = items.iter().map(|l| &l.tag);
    let tags = tags.chain(installed.iter().map(|(_, tag)| tag));
    let tags: BTreeSet<Tag> = tags.cloned().collect();
    let mut places: Vec<(String, Option<u32>)> = Vec::new();
    let mut groups = Vec::with_capacity(tags.len());
    for (place, emergency, millivolts) in &tags {
        if places.last().is_none_or(|(last, _)| last != place) {
            let room = rules.rooms.iter().find(|room| room.place == *place);
            places.push((place.clone(), room.map(|room| room.most)));
        }
        groups.push(Group {
            place: places.len() - 1,
            emergency: *emergency,
            millivolts: *millivolts,
        });
    }
    let number: BTreeMap<&Tag, usize> = tags.iter().zip(0..).collect();
    let of = |tag: &Tag| number.get(tag).copied().unwrap_or(0);
    for listed in items {
        listed.item.group = of(&listed.tag);
    }
    for (present, tag) in installed {
        present.group = of(tag);
    }
    (places, groups)
}

/// Numbers the classes of loads that are alike, largest first.
fn classes(items: &mut [Item]) {
    let mut order: Vec<usize> = (0..items.len()).collect();
    let key = |item: &Item| {
        let size = Reverse((item.whole, item.amps));
        (size, item.group, item.zone)
    };
    let compare = |a: &Item, b: &Item| key(a).cmp(&key(b)).then_with(|| a.parts.cmp(&b.parts));
    order.order_by(|&a, &b| compare(&items[a], &items[b]).then(a.cmp(&b)));
    let mut class = 0;
    for (at, &item) in order.iter().enumerate() {
        let before = at.checked_sub(1).map(|before| order[before]);
        if before.is_some_and(|before| compare(&items[before], &items[item]).is_ne()) {
            class += 1;
        }
        items[item].class = class;
    }
}
