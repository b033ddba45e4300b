//! Few items, as sets of bits: exact, and much quicker than a linear programme.
//!
//! ```text
//! bundle    so many bins of each kind; the cheapest whose capacities are enough is a bound
//! first     items into the bins of the cheapest bundles, each where it leaves least room
//! search    around the first open item every largest filling, what failed remembered
//! ```
//!
//! A state is the set of open items and what is left of the limits, so what has failed once with
//! some money to spend is not tried again with less. Costs paid once are chosen before: every
//! choice of them leaves a problem without. All in whole numbers.

mod bits;
mod bundle;
mod first;
mod lanes;
mod search;
mod sets;
#[cfg(test)]
mod tests;

use self::bits::Bits;
use self::bundle::{Bundles, bundles};
use self::search::Search;
use super::{Known, Pattern, Problem, Work};

/// Items taken together.
const ITEMS: u32 = 32;
/// Costs paid once that are chosen from.
const SETUPS: usize = 8;

/// What the search found.
#[derive(Debug)]
pub struct Found {
    /// The best answer found.
    pub best: Option<(u64, Vec<Pattern>)>,
    /// No answer costs less.
    pub lower: u64,
    /// The bound before anything was searched.
    pub root: u64,
    /// Whether the search is complete.
    pub complete: bool,
}

/// Which costs are paid once, and what is left to be solved then.
pub struct Part {
    /// Setups that are paid, as bits.
    pub paid: u64,
    /// What they cost.
    pub cost: u64,
    /// What is left of the limits.
    pub left: u128,
    /// For each set of items that share bins the bundles, cheapest first.
    pub bundles: Vec<Bundles>,
    /// No answer of this part costs less.
    pub lower: u64,
}

/// The cheapest answer that costs at most `known.most`; none where the items are too many or the
/// limits too large for this.
pub fn solve(problem: &Problem<'_>, known: Known, work: &mut Work) -> Option<Found> {
    if problem
        .demand
        .iter()
        .fold(0, |n: u32, &d| n.saturating_add(d))
        > ITEMS
        || problem.setups.len() > SETUPS
    {
        return None;
    }
    let bits = Bits::of(problem)?;
    let parts = parts(problem, &bits, known)?;
    let most = known.most;
    let end = most.saturating_add(1);
    let root = parts.first().map_or(end, |part| part.lower.min(end));
    let mut best: Option<(u64, Vec<Pattern>)> = None;
    let mut target = most;
    for part in &parts {
        if part.lower > target {
            break;
        }
        if let Some((cost, patterns)) = first::fill(problem, &bits, part)
            && cost <= target
        {
            best = Some((cost, patterns));
            if cost <= root {
                break;
            }
            target = cost - 1;
        }
    }
    let mut open: Option<u64> = None;
    if best.as_ref().is_none_or(|(cost, _)| *cost > root) {
        let mut search = Search::new(problem, &bits);
        for part in &parts {
            if part.lower > target || (best.as_ref()).is_some_and(|(cost, _)| *cost <= root) {
                break;
            }
            let (found, complete) = search.part(part, target, root, work);
            if !complete {
                open = Some(open.map_or(part.lower, |low| low.min(part.lower)));
            }
            if let Some((cost, patterns)) = found {
                target = cost.saturating_sub(1);
                best = Some((cost, patterns));
            }
        }
    }
    let end = best.as_ref().map_or(end, |(cost, _)| *cost);
    let open = open.filter(|_| end > root);
    Some(Found {
        lower: open.map_or(end, |low| low.min(end)),
        root: root.min(end),
        complete: open.is_none(),
        best,
    })
}

/// Every choice of setups that may hold everything, that with the least bound first. None where
/// there are too many bundles.
fn parts(problem: &Problem<'_>, bits: &Bits, known: Known) -> Option<Vec<Part>> {
    let mut parts = Vec::new();
    for paid in 0..1u64 << problem.setups.len() {
        let mut cost = 0u64;
        let mut rows = 0u128;
        let chosen = problem.setups.iter().enumerate();
        for (_, &(price, row)) in chosen.filter(|(at, _)| paid >> at & 1 == 1) {
            cost = cost.saturating_add(price);
            rows += row.map_or(0, |row| 1 << (8 * row));
        }
        if !lanes::within(rows, bits.limits) {
            continue;
        }
        let mut part = Part {
            paid,
            cost,
            left: bits.limits - rows,
            bundles: Vec::with_capacity(bits.shares.len()),
            lower: cost,
        };
        for &share in &bits.shares {
            part.bundles.push(bundles(problem, bits, &part, share)?);
        }
        if let Some(least) = part.least(bits, bits.all, part.left) {
            part.lower = part.lower.saturating_add(least).max(known.least);
            parts.push(part);
        }
    }
    parts.sort_by_key(|part| (part.lower, part.paid));
    Some(parts)
}

impl Part {
    /// The cheapest bundles that hold what is open; none where no bundle does.
    fn least(&self, bits: &Bits, open: u64, left: u128) -> Option<u64> {
        let mut sum = 0u64;
        for (&share, bundles) in bits.shares.iter().zip(&self.bundles) {
            sum = sum.saturating_add(bundles.least(bits.weigh(open & share), left)?);
        }
        Some(sum)
    }

    /// Whether a kind of bin may be used.
    fn pays(&self, setup: Option<usize>) -> bool {
        setup.is_none_or(|setup| self.paid >> setup & 1 == 1)
    }
}
