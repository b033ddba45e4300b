//! First answers: the items into the bins of the cheapest bundles.

use super::bits::Bits;
use super::bundle::Bundle;
use super::{Part, lanes};
use crate::choose::packing::{Pattern, Problem};

/// Bundles that are tried.
const TRIED: usize = 4;

/// A bin that is being filled.
struct Bin {
    kind: usize,
    left: [u64; 2],
    content: Vec<(usize, u32)>,
}

/// An answer out of the first bundles into which everything goes.
pub fn fill(problem: &Problem<'_>, bits: &Bits, part: &Part) -> Option<(u64, Vec<Pattern>)> {
    let mut cost = part.cost;
    let mut patterns = Vec::new();
    let mut left = part.left;
    for (&share, bundles) in bits.shares.iter().zip(&part.bundles) {
        let need = bits.weigh(share);
        let enough = |bundle: &&Bundle| bundle.capacity == need && lanes::within(bundle.rows, left);
        let mut tried = bundles.list.iter().filter(enough).take(TRIED);
        let (bundle, bins) =
            tried.find_map(|bundle| Some((bundle, one(problem, bits, share, bundle)?)))?;
        left -= bundle.rows;
        for bin in bins.into_iter().filter(|bin| !bin.content.is_empty()) {
            cost = cost.saturating_add(problem.bins[bin.kind].cost);
            patterns.push(Pattern {
                bin: bin.kind,
                take: bin.content,
            });
        }
    }
    Some((cost, patterns))
}

/// Largest items first, each where it leaves least room.
fn one(problem: &Problem<'_>, bits: &Bits, share: u64, bundle: &Bundle) -> Option<Vec<Bin>> {
    let mut bins: Vec<Bin> = Vec::new();
    for (kind, own) in problem.bins.iter().enumerate().take(lanes::LANES) {
        for _ in 0..lanes::get(bundle.count, kind) {
            bins.push(Bin {
                kind,
                left: [own.capacity[0], own.capacity(1)],
                content: Vec::with_capacity(8),
            });
        }
    }
    let mut items = share;
    while items != 0 {
        let item = usize::from(bits.item[items.trailing_zeros() as usize]);
        items &= items - 1;
        let mut best: Option<(u64, usize)> = None;
        for (at, bin) in bins.iter_mut().enumerate() {
            let [first, second] = weights(problem, bin.kind, item);
            let Some(room) = bin.left[0].checked_sub(first) else {
                continue;
            };
            if second > bin.left[1] || best.is_some_and(|(least, _)| room >= least) {
                continue;
            }
            put(&mut bin.content, item);
            if problem.plain || problem.fit.fits(bin.kind, &bin.content) {
                best = Some((room, at));
            }
            take_back(&mut bin.content);
        }
        let bin = &mut bins[best?.1];
        let [first, second] = weights(problem, bin.kind, item);
        bin.left = [bin.left[0] - first, bin.left[1] - second];
        put(&mut bin.content, item);
    }
    Some(bins)
}

/// Weights of an item in a kind of bin.
fn weights(problem: &Problem<'_>, kind: usize, item: usize) -> [u64; 2] {
    let weight = &problem.bins[kind].weight;
    [weight[0][item], weight.get(1).map_or(0, |w| w[item])]
}

/// Adds an item that is not before the last.
fn put(content: &mut Vec<(usize, u32)>, item: usize) {
    match content.last_mut() {
        Some((last, n)) if *last == item => *n += 1,
        _ => content.push((item, 1)),
    }
}

/// Takes [`put`] back.
fn take_back(content: &mut Vec<(usize, u32)>) {
    if let Some((_, n)) = content.last_mut() {
        *n -= 1;
        if *n == 0 {
            content.pop();
        }
    }
}
