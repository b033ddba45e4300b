//! The search around the first open item, with what has failed.

use super::bits::Bits;
use super::sets::{Around, Room, Set, around};
use super::{Part, lanes};
use crate::choose::packing::{Pattern, Problem, Work};
use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};
use std::rc::Rc;

/// States remembered.
const REMEMBERED: usize = 100_000;

/// Bins filled up to which fillings are listed for the state alone.
const NEAR: usize = 2;

/// Where the search stands.
#[derive(Clone, Copy)]
struct State {
    open: u64,
    /// Of the limits.
    left: u128,
    spent: u64,
}

/// Mixes the words of a state; nothing depends on the order of the table.
#[derive(Default)]
struct Mix(u64);

impl Hasher for Mix {
    fn finish(&self) -> u64 {
        self.0
    }

    fn write(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.write_u64(u64::from(byte));
        }
    }

    fn write_u64(&mut self, word: u64) {
        let mixed = (self.0.rotate_left(23) ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        self.0 = mixed ^ mixed >> 29;
    }

    fn write_u128(&mut self, word: u128) {
        self.write_u64(word as u64);
        self.write_u64((word >> 64) as u64);
    }
}

/// The search, and the fillings listed so far.
pub struct Search<'a, 'p, 'f> {
    problem: &'p Problem<'f>,
    bits: &'a Bits,
    /// Of each bit its share of the cheapest bin, in 2^-20 of the cost.
    value: Vec<i64>,
    room: Room,
    /// Fillings of the states that are open, one after the other.
    sets: Vec<Set>,
    /// Fillings around each item, where they have been listed.
    lists: Vec<Option<Rc<[Set]>>>,
    /// With so much to spend, nothing was found from here.
    failed: HashMap<(u64, u128), u64, BuildHasherDefault<Mix>>,
    chosen: Vec<(usize, u64)>,
    best: Option<(u64, Vec<Pattern>)>,
    /// What an answer may cost at most.
    target: u64,
    /// What it costs at least.
    floor: u64,
    is_done: bool,
    gave_up: bool,
}

impl<'a, 'p, 'f> Search<'a, 'p, 'f> {
    /// Nothing listed yet.
    pub fn new(problem: &'p Problem<'f>, bits: &'a Bits) -> Self {
        let share = |&item: &u8| {
            let at = usize::from(item);
            let bins = problem.bins.iter().filter_map(|bin| {
                let dimensions = bin.weight.iter().zip(&bin.capacity);
                let shares = dimensions.map(|(w, &c)| {
                    (w[at] <= c).then(|| (u128::from(w[at]) << 20) / u128::from(c.max(1)))
                });
                let sum = shares.sum::<Option<u128>>()? / bin.weight.len() as u128;
                (bin.cost > 0).then(|| u128::from(bin.cost) * sum)
            });
            // Of up to 63 items the sum is no problem then.
            i64::try_from(bins.min().unwrap_or(0)).map_or(1 << 56, |worth| worth.min(1 << 56))
        };
        Self {
            problem,
            value: bits.item.iter().map(share).collect(),
            room: Room::default(),
            sets: Vec::new(),
            lists: vec![None; problem.demand.len()],
            bits,
            failed: HashMap::default(),
            chosen: Vec::new(),
            best: None,
            target: 0,
            floor: 0,
            is_done: false,
            gave_up: false,
        }
    }

    /// The best answer of a part that costs at most `target`, and whether there is none better.
    pub fn part(
        &mut self,
        part: &Part,
        target: u64,
        floor: u64,
        work: &mut Work,
    ) -> (Option<(u64, Vec<Pattern>)>, bool) {
        self.failed.clear();
        self.sets.clear();
        self.chosen.clear();
        (self.target, self.floor) = (target, floor);
        (self.is_done, self.gave_up) = (false, false);
        if self.bits.all == 0 {
            return (Some((part.cost, Vec::new())), true);
        }
        let state = State {
            open: self.bits.all,
            left: part.left,
            spent: part.cost,
        };
        self.go(part, state, work);
        (self.best.take(), self.is_done || !self.gave_up)
    }

    /// Adds the fillings to try in a state: those alone that leave no more than the rest of the money
    /// holds. False where it is given up.
    fn list(&mut self, part: &Part, state: State, work: &mut Work) -> bool {
        let State { open, left, spent } = state;
        let (bits, problem, target) = (self.bits, self.problem, self.target);
        let first = open & open.wrapping_neg();
        let Some(share) = bits.shares.iter().position(|share| share & first != 0) else {
            return true;
        };
        let weight = bits.weigh(open & bits.shares[share]);
        let least = |bin: usize| {
            let own = &problem.bins[bin];
            let rows = bits.rows[bin];
            let budget = target.checked_sub(spent.saturating_add(own.cost))?;
            if !part.pays(own.setup) || !lanes::within(rows, left) {
                return None;
            }
            let most = part.bundles[share].most(budget, left - rows);
            Some([0, 1].map(|d| weight[d].saturating_sub(most[d])))
        };
        let wanted = Around {
            open,
            least: &least,
            value: &self.value,
        };
        around(problem, bits, &wanted, &mut self.room, &mut self.sets, work)
    }

    /// All fillings around an item and those after it; none where it is given up.
    fn shared(&mut self, item: usize, work: &mut Work) -> Option<Rc<[Set]>> {
        if let Some(list) = &self.lists[item] {
            return Some(Rc::clone(list));
        }
        let wanted = Around {
            open: self.bits.all & !((1u64 << self.bits.first[item]) - 1),
            least: &|_| Some([0; 2]),
            value: &self.value,
        };
        let mut sets = Vec::new();
        let (problem, bits) = (self.problem, self.bits);
        around(problem, bits, &wanted, &mut self.room, &mut sets, work).then_some(())?;
        let list: Rc<[Set]> = sets.into();
        self.lists[item] = Some(Rc::clone(&list));
        Some(list)
    }

    /// Puts all that is open into one bin, the cheapest that holds it.
    fn close(&mut self, part: &Part, state: State, work: &mut Work) {
        let State { open, left, spent } = state;
        let mut best: Option<(u64, usize)> = None;
        let mut take = Vec::new();
        for (bin, own) in self.problem.bins.iter().enumerate() {
            let cost = spent.saturating_add(own.cost);
            if open & !self.bits.allowed[bin] != 0
                || !part.pays(own.setup)
                || best.map_or(cost > self.target, |(least, _)| cost >= least)
                || !lanes::within(self.bits.rows[bin], left)
            {
                continue;
            }
            if take.is_empty() {
                take = self.bits.take(open);
            }
            let weighs = |d: usize| -> u64 {
                let Some(weight) = own.weight.get(d) else {
                    return 0;
                };
                let own = take
                    .iter()
                    .map(|&(i, n)| weight[i].saturating_mul(n.into()));
                own.fold(0, u64::saturating_add)
            };
            let holds = weighs(0) <= own.capacity(0) && weighs(1) <= own.capacity(1);
            work.spend(1);
            if holds && (self.problem.plain || self.problem.fit.fits(bin, &take)) {
                best = Some((cost, bin));
            }
        }
        if let Some((cost, bin)) = best {
            self.found(cost, bin, open);
        }
    }

    /// Keeps an answer: what is chosen, and one bin more.
    fn found(&mut self, cost: u64, bin: usize, set: u64) {
        let last = std::iter::once((bin, set));
        let all = self.chosen.iter().copied().chain(last);
        let patterns = all.map(|(bin, set)| Pattern {
            bin,
            take: self.bits.take(set),
        });
        self.best = Some((cost, patterns.collect()));
        match cost.checked_sub(1) {
            Some(less) if cost > self.floor => self.target = less,
            _ => self.is_done = true,
        }
    }

    /// Tries everything from a state.
    fn go(&mut self, part: &Part, state: State, work: &mut Work) {
        let State { open, left, spent } = state;
        let before = self.target;
        self.close(part, state, work);
        if self.is_done {
            return;
        }
        if self.target < before {
            let least = part.least(self.bits, open, left).unwrap_or(u64::MAX);
            if spent.saturating_add(least) > self.target {
                return;
            }
        }
        // Near the root, and where the weights say all, fillings are listed for the state alone.
        if self.problem.plain || self.chosen.len() < NEAR {
            let from = self.sets.len();
            if !self.list(part, state, work) {
                self.gave_up = true;
            }
            let to = self.sets.len();
            for at in from..to {
                if self.is_done || self.gave_up {
                    break;
                }
                self.try_one(part, state, self.sets[at], work);
            }
            self.sets.truncate(from);
        } else {
            let item = usize::from(self.bits.item[open.trailing_zeros() as usize]);
            let Some(list) = self.shared(item, work) else {
                self.gave_up = true;
                return;
            };
            for &set in list.iter() {
                if self.is_done || self.gave_up {
                    break;
                }
                self.try_one(part, state, set, work);
            }
        }
        if self.is_done || self.gave_up {
            return;
        }
        if let Some(budget) = self.target.checked_sub(spent)
            && self.failed.len() < REMEMBERED
        {
            let known = self.failed.entry((open, left)).or_insert(0);
            *known = (*known).max(budget);
        }
    }

    /// Goes on with one bin filled.
    fn try_one(&mut self, part: &Part, state: State, set: Set, work: &mut Work) {
        let State { open, left, spent } = state;
        let rows = self.bits.rows[set.bin];
        let cost = spent.saturating_add(set.cost);
        let pays = part.pays(self.problem.bins[set.bin].setup);
        if cost > self.target || !pays || !lanes::within(rows, left) {
            return;
        }
        if !work.spend(1) {
            self.gave_up = true;
            return;
        }
        let next = State {
            open: self.bits.without(open, set.bits),
            left: left - rows,
            spent: cost,
        };
        // One bin for all that is open has been tried.
        if next.open == 0 {
            return;
        }
        let budget = self.target - cost;
        let failed = self.failed.get(&(next.open, next.left));
        if failed.is_some_and(|&failed| failed >= budget)
            || (part.least(self.bits, next.open, next.left)).is_none_or(|least| least > budget)
        {
            return;
        }
        self.chosen.push((set.bin, set.bits & open));
        self.go(part, next, work);
        self.chosen.pop();
    }
}
