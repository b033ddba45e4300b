//! The loads of one cluster onto units at least cost.

use super::SupplyError;
use super::check::{CheckedSupply, Item, Limit};
use super::cluster::{Cluster, Start};
use super::fit::{Place, Shares};
use super::spec::Spares;
use crate::choose::packing::{self, BLOCKED, Bin, Known, Problem};
use std::ops::Range;
use std::rc::Rc;

/// Different loads that are assigned in one go; more are dealt into parts.
const TOGETHER: usize = 1_200;

/// What is left out of the problem.
#[derive(Debug, Clone, Copy, Default)]
pub struct Without {
    pub limit: Option<Limit>,
    pub kind: Option<usize>,
}

/// A unit in use.
#[derive(Debug, Clone)]
pub struct Used {
    pub kind: usize,
    pub installed: Option<usize>,
    pub group: usize,
    pub items: Vec<usize>,
}

/// What a bound rests on, the weakest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Ground {
    /// What so many units carry together.
    #[default]
    Capacity,
    /// The linear relaxation.
    Relaxation,
    /// The search.
    Search,
    /// Shares of the loads, which were dealt into parts.
    Parts,
}

/// Where the loads of a cluster lie.
#[derive(Debug, Default)]
pub struct Solved {
    /// Units with the loads that were put on them.
    pub used: Vec<Used>,
    /// Spares to buy: group, kind.
    pub spares: Vec<(usize, usize)>,
    pub cost: u64,
    pub lower: u64,
    pub steps: u64,
    pub cancelled: bool,
    pub ground: Ground,
}

/// Price of a unit; where every price is zero, units are counted.
pub fn price(problem: &CheckedSupply, kind: usize) -> u64 {
    // Kinds stand by price.
    if problem.kinds.last().is_some_and(|k| k.price == 0) {
        1
    } else {
        problem.kinds.get(kind).map_or(0, |k| k.price)
    }
}

/// How hard to look, and whom to ask whether to go on.
pub struct Effort<'t> {
    pub known: Known,
    pub steps: u64,
    pub tick: &'t mut dyn FnMut(u64, u64) -> bool,
}

/// Assigns the loads of a cluster; none where no answer within what is known was found.
pub fn solve(
    problem: &CheckedSupply,
    start: &Start,
    cluster: &Cluster,
    without: Without,
    effort: &mut Effort<'_>,
) -> Result<Option<Solved>, SupplyError> {
    let members = &cluster.members;
    let alike = members.chunk_by(|&a, &b| problem.items[a].class == problem.items[b].class);
    let mut from = 0;
    let classes: Vec<Range<usize>> = alike
        .map(|class| {
            from += class.len();
            from - class.len()..from
        })
        .collect();
    let parts = classes.len().div_ceil(TOGETHER).max(1);
    let units = cluster.units(problem);
    let mut run = Run {
        problem,
        cluster,
        without,
        spares: start.spares.clone(),
        present: units.map(|at| (at, start.kept[at].clone())).collect(),
        room: cluster.room,
        solved: Solved::default(),
    };
    if parts == 1 {
        let Some(lower) = run.part(classes, effort)? else {
            return Ok(None);
        };
        run.solved.lower = lower;
    } else {
        let steps = effort.steps / parts as u64;
        for part in 0..parts {
            // Dealt like cards, so that every part has large and small loads.
            let dealt = classes.iter().skip(part).step_by(parts).cloned().collect();
            let mut effort = Effort {
                known: Known::NOTHING,
                steps,
                tick: &mut *effort.tick,
            };
            run.part(dealt, &mut effort)?;
        }
        run.solved.ground = Ground::Parts;
    }
    if run.solved.lower < run.solved.cost {
        let least = run.by_share().max(run.solved.lower);
        run.solved.lower = least.min(run.solved.cost);
    }
    Ok(Some(run.solved))
}

struct Run<'a> {
    problem: &'a CheckedSupply,
    cluster: &'a Cluster,
    without: Without,
    /// Spares that stand by already.
    spares: Vec<(usize, usize)>,
    /// Installed units and what lies on them.
    present: Vec<(usize, Vec<usize>)>,
    room: Option<u32>,
    solved: Solved,
}

/// The problem of the kernel, and what its bins are: kind, installed unit, group.
struct Bins<'a> {
    bins: Vec<Bin>,
    places: Vec<Place<'a>>,
    of: Vec<(usize, Option<usize>, usize)>,
    limits: Vec<u32>,
    setups: Vec<(u64, Option<usize>)>,
}

impl<'a> Run<'a> {
    fn item(&self, at: usize) -> &'a Item {
        &self.problem.items[at]
    }

    /// A kind of bin with what is left beside the loads `kept` on it.
    fn bin(&self, kind: usize, kept: &[&Item], cost: u64, weight: &Rc<[Vec<u64>]>) -> Bin {
        let own = &self.problem.kinds[kind];
        let free = |limit: Limit| self.without.limit == Some(limit);
        let all = |of: fn(&Item) -> u64| self.problem.items.iter().map(of).sum::<u64>();
        let unit = if free(Limit::Unit) {
            all(|item| item.whole)
        } else {
            let taken: u64 = kept.iter().map(|item| item.whole).sum();
            own.whole.saturating_sub(taken)
        };
        let outputs = if free(Limit::Outputs) {
            all(|item| item.amps)
        } else {
            let taken: u64 = kept.iter().map(|item| item.amps).sum();
            let most = own.output.saturating_mul(u64::from(own.outputs));
            most.saturating_sub(taken)
        };
        Bin {
            cost,
            capacity: vec![unit, outputs],
            weight: Rc::clone(weight),
            rows: Vec::new(),
            setup: None,
        }
    }

    fn bins(&self, items: &[&'a Item]) -> Bins<'a> {
        let problem = self.problem;
        let room_row = self.room.map(|_| 0);
        let spared = problem.spares == Spares::OneOfEachKind;
        let mut out = Bins {
            bins: Vec::new(),
            places: Vec::new(),
            of: Vec::new(),
            limits: self.room.into_iter().collect(),
            setups: Vec::new(),
        };
        for group in self.cluster.groups.clone() {
            if !items.iter().any(|item| item.group == group) {
                continue;
            }
            let own = |item: &&&Item| item.group == group;
            let weigh = |item: &&Item| if own(&item) { item.whole } else { BLOCKED };
            let weight: Rc<[Vec<u64>]> = Rc::new([
                items.iter().map(weigh).collect(),
                items.iter().map(|item| item.amps).collect(),
            ]);
            let millivolts = problem.groups[group].millivolts;
            let mut setup_of = vec![None; if spared { problem.kinds.len() } else { 0 }];
            for (kind, own) in problem.kinds.iter().enumerate() {
                let volts = (own.volts.0..=own.volts.1).contains(&millivolts);
                if !volts || self.without.kind == Some(kind) {
                    continue;
                }
                let cost = price(problem, kind);
                let mut bin = self.bin(kind, &[], cost, &weight);
                bin.rows.extend(room_row);
                if spared && !self.spares.contains(&(group, kind)) {
                    bin.setup = Some(out.setups.len());
                    setup_of[kind] = bin.setup;
                    out.setups.push((cost, room_row));
                }
                out.bins.push(bin);
                let kept = Vec::new();
                out.places.push(Place { kind: own, kept });
                out.of.push((kind, None, group));
            }
            for (at, loads) in &self.present {
                let unit = &problem.installed[*at];
                if unit.group != group {
                    continue;
                }
                let kept: Vec<&Item> = loads.iter().map(|&load| self.item(load)).collect();
                let mut bin = self.bin(unit.kind, &kept, 0, &weight);
                bin.rows.push(out.limits.len());
                out.limits.push(1);
                bin.setup = setup_of.get(unit.kind).copied().flatten();
                out.bins.push(bin);
                let kind = &problem.kinds[unit.kind];
                out.places.push(Place { kind, kept });
                out.of.push((unit.kind, Some(*at), group));
            }
        }
        out
    }

    /// Assigns one part and gives a lower bound on its cost alone; none where nothing within what is
    /// known was found.
    fn part(
        &mut self,
        mut classes: Vec<Range<usize>>,
        effort: &mut Effort<'_>,
    ) -> Result<Option<u64>, SupplyError> {
        let (problem, cluster) = (self.problem, self.cluster);
        let first = |class: &Range<usize>| self.item(cluster.members[class.start]);
        let items: Vec<&Item> = classes.iter().map(first).collect();
        let made = self.bins(&items);
        let free = |limit: Limit| self.without.limit == Some(limit);
        let separate = (!free(Limit::Separation)).then_some(&problem.separate);
        let shares = Shares::new(items, made.places, separate, !free(Limit::Outputs));
        let kernel = Problem {
            demand: classes.iter().map(|class| class.len() as u32).collect(),
            bins: made.bins,
            limits: made.limits,
            setups: made.setups,
            fit: &shares,
            plain: false,
        };
        let outcome = packing::solve(kernel, effort.known, effort.steps, effort.tick);
        self.solved.steps += outcome.steps;
        self.solved.cancelled |= outcome.cancelled;
        self.solved.ground = self.solved.ground.max(if outcome.lower > outcome.root {
            Ground::Search
        } else if outcome.by_capacity {
            Ground::Capacity
        } else {
            Ground::Relaxation
        });
        let unsure = shares.unsure.get();
        let Some((cost, patterns)) = outcome.best else {
            let what = problem.what.clone();
            let place = &problem.places[cluster.place].0;
            return if outcome.cancelled {
                Err(SupplyError::Cancelled { what })
            } else if effort.known.most < u64::MAX {
                Ok(None)
            } else if outcome.proven && !unsure {
                Err(SupplyError::not_enough(problem, place))
            } else {
                Err(SupplyError::NotFound {
                    what,
                    place: place.clone(),
                    steps: outcome.steps,
                })
            };
        };
        self.solved.cost += cost;
        let spared = problem.spares == Spares::OneOfEachKind;
        for pattern in patterns {
            let Some(&(kind, installed, group)) = made.of.get(pattern.bin) else {
                continue;
            };
            let mut loads = Vec::new();
            for (item, count) in pattern.take {
                if let Some(class) = classes.get_mut(item) {
                    let taken = class.by_ref().take(count as usize);
                    loads.extend(taken.map(|at| cluster.members[at]));
                }
            }
            let fresh = spared && !self.spares.contains(&(group, kind));
            if fresh {
                self.spares.push((group, kind));
                self.solved.spares.push((group, kind));
            }
            if let Some(room) = &mut self.room {
                let taken = u32::from(installed.is_none()) + u32::from(fresh);
                *room = room.saturating_sub(taken);
            }
            let there = self
                .present
                .iter_mut()
                .find(|(at, _)| Some(*at) == installed);
            if let Some((_, kept)) = there {
                kept.extend_from_slice(&loads);
            }
            self.solved.used.push(Used {
                kind,
                installed,
                group,
                items: loads,
            });
        }
        Ok(Some(if unsure { 0 } else { outcome.lower }))
    }

    /// Bound by shares: each load pays for its share of the cheapest unit that takes it,
    /// of its power or of its outputs' current, whichever sums higher.
    fn by_share(&self) -> u64 {
        const UNIT: u128 = 1 << 20;
        let problem = self.problem;
        let free = self.without.limit;
        let mut sums = [0u128; 2];
        let loads = self.cluster.members.iter().map(|&at| self.item(at));
        for item in loads {
            if problem.installed.iter().any(|b| b.group == item.group) {
                continue;
            }
            let millivolts = problem.groups[item.group].millivolts;
            let shares = |of: &dyn Fn(&super::check::Kind) -> (u64, u64)| -> u128 {
                let kinds = problem.kinds.iter().enumerate().filter(|(kind, own)| {
                    (own.volts.0..=own.volts.1).contains(&millivolts)
                        && self.without.kind != Some(*kind)
                });
                let share = |(kind, own)| {
                    let (part, whole) = of(own);
                    u128::from(price(problem, kind)) * UNIT * u128::from(part)
                        / u128::from(whole.max(1))
                };
                kinds.map(share).min().unwrap_or(0)
            };
            if free != Some(Limit::Unit) {
                sums[0] += shares(&|own| (item.whole, own.whole));
            }
            if free != Some(Limit::Outputs) {
                sums[1] += shares(&|own| {
                    let whole = own.output.saturating_mul(u64::from(own.outputs));
                    (item.amps, whole)
                });
            }
        }
        let least = sums[0].max(sums[1]).div_ceil(UNIT);
        u64::try_from(least).unwrap_or(0)
    }
}
