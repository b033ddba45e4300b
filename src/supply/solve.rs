//! Loads that may share a body are assigned together; loads that may not, apart.

use super::check::{CheckedSupply, Group, Item, Kind, Limit};
use super::fit::{Place, Shares};
use super::{Spares, SupplyError};
use crate::packing::{self, BLOCKED, Bin, Problem};
use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Different loads that are assigned in one go; more are dealt into parts.
const TOGETHER: usize = 240;

/// Place, and emergency tag and millivolts unless the place's room couples them.
type Together = (String, Option<(bool, u64)>);

/// What is left out of the problem.
#[derive(Debug, Clone, Copy, Default)]
pub struct Without {
    pub limit: Option<Limit>,
    pub kind: Option<usize>,
}

/// A body in use.
#[derive(Debug, Clone)]
pub struct Used {
    pub kind: usize,
    pub installed: Option<usize>,
    pub group: Group,
    pub items: Vec<usize>,
}

/// What the parts add up to.
#[derive(Debug, Default)]
pub struct Sum {
    pub used: Vec<Used>,
    pub spares: BTreeSet<(Group, usize)>,
    pub cost: u64,
    pub lower: u64,
    pub steps: u64,
    pub cancelled: bool,
    pub in_parts: bool,
    pub by_search: bool,
}

/// Price of a body; where every price is zero, bodies are counted.
pub fn price(problem: &CheckedSupply, kind: usize) -> u64 {
    let counted = problem.kinds.iter().all(|k| k.price == 0);
    problem
        .kinds
        .get(kind)
        .map_or(0, |k| if counted { 1 } else { k.price })
}

/// Assigns everything, part by part.
pub fn solve(
    problem: &CheckedSupply,
    without: Without,
    effort: u64,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Result<Sum, SupplyError> {
    let mut sum = Sum::default();
    let roomy = without.limit == Some(Limit::Room);
    let room = |place: &str| problem.rooms.get(place).copied().filter(|_| !roomy);
    let mut clusters: BTreeMap<Together, Vec<usize>> = BTreeMap::new();
    let mut used: Vec<Used> = problem
        .installed
        .iter()
        .enumerate()
        .map(|(at, p)| Used {
            kind: p.kind,
            installed: Some(at),
            group: p.group.clone(),
            items: Vec::new(),
        })
        .collect();
    for (at, item) in problem.items.iter().enumerate() {
        if let Some(body) = item.fixed {
            if let Some(body) = used.get_mut(body) {
                body.items.push(at);
            }
            continue;
        }
        let (place, emergency, volts) = item.group.clone();
        let shared = room(&place).is_some();
        clusters
            .entry((place, (!shared).then_some((emergency, volts))))
            .or_default()
            .push(at);
    }
    if problem.spares == Spares::OneOfEachKind {
        let kept = used.iter().filter(|u| !u.items.is_empty());
        sum.spares = kept.map(|u| (u.group.clone(), u.kind)).collect();
        let prepaid: u64 = sum
            .spares
            .iter()
            .map(|(_, kind)| price(problem, *kind))
            .sum();
        sum.cost += prepaid;
        sum.lower += prepaid;
    }
    let mut rooms: BTreeMap<String, u32> = problem.rooms.clone();
    let present = used
        .iter()
        .map(|u| &u.group.0)
        .chain(sum.spares.iter().map(|(g, _)| &g.0));
    for place in present {
        if let (Some(left), false) = (rooms.get_mut(place), roomy) {
            let Some(less) = left.checked_sub(1) else {
                return Err(SupplyError::not_enough(problem, place));
            };
            *left = less;
        }
    }
    let parts = clusters.len().max(1) as u64;
    for ((place, _), items) in clusters {
        let mut run = Cluster {
            problem,
            without,
            room: rooms.get(&place).copied().filter(|_| !roomy),
            effort: (effort / parts).max(20_000),
        };
        run.assign(&place, &items, &mut used, &mut sum, tick)?;
    }
    used.retain(|u| !u.items.is_empty());
    sum.used.extend(used);
    sum.lower = sum.lower.min(sum.cost);
    Ok(sum)
}

struct Cluster<'a> {
    problem: &'a CheckedSupply,
    without: Without,
    room: Option<u32>,
    effort: u64,
}

type Key<'a> = (Reverse<(u64, u64)>, &'a Group, usize, Vec<super::fit::Part>);

impl Cluster<'_> {
    fn assign(
        &mut self,
        place: &str,
        items: &[usize],
        used: &mut [Used],
        sum: &mut Sum,
        tick: &mut dyn FnMut(u64, u64) -> bool,
    ) -> Result<(), SupplyError> {
        let problem = self.problem;
        let mut classes: BTreeMap<Key<'_>, Vec<usize>> = BTreeMap::new();
        for &at in items {
            let Some(item) = problem.items.get(at) else {
                continue;
            };
            let mut parts = item.parts.clone();
            parts.sort_unstable();
            let key = (
                Reverse((item.body, item.amps())),
                &item.group,
                item.zone,
                parts,
            );
            classes.entry(key).or_default().push(at);
        }
        let classes: Vec<Vec<usize>> = classes.into_values().collect();
        let parts = classes.len().div_ceil(TOGETHER);
        let area = self.by_share(items, used);
        let mut lower = area;
        let before = sum.cost;
        for part in 0..parts {
            // Dealt like cards, so that every part has large and small loads.
            let dealt = classes.iter().skip(part).step_by(parts).cloned().collect();
            let effort = self.effort / parts as u64;
            let found = self.part(place, dealt, effort, used, sum, tick)?;
            if parts == 1 {
                lower = lower.max(found);
            }
        }
        sum.in_parts |= parts > 1;
        sum.lower += lower.min(sum.cost - before);
        Ok(())
    }

    fn bin(&self, kind: usize, kept: &[&Item], items: &[&Item], cost: u64, group: &Group) -> Bin {
        let own: &Kind = &self.problem.kinds[kind];
        let sums = |of: &dyn Fn(&Item) -> u64| -> (u64, u64) {
            let all = self.problem.items.iter().map(of).sum();
            (all, kept.iter().map(|i| of(i)).sum())
        };
        let (all, taken) = sums(&|i| i.body);
        let body = if self.without.limit == Some(Limit::Body) {
            all
        } else {
            own.body.saturating_sub(taken)
        };
        let (all, taken) = sums(&Item::amps);
        let outputs = own.output.saturating_mul(u64::from(own.outputs));
        let free = self.without.limit == Some(Limit::Outputs);
        let outputs = if free {
            all
        } else {
            outputs.saturating_sub(taken)
        };
        let fits = |i: &Item| i.group == *group;
        let weight = items
            .iter()
            .map(|i| if fits(i) { i.body } else { BLOCKED })
            .collect();
        let amps = items.iter().map(|i| i.amps()).collect();
        Bin {
            cost,
            capacity: vec![body, outputs],
            weight: vec![weight, amps],
            rows: Vec::new(),
            setup: None,
        }
    }

    /// Assigns one part and returns a lower bound on its cost alone.
    fn part(
        &mut self,
        place: &str,
        mut classes: Vec<Vec<usize>>,
        effort: u64,
        used: &mut [Used],
        sum: &mut Sum,
        tick: &mut dyn FnMut(u64, u64) -> bool,
    ) -> Result<u64, SupplyError> {
        let problem = self.problem;
        let items: Vec<&Item> = classes
            .iter()
            .filter_map(|c| problem.items.get(*c.first()?))
            .collect();
        let groups: BTreeSet<&Group> = items.iter().map(|i| &i.group).collect();
        let mut bins = Vec::new();
        let mut places = Vec::new();
        let mut of = Vec::new();
        let mut limits: Vec<u32> = self.room.into_iter().collect();
        let mut setups = Vec::new();
        let room_row = self.room.map(|_| 0);
        let spared = problem.spares == Spares::OneOfEachKind;
        for group in groups {
            let mut setup_of = BTreeMap::new();
            for (kind, own) in problem.kinds.iter().enumerate() {
                let volts = (own.volts.0..=own.volts.1).contains(&group.2);
                if !volts || self.without.kind == Some(kind) {
                    continue;
                }
                let cost = price(problem, kind);
                let mut bin = self.bin(kind, &[], &items, cost, group);
                bin.rows.extend(room_row);
                if spared && !sum.spares.contains(&(group.clone(), kind)) {
                    bin.setup = Some(setups.len());
                    setup_of.insert(kind, setups.len());
                    setups.push((cost, room_row));
                }
                bins.push(bin);
                places.push(Place {
                    kind: own,
                    kept: Vec::new(),
                });
                of.push((kind, None, group));
            }
            for (at, body) in used.iter().enumerate().filter(|(_, u)| u.group == *group) {
                let kept: Vec<&Item> = body
                    .items
                    .iter()
                    .filter_map(|&i| problem.items.get(i))
                    .collect();
                let mut bin = self.bin(body.kind, &kept, &items, 0, group);
                bin.rows.push(limits.len());
                limits.push(1);
                bin.setup = setup_of.get(&body.kind).copied();
                bins.push(bin);
                places.push(Place {
                    kind: &problem.kinds[body.kind],
                    kept,
                });
                of.push((body.kind, Some(at), group));
            }
        }
        let none = BTreeSet::new();
        let free = self.without.limit == Some(Limit::Separation);
        let shares = Shares {
            items,
            places,
            separate: if free { &none } else { &problem.separate },
            outputs: self.without.limit != Some(Limit::Outputs),
            unsure: Cell::new(false),
        };
        let kernel = Problem {
            demand: classes
                .iter()
                .map(|c| u32::try_from(c.len()).unwrap_or(u32::MAX))
                .collect(),
            bins,
            limits,
            setups,
            fit: &shares,
            plain: false,
        };
        let outcome = packing::solve(kernel, effort, tick);
        sum.steps += outcome.steps;
        sum.cancelled |= outcome.cancelled;
        sum.by_search |= outcome.lower > outcome.root;
        let unsure = shares.unsure.get();
        let Some((cost, patterns)) = outcome.best else {
            return Err(if outcome.cancelled {
                SupplyError::Cancelled {
                    what: problem.what.clone(),
                }
            } else if outcome.proven && !unsure {
                SupplyError::not_enough(problem, place)
            } else {
                SupplyError::NotFound {
                    what: problem.what.clone(),
                    place: place.to_owned(),
                    steps: outcome.steps,
                }
            });
        };
        sum.cost += cost;
        for class in &mut classes {
            class.reverse();
        }
        for pattern in patterns {
            let Some(&(kind, installed, group)) = of.get(pattern.bin) else {
                continue;
            };
            let mut loads = Vec::new();
            for (item, count) in pattern.take {
                if let Some(class) = classes.get_mut(item) {
                    loads.extend((0..count).filter_map(|_| class.pop()));
                }
            }
            if let (None, Some(room)) = (installed, &mut self.room) {
                *room = room.saturating_sub(1);
            }
            if spared
                && sum.spares.insert((group.clone(), kind))
                && let Some(room) = &mut self.room
            {
                *room = room.saturating_sub(1);
            }
            match installed.and_then(|at| used.get_mut(at)) {
                Some(body) => body.items.extend(loads),
                None => {
                    sum.used.push(Used {
                        kind,
                        installed: None,
                        group: group.clone(),
                        items: loads,
                    });
                }
            }
        }
        Ok(if unsure { 0 } else { outcome.lower })
    }

    /// Bound by shares: each load pays for its share of the cheapest body that takes it,
    /// of its power or of its outputs' current, whichever sums higher.
    fn by_share(&self, items: &[usize], used: &[Used]) -> u64 {
        const UNIT: u128 = 1 << 20;
        let problem = self.problem;
        let free = self.without.limit;
        let mut sums = [0u128; 2];
        for item in items.iter().filter_map(|&at| problem.items.get(at)) {
            if used.iter().any(|u| u.group == item.group) {
                continue;
            }
            let shares = |of: &dyn Fn(&Kind) -> (u64, u64)| -> u128 {
                let kinds = problem.kinds.iter().enumerate().filter(|(kind, own)| {
                    (own.volts.0..=own.volts.1).contains(&item.group.2)
                        && self.without.kind != Some(*kind)
                });
                let share = |(kind, own): (usize, &Kind)| {
                    let (part, whole) = of(own);
                    u128::from(price(problem, kind)) * UNIT * u128::from(part)
                        / u128::from(whole.max(1))
                };
                kinds.map(share).min().unwrap_or(0)
            };
            if free != Some(Limit::Body) {
                sums[0] += shares(&|own| (item.body, own.body));
            }
            if free != Some(Limit::Outputs) {
                sums[1] += shares(&|own| {
                    (
                        item.amps(),
                        own.output.saturating_mul(u64::from(own.outputs)),
                    )
                });
            }
        }
        let least = sums[0].max(sums[1]).div_ceil(UNIT);
        u64::try_from(least).unwrap_or(0)
    }
}
