//! Every fault of a network at once.

use super::error::{NetworkError, NetworkErrors};
use super::plan::Network;
use super::spec::{LawId, Limit, NetworkSpec, NodeId};
use super::tape::{Along, MOST_EMITTERS, RailSpec, TapeSpec};
use rustc_hash::FxHashSet;
use std::collections::BTreeSet;

/// Most nodes of the wiring, links, sources or single loads.
pub const MOST_PARTS: usize = 1_000_000;
/// Most cells of all tapes times their lit rails.
pub const MOST_RAIL_CELLS: usize = 8_000_000;
/// Most faults reported.
pub const MOST_FAULTS: usize = 1000;
/// Below this resistance, ohm, two points are one.
pub(super) const JOINED_OHMS: f64 = 1e-15;
/// Above this resistance, ohm, a link is open.
pub(super) const OPEN_OHMS: f64 = 1e18;

impl NetworkSpec {
    /// Checks everything and prepares the network for solving.
    ///
    /// Time and memory: linear in cells × rails; for the wiring, those of a
    /// least-degree elimination (linear where it is nearly a tree).
    /// # Errors
    /// Every fault found, at most [`MOST_FAULTS`], as one error.
    /// # Example
    /// ```
    /// use evenrun::network::*;
    /// use evenrun::quantity::*;
    /// let mut spec = NetworkSpec::new();
    /// let (plus, minus) = (spec.node("plus"), spec.node("plus"));
    /// spec.stiff_source("supply", plus, minus, volts(-24.0));
    /// let faults = spec.check().unwrap_err();
    /// assert_eq!(faults.0.len(), 2);
    /// assert!(faults.to_string().contains("the set point (V) is -24"));
    /// ```
    pub fn check(self) -> Result<Network, NetworkErrors> {
        let mut faults = Faults(Vec::new());
        self.check_sizes(&mut faults);
        if faults.0.is_empty() {
            self.check_names(&mut faults);
            self.check_wiring(&mut faults);
            for tape in &self.tapes {
                self.check_tape(tape, &mut faults);
            }
        }
        if faults.0.is_empty() {
            super::conflict::check(&self, &mut faults.0);
        }
        if faults.0.is_empty() {
            Ok(Network::prepare(self)?)
        } else {
            Err(NetworkErrors(faults.0))
        }
    }

    fn check_sizes(&self, faults: &mut Faults) {
        let mut cap = |what, found: usize, most: usize| {
            if found > most {
                faults.push(NetworkError::TooLarge {
                    place: "network".into(),
                    what,
                    found,
                    most,
                });
            }
        };
        cap("nodes", self.nodes.len(), MOST_PARTS);
        cap("links", self.links.len(), MOST_PARTS);
        cap("sources", self.sources.len(), MOST_PARTS);
        cap("single loads", self.loads.len(), MOST_PARTS);
        cap("load laws", self.laws.len(), MOST_PARTS);
        cap("tapes", self.tapes.len(), MOST_PARTS);
        let rail_cells = self
            .tapes
            .iter()
            .map(|t| t.cells.saturating_mul(t.emitters.len().saturating_add(1)));
        cap(
            "cells times rails",
            rail_cells.fold(0, usize::saturating_add),
            MOST_RAIL_CELLS,
        );
        if self.sources.is_empty() {
            faults.push(NetworkError::Missing {
                place: "network".into(),
                what: "no source. Add a source",
            });
        }
    }

    fn check_names(&self, faults: &mut Faults) {
        unique("node", self.nodes.iter().map(|n| n.name.as_str()), faults);
        unique("link", self.links.iter().map(|n| n.name.as_str()), faults);
        unique(
            "source",
            self.sources.iter().map(|n| n.name.as_str()),
            faults,
        );
        unique(
            "single load",
            self.loads.iter().map(|n| n.name.as_str()),
            faults,
        );
        unique("tape", self.tapes.iter().map(|n| n.name.as_str()), faults);
    }

    fn check_wiring(&self, faults: &mut Faults) {
        for link in &self.links {
            let place = || format!("link `{}`", link.name);
            self.known_node(link.from, &place, faults);
            self.known_node(link.to, &place, faults);
            resistance(link.resistance.value, &place, faults);
        }
        for source in &self.sources {
            let place = || format!("source `{}`", source.name);
            self.known_node(source.plus, &place, faults);
            self.known_node(source.minus, &place, faults);
            if source.plus == source.minus {
                faults.push(NetworkError::Missing {
                    place: place(),
                    what: "both terminals on one node. Give them two nodes",
                });
            }
            faults.range(
                place,
                "the set point (V)",
                source.set_point.value,
                1e-6,
                1e6,
                "1 uV to 1 MV",
            );
            faults.range(
                place,
                "the tolerance",
                source.tolerance.value,
                0.0,
                0.5,
                "0 to 0.5",
            );
            faults.range(
                place,
                "the output resistance (ohm)",
                source.output_resistance.value,
                0.0,
                1e9,
                "0 ohm to 1 Gohm",
            );
            let limit = match source.limit {
                Limit::None => 1.0,
                Limit::ConstantCurrent(i)
                | Limit::FoldBack(i)
                | Limit::Hiccup(i)
                | Limit::Trip(i) => i.value,
            };
            faults.range(
                place,
                "the current limit (A)",
                limit,
                1e-9,
                1e6,
                "1 nA to 1 MA",
            );
        }
        for load in &self.loads {
            let place = || format!("single load `{}`", load.name);
            self.known_node(load.plus, &place, faults);
            self.known_node(load.minus, &place, faults);
            self.known_law(load.law, &place, faults);
        }
    }

    fn check_tape(&self, tape: &TapeSpec, faults: &mut Faults) {
        let place = || format!("tape `{}`", tape.name);
        if tape.cells == 0 {
            faults.push(NetworkError::Missing {
                place: place(),
                what: "no cell. A tape has at least one cell; leave the tape out",
            });
            return;
        }
        if !(1..=MOST_EMITTERS).contains(&tape.emitters.len()) {
            let (found, most) = (tape.emitters.len(), MOST_EMITTERS);
            faults.push(if found == 0 {
                NetworkError::Missing {
                    place: place(),
                    what: "no emitter. Give at least one",
                }
            } else {
                NetworkError::TooLarge {
                    place: place(),
                    what: "emitters",
                    found,
                    most,
                }
            });
        }
        unique(
            "emitter",
            tape.emitters.iter().map(|e| e.name.as_str()),
            faults,
        );
        self.check_rail(
            &tape.common,
            tape.cells,
            &|| format!("tape `{}`, common rail", tape.name),
            faults,
        );
        for emitter in &tape.emitters {
            let place = || format!("tape `{}`, emitter `{}`", tape.name, emitter.name);
            self.check_rail(&emitter.rail, tape.cells, &place, faults);
            self.known_law(emitter.law, &place, faults);
            let mut seen = BTreeSet::new();
            for &(cell, law) in &emitter.exceptions {
                self.known_law(law, &place, faults);
                if cell >= tape.cells {
                    faults.push(NetworkError::Unknown {
                        place: place(),
                        what: "cell",
                        found: cell,
                        count: tape.cells,
                    });
                } else if !seen.insert(cell) {
                    faults.push(NetworkError::DuplicateCell {
                        place: place(),
                        cell,
                    });
                }
            }
        }
    }

    fn check_rail(
        &self,
        rail: &RailSpec,
        cells: usize,
        place: &dyn Fn() -> String,
        faults: &mut Faults,
    ) {
        match &rail.links {
            Along::Uniform(r) => resistance(r.value, &place, faults),
            Along::Each(each) => {
                if each.len() != cells - 1 {
                    faults.push(NetworkError::LinkCount {
                        place: place(),
                        found: each.len(),
                        expected: cells - 1,
                    });
                }
                for r in each {
                    resistance(r.value, &place, faults);
                }
            }
        }
        for attachment in &rail.attachments {
            self.known_node(attachment.node, &place, faults);
            resistance(attachment.resistance.value, &place, faults);
            if attachment.cell >= cells {
                faults.push(NetworkError::Unknown {
                    place: place(),
                    what: "cell",
                    found: attachment.cell,
                    count: cells,
                });
            }
        }
    }

    fn known_node(&self, node: NodeId, place: &dyn Fn() -> String, faults: &mut Faults) {
        if node.0 >= self.nodes.len() {
            faults.push(NetworkError::Unknown {
                place: place(),
                what: "node",
                found: node.0,
                count: self.nodes.len(),
            });
        }
    }

    fn known_law(&self, law: LawId, place: &dyn Fn() -> String, faults: &mut Faults) {
        if law.0 >= self.laws.len() {
            faults.push(NetworkError::Unknown {
                place: place(),
                what: "load law",
                found: law.0,
                count: self.laws.len(),
            });
        }
    }
}

/// The faults so far, capped.
struct Faults(Vec<NetworkError>);

impl Faults {
    fn push(&mut self, fault: NetworkError) {
        if self.0.len() < MOST_FAULTS {
            self.0.push(fault);
        }
    }

    fn range(
        &mut self,
        place: impl Fn() -> String,
        what: &'static str,
        found: f64,
        low: f64,
        high: f64,
        accepted: &'static str,
    ) {
        if !(found >= low && found <= high) {
            self.push(NetworkError::OutOfRange {
                place: place(),
                what,
                found,
                accepted,
            });
        }
    }
}

/// A resistance: 0 ohm to infinity, not NaN.
fn resistance(ohms: f64, place: &dyn Fn() -> String, faults: &mut Faults) {
    if !(ohms >= 0.0) {
        let accepted = "0 ohm or more; infinite for an open link";
        faults.push(NetworkError::OutOfRange {
            place: place(),
            what: "the resistance (ohm)",
            found: ohms,
            accepted,
        });
    }
}

fn unique<'a>(what: &'static str, names: impl Iterator<Item = &'a str>, faults: &mut Faults) {
    let mut seen = FxHashSet::default();
    for name in names {
        if !seen.insert(name) {
            faults.push(NetworkError::DuplicateName {
                what,
                name: name.to_string(),
            });
        }
    }
}
