//! The checks that problems of supplies and of decoders share.

use super::check::{CheckedSupply, Item, Kind, MOST_ENTRIES, MOST_LOADS, MOST_PRICE, Present};
use super::fault::SupplyFault;
use super::fit::{Part, least_outputs};
use super::spec::{Installed, Rules};
use std::collections::BTreeMap;

/// Millionths, to the nearest; loads are then sums without rounding.
pub fn micro(x: f64) -> u64 {
    libm::round(x * 1e6) as u64
}

/// Thousandths, to the nearest.
pub fn milli(x: f64) -> u64 {
    libm::round(x * 1e3) as u64
}

/// A problem on its way to be checked, with the faults found so far.
pub struct Draft {
    pub what: String,
    pub words: &'static str,
    pub items: Vec<(Item, String)>,
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
            ("installed bodies", rules.installed.len(), MOST_ENTRIES),
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
        let mut seen = std::collections::BTreeSet::new();
        for name in names {
            if !seen.insert(name) {
                let (what, name) = (self.what.clone(), name.to_owned());
                self.faults.push(SupplyFault::Twice { what, among, name });
            }
        }
    }

    fn installed(&mut self, listed: &[Installed]) -> Vec<Present> {
        let mut present = Vec::new();
        let index: BTreeMap<String, usize> = self
            .items
            .iter()
            .enumerate()
            .map(|(n, (i, _))| (i.id.clone(), n))
            .collect();
        let mut listed: Vec<&Installed> = listed.iter().collect();
        listed.sort_by(|a, b| a.name.cmp(&b.name));
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
            let group = (one.place.clone(), one.emergency, milli(one.volts.value));
            let (low, high) = self.kinds[kind].volts;
            let mut limit = (!(low..=high).contains(&group.2)).then_some("voltage");
            let mut kept: Vec<usize> = Vec::new();
            for id in &one.loads {
                let Some(&item) = index.get(id) else {
                    let fault = unknown("load", id);
                    self.faults.push(fault);
                    continue;
                };
                if self.items[item].0.fixed.is_some() {
                    let (what, name) = (self.what.clone(), id.clone());
                    let among = "loads fixed to installed bodies";
                    self.faults.push(SupplyFault::Twice { what, among, name });
                } else if self.items[item].0.group != group {
                    limit = Some("place, emergency or voltage");
                }
                self.items[item].0.fixed = Some(at);
                kept.push(item);
            }
            let own = &self.kinds[kind];
            let used: u64 = kept.iter().map(|&i| self.items[i].0.body).sum();
            if used > own.body {
                limit = Some("power or current");
            }
            let parts: Vec<Part> = kept
                .iter()
                .flat_map(|&i| self.items[i].0.parts.iter().copied())
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
            present.push(Present {
                name: one.name.clone(),
                kind,
                group,
            });
        }
        present
    }

    /// Names, installed bodies, zones, and whether each load fits anything at all.
    pub fn finish(mut self, rules: &Rules) -> Result<CheckedSupply, Vec<SupplyFault>> {
        let ids: Vec<String> = self.items.iter().map(|(i, _)| i.id.clone()).collect();
        self.unique("loads", ids.iter().map(String::as_str));
        let names: Vec<String> = self.kinds.iter().map(|k| k.name.clone()).collect();
        self.unique("kinds", names.iter().map(String::as_str));
        self.unique(
            "installed bodies",
            rules.installed.iter().map(|i| i.name.as_str()),
        );
        self.unique("rooms", rules.rooms.iter().map(|r| r.place.as_str()));
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        self.kinds
            .sort_by(|a, b| (a.price, &a.name).cmp(&(b.price, &b.name)));
        self.items.sort_by(|(a, _), (b, _)| {
            let size = |i: &Item| std::cmp::Reverse((i.body, i.amps()));
            (size(a), &a.id).cmp(&(size(b), &b.id))
        });
        let installed = self.installed(&rules.installed);
        let mut zones: BTreeMap<&str, usize> = BTreeMap::new();
        let mut separate = std::collections::BTreeSet::new();
        for (a, b) in &rules.separate {
            if a == b {
                let (what, zone) = (self.what.clone(), a.clone());
                self.faults.push(SupplyFault::SelfSeparate { what, zone });
            }
            let mut index = |zone| {
                let next = zones.len();
                *zones.entry(zone).or_insert(next)
            };
            let (a, b) = (index(a.as_str()), index(b.as_str()));
            separate.insert((a.min(b), a.max(b)));
        }
        for (item, zone) in &mut self.items {
            item.zone = zones.get(zone.as_str()).copied().unwrap_or(usize::MAX);
        }
        for (at, one) in installed.iter().enumerate() {
            let kept: Vec<usize> = self
                .items
                .iter()
                .filter(|(i, _)| i.fixed == Some(at))
                .map(|(i, _)| i.zone)
                .collect();
            if !super::fit::apart(&kept, &separate) {
                let (what, name) = (self.what.clone(), one.name.clone());
                let limit = "separate zones";
                self.faults
                    .push(SupplyFault::Overloaded { what, name, limit });
            }
        }
        for (item, _) in &self.items {
            let holds = |kind: &Kind| {
                (kind.volts.0..=kind.volts.1).contains(&item.group.2)
                    && item.body <= kind.body
                    && least_outputs(&item.parts, kind.output, kind.outputs as usize)
                        .outputs
                        .is_some()
            };
            let placed = item.fixed.is_some() || self.kinds.iter().any(holds);
            if !placed {
                self.faults.push(SupplyFault::NoKind {
                    what: self.what.clone(),
                    load: item.id.clone(),
                    place: item.group.0.clone(),
                });
            }
        }
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        Ok(CheckedSupply {
            what: self.what,
            words: self.words,
            items: self.items.into_iter().map(|(item, _)| item).collect(),
            kinds: self.kinds,
            installed,
            rooms: rules
                .rooms
                .iter()
                .map(|r| (r.place.clone(), r.most))
                .collect(),
            separate,
            signals: self.signals,
            spares: rules.spares,
            effort: rules.effort,
        })
    }
}
