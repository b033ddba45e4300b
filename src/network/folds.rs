//! Which networks fold, and their copper as the folded solver needs it.
//!
//! Every tape has one lit emitter, no exceptions, no dark or broken stretch, loads that never fall, and links neither joined nor open. See
//! [`super::folded`] for what folding is.

use super::plan::{Section, TapePlan};
use super::spec::NetworkSpec;
use super::tape::{Along, RailSpec, TapeSpec};
use crate::load::Trend;
use std::ops::Range;

/// Least and most resistance of a loop link of a folded tape, ohm.
const LINK_OHMS: std::ops::RangeInclusive<f64> = 1e-12..=1e15;
/// Least resistance of a track from pad to pad, ohm: over a stiffer one the difference of potentials says nothing of the current.
const TRACK_OHMS: f64 = 1e-6;
/// Greatest difference of `ρ` that counts as none: less than the table of the law leaves.
const SHARE_SPREAD: f64 = 1e-13;

/// The folded tapes of a network, and their stretches in the order of the network's sections.
#[derive(Debug, Clone)]
pub(super) struct Folds {
    pub(super) tapes: Vec<FoldedTape>,
    pub(super) sections: Vec<Copper>,
    /// Loop and common-track resistances of tapes with a list of links, ohm.
    pub(super) loops: Vec<f64>,
    commons: Vec<f64>,
}

/// Loop link and its common track where all are the same; else their place in the lists.
#[derive(Debug, Clone, Copy)]
pub(super) struct FoldedTape {
    pub same: Option<(f64, f64)>,
    pub first: usize,
}

/// Tracks from pad to pad, ohm; nothing beyond the last pad.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Copper {
    pub common: f64,
    pub ret: f64,
}

impl Copper {
    pub fn share(self) -> f64 {
        self.ret / (self.common + self.ret)
    }
}

impl Folds {
    /// Loop resistance of a link and that of its common track, ohm.
    #[inline(always)]
    pub(super) fn ohms(&self, tape: FoldedTape, link: usize) -> (f64, f64) {
        tape.same.unwrap_or_else(|| {
            (
                self.loops[tape.first + link],
                self.commons[tape.first + link],
            )
        })
    }

    /// The folds of a network all of whose tapes fold.
    pub(super) fn of(spec: &NetworkSpec, tapes: &[TapePlan], sections: &[Section]) -> Option<Self> {
        let mut folds = Self {
            tapes: Vec::with_capacity(tapes.len()),
            sections: Vec::with_capacity(sections.len()),
            loops: Vec::new(),
            commons: Vec::new(),
        };
        for tape in tapes {
            folds.add(spec, tape)?;
        }
        for section in sections {
            if section.left.is_none() {
                folds.sections.push(Copper::default());
                continue;
            }
            let (tape, links) = (folds.tapes[section.tape], section.first - 1..);
            let mut copper = Copper::default();
            let shares = links.take(section.count + 1).map(|link| {
                let (both, common) = folds.ohms(tape, link);
                copper.common += common;
                copper.ret += both - common;
                common / both
            });
            let (low, high) = shares.fold((f64::INFINITY, 0.0), |(low, high): (f64, f64), s| {
                (low.min(s), high.max(s))
            });
            let stiff = copper.common.min(copper.ret) < TRACK_OHMS;
            if stiff || high - low > SHARE_SPREAD {
                return None;
            }
            folds.sections.push(copper);
        }
        Some(folds)
    }

    fn add(&mut self, spec: &NetworkSpec, plan: &TapePlan) -> Option<()> {
        let tape = &spec.tapes[plan.index];
        let (emitter, lit) = (
            tape.emitters.iter().find(|e| e.lit)?,
            plan.emitters.first()?,
        );
        let falls = spec.laws[lit.law].trend() == Trend::Falling;
        let odd = !lit.exceptions.is_empty() || !lit.dark.is_empty() || falls;
        if plan.rails != 2 || odd || plan.pads.is_empty() {
            return None;
        }
        let rails: [&RailSpec; 2] = [&tape.common, &emitter.rail];
        let first = self.loops.len();
        let same = match [&rails[0].links, &rails[1].links] {
            [Along::Uniform(c), Along::Uniform(r)] => Some((c.value + r.value, c.value)),
            links => {
                for link in 0..plan.cells - 1 {
                    let (c, r) = (links[0].get(link)?.value, links[1].get(link)?.value);
                    self.loops.push(c + r);
                    self.commons.push(c);
                }
                None
            }
        };
        let all = same.iter().map(|s| &s.0).chain(&self.loops[first..]);
        if plan.cells > 1 && !all.into_iter().all(|r| LINK_OHMS.contains(r)) {
            return None;
        }
        let folded = FoldedTape { same, first };
        for pads in plan.pads.windows(2).filter(|p| p[1].0 - p[0].0 == 1) {
            let (both, common) = self.ohms(folded, pads[0].0);
            if common.min(both - common) < TRACK_OHMS {
                return None;
            }
        }
        self.tapes.push(folded);
        Some(())
    }
}

/// Cells between the attachments `between` at which `ρ` changes: with a pad there, each stretch folds. None where they are too many to be worth it.
pub(super) fn changes(tape: &TapeSpec, between: Range<usize>) -> Vec<usize> {
    let mut lit = tape.emitters.iter().filter(|e| e.lit);
    let (Some(emitter), None) = (lit.next(), lit.next()) else {
        return Vec::new();
    };
    let rails = [&tape.common.links, &emitter.rail.links];
    if let [Along::Uniform(_), Along::Uniform(_)] = rails {
        return Vec::new();
    }
    let most = 4 + between.len() / 16;
    let (mut cells, mut before) = (Vec::new(), f64::NAN);
    for link in between {
        let [Some(common), Some(ret)] = rails.map(|r| r.get(link)) else {
            return Vec::new();
        };
        let share = common.value / (common.value + ret.value);
        if (share - before).abs() <= SHARE_SPREAD {
            continue;
        }
        if !before.is_nan() {
            cells.push(link);
        }
        if cells.len() > most {
            return Vec::new();
        }
        before = share;
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::load::{Load, Resistive};
    use crate::network::{Attachment, LawId, NodeId, Polarity};
    use crate::quantity::{celsius, ohms, volts};

    fn resistor(value: f64) -> crate::load::Law {
        let resistance = ohms(value);
        let load = Load::Resistive(Resistive { resistance });
        load.law(celsius(25.0)).expect("a law")
    }

    /// Two tapes as a plan lays them: a lead both ways, a switch on one side, cores of different length, a joint in the middle of the second.
    fn planned(change: impl FnOnce(&mut NetworkSpec)) -> NetworkSpec {
        let mut spec = NetworkSpec::new();
        let [plus, minus, bus, out] = ["plus", "minus", "bus", "out"].map(|n| spec.node(n));
        spec.stiff_source("supply", plus, minus, volts(24.0));
        spec.link("lead", plus, bus, ohms(0.02));
        spec.link("lead and switch", minus, out, ohms(0.05));
        let law = spec.law(resistor(1200.0));
        let rail = |track: f64, joint: f64, feeds: &[(usize, f64)], node: NodeId| RailSpec {
            links: Along::Each(
                (0..99)
                    .map(|k| ohms(track + if k == 50 { joint } else { 0.0 }))
                    .collect(),
            ),
            attachments: feeds
                .iter()
                .map(|&(cell, core)| Attachment::through(cell, node, ohms(core + track / 2.0)))
                .collect(),
        };
        let mut tape = |name: &str, feeds: &[(usize, f64)], joint: f64| {
            let rails = [
                rail(0.004, joint, feeds, bus),
                rail(0.006, 2.0 * joint, feeds, out),
            ];
            let lit = |r: usize| rails[r].clone();
            spec.tape(TapeSpec::lit(name, Polarity::CommonPlus, 100, &[law], lit));
        };
        tape("one end", &[(0, 0.3)], 0.01);
        tape("both ends", &[(0, 0.3), (99, 0.4)], 0.01);
        change(&mut spec);
        spec
    }

    #[test]
    fn what_plans_lay_folds() {
        let network = planned(|_| {}).check().expect("a network");
        let folds = network.folds.as_ref().expect("folded");
        // One stretch beyond the pad, and two between pads with the joint's link between them.
        assert_eq!(folds.sections.len(), 3);
        assert_eq!(
            network.tapes[1]
                .pads
                .iter()
                .map(|p| p.0)
                .collect::<Vec<_>>(),
            [0, 50, 51, 99]
        );
    }

    #[test]
    fn what_does_not_fold_takes_the_general_path() {
        let exception =
            |spec: &mut NetworkSpec| spec.tapes[0].emitters[0].exceptions = vec![(0, LawId(0))];
        let stiff = |spec: &mut NetworkSpec| spec.tapes[0].common.links = Along::Uniform(ohms(0.0));
        let broken = |spec: &mut NetworkSpec| {
            spec.tapes[0].common.links = Along::Uniform(ohms(f64::INFINITY))
        };
        assert!(
            planned(exception)
                .check()
                .expect("a network")
                .folds
                .is_none()
        );
        assert!(planned(stiff).check().expect("a network").folds.is_some());
        assert!(planned(broken).check().expect("a network").folds.is_none());
    }
}
