//! An assignment, what was proven about it, and the room that several share.

use crate::choose::devices::{
    Assignment, CheckedSupply, Installed, Limit, Room, Rules, Spares, SupplyFault,
};
use crate::finding::Subject;
use crate::job::Job;
use crate::job::spec::{InstalledSpec, PlaceSpec};
use crate::plan::costing::{self, Costing};
use crate::plan::fixed;
use crate::progress::Progress;
use crate::quantity::{Cost, Currency, ElectricPotential};
use std::collections::{BTreeMap, BTreeSet};

/// Steps of one assignment.
pub(super) const EFFORT: u64 = 400_000;

/// What was proven about a set of devices.
#[derive(Debug, Clone)]
pub(in crate::plan) struct Assigned {
    /// Place, and zone of decoders.
    pub of: (usize, usize),
    /// What it was chosen for.
    pub about: Subject,
    /// The problem that the bound is about.
    pub problem: String,
    pub costing: Costing,
    pub cost: u64,
    pub lower: u64,
    /// What the bound rests on.
    pub reason: String,
    /// Limits that cost something, with the cost found without each.
    pub binding: Vec<(&'static str, u64)>,
    pub runner_up: Option<(u64, String)>,
    /// Loads that no permitted kind carries, put alone on the strongest.
    pub alone: usize,
    /// Chosen with the whole job, though others cost less by themselves.
    pub with_the_whole: bool,
}

impl Assigned {
    pub(super) fn new(
        of: (usize, usize),
        about: Subject,
        problem: String,
        costing: Costing,
        found: &Assignment,
    ) -> Self {
        Self {
            of,
            about,
            problem,
            costing,
            cost: found.cost,
            lower: found.lower_bound,
            reason: found.reason.clone(),
            binding: found
                .binding
                .iter()
                .map(|b| (limit_words(b.limit), b.cost_without))
                .collect(),
            runner_up: found
                .runner_up
                .as_ref()
                .map(|other| (other.cost, other.differs.clone())),
            alone: 0,
            with_the_whole: false,
        }
    }

    /// The same devices' worth of loads on devices that were chosen with the whole job, where those cost more
    /// than the cheapest by themselves.
    pub(super) fn take_with_the_whole(&mut self, cost: u64) {
        if cost == self.cost && self.alone == 0 {
            return;
        }
        if self.alone > 0 {
            (self.lower, self.alone) = (0, 0);
        } else {
            let words = "the cheapest by themselves, with dearer supplies".to_string();
            self.runner_up = Some((self.cost, words));
        }
        self.cost = cost;
        self.with_the_whole = true;
        self.reason = format!(
            "chosen with the whole job, in which these are the cheapest; by themselves: {}",
            self.reason
        );
    }

    /// Whether nothing cheaper exists within its problem.
    pub(in crate::plan) fn proven(&self) -> bool {
        self.lower == self.cost && self.alone == 0
    }

    /// Whether its costs are prices.
    pub(in crate::plan) fn is_priced(&self) -> bool {
        self.costing == Costing::Priced
    }

    /// What it costs.
    pub(in crate::plan) fn spent(&self) -> Cost {
        self.costing.cost(self.cost)
    }

    /// What nothing that solves the problem costs less than.
    pub(in crate::plan) fn least(&self) -> Cost {
        self.costing.bound(self.lower)
    }

    /// Cost and bound in minor units, where its costs are prices.
    pub(in crate::plan) fn priced(&self) -> [i64; 2] {
        [self.cost, self.lower].map(costing::minor_units)
    }

    /// Limits that cost something: `current and number of outputs (EUR 296.00 without it)`.
    pub(in crate::plan) fn binding_words(&self, currency: &Currency) -> String {
        if self.with_the_whole {
            return "not asked of what is chosen with the whole job".to_string();
        }
        let all: Vec<String> = self
            .binding
            .iter()
            .map(|(limit, cost)| {
                let cost = self.costing.cost(*cost).words(currency);
                format!("{limit} ({cost} without it)")
            })
            .collect();
        if all.is_empty() {
            "none found: without any one limit it costs the same".to_string()
        } else {
            all.join("; ")
        }
    }

    /// The next best kind, and what it costs.
    pub(in crate::plan) fn runner_up_words(&self, currency: &Currency) -> String {
        self.runner_up
            .as_ref()
            .map_or_else(String::new, |(cost, differs)| {
                let cost = self.costing.cost(*cost).words(currency);
                format!("{differs}: {cost}")
            })
    }

    /// What the bound rests on.
    pub(in crate::plan) fn reason_shown(&self) -> String {
        match self.costing {
            Costing::Priced => self.reason.clone(),
            Costing::Counted => {
                format!(
                    "fewer than {} are excluded, then the least rated size",
                    self.least().printed(&Currency::default()).0
                )
            }
        }
    }

    /// One line for the schedule of the devices.
    pub(in crate::plan) fn why(&self, currency: &Currency) -> String {
        let [cost, lower] = [self.spent(), self.least()].map(|cost| cost.words(currency));
        let proof = if self.proven() {
            format!("proven cheapest, {cost}")
        } else {
            format!("{cost}, none below {lower}")
        };
        if self.with_the_whole {
            return format!("{}: chosen with the whole job, {cost}", self.about);
        }
        let next = self.runner_up_words(currency);
        let next = if next.is_empty() {
            next
        } else {
            format!("; next best {next}")
        };
        format!(
            "{}: {proof}; limits that cost: {}{next}",
            self.about,
            self.binding_words(currency)
        )
    }
}

fn limit_words(limit: Limit) -> &'static str {
    match limit {
        Limit::Unit => "power or current of one unit",
        Limit::Outputs => "current and number of outputs",
        Limit::Separation => "zones that never share",
        Limit::Room => "room of the place",
    }
}

/// Devices that an answer takes up room for: what is there, used or idle, what is bought, what stands by.
fn count(found: &Assignment, there: usize) -> u32 {
    let bought = found.units.iter().filter(|unit| unit.installed.is_none());
    u32::try_from(there + bought.count() + found.spares.len()).unwrap_or(u32::MAX)
}

/// Assigns what is to be assigned; `none` stands for a fault that was told before.
pub(super) fn solve(problem: Result<CheckedSupply, Vec<SupplyFault>>) -> Found {
    match problem {
        Ok(checked) => crate::choose::devices::assign(&checked, &mut Progress::silent())
            .map_err(|e| e.to_string()),
        Err(faults) => Err(faults.first().map_or_else(String::new, ToString::to_string)),
    }
}

/// What holds at a place beside the limits of the devices: its room, what is there, what stands by.
pub(super) fn rules(
    place: &PlaceSpec,
    room: Option<u32>,
    installed: Vec<Installed>,
    standby: bool,
) -> Rules {
    Rules {
        rooms: room
            .map(|most| Room {
                place: place.name.clone(),
                most,
            })
            .into_iter()
            .collect(),
        installed,
        spares: if standby {
            Spares::OneOfEachKind
        } else {
            Spares::None
        },
        effort: EFFORT,
        ..Rules::default()
    }
}

/// A device that is there, with the loads that stay on it.
pub(super) fn there(
    installed: &InstalledSpec,
    volts: ElectricPotential,
    emergency: bool,
    loads: Vec<String>,
) -> Installed {
    Installed {
        name: installed.name.clone(),
        kind: installed.kind.name().to_string(),
        place: installed.place.clone(),
        volts,
        emergency,
        loads,
    }
}

/// Room of a place for what is asked, beside what is there and cannot be asked: installed for a zone without segments, say.
pub(super) fn room_left<'i>(
    job: &Job,
    place: usize,
    decoders: bool,
    asked: impl Iterator<Item = &'i &'i InstalledSpec>,
) -> Option<u32> {
    let spec = &job.places()[place];
    let most = if decoders {
        spec.most_decoders
    } else {
        spec.most_supplies
    }?;
    let asked: BTreeSet<&str> = asked.map(|own| own.name.as_str()).collect();
    let idle = fixed::idle_at(job, place, decoders, &asked);
    Some(most.saturating_sub(u32::try_from(idle).unwrap_or(u32::MAX)))
}

/// An answer, or why there is none.
pub(super) type Found = Result<Assignment, String>;

/// Solves the problems of one place within its room; `solve` bounds the decoder_units of one of them, `there` says how
/// many devices each finds there.
///
/// Each is solved by itself; where all together need more decoder_units than the place holds, the room is dealt
/// out in every way that may matter, and the cheapest is taken. Where the room is not enough in any way,
/// the answers are those without that limit.
pub(super) fn within_room<C>(
    clusters: &[C],
    solve: impl Fn(&C, Option<u32>) -> Found,
    there: impl Fn(&C) -> usize,
    most: Option<u32>,
) -> Vec<Found> {
    let free: Vec<Found> = clusters.iter().map(|c| solve(c, None)).collect();
    let Some(most) = most else { return free };
    let each = clusters.iter().zip(&free);
    let needed =
        each.filter_map(|(cluster, found)| Some(count(found.as_ref().ok()?, there(cluster))));
    let needed = needed.fold(0, u32::saturating_add);
    if needed <= most {
        return free;
    }
    // Cheapest of the problems so far, by decoder_units used.
    let mut ways: BTreeMap<u32, (u64, Vec<Assignment>)> =
        std::iter::once((0, (0, Vec::new()))).collect();
    for (cluster, unbounded) in clusters.iter().zip(&free) {
        let Ok(unbounded) = unbounded else {
            return free;
        };
        let there = there(cluster);
        let mut own = vec![unbounded.clone()];
        while let Some(room) = own
            .last()
            .and_then(|last| count(last, there).checked_sub(1))
        {
            match solve(cluster, Some(room)) {
                Ok(found) => own.push(found),
                Err(_) => break,
            }
        }
        let mut next: BTreeMap<u32, (u64, Vec<Assignment>)> = BTreeMap::new();
        for (held, (cost, answers)) in &ways {
            for found in &own {
                let held = held.saturating_add(count(found, there));
                let cost = cost + found.cost;
                let cheaper = next.get(&held).is_none_or(|(other, _)| cost < *other);
                if held <= most && cheaper {
                    let answers = answers.iter().chain([found]).cloned().collect();
                    next.insert(held, (cost, answers));
                }
            }
        }
        ways = next;
    }
    match ways
        .into_iter()
        .min_by_key(|(held, (cost, _))| (*cost, *held))
    {
        Some((_, (_, answers))) => answers.into_iter().map(Ok).collect(),
        None => free,
    }
}
