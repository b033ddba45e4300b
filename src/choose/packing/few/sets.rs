//! The largest fillings of bins around an item, of it and the open items after it.

use super::bits::Bits;
use super::lanes;
use crate::choose::packing::{Problem, Work};
use std::cmp::Reverse;

/// Fillings around one item.
const SETS: usize = 4_000;
/// Lists up to here are searched for fillings that are in another.
const COMPARED: usize = 300;

/// A filling of a bin.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Set {
    /// What lies in it.
    pub bits: u64,
    /// Kind of bin.
    pub bin: usize,
    /// Cost of the bin.
    pub cost: u64,
    /// What it costs beyond the worth of its items; the least is tried first.
    score: i64,
}

/// An item that a walk may take.
#[derive(Debug, Clone, Copy)]
struct Stop {
    item: usize,
    most: u32,
    weight: [u64; 2],
    /// Weight of this and all that follow.
    rest: [u64; 2],
}

/// A walk through the fillings of one kind of bin.
struct Walk<'a, 'p, 'f> {
    problem: &'p Problem<'f>,
    bits: &'a Bits,
    value: &'a [i64],
    bin: usize,
    /// Fillings below this weight are of no use.
    least: [u64; 2],
    room: &'a mut Room,
    /// Fillings are added here, so many at most in all.
    sets: &'a mut Vec<Set>,
    most: usize,
    work: &'a mut Work,
}

/// Room to work in.
#[derive(Default)]
pub struct Room {
    stops: Vec<Stop>,
    /// How many are taken at each stop.
    taken: Vec<u32>,
    /// Stops left out although there was room.
    skipped: Vec<usize>,
}

/// What is looked for.
pub struct Around<'a> {
    /// The open items; the first of them is in every filling.
    pub open: u64,
    /// What a filling of a bin of this kind must weigh at least; none: no such bin is of use.
    pub least: &'a dyn Fn(usize) -> Option<[u64; 2]>,
    /// By bit what it is worth, in 2^-20 of the cost.
    pub value: &'a [i64],
}

/// Adds the fillings of and around the first open item, that to be tried first first. False where
/// they are too many or the work runs out.
pub fn around(
    problem: &Problem<'_>,
    bits: &Bits,
    wanted: &Around<'_>,
    room: &mut Room,
    sets: &mut Vec<Set>,
    work: &mut Work,
) -> bool {
    let first = 1u64 << wanted.open.trailing_zeros();
    let from = sets.len();
    let mut kinds = 0;
    for (bin, kind) in problem.bins.iter().enumerate() {
        if bits.allowed[bin] & first == 0 {
            continue;
        }
        let Some(mut least) = (wanted.least)(bin) else {
            continue;
        };
        if problem.plain {
            least[0] = least[0].max(beyond_cheaper(problem, bits, bin));
        }
        if least[0] > kind.capacity(0) || least[1] > kind.capacity(1) {
            continue;
        }
        kinds += 1;
        let mut walk = Walk {
            problem,
            bits,
            value: wanted.value,
            bin,
            least,
            room,
            sets,
            most: from + SETS,
            work,
        };
        walk.plan(wanted.open & bits.allowed[bin]);
        problem.fit.start(bin);
        if !walk.from(0, [kind.capacity(0), kind.capacity(1)], [0; 2]) {
            return false;
        }
    }
    let order = |set: &Set| (set.score, Reverse(set.bits), set.bin);
    sets[from..].sort_unstable_by_key(order);
    if kinds > 1 && sets.len() - from <= COMPARED {
        undominated(problem, bits, from, sets);
    }
    true
}

/// From which weight on a filling goes into no cheaper kind of bin.
fn beyond_cheaper(problem: &Problem<'_>, bits: &Bits, bin: usize) -> u64 {
    let own = &problem.bins[bin];
    let cheaper = problem.bins.iter().enumerate().filter(|&(at, other)| {
        (other.cost, at) < (own.cost, bin)
            && other.setup.is_none()
            && lanes::within(bits.rows[at], bits.rows[bin])
    });
    let most = cheaper.map(|(_, other)| other.capacity[0]).max();
    most.map_or(0, |most| most.saturating_add(1))
}

/// Leaves out fillings that are in another which costs and takes no more, from one place on.
fn undominated(problem: &Problem<'_>, bits: &Bits, from: usize, sets: &mut Vec<Set>) {
    let better = |own: &Set, other: &Set| {
        let setup = problem.bins[other.bin].setup;
        let rows = [bits.rows[other.bin], bits.rows[own.bin]];
        other.bin != own.bin
            && own.bits & !other.bits == 0
            && other.cost <= own.cost
            && lanes::within(rows[0], rows[1])
            && (setup.is_none() || setup == problem.bins[own.bin].setup)
            && ((other.cost, other.bits, rows[0]) != (own.cost, own.bits, rows[1])
                || other.bin < own.bin)
    };
    // What leaves out that which leaves out another leaves out both, so they may go at once.
    let mut kept = from;
    for at in from..sets.len() {
        let own = sets[at];
        let mut others = sets[from..kept].iter().chain(&sets[at + 1..]);
        if !others.any(|other| better(&own, other)) {
            sets[kept] = own;
            kept += 1;
        }
    }
    sets.truncate(kept);
}

impl Walk<'_, '_, '_> {
    /// Lists the open items with what they weigh in this kind of bin.
    fn plan(&mut self, mut open: u64) {
        let kind = &self.problem.bins[self.bin];
        self.room.stops.clear();
        while open != 0 {
            let bit = open.trailing_zeros() as usize;
            open &= open - 1;
            let item = usize::from(self.bits.item[bit]);
            match self.room.stops.last_mut() {
                Some(last) if last.item == item => last.most += 1,
                _ => self.room.stops.push(Stop {
                    item,
                    most: 1,
                    weight: [
                        kind.weight[0][item],
                        kind.weight.get(1).map_or(0, |w| w[item]),
                    ],
                    rest: [0; 2],
                }),
            }
        }
        let mut rest = [0u64; 2];
        for stop in self.room.stops.iter_mut().rev() {
            for (rest, weight) in rest.iter_mut().zip(stop.weight) {
                *rest = rest.saturating_add(weight.saturating_mul(u64::from(stop.most)));
            }
            stop.rest = rest;
        }
        self.room.taken.clear();
        self.room.taken.resize(self.room.stops.len(), 0);
    }

    /// Walks on from a stop; false when it is given up.
    fn from(&mut self, mut at: usize, left: [u64; 2], weight: [u64; 2]) -> bool {
        let first = at == 0;
        let stop = loop {
            let Some(&stop) = self.room.stops.get(at) else {
                return self.leaf(left, weight);
            };
            for (d, own) in weight.into_iter().enumerate() {
                if own.saturating_add(stop.rest[d]) < self.least[d] {
                    return true;
                }
            }
            if stop.weight[0] <= left[0] && stop.weight[1] <= left[1] {
                break stop;
            }
            at += 1;
        };
        if !self.work.spend(1) {
            return false;
        }
        // As many as there is room for, then ever fewer.
        let mut count = 0;
        let (mut left, mut weight) = (left, weight);
        while count < stop.most
            && stop.weight[0] <= left[0]
            && stop.weight[1] <= left[1]
            && (self.problem.plain || self.problem.fit.add(stop.item))
        {
            count += 1;
            for d in 0..2 {
                left[d] -= stop.weight[d];
                weight[d] += stop.weight[d];
            }
        }
        let most = count;
        loop {
            self.room.taken[at] = count;
            if count == 0 && first {
                return true;
            }
            let skips = count < most;
            if skips {
                self.room.skipped.push(at);
            }
            let on = self.from(at + 1, left, weight);
            if skips {
                self.room.skipped.pop();
            }
            if !on {
                return false;
            }
            if count == 0 {
                return true;
            }
            count -= 1;
            if !self.problem.plain {
                self.problem.fit.remove();
            }
            for d in 0..2 {
                left[d] += stop.weight[d];
                weight[d] -= stop.weight[d];
            }
        }
    }

    /// A filling, kept where no item that was left out can be added.
    fn leaf(&mut self, left: [u64; 2], weight: [u64; 2]) -> bool {
        if weight[0] < self.least[0] || weight[1] < self.least[1] {
            return true;
        }
        if self.problem.plain {
            if self.is_worse(left[0]) {
                return true;
            }
        } else {
            for &at in &self.room.skipped {
                let stop = &self.room.stops[at];
                if stop.weight[0] <= left[0]
                    && stop.weight[1] <= left[1]
                    && self.problem.fit.add(stop.item)
                {
                    self.problem.fit.remove();
                    return true;
                }
            }
        }
        let cost = self.problem.bins[self.bin].cost;
        let mut bits = 0u64;
        let mut score = i64::try_from(cost << 20).unwrap_or(i64::MAX / 2);
        for (stop, &count) in self.room.stops.iter().zip(&self.room.taken) {
            let first = self.bits.first[stop.item];
            bits |= ((1u64 << count) - 1) << first;
            score -= self.value[usize::from(first)] * i64::from(count);
        }
        if bits != 0 {
            self.sets.push(Set {
                bits,
                bin: self.bin,
                cost,
                score,
            });
        }
        self.sets.len() < self.most && self.work.spend(1)
    }

    /// Whether an open item goes beside, or in the place of a smaller one; items stand largest first.
    fn is_worse(&self, left: u64) -> bool {
        let mut smaller = 0;
        for (stop, &taken) in self.room.stops.iter().zip(&self.room.taken).rev() {
            if taken < stop.most && stop.weight[0] - smaller <= left && stop.weight[0] > smaller {
                return true;
            }
            if taken > 0 {
                smaller = stop.weight[0];
            }
        }
        false
    }
}
