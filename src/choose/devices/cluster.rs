//! Which loads are assigned together, and what is fixed before.

use super::SupplyError;
use super::check::{CheckedSupply, Limit};
use super::solve::price;
use super::spec::Spares;
use std::ops::Range;

/// Loads that may share a unit, or that the room of their place couples.
pub struct Cluster {
    /// Index into the places.
    pub place: usize,
    /// Their groups.
    pub groups: Range<usize>,
    /// The loads by class, then in their order; without those that are fixed.
    pub members: Vec<usize>,
    /// How many more units the place holds.
    pub room: Option<u32>,
}

/// What stands before anything is assigned.
pub struct Start {
    /// By installed unit the loads that stay on it.
    pub kept: Vec<Vec<usize>>,
    /// Spares of kinds that carry loads already: group, kind.
    pub spares: Vec<(usize, usize)>,
    /// What these cost.
    pub cost: u64,
    /// By place what its room still holds.
    rooms: Vec<Option<u32>>,
}

impl Start {
    /// Counts what is there.
    pub fn of(problem: &CheckedSupply) -> Result<Self, SupplyError> {
        let mut kept = vec![Vec::new(); problem.installed.len()];
        for (at, item) in problem.items.iter().enumerate() {
            if let Some(items) = item.fixed.and_then(|unit| kept.get_mut(unit)) {
                items.push(at);
            }
        }
        let mut spares: Vec<(usize, usize)> = Vec::new();
        if problem.spares == Spares::OneOfEachKind {
            let units = problem.installed.iter().zip(&kept);
            let carrying = units.filter(|(_, kept)| !kept.is_empty());
            spares.extend(carrying.map(|(unit, _)| (unit.group, unit.kind)));
            spares.sort_unstable();
            spares.dedup();
        }
        let mut rooms: Vec<Option<u32>> = problem.places.iter().map(|(_, room)| *room).collect();
        let units = problem.installed.iter().map(|unit| unit.group);
        for group in units.chain(spares.iter().map(|(group, _)| *group)) {
            let place = problem.groups[group].place;
            if let Some(left) = &mut rooms[place] {
                let Some(less) = left.checked_sub(1) else {
                    return Err(SupplyError::not_enough(problem, &problem.places[place].0));
                };
                *left = less;
            }
        }
        Ok(Self {
            cost: spares.iter().map(|&(_, kind)| price(problem, kind)).sum(),
            kept,
            spares,
            rooms,
        })
    }

    /// Parts the loads of some groups; without rooms every group stands by itself.
    pub fn clusters(
        &self,
        problem: &CheckedSupply,
        groups: Range<usize>,
        roomy: bool,
    ) -> Vec<Cluster> {
        let mut clusters: Vec<Cluster> = Vec::new();
        let mut of = vec![0; groups.len()];
        for group in groups.clone() {
            let place = problem.groups[group].place;
            let room = self.rooms[place].filter(|_| !roomy);
            match clusters.last_mut() {
                Some(last) if room.is_some() && last.place == place => last.groups.end = group + 1,
                _ => clusters.push(Cluster {
                    place,
                    groups: group..group + 1,
                    members: Vec::new(),
                    room,
                }),
            }
            of[group - groups.start] = clusters.len() - 1;
        }
        for (at, item) in problem.items.iter().enumerate() {
            if item.fixed.is_none() && groups.contains(&item.group) {
                clusters[of[item.group - groups.start]].members.push(at);
            }
        }
        clusters.retain(|cluster| !cluster.members.is_empty());
        for cluster in &mut clusters {
            let class = |&at: &usize| (problem.items[at].class, at);
            cluster.members.sort_unstable_by_key(class);
        }
        clusters
    }
}

impl Cluster {
    /// Installed units that its loads may lie on, by index.
    pub fn units<'p>(&self, problem: &'p CheckedSupply) -> impl Iterator<Item = usize> + 'p {
        let groups = self.groups.clone();
        let units = problem.installed.iter().enumerate();
        units
            .filter(move |(_, unit)| groups.contains(&unit.group))
            .map(|(at, _)| at)
    }

    /// Whether it could be cheaper without a limit.
    pub fn may_need(&self, problem: &CheckedSupply, start: &Start, limit: Limit) -> bool {
        match limit {
            Limit::Unit | Limit::Outputs => true,
            Limit::Room => self.room.is_some(),
            Limit::Separation => {
                let kept = self.units(problem).flat_map(|at| &start.kept[at]);
                let all = self.members.iter().chain(kept);
                let zones: Vec<usize> = all.map(|&at| problem.items[at].zone).collect();
                let mut pairs = problem.separate.iter();
                pairs.any(|(a, b)| zones.contains(a) && zones.contains(b))
            }
        }
    }
}
