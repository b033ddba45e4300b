//! What tests put beside the search: every candidate, judged one by one.
//!
//! Shares the full evaluation of a candidate with the search, and nothing of what the search leaves out or
//! remembers: necessary conditions, facts about shapes, groups of ends, marks that are not passed.
//! (`tests/feed/brute.rs` shares nothing at all, on runs of up to six increments.)

use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::search::chain::{Chain, Exclusions, Search};
use crate::choose::feeding::verdict::solver::SegmentSolver;
use crate::progress::Progress;
use std::collections::BTreeSet;

/// The cheapest chain as the search finds it, with its proof.
pub(crate) fn searched(m: &CheckedRun) -> Option<Chain> {
    let these = &BTreeSet::new();
    let mut search = Search::new(m);
    let without = Exclusions { these, first: None };
    let chain = search.cheapest(without, &mut Progress::silent());
    assert!(!search.verdicts.is_exhausted(m));
    chain.expect("nobody stops it")
}

/// Every candidate from `from` to `to`.
pub(crate) fn candidates(m: &CheckedRun, from: usize, to: usize) -> Vec<Candidate> {
    let all = m.patterns.iter();
    all.flat_map(|pattern| Candidate::every(m, from, to, *pattern))
        .collect()
}

/// Cost of the cheapest chain, every candidate that could be cheaper judged in full.
pub(crate) fn cheapest(m: &CheckedRun) -> Option<i64> {
    let mut solver = SegmentSolver::default();
    let mut best: Vec<Option<i64>> = vec![None; m.n + 1];
    best[m.n] = Some(0);
    for from in (0..m.n)
        .rev()
        .filter(|from| *from == 0 || m.can_break[*from])
    {
        for to in from + 1..=m.next_forced[from] {
            let Some(rest) = best[to] else { continue };
            for c in candidates(m, from, to) {
                let known = c.price(m) + m.break_cost[to] + rest;
                if best[from].is_some_and(|b| known >= b) || solver.broken(m, &c).is_some() {
                    continue;
                }
                let watts = m.spec.costs.energy.as_ref().map_or(0.0, |energy| {
                    solver.lost(m, &c) * energy.time.value / 3.6e6 * energy.per_kilowatt_hour as f64
                });
                let cost = known + watts.round() as i64;
                best[from] = Some(best[from].map_or(cost, |b| b.min(cost)));
            }
        }
    }
    best[0]
}

/// Cost of the cheapest chain from the start to each mark, with the break there and without watts lost.
pub(crate) fn cheapest_before(m: &CheckedRun) -> Vec<Option<i64>> {
    let mut solver = SegmentSolver::default();
    let mut best: Vec<Option<i64>> = vec![None; m.n + 1];
    best[0] = Some(0);
    for to in (1..=m.n).filter(|to| *to == m.n || m.can_break[*to]) {
        for from in (0..to).filter(|from| m.next_forced[*from] >= to) {
            let Some(before) = best[from] else { continue };
            for c in candidates(m, from, to) {
                let cost = before + c.price(m) + m.break_cost[to];
                if best[to].is_none_or(|b| cost < b) && solver.broken(m, &c).is_none() {
                    best[to] = Some(cost);
                }
            }
        }
    }
    best
}
