//! Steps of light across breaks that are seen: they concern two segments at once.
//!
//! 1. A cheapest chain is followed; where a step shows, one or the other of the two segments is left out, both ways,
//!    cheapest first ([`hold`](super::solve::hold)). Up to [`MOST_WAYS`] and [`MOST_EVALUATED`] this finds the cheapest, with
//!    its proof.
//! 2. Then only segments are taken whose end cells have between `L` and `L/(1 − step)` of their nominal current: any two
//!    meet unseen. The cheapest over several `L` is given, without proof.
//! 3. Then the run is not broken where a step would show.
//!
//! That none of these finds one does not say that there is none.

use super::solve::{SolvedChain, mismatch};
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::figures::{self, Chosen};
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::error::FeedError;
use crate::choose::feeding::result::limit::LimitKind;
use crate::choose::feeding::search::chain::{Chain, Exclusions, Search, Unwanted};
use crate::choose::feeding::verdict::measured::{Measured, step};
use crate::network::Workspace;
use crate::progress::Progress;
use std::collections::BTreeSet;

/// Most ways that are followed.
pub(crate) const MOST_WAYS: usize = 64;

/// Most segments that are evaluated while ways are followed, beside those of the cheapest chain; as many again while
/// windows of light are tried.
pub(crate) const MOST_EVALUATED: u64 = 5_000;

/// How many windows of light are tried.
const WINDOWS: usize = 9;

/// Too many ways were followed: the cheapest chain of segments with alike ends, or without breaks that are seen.
/// `chosen` are the segments of one that shows a step; nothing costs less than `lower`. `first`: what the first segment may not be.
pub(crate) fn otherwise(
    m: &CheckedRun,
    search: &mut Search<'_>,
    chosen: &[Chosen],
    lower: i64,
    first: Unwanted<'_>,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<Option<SolvedChain>, FeedError> {
    let these = &BTreeSet::new();
    let without = Exclusions { these, first };
    let unbroken = without_visible_breaks(m, without, lower, progress, work)?;
    alike(m, search, chosen, unbroken, lower, without, progress, work)
}

/// The cheapest over several windows of light, spread over the ends of some segments; or what is known already.
#[allow(clippy::too_many_arguments)]
fn alike(
    m: &CheckedRun,
    search: &mut Search<'_>,
    chosen: &[Chosen],
    mut best: Option<SolvedChain>,
    lower: i64,
    without: Exclusions<'_>,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<Option<SolvedChain>, FeedError> {
    let limit = m.limits.visible_step.map_or(0.0, |limit| limit.value);
    // The network solver may differ in the last digits.
    let width = 1.0 / (1.0 - 0.999 * limit.min(0.999));
    let ends = chosen.iter().flat_map(|c| c.edges.iter().flatten());
    let (low, high) = ends.fold((f64::INFINITY, 0.0_f64), |(low, high), end| {
        (low.min(*end), high.max(*end))
    });
    let low = (low / width).max(m.limits.least_current.value);
    // From the middle on, for what costs more than the best so far is not looked for.
    let middle = WINDOWS / 2;
    let order = (0..WINDOWS).map(|k| match k % 2 {
        0 => middle + k / 2,
        _ => middle - k.div_ceil(2),
    });
    search.verdicts.most = search.verdicts.solver.evaluated + MOST_EVALUATED;
    for number in order {
        if search.verdicts.is_exhausted(m) {
            break;
        }
        let from = low + (high - low) * number as f64 / (WINDOWS - 1) as f64;
        search.window = Some([from, from * width]);
        let most = best.as_ref().map(|best| best.chain.key.cost - 1);
        search.most = most.unwrap_or(i64::MAX);
        let chain = search.cheapest_afresh(without, progress);
        (search.window, search.most) = (None, i64::MAX);
        let Some(chain) = chain? else { continue };
        let chosen = choose(m, &chain.segments, work)?;
        let holds = |c: &Chosen| c.measured.iter().all(|f| f.holds_within(1e-6));
        if chosen.iter().all(holds) && broken_step(m, &chain, &chosen).is_none() {
            best = Some(SolvedChain {
                chain,
                chosen,
                lower,
                stopped: Some(format!(
                    "arrangements with a visible step across a break were followed as far as {MOST_WAYS} of them or {MOST_EVALUATED} evaluated segments; this one is the cheapest whose ends beside breaks have between {:.1} % and {:.1} % of their nominal current",
                    100.0 * from,
                    100.0 * from * width
                )),
            });
        }
    }
    search.verdicts.most = u64::MAX;
    Ok(best)
}

fn choose(
    m: &CheckedRun,
    segments: &[Candidate],
    work: &mut Workspace,
) -> Result<Vec<Chosen>, FeedError> {
    let one = |c| figures::choose(m, c, work).map_err(|what| mismatch(m, c, what));
    segments.iter().map(one).collect()
}

/// Too many ways: the run is planned without breaks where a step would show.
fn without_visible_breaks(
    m: &CheckedRun,
    without: Exclusions<'_>,
    lower: i64,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<Option<SolvedChain>, FeedError> {
    let mut narrower = m.clone();
    for mark in 1..m.n {
        if m.visible[mark] && m.next_forced[mark - 1] != mark {
            narrower.can_break[mark] = false;
        }
    }
    let mut search = Search::new(&narrower);
    let Some(chain) = search.cheapest(without, progress)? else {
        return Ok(None);
    };
    let chosen = choose(m, &chain.segments, work)?;
    if broken_step(m, &chain, &chosen).is_some() {
        return Ok(None);
    }
    Ok(Some(SolvedChain {
        chain,
        chosen,
        lower,
        stopped: Some(format!(
            "arrangements with a visible step across a break were followed as far as {MOST_WAYS} of them or {MOST_EVALUATED} evaluated segments; this one is not broken where a step would show"
        )),
    }))
}

/// First pair of neighbours with too great a step of light across a visible break.
pub(crate) fn broken_step(m: &CheckedRun, chain: &Chain, chosen: &[Chosen]) -> Option<usize> {
    m.limits.visible_step?;
    (0..chosen.len().saturating_sub(1)).find(|at| {
        step_across(m, chain.segments[*at].to, &chosen[*at], &chosen[at + 1])
            .is_some_and(|f| !f.holds())
    })
}

/// The step of light across a break, where it shows.
pub(crate) fn step_across(
    m: &CheckedRun,
    mark: usize,
    left: &Chosen,
    right: &Chosen,
) -> Option<Measured> {
    let limit = m.limits.visible_step?.value;
    if !m.visible[mark] {
        return None;
    }
    let figure = left.edges[1]
        .iter()
        .zip(&right.edges[0])
        .map(|(a, b)| step(*a, *b))
        .fold(0.0, f64::max);
    Some(Measured {
        kind: LimitKind::VisibleStep,
        figure,
        limit,
        emitter: None,
        at: mark,
    })
}
