//! Bundles: so many bins of each kind, what they cost and hold.

use super::bits::Bits;
use super::{Part, lanes};
use crate::choose::packing::Problem;
use std::cmp::Reverse;

/// Bundles of one share.
const BUNDLES: usize = 1_000;

/// So many bins of each kind.
#[derive(Debug, Clone, Copy)]
pub struct Bundle {
    /// What they cost.
    pub cost: u64,
    /// What they hold, by dimension.
    pub capacity: [u64; 2],
    /// What they take of the limits.
    pub rows: u128,
    /// How many of each kind.
    pub count: u128,
}

/// The bundles for the items of a share.
#[derive(Debug, Clone)]
pub struct Bundles {
    /// Cheapest first, without those that hold no more than another that costs and takes no more.
    pub list: Vec<Bundle>,
    /// The most that one of the bundles up to here holds, by dimension.
    most: Vec<[u64; 2]>,
}

impl Bundles {
    /// Of a list, cheapest first.
    fn of(list: Vec<Bundle>) -> Self {
        let mut most = Vec::with_capacity(list.len());
        let mut here = [0; 2];
        for bundle in &list {
            here = [0, 1].map(|d| here[d].max(bundle.capacity[d]));
            most.push(here);
        }
        Self { list, most }
    }

    /// The cost of the cheapest that holds so much; none where none does.
    pub fn least(&self, weight: [u64; 2], left: u128) -> Option<u64> {
        let holds = |most: &[u64; 2]| most[0] >= weight[0] && most[1] >= weight[1];
        let from = self.most.partition_point(|most| !holds(most));
        let enough = |bundle: &&Bundle| holds(&bundle.capacity) && lanes::within(bundle.rows, left);
        Some(self.list[from..].iter().find(enough)?.cost)
    }

    /// The most that is held, in each dimension by itself, where so much may be spent.
    pub fn most(&self, budget: u64, left: u128) -> [u64; 2] {
        let to = self.list.partition_point(|bundle| bundle.cost <= budget);
        let mut best = [0; 2];
        for (bundle, most) in self.list[..to].iter().zip(&self.most[..to]).rev() {
            if most[0] <= best[0] && most[1] <= best[1] {
                break;
            }
            if lanes::within(bundle.rows, left) {
                best = [0, 1].map(|d| best[d].max(bundle.capacity[d]));
            }
        }
        best
    }
}

/// All bundles for the items of `share`. None where there are too many.
pub fn bundles(problem: &Problem<'_>, bits: &Bits, part: &Part, share: u64) -> Option<Bundles> {
    let need = bits.weigh(share);
    let mut list = vec![Bundle {
        cost: 0,
        capacity: [0; 2],
        rows: 0,
        count: 0,
    }];
    for (kind, bin) in problem.bins.iter().enumerate() {
        if !part.pays(bin.setup) || bits.allowed[kind] & share == 0 {
            continue;
        }
        if kind >= lanes::LANES {
            return None;
        }
        let more = [bin.capacity[0], bin.capacity(1)];
        // The list is walked while it grows: each bundle of the others with ever more of this kind.
        let before = list.len();
        let mut at = 0;
        while let Some(&own) = list.get(at) {
            at += 1;
            let rows = own.rows + bits.rows[kind];
            if own.capacity == need || !lanes::within(rows, part.left) {
                continue;
            }
            if list.len() >= BUNDLES || lanes::get(own.count, kind) + 1 == lanes::MOST {
                return None;
            }
            list.push(Bundle {
                cost: own.cost.saturating_add(bin.cost),
                // What is beyond the need is as good as the need.
                capacity: [0, 1].map(|d| need[d].min(own.capacity[d].saturating_add(more[d]))),
                rows,
                count: own.count + (1 << (8 * kind)),
            });
        }
        if list.len() > before {
            undominated(&mut list);
        }
    }
    Some(Bundles::of(list))
}

/// Sorts by cost and leaves out what holds no more than another that costs and takes no more.
fn undominated(list: &mut Vec<Bundle>) {
    list.sort_unstable_by(|a, b| {
        let key = |bundle: &Bundle| (bundle.cost, Reverse(bundle.capacity), bundle.rows);
        key(a).cmp(&key(b)).then(a.count.cmp(&b.count))
    });
    let mut kept = 0;
    for at in 0..list.len() {
        let own = list[at];
        let dominated = list[..kept].iter().rev().any(|other| {
            other.capacity[0] >= own.capacity[0]
                && other.capacity[1] >= own.capacity[1]
                && lanes::within(other.rows, own.rows)
        });
        if !dominated {
            list[kept] = own;
            kept += 1;
        }
    }
    list.truncate(kept);
}
