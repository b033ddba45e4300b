//! What an assignment would cost without one of its limits, and without one of its kinds.

use super::check::{CheckedSupply, Limit};
use super::cluster::{Cluster, Start};
use super::result::{Binding, RunnerUp};
use super::solve::{Effort, Solved, Without, solve};
use crate::choose::packing::Known;

/// An assignment to be explained, cluster by cluster.
pub struct Explain<'a> {
    pub problem: &'a CheckedSupply,
    pub start: &'a Start,
    pub clusters: &'a [(Cluster, Solved)],
    /// What it costs in all.
    pub cost: u64,
    /// Steps for each question.
    pub steps: u64,
}

impl Explain<'_> {
    /// Limits without which a cheaper answer is found.
    pub fn binding(&self, tick: &mut dyn FnMut(u64, u64) -> bool) -> Vec<Binding> {
        let mut found = Vec::new();
        for limit in [Limit::Unit, Limit::Outputs, Limit::Separation, Limit::Room] {
            let mut saved = 0;
            for (cluster, solved) in self.clusters {
                if solved.cost > 0 && cluster.may_need(self.problem, self.start, limit) {
                    let least = self.cost_without(cluster, limit, solved.cost - 1, tick);
                    saved += least.map_or(0, |cost| solved.cost - cost);
                }
            }
            if saved > 0 {
                let cost_without = self.cost - saved;
                found.push(Binding {
                    limit,
                    cost_without,
                });
            }
        }
        found
    }

    /// Least cost found of a cluster without a limit; none where none is found up to `most`.
    fn cost_without(
        &self,
        cluster: &Cluster,
        limit: Limit,
        most: u64,
        tick: &mut dyn FnMut(u64, u64) -> bool,
    ) -> Option<u64> {
        let without = Without {
            limit: Some(limit),
            kind: None,
        };
        let mut cost = 0;
        let mut ask = |cluster: &Cluster| {
            let known = Known {
                least: 0,
                most: most.checked_sub(cost)?,
            };
            let mut effort = Effort {
                known,
                steps: self.steps,
                tick: &mut *tick,
            };
            let found = solve(self.problem, self.start, cluster, without, &mut effort);
            cost += found.ok()??.cost;
            Some(())
        };
        if limit == Limit::Room {
            let groups = cluster.groups.clone();
            for alone in self.start.clusters(self.problem, groups, true) {
                ask(&alone)?;
            }
        } else {
            ask(cluster)?;
        }
        Some(cost).filter(|&cost| cost <= most)
    }

    /// The best answer found without one of the kinds that are bought.
    pub fn runner_up(&self, tick: &mut dyn FnMut(u64, u64) -> bool) -> Option<RunnerUp> {
        let buys = |solved: &Solved, kind: usize| {
            let mut used = solved.used.iter();
            used.any(|unit| unit.installed.is_none() && unit.kind == kind)
        };
        let mut best: Option<RunnerUp> = None;
        for (kind, own) in self.problem.kinds.iter().enumerate() {
            if !self.clusters.iter().any(|(_, solved)| buys(solved, kind)) {
                continue;
            }
            let most = match &best {
                None => u64::MAX,
                // Nothing costs less than nothing.
                Some(best) if best.cost == 0 => break,
                Some(best) => best.cost - 1,
            };
            let Some(cost) = self.without_kind(kind, most, buys, tick) else {
                continue;
            };
            best = Some(RunnerUp {
                cost,
                differs: format!("without the kind `{}`, best found", own.name),
            });
        }
        best
    }

    /// What an answer without a kind costs; none where none is found up to `most`.
    fn without_kind(
        &self,
        kind: usize,
        most: u64,
        buys: impl Fn(&Solved, usize) -> bool,
        tick: &mut dyn FnMut(u64, u64) -> bool,
    ) -> Option<u64> {
        let without = Without {
            limit: None,
            kind: Some(kind),
        };
        let mut cost = self.cost;
        for (cluster, solved) in self.clusters {
            if !buys(solved, kind) {
                continue;
            }
            // The others cost what they do at least.
            let others = cost - solved.cost;
            let known = Known {
                least: solved.lower,
                most: if most == u64::MAX {
                    most
                } else {
                    most.checked_sub(others)?
                },
            };
            let mut effort = Effort {
                known,
                steps: self.steps,
                tick: &mut *tick,
            };
            let found = solve(self.problem, self.start, cluster, without, &mut effort);
            cost = others + found.ok()??.cost;
        }
        Some(cost).filter(|&cost| cost <= most)
    }
}
