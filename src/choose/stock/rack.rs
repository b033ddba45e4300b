//! From pieces and stock to the kernel's items and bins, and back.

use super::check::{CheckedStock, Kind};
use super::spec::{Joints, LONGEST_ROW, Objective};
use crate::choose::packing::{self, Anything, BLOCKED, Bin, Outcome, Problem};

pub use crate::choose::packing::Known;
use std::collections::BTreeMap;

/// Weight of a bar against a joint when bars are counted first.
pub const BAR: u64 = 1 << 20;

/// A piece or a part of one, to be cut without a further joint unless in a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Slice {
    /// Length in units.
    pub units: u64,
    /// Index of the piece.
    pub piece: usize,
    /// Batch it must come from, by index; none for any.
    pub batch: Option<usize>,
}

/// So many reels of one kind end to end, and what is cut from them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Kind of stock.
    pub kind: usize,
    /// Reels in the row.
    pub reels: u32,
    /// What is cut from it.
    pub slices: Vec<Slice>,
}

/// The kernel's answer in rows.
pub struct Packed {
    /// Rows, or none if no answer was found.
    pub rows: Option<Vec<Row>>,
    /// What the kernel says, in the unit of [`weights`].
    pub outcome: Outcome,
}

/// How much work an answer is worth, in steps.
#[derive(Debug, Clone, Copy)]
pub enum Effort {
    /// A proof, where so many steps give one.
    Proof(u64),
    /// A first answer.
    First(u64),
}

/// Cost of a bar of a kind and of a joint, in the kernel's unit.
pub fn weights(stock: &CheckedStock, kind: &Kind) -> (u64, u64) {
    let by_choice = match stock.spec.joints {
        Joints::ByChoice { price } => Some(price.unsigned_abs()),
        _ => None,
    };
    match (stock.spec.objective, by_choice) {
        (Objective::LeastCost, joint) => (kind.price, joint.unwrap_or(0)),
        (Objective::LeastBars, None) => (u64::from(!kind.on_hand), 0),
        (Objective::LeastBars, Some(_)) => (BAR * u64::from(!kind.on_hand), 1),
    }
}

/// Packs slices onto the kinds of stock; `counts` are what is left of each kind, and
/// `batches` the batch of each kind by index.
pub fn pack(
    stock: &CheckedStock,
    slices: &[Slice],
    counts: &[Option<u32>],
    batches: &[usize],
    effort: Effort,
    known: Known,
    tick: &mut dyn FnMut(u64, u64) -> bool,
) -> Packed {
    let mut classes: BTreeMap<(std::cmp::Reverse<u64>, Option<usize>), Vec<Slice>> =
        BTreeMap::new();
    for &slice in slices {
        classes
            .entry((std::cmp::Reverse(slice.units), slice.batch))
            .or_default()
            .push(slice);
    }
    let mut classes: Vec<Vec<Slice>> = classes.into_values().collect();
    for class in &mut classes {
        class.sort_unstable_by(|a, b| b.cmp(a));
    }
    let total: u64 = slices.iter().map(|s| s.units + stock.kerf).sum();
    let mut bins = Vec::new();
    let mut rows_of = Vec::new();
    let mut limits = Vec::new();
    let mut plain = true;
    for (index, kind) in stock.kinds.iter().enumerate() {
        let count = counts.get(index).copied().flatten();
        if count == Some(0) || kind.units == 0 {
            continue;
        }
        let limited = count.filter(|&n| (n as usize) < slices.len() || stock.joins());
        let limit = limited.map(|n| {
            limits.push(n);
            limits.len() - 1
        });
        let (bar, joint) = weights(stock, kind);
        let most = if stock.joins() {
            let enough = total.div_ceil(kind.units).clamp(1, u64::from(LONGEST_ROW));
            (enough as u32).min(count.unwrap_or(u32::MAX))
        } else {
            1
        };
        for reels in 1..=most {
            let capacity = kind
                .units
                .saturating_mul(u64::from(reels))
                .saturating_add(stock.kerf);
            let weight: Vec<u64> = classes
                .iter()
                .map(|class| {
                    let first = class[0];
                    let allowed = first.batch.is_none_or(|b| batches.get(index) == Some(&b));
                    if allowed {
                        first.units + stock.kerf
                    } else {
                        plain = false;
                        BLOCKED
                    }
                })
                .collect();
            bins.push(Bin {
                cost: bar * u64::from(reels) + joint * u64::from(reels - 1),
                capacity: vec![capacity],
                weight: [weight].into(),
                rows: limit.map_or_else(Vec::new, |row| vec![row; reels as usize]),
                setup: None,
            });
            rows_of.push((index, reels));
        }
    }
    let problem = Problem {
        demand: classes
            .iter()
            .map(|c| u32::try_from(c.len()).unwrap_or(u32::MAX))
            .collect(),
        bins,
        limits,
        setups: Vec::new(),
        fit: &Anything,
        plain,
    };
    let outcome = match effort {
        Effort::Proof(steps) => packing::solve(problem, known, steps, tick),
        Effort::First(steps) => packing::first(problem, known, steps, tick),
    };
    let rows = outcome.best.as_ref().map(|(_, patterns)| {
        let mut rows = Vec::with_capacity(patterns.len());
        for pattern in patterns {
            let Some(&(kind, reels)) = rows_of.get(pattern.bin) else {
                continue;
            };
            let mut slices = Vec::new();
            for &(item, count) in &pattern.take {
                if let Some(class) = classes.get_mut(item) {
                    // Classes are held in descending order: the last has the least id.
                    slices.extend((0..count).filter_map(|_| class.pop()));
                }
            }
            rows.push(Row {
                kind,
                reels,
                slices,
            });
        }
        rows
    });
    Packed { rows, outcome }
}

impl CheckedStock {
    /// Whether any piece may be parted at the end of a reel.
    pub(super) fn joins(&self) -> bool {
        matches!(self.spec.joints, Joints::ByChoice { .. })
    }
}
