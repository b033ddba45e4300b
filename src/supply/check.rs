//! From specs to whole numbers, with every fault of a spec at once.

use super::fit::{Part, least_outputs};
use super::spec::{DecoderProblem, Installed, Rules, SupplyProblem};
use std::collections::BTreeMap;
use thiserror::Error;

/// Loads one problem may have.
pub const MOST_LOADS: usize = 10_000;
/// Kinds, installed bodies, rooms or separations one problem may have.
pub const MOST_ENTRIES: usize = 1_000;
/// Highest price, minor units.
pub const MOST_PRICE: u64 = 1_000_000_000;
/// Most outputs of one body.
pub const MOST_OUTPUTS: u32 = 512;

/// A limit that an assignment keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Limit {
    /// Derated power times the load factor (supplies), current of the body (decoders).
    Body,
    /// Current of one output, and the number of outputs.
    Outputs,
    /// Zones that never share.
    Separation,
    /// Bodies that a place holds.
    Room,
}

/// A fault of a [`SupplyProblem`] or [`DecoderProblem`].
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SupplyFault {
    /// A figure out of range.
    #[error("{what}: {place} is {found}; it must be {accepted}")]
    Figure {
        /// What is supplied.
        what: String,
        /// Which figure.
        place: String,
        /// Its value in the base unit.
        found: String,
        /// What is accepted.
        accepted: &'static str,
    },
    /// A name used twice.
    #[error("{what}: the name `{name}` is used twice among the {among}; give each its own")]
    Twice {
        /// What is supplied.
        what: String,
        /// Loads, kinds or installed.
        among: &'static str,
        /// The name.
        name: String,
    },
    /// A name that means nothing.
    #[error("{what}: `{by}` names {of} `{name}`, which is not listed; list it or mend the name")]
    Unknown {
        /// What is supplied.
        what: String,
        /// Who names it.
        by: String,
        /// Load or kind.
        of: &'static str,
        /// The name.
        name: String,
    },
    /// A load that no body may carry.
    #[error(
        "{what}: load `{load}` at `{place}` fits no kind even alone, by voltage, power, current or \
         outputs; list a larger kind or part the load"
    )]
    NoKind {
        /// What is supplied.
        what: String,
        /// The load.
        load: String,
        /// Its place.
        place: String,
    },
    /// Loads fixed to a body that cannot carry them.
    #[error("{what}: the loads fixed to `{name}` break its limit of {limit}; move one of them")]
    Overloaded {
        /// What is supplied.
        what: String,
        /// The installed body.
        name: String,
        /// Which limit, in words.
        limit: &'static str,
    },
    /// A zone separate from itself.
    #[error("{what}: zone `{zone}` is listed as separate from itself; name two zones")]
    SelfSeparate {
        /// What is supplied.
        what: String,
        /// The zone.
        zone: String,
    },
    /// Too many entries.
    #[error("{what}: {found} {of}, and at most {most} are taken; plan in parts")]
    TooMany {
        /// What is supplied.
        what: String,
        /// Of what.
        of: &'static str,
        /// How many.
        found: usize,
        /// Limit.
        most: usize,
    },
}

/// A problem without faults, in whole units.
#[derive(Debug, Clone)]
pub struct CheckedSupply {
    pub(super) what: String,
    pub(super) words: &'static str,
    pub(super) items: Vec<Item>,
    pub(super) kinds: Vec<Kind>,
    pub(super) installed: Vec<Present>,
    pub(super) rooms: BTreeMap<String, u32>,
    pub(super) separate: std::collections::BTreeSet<(usize, usize)>,
    pub(super) signals: Vec<Option<(String, String)>>,
    pub(super) spares: super::Spares,
    pub(super) effort: u64,
}

/// Loads that may share a body: place, emergency, millivolts.
pub(super) type Group = (String, bool, u64);

#[derive(Debug, Clone)]
pub(super) struct Item {
    pub id: String,
    pub group: Group,
    pub body: u64,
    pub parts: Vec<Part>,
    /// Zone, where it is separate from any; else `usize::MAX`.
    pub zone: usize,
    /// Index into [`CheckedSupply::installed`] it is fixed to.
    pub fixed: Option<usize>,
}

impl Item {
    pub fn amps(&self) -> u64 {
        self.parts.iter().map(|p| p.microamps).sum()
    }
}

#[derive(Debug, Clone)]
pub(super) struct Kind {
    pub name: String,
    /// Millivolts, lowest and highest.
    pub volts: (u64, u64),
    pub body: u64,
    pub outputs: u32,
    pub output: u64,
    pub price: u64,
}

#[derive(Debug, Clone)]
pub(super) struct Present {
    pub name: String,
    pub kind: usize,
    pub group: Group,
}

/// Millionths, to the nearest; loads are then sums without rounding.
fn micro(x: f64) -> u64 {
    libm::round(x * 1e6) as u64
}

fn milli(x: f64) -> u64 {
    libm::round(x * 1e3) as u64
}

struct Draft {
    what: String,
    words: &'static str,
    items: Vec<(Item, String)>,
    kinds: Vec<Kind>,
    signals: Vec<Option<(String, String)>>,
    faults: Vec<SupplyFault>,
}

impl Draft {
    fn figure(&mut self, place: String, value: f64, low: f64, high: f64, accepted: &'static str) {
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

    fn current(&mut self, place: String, value: f64) {
        self.figure(place, value, 0.0, 1e5, "above 0 A and at most 100 000 A");
    }

    fn volts(&mut self, place: String, value: f64) {
        self.figure(place, value, 0.0, 1e4, "above 0 V and at most 10 000 V");
    }

    fn sizes(&mut self, loads: usize, kinds: usize, rules: &Rules) {
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

    fn kind(&mut self, name: &str, outputs: u32, price: u64) {
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

    fn finish(mut self, rules: &Rules) -> Result<CheckedSupply, Vec<SupplyFault>> {
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

impl SupplyProblem {
    /// Checks the problem.
    ///
    /// # Errors
    /// Every [`SupplyFault`] of it.
    pub fn check(self) -> Result<CheckedSupply, Vec<SupplyFault>> {
        let mut draft = Draft {
            what: self.what,
            words: "loads to supplies",
            items: Vec::new(),
            kinds: Vec::new(),
            signals: vec![None],
            faults: Vec::new(),
        };
        draft.sizes(self.loads.len(), self.kinds.len(), &self.rules);
        if !draft.faults.is_empty() {
            return Err(draft.faults);
        }
        let factor = self.load_factor.value;
        draft.figure(
            "the load factor".into(),
            factor,
            0.0,
            1.0,
            "above 0 and at most 1",
        );
        for load in self.loads {
            draft.volts(format!("voltage of `{}`", load.id), load.volts.value);
            draft.current(format!("current of `{}`", load.id), load.current.value);
            let (place, watts) = (format!("power of `{}`", load.id), load.power.value);
            draft.figure(place, watts, 0.0, 1e7, "above 0 W and at most 10 MW");
            let microamps = micro(load.current.value).max(1);
            let item = Item {
                id: load.id,
                group: (load.place, load.emergency, milli(load.volts.value)),
                body: micro(watts).max(1),
                parts: vec![Part {
                    signal: 0,
                    microamps,
                }],
                zone: usize::MAX,
                fixed: None,
            };
            draft.items.push((item, load.zone));
        }
        for kind in self.kinds {
            draft.volts(format!("voltage of `{}`", kind.name), kind.volts.value);
            draft.current(
                format!("output current of `{}`", kind.name),
                kind.output_current.value,
            );
            let (place, watts) = (format!("power of `{}`", kind.name), kind.power.value);
            draft.figure(place, watts, 0.0, 1e7, "above 0 W and at most 10 MW");
            let (place, left) = (format!("derating of `{}`", kind.name), kind.derating.value);
            draft.figure(place, left, 0.0, 1.0, "above 0 and at most 1");
            draft.kind(&kind.name, kind.outputs, kind.price);
            let volts = milli(kind.volts.value);
            draft.kinds.push(Kind {
                name: kind.name,
                volts: (volts, volts),
                body: micro(watts * left * factor),
                outputs: kind.outputs,
                output: micro(kind.output_current.value),
                price: kind.price,
            });
        }
        draft.finish(&self.rules)
    }
}

impl DecoderProblem {
    /// Checks the problem.
    ///
    /// # Errors
    /// Every [`SupplyFault`] of it.
    pub fn check(self) -> Result<CheckedSupply, Vec<SupplyFault>> {
        let mut draft = Draft {
            what: self.what,
            words: "loads to outputs of decoders",
            items: Vec::new(),
            kinds: Vec::new(),
            signals: Vec::new(),
            faults: Vec::new(),
        };
        draft.sizes(self.loads.len(), self.kinds.len(), &self.rules);
        if !draft.faults.is_empty() {
            return Err(draft.faults);
        }
        let mut signals: BTreeMap<(String, String), usize> = BTreeMap::new();
        for load in self.loads {
            draft.volts(format!("voltage of `{}`", load.id), load.volts.value);
            let place = format!("the number of emitters of `{}`", load.id);
            draft.figure(place, load.emitters.len() as f64, 0.0, 16.0, "from 1 to 16");
            let mut parts = Vec::new();
            for (emitter, current) in load.emitters.into_iter().take(16) {
                draft.current(
                    format!("current of `{emitter}` of `{}`", load.id),
                    current.value,
                );
                let next = signals.len();
                let signal = *signals.entry((load.zone.clone(), emitter)).or_insert(next);
                parts.push(Part {
                    signal,
                    microamps: micro(current.value).max(1),
                });
            }
            let item = Item {
                id: load.id,
                group: (load.place, load.emergency, milli(load.volts.value)),
                body: parts.iter().map(|p| p.microamps).sum(),
                parts,
                zone: usize::MAX,
                fixed: None,
            };
            draft.items.push((item, load.zone));
        }
        // Numbered by name, so that the order of the list leaves no trace.
        let mut number = vec![0; signals.len()];
        for (rank, (name, first)) in signals.into_iter().enumerate() {
            if let Some(slot) = number.get_mut(first) {
                *slot = rank;
            }
            draft.signals.push(Some(name));
        }
        for part in draft
            .items
            .iter_mut()
            .flat_map(|(item, _)| item.parts.iter_mut())
        {
            part.signal = number.get(part.signal).copied().unwrap_or(0);
        }
        for kind in self.kinds {
            let (low, high) = (kind.volts.0.value, kind.volts.1.value);
            draft.volts(format!("lowest voltage of `{}`", kind.name), low);
            draft.volts(format!("highest voltage of `{}`", kind.name), high);
            draft.current(
                format!("output current of `{}`", kind.name),
                kind.output_current.value,
            );
            draft.current(
                format!("body current of `{}`", kind.name),
                kind.body_current.value,
            );
            draft.kind(&kind.name, kind.outputs, kind.price);
            draft.kinds.push(Kind {
                name: kind.name,
                volts: (milli(low), milli(high)),
                body: micro(kind.body_current.value),
                outputs: kind.outputs,
                output: micro(kind.output_current.value),
                price: kind.price,
            });
        }
        draft.finish(&self.rules)
    }
}
