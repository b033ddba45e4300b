//! From specs to whole numbers, with every fault of a spec at once.

use super::draft::{Draft, Listed, item, micro, milli};
use super::fault::SupplyFault;
use super::outputs::Part;
use super::spec::{DecoderProblem, SupplyProblem};
use std::collections::BTreeMap;

/// Loads one problem may have.
pub const MOST_LOADS: usize = 10_000;
/// Kinds, installed units, rooms or separations one problem may have.
pub const MOST_ENTRIES: usize = 1_000;
/// Highest price, minor units.
pub use crate::quantity::MOST_PRICE;
/// Most outputs of one unit.
pub const MOST_OUTPUTS: u32 = 512;

/// A limit that an assignment keeps.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Limit {
    /// Derated power times the load factor (supplies), current of the unit (decoders).
    Unit,
    /// Current of one output, and the number of outputs.
    Outputs,
    /// Zones that never share.
    Separation,
    /// Units that a place holds.
    Room,
}

/// A problem without faults, in whole units.
#[derive(Debug, Clone)]
pub struct CheckedSupply {
    pub(super) what: String,
    pub(super) words: &'static str,
    pub(super) items: Vec<Item>,
    pub(super) kinds: Vec<Kind>,
    pub(super) installed: Vec<Present>,
    /// Places with what their rooms hold, by name.
    pub(super) places: Vec<(String, Option<u32>)>,
    /// Loads of one group may share a unit; by place, emergency, voltage.
    pub(super) groups: Vec<Group>,
    pub(super) separate: std::collections::BTreeSet<(usize, usize)>,
    pub(super) signals: Vec<Option<(String, String)>>,
    pub(super) spares: super::Spares,
    pub(super) effort: u64,
}

/// Place, emergency, millivolts, as they are named.
pub(super) type Tag = (String, bool, u64);

/// Loads that may share a unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Group {
    /// Index into [`CheckedSupply::places`].
    pub place: usize,
    pub emergency: bool,
    pub millivolts: u64,
}

#[derive(Debug, Clone)]
pub(super) struct Item {
    pub id: String,
    /// Index into [`CheckedSupply::groups`].
    pub group: usize,
    /// Loads of one class are alike; classes are numbered in the order in which they are placed.
    pub class: usize,
    pub whole: u64,
    /// All its currents.
    pub amps: u64,
    /// Sorted by signal, largest first.
    pub parts: Vec<Part>,
    /// Zone, where it is separate from any; else `usize::MAX`.
    pub zone: usize,
    /// Index into [`CheckedSupply::installed`] it is fixed to.
    pub fixed: Option<usize>,
}

#[derive(Debug, Clone)]
pub(super) struct Kind {
    pub name: String,
    /// Millivolts, lowest and highest.
    pub volts: (u64, u64),
    pub whole: u64,
    pub outputs: u32,
    pub output: u64,
    pub price: u64,
}

#[derive(Debug, Clone)]
pub(super) struct Present {
    pub name: String,
    pub kind: usize,
    /// Index into [`CheckedSupply::groups`].
    pub group: usize,
}

impl SupplyProblem {
    /// Checks the problem.
    ///
    /// # Errors
    /// Every [`SupplyFault`] of it.
    pub fn check(self) -> Result<CheckedSupply, Vec<SupplyFault>> {
        let mut draft = Draft {
            what: self.what,
            words: "supplies",
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
            let parts = vec![Part {
                signal: 0,
                microamps,
            }];
            draft.items.push(Listed {
                item: item(load.id, micro(watts).max(1), parts),
                tag: (load.place, load.emergency, milli(load.volts.value)),
                zone: load.zone,
            });
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
                whole: micro(watts * left * factor),
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
            words: "outputs of decoders",
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
            let unit = parts.iter().map(|p| p.microamps).sum();
            draft.items.push(Listed {
                item: item(load.id, unit, parts),
                tag: (load.place, load.emergency, milli(load.volts.value)),
                zone: load.zone,
            });
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
            .flat_map(|listed| listed.item.parts.iter_mut())
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
                format!("unit current of `{}`", kind.name),
                kind.total_current.value,
            );
            draft.kind(&kind.name, kind.outputs, kind.price);
            draft.kinds.push(Kind {
                name: kind.name,
                volts: (milli(low), milli(high)),
                whole: micro(kind.total_current.value),
                outputs: kind.outputs,
                output: micro(kind.output_current.value),
                price: kind.price,
            });
        }
        draft.finish(&self.rules)
    }
}
