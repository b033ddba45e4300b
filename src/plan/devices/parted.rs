//! Every way to part dimmed segments among decoders.
//!
//! ```text
//!  segments of a zone at a place    a b c        ab│c     what a decoder may pass, on as many of its
//!                                   a│b│c  abc   ac│b     outputs as the emitters need, decides
//!                                                bc│a     which ways hold, and through which kind
//! ```
//! Few segments only: the ways grow faster than powers. [`decoder_units`](super::decoder_units) finds the cheapest by itself for
//! any number of segments; here are also those that cost more and may need cheaper supplies.

use super::decoders::installed;
use super::driven::{Driven, outputs};
use super::{SegmentWork, permitted_power};
use crate::device::DecoderSpec;
use crate::job::Job;
use crate::job::spec::{Control, InstalledSpec};
use crate::plan::{costing, feeding, fixed, kinds};
use std::collections::{BTreeMap, BTreeSet};

/// Most kinds of decoder where one of each stands by: every set of kinds is tried.
const MOST_KINDS: usize = 10;
/// Most segments of a zone at a place: as many as a word has bits.
const MOST_SEGMENTS: usize = 64;

/// One way to part the segments.
#[derive(Debug, Clone)]
pub(in crate::plan) struct Parting<'j> {
    /// Decoders that are bought, and those that stand by, minor units.
    pub cost: i64,
    pub decoders: Vec<Driven<'j>>,
}

/// Segments of one zone at one place.
struct Group<'j> {
    zone: usize,
    place: usize,
    own: Vec<usize>,
    kinds: Vec<&'j DecoderSpec>,
    /// What the supplies bear there: current of an output, watts.
    supplies: Vec<(f64, f64)>,
    installed: Vec<&'j InstalledSpec>,
}

/// A decoder while segments are dealt out: the cheapest kind that bears what is on it.
#[derive(Debug, Clone, Copy)]
struct Open {
    group: usize,
    kind: usize,
    installed: Option<usize>,
    /// Segments of the group on it.
    held: u64,
}

/// Segments to be parted.
pub(in crate::plan) struct Parts<'j, 's> {
    job: &'j Job,
    segments: &'s [SegmentWork],
    groups: Vec<Group<'j>>,
    /// Group and place in it of each segment, in the order in which they are dealt out.
    order: Vec<(usize, usize)>,
    /// Whether a kind bears some segments, where that is known.
    known: BTreeMap<(usize, usize, u64), bool>,
    steps: u64,
}

/// Partings found: costing less than `most`.
struct Walk<'j> {
    most: i64,
    /// Only what is cheaper than all before.
    falling: bool,
    found: Vec<Parting<'j>>,
}

/// The steps were spent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::plan) struct Spent;

impl<'j, 's> Parts<'j, 's> {
    /// None where there are too many to part.
    pub fn new(job: &'j Job, segments: &'s [SegmentWork], steps: u64) -> Option<Self> {
        let mut by: BTreeMap<(usize, usize), Vec<usize>> = BTreeMap::new();
        for (number, segment) in segments.iter().enumerate() {
            if job.zones()[segment.zone].control != Control::Switched {
                by.entry((segment.place, segment.zone))
                    .or_default()
                    .push(number);
            }
        }
        let mut groups = Vec::new();
        for ((place, zone), mut own) in by {
            let (spec, at) = (&job.zones()[zone], &job.places()[place]);
            let kinds = kinds::decoders(job, spec, at);
            if own.len() > MOST_SEGMENTS || at.standby.decoders() && kinds.len() > MOST_KINDS {
                return None;
            }
            own.sort_by(|a, b| {
                let draws = |s: &usize| segments[*s].draw.current;
                draws(b).total_cmp(&draws(a)).then(a.cmp(b))
            });
            groups.push(Group {
                installed: installed(job, zone, place, &kinds),
                supplies: kinds::supplies(job, spec, at)
                    .into_iter()
                    .map(|s| {
                        let power = permitted_power(job, s, at) * feeding::BESIDE;
                        (s.output_current.value, power)
                    })
                    .collect(),
                zone,
                place,
                own,
                kinds,
            });
        }
        let all = groups.iter().enumerate();
        let order = all.flat_map(|(g, group)| (0..group.own.len()).map(move |at| (g, at)));
        Some(Self {
            job,
            segments,
            order: order.collect(),
            groups,
            known: BTreeMap::new(),
            steps,
        })
    }

    /// The cheapest decoders, none where no kind bears some segment.
    pub fn cheapest(&mut self) -> Result<Option<Parting<'j>>, Spent> {
        let mut walk = Walk {
            most: i64::MAX,
            falling: true,
            found: Vec::new(),
        };
        self.deal(&mut self.there(), 0, 0, &mut walk)?;
        Ok(walk.found.pop())
    }

    /// Every way that costs less than `most`, cheapest first.
    pub fn below(&mut self, most: i64) -> Result<Vec<Parting<'j>>, Spent> {
        let mut walk = Walk {
            most,
            falling: false,
            found: Vec::new(),
        };
        self.deal(&mut self.there(), 0, 0, &mut walk)?;
        walk.found.sort_by_key(|p| p.cost);
        Ok(walk.found)
    }

    /// What is there already, empty.
    fn there(&self) -> Vec<Open> {
        let mut open = Vec::new();
        for (group, own) in self.groups.iter().enumerate() {
            for (number, installed) in own.installed.iter().enumerate() {
                let named = |d: &&DecoderSpec| d.name == installed.kind.name();
                open.extend(own.kinds.iter().position(named).map(|kind| Open {
                    group,
                    kind,
                    installed: Some(number),
                    held: 0,
                }));
            }
        }
        open
    }

    /// Deals out the segments from the place `at` of the order on.
    fn deal(
        &mut self,
        open: &mut Vec<Open>,
        at: usize,
        cost: i64,
        walk: &mut Walk<'j>,
    ) -> Result<(), Spent> {
        self.steps = self.steps.checked_sub(1).ok_or(Spent)?;
        if cost >= walk.most {
            return Ok(());
        }
        let Some(&(group, number)) = self.order.get(at) else {
            self.keep(open, walk);
            return Ok(());
        };
        let bit = 1_u64 << number;
        let own = &self.groups[group];
        let id = &self.segments[own.own[number]].id;
        let stays = own.installed.iter().position(|i| i.serves.contains(id));
        for slot in 0..open.len() {
            let before = open[slot];
            if before.group != group || stays.is_some() && before.installed != stays {
                continue;
            }
            let held = before.held | bit;
            let kind = match before.installed {
                Some(_) => Some(before.kind).filter(|kind| self.bears(group, *kind, held)),
                None => self.cheapest_kind(group, before.kind, held),
            };
            let Some(kind) = kind else { continue };
            let more = match before.installed {
                Some(_) => 0,
                None => self.price(group, kind) - self.price(group, before.kind),
            };
            open[slot] = Open {
                kind,
                held,
                ..before
            };
            self.deal(open, at + 1, cost + more, walk)?;
            open[slot] = before;
        }
        if stays.is_none()
            && let Some(kind) = self.cheapest_kind(group, 0, bit)
        {
            open.push(Open {
                group,
                kind,
                installed: None,
                held: bit,
            });
            let more = self.price(group, kind);
            self.deal(open, at + 1, cost + more, walk)?;
            open.pop();
        }
        Ok(())
    }

    fn price(&self, group: usize, kind: usize) -> i64 {
        costing::at_least(self.groups[group].kinds[kind].price)
    }

    /// The cheapest kind that bears some segments, from a kind on: they are in the order of their prices.
    fn cheapest_kind(&mut self, group: usize, from: usize, held: u64) -> Option<usize> {
        (from..self.groups[group].kinds.len()).find(|kind| self.bears(group, *kind, held))
    }

    fn bears(&mut self, group: usize, kind: usize, held: u64) -> bool {
        if let Some(known) = self.known.get(&(group, kind, held)) {
            return *known;
        }
        let own = &self.groups[group];
        let draws: Vec<_> = on(own, held).map(|s| &self.segments[s].draw).collect();
        let current: f64 = draws.iter().map(|d| d.current).sum();
        let watts: f64 = draws.iter().map(|d| d.watts).sum();
        let spec = own.kinds[kind];
        let passes = current <= spec.total_current.value.min(spec.terminal_current.value);
        let hangs = own
            .supplies
            .iter()
            .any(|(amps, power)| current <= *amps && watts <= *power);
        let bears = passes
            && hangs
            && outputs(self.segments, &on(own, held).collect::<Vec<_>>(), spec).is_some();
        self.known.insert((group, kind, held), bears);
        bears
    }

    /// Installed decoders that may be dealt to.
    fn asked(&self) -> BTreeSet<&'j str> {
        let all = self.groups.iter().flat_map(|group| &group.installed);
        all.map(|own| own.name.as_str()).collect()
    }

    /// Keeps a way if the places have room for it.
    fn keep(&mut self, open: &[Open], walk: &mut Walk<'j>) {
        let mut cost = 0;
        let mut decoders = Vec::new();
        let mut room: BTreeMap<usize, usize> = BTreeMap::new();
        for group in 0..self.groups.len() {
            let group_at = group;
            let own: Vec<Open> = open
                .iter()
                .filter(|o| o.group == group && o.held > 0)
                .copied()
                .collect();
            let place = self.groups[group].place;
            let (own_cost, kinds, standby) = if self.job.places()[place].standby.decoders() {
                self.with_standby(group, &own)
            } else {
                let bought = own.iter().filter(|o| o.installed.is_none());
                let cost = bought.map(|o| self.price(group, o.kind)).sum();
                (cost, own.iter().map(|o| o.kind).collect(), 0)
            };
            cost += own_cost;
            let here = open.iter().filter(|o| o.group == group_at);
            let idle = here
                .filter(|o| o.held == 0 && o.installed.is_some())
                .count();
            *room.entry(place).or_default() += own.len() + standby + idle;
            let group = &self.groups[group];
            decoders.extend(own.iter().zip(kinds).map(|(open, kind)| {
                let mut segments: Vec<usize> = on(group, open.held).collect();
                segments.sort_unstable();
                Driven {
                    spec: group.kinds[kind],
                    zone: group.zone,
                    place,
                    installed: open.installed.map(|at| group.installed[at]),
                    segments,
                }
            }));
        }
        let roomy = room.iter().all(|(place, count)| {
            let most = self.job.places()[*place].most_decoders;
            let others = || fixed::idle_at(self.job, *place, true, &self.asked());
            most.is_none_or(|most| *count + others() <= most as usize)
        });
        if !roomy || cost >= walk.most {
            return;
        }
        if walk.falling {
            walk.most = cost;
            walk.found.clear();
        }
        decoders.sort_by(|a, b| a.segments.cmp(&b.segments));
        walk.found.push(Parting { cost, decoders });
    }

    /// Kinds where one of each in use stands by: the cheapest over all sets of kinds. Cost, kinds, number
    /// that stand by.
    fn with_standby(&mut self, group: usize, own: &[Open]) -> (i64, Vec<usize>, usize) {
        let count = self.groups[group].kinds.len();
        let mut best: Option<(i64, Vec<usize>, usize)> = None;
        for set in 1..1_u32 << count {
            let mut kinds = Vec::new();
            let mut cost = 0_i64;
            for open in own {
                let kind = match open.installed {
                    Some(_) => Some(open.kind),
                    None => {
                        (0..count).find(|k| set >> k & 1 == 1 && self.bears(group, *k, open.held))
                    }
                };
                let Some(kind) = kind else { break };
                if open.installed.is_none() {
                    cost += self.price(group, kind);
                }
                kinds.push(kind);
            }
            if kinds.len() < own.len() {
                continue;
            }
            let used: BTreeSet<usize> = kinds.iter().copied().collect();
            cost += used.iter().map(|k| self.price(group, *k)).sum::<i64>();
            if best.as_ref().is_none_or(|b| cost < b.0) {
                best = Some((cost, kinds, used.len()));
            }
        }
        best.unwrap_or_default()
    }
}

/// Segments of a group, by their places in the list of all.
fn on<'a>(group: &'a Group<'_>, held: u64) -> impl Iterator<Item = usize> + 'a {
    let numbered = group.own.iter().enumerate();
    numbered
        .filter(move |(at, _)| held >> at & 1 == 1)
        .map(|(_, s)| *s)
}
