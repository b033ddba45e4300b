//! The problem in bits.

use super::lanes;
use crate::choose::packing::Problem;

/// The problem in bits: one for each item, equal items side by side. Of equal items the lowest
/// bits are open, so that the same number open is the same set.
pub struct Bits {
    /// Every item.
    pub all: u64,
    /// First bit of each item of the problem.
    pub first: Vec<u8>,
    /// Item of the problem that each bit stands for.
    pub item: Vec<u8>,
    /// Bits of items that there are several of.
    several: Vec<u64>,
    /// Least weights of each bit in any bin.
    weight: Vec<[u64; 2]>,
    /// Of each bin which bits may lie in it.
    pub allowed: Vec<u64>,
    /// Of each bin what one takes of the limits.
    pub rows: Vec<u128>,
    /// The limits.
    pub limits: u128,
    /// Sets of items that have no bin in common.
    pub shares: Vec<u64>,
}

impl Bits {
    /// None where limits do not fit into lanes, or bins have more than two dimensions.
    pub fn of(problem: &Problem<'_>) -> Option<Self> {
        let items = problem.demand.len();
        if problem.limits.len() > lanes::LANES
            || problem.bins.iter().any(|bin| bin.capacity.len() > 2)
        {
            return None;
        }
        let count: u32 = problem.demand.iter().sum();
        let mut first = Vec::with_capacity(items);
        let mut item = Vec::with_capacity(count as usize);
        let mut several = Vec::new();
        let mut weight = Vec::with_capacity(count as usize);
        for (at, &demand) in problem.demand.iter().enumerate() {
            let from = item.len() as u32;
            first.push(from as u8);
            if demand > 1 {
                several.push(((1u64 << demand) - 1) << from);
            }
            let bins = problem
                .bins
                .iter()
                .filter(|bin| bin.weight[0][at] <= bin.capacity[0]);
            let least = bins.fold([u64::MAX; 2], |least, bin| {
                let second = bin.weight.get(1).map_or(0, |w| w[at]);
                [least[0].min(bin.weight[0][at]), least[1].min(second)]
            });
            for _ in 0..demand {
                item.push(at as u8);
                weight.push(least);
            }
        }
        let all = (1u64 << count) - 1;
        let mut rows = Vec::with_capacity(problem.bins.len());
        let mut most = [1u64; lanes::LANES];
        for bin in &problem.bins {
            if bin.rows.len() > lanes::MOST as usize {
                return None;
            }
            let mut need = 0u128;
            for &row in &bin.rows {
                need += 1 << (8 * row);
            }
            for (lane, most) in most.iter_mut().enumerate().take(problem.limits.len()) {
                *most = (*most).max(u64::from(lanes::get(need, lane)));
            }
            rows.push(need);
        }
        let mut limits = 0u128;
        for (lane, (&limit, times)) in problem.limits.iter().zip(most).enumerate() {
            // More than each item alone in a bin and every setup take is as good as that.
            let enough = (u64::from(count) + problem.setups.len() as u64) * times;
            let limit = u64::from(limit).min(enough);
            if limit > u64::from(lanes::MOST) {
                return None;
            }
            limits |= u128::from(limit) << (8 * lane);
        }
        let mut allowed = Vec::with_capacity(problem.bins.len());
        let mut shares: Vec<u64> = Vec::new();
        for bin in &problem.bins {
            let mut own = 0u64;
            for (at, &from) in first.iter().enumerate() {
                let fits = bin
                    .weight
                    .iter()
                    .zip(&bin.capacity)
                    .all(|(w, c)| w[at] <= *c);
                if fits {
                    own |= ((1u64 << problem.demand[at]) - 1) << from;
                }
            }
            allowed.push(own);
            let mut joined = own;
            shares.retain(|&share| {
                let apart = share & own == 0;
                if !apart {
                    joined |= share;
                }
                apart
            });
            if joined != 0 {
                shares.push(joined);
            }
        }
        // An item that no bin takes is a share of its own that nothing serves.
        let alone = all & !shares.iter().fold(0, |sum, share| sum | share);
        if alone != 0 {
            shares.push(alone);
        }
        shares.sort_unstable();
        Some(Self {
            all,
            first,
            item,
            several,
            weight,
            allowed,
            rows,
            limits,
            shares,
        })
    }

    /// What is still open of `open` when `set` is placed.
    pub fn without(&self, open: u64, set: u64) -> u64 {
        let mut left = open & !set;
        for &block in &self.several {
            let placed = (open & set & block).count_ones();
            if placed > 0 {
                left = left & !block | (left & block) >> placed;
            }
        }
        left
    }

    /// Weights of a set.
    pub fn weigh(&self, mut set: u64) -> [u64; 2] {
        let mut sum = [0u64; 2];
        while set != 0 {
            let [a, b] = self.weight[set.trailing_zeros() as usize];
            sum = [sum[0].saturating_add(a), sum[1].saturating_add(b)];
            set &= set - 1;
        }
        sum
    }

    /// A set as item and count.
    pub fn take(&self, mut set: u64) -> Vec<(usize, u32)> {
        let mut take: Vec<(usize, u32)> = Vec::with_capacity(set.count_ones() as usize);
        while set != 0 {
            let item = usize::from(self.item[set.trailing_zeros() as usize]);
            match take.last_mut() {
                Some((last, n)) if *last == item => *n += 1,
                _ => take.push((item, 1)),
            }
            set &= set - 1;
        }
        take
    }
}
