//! Bundles: so many bins of each kind, what they cost and hold.

use super::bits::Bits;
use super::{Part, lanes};
use crate::packing::Problem;

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

/// The bundles for the items of `share`, cheapest first, without those that hold no more than
/// another that costs and takes no more. None where there are too many.
pub fn bundles(problem: &Problem<'_>, bits: &Bits, part: &Part, share: u64) -> Option<Vec<Bundle>> {
    let need = bits.weigh(share);
    let mut list = vec![Bundle {
        cost: 0,
        capacity: [0; 2],
        rows: 0,
        count: 0,
    }];
    for (kind, bin) in problem.bins.iter().enumerate() {
        let paid = bin.setup.is_none_or(|setup| part.paid >> setup & 1 == 1);
        if !paid || bits.allowed[kind] & share == 0 {
            continue;
        }
        if kind >= lanes::LANES {
            return None;
        }
        let more = [bin.capacity[0], bin.capacity(1)];
        // Lists are walked while they grow: each bundle of the others with ever more of this kind.
        let mut at = 0;
        while let Some(&own) = list.get(at) {
            at += 1;
            let rows = own.rows + bits.rows[kind];
            let enough = own.capacity[0] >= need[0] && own.capacity[1] >= need[1];
            if enough || !lanes::within(rows, part.left) {
                continue;
            }
            let next = Bundle {
                cost: own.cost.saturating_add(bin.cost),
                capacity: [0, 1].map(|d| own.capacity[d].saturating_add(more[d])),
                rows,
                count: own.count + (1 << (8 * kind)),
            };
            if list.len() >= BUNDLES || lanes::get(next.count, kind) == lanes::MOST {
                return None;
            }
            list.push(next);
        }
    }
    // What is beyond the need is as good as the need.
    for bundle in &mut list {
        for (own, need) in bundle.capacity.iter_mut().zip(need) {
            *own = (*own).min(need);
        }
    }
    list.sort_by(|a, b| {
        let key = |bundle: &Bundle| (bundle.cost, std::cmp::Reverse(bundle.capacity), bundle.rows);
        key(a).cmp(&key(b)).then(a.count.cmp(&b.count))
    });
    let mut kept: Vec<Bundle> = Vec::with_capacity(list.len());
    for own in list {
        let dominated = kept.iter().any(|other| {
            other.capacity[0] >= own.capacity[0]
                && other.capacity[1] >= own.capacity[1]
                && lanes::within(other.rows, own.rows)
        });
        if !dominated {
            kept.push(own);
        }
    }
    Some(kept)
}
