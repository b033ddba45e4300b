//! From a checked run to its plan: search, full evaluation, proof.
//!
//! 1. The cheapest chain of segments that keep every limit is found ([`chain`](crate::choose::feeding::search::chain)).
//! 2. Its segments are solved again by the network solver; a contradiction is an error, not a plan.
//! 3. A step of light across a break concerns two segments at once. Then either one or the other
//!    is not in the plan: both ways are followed, cheapest first, up to a number ([`steps`](super::steps)).

use super::steps::{self, MOST_EVALUATED, MOST_WAYS, broken_step};
use super::words;
use crate::choose::feeding::circuit::candidate::{Candidate, Rank};
use crate::choose::feeding::figures::{self, Chosen};
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::error::FeedError;
use crate::choose::feeding::problem::spec::Pattern;
use crate::choose::feeding::result::plan::{Alternative, Proof, RunFeedPlan, RunOutcome, Segment};
use crate::choose::feeding::search::chain::{Chain, Exclusions, Search, Unwanted};
use crate::network::Workspace;
use crate::progress::Progress;
use std::collections::{BTreeMap, BTreeSet};

/// A chain that holds, or why there is none.
pub(crate) struct SolvedChain {
    pub chain: Chain,
    pub chosen: Vec<Chosen>,
    /// Nothing costs less than this.
    pub lower: i64,
    /// Why the search stopped before it had its proof.
    pub stopped: Option<String>,
}

impl CheckedRun {
    /// Plans the run: where to break it, where to feed it, from where and through what.
    ///
    /// # Errors
    /// [`FeedError::Mismatch`] where the network solver contradicts the search (a fault of this crate).
    pub fn plan(&self) -> Result<RunOutcome, FeedError> {
        self.plan_watched(&mut Progress::silent())
    }

    /// As [`CheckedRun::plan`], with progress and cancellation.
    ///
    /// # Errors
    /// [`FeedError::Stopped`] when cancelled; [`FeedError::Mismatch`].
    pub fn plan_watched(&self, progress: &mut Progress<'_>) -> Result<RunOutcome, FeedError> {
        let mut work = Workspace::new();
        let mut search = Search::new(self);
        let mut found = hold(self, &mut search, progress, &mut work, None)?;
        let spent = search.verdicts.is_exhausted(self);
        if spent {
            let lower = match &found {
                Some(found) => found.lower,
                None => relaxed_cost(self, progress)?,
            };
            let other = simpler(self, lower, progress, &mut work)?;
            let both = found.into_iter().chain(other);
            found = both.min_by_key(|found| found.chain.key);
        }
        let Some(found) = found else {
            return super::fallback::infeasible(self, spent || search.gave_up, progress, &mut work);
        };
        // Where no proof was found, one that begins otherwise may even cost less; the next best it is not.
        let runner_up = if search.verdicts.is_exhausted(self) || found.stopped.is_some() {
            None
        } else {
            runner_up(self, &mut search, &found, progress, &mut work)?
        };
        let refused = super::fallback::refused(self, found.chain.key.cost, progress)?;
        let problem = words::problem(self);
        let proof = match &found.stopped {
            None => Proof::Cheapest { problem },
            Some(reason) => Proof::Gap {
                problem,
                reason: reason.clone(),
            },
        };
        let evaluated = search.verdicts.solver.evaluated;
        Ok(RunOutcome::Planned(Box::new(assemble(
            self, found, proof, runner_up, refused, evaluated,
        ))))
    }
}

/// The plan of a chain whose segments are solved.
pub(crate) fn assemble(
    m: &CheckedRun,
    found: SolvedChain,
    proof: Proof,
    runner_up: Option<Alternative>,
    refused: Option<Alternative>,
    evaluated: u64,
) -> RunFeedPlan {
    let binding = words::binding(m, &found);
    let segments: Vec<Segment> = found.chosen.into_iter().map(|c| c.segment).collect();
    RunFeedPlan {
        segments,
        cost: found.chain.key.cost,
        lower_bound: found.lower,
        proof,
        binding,
        runner_up,
        refused,
        evaluated,
    }
}

/// A cheapest chain of which every segment keeps every limit, and no step across a break shows.
pub(crate) fn hold(
    m: &CheckedRun,
    search: &mut Search<'_>,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
    first: Unwanted<'_>,
) -> Result<Option<SolvedChain>, FeedError> {
    // Ways not yet followed: price, number, what is left out.
    let mut open: BTreeMap<(Rank, usize), (Chain, BTreeSet<Candidate>)> = BTreeMap::new();
    let mut ways = 0;
    let these = &BTreeSet::new();
    let without = Exclusions { these, first };
    let Some(chain) = search.cheapest(without, progress)? else {
        return Ok(None);
    };
    let mut lower = chain.key.cost;
    open.insert((chain.key, 0), (chain, BTreeSet::new()));
    while let Some((_, (chain, local))) = open.pop_first() {
        let mut chosen = Vec::with_capacity(chain.segments.len());
        for c in &chain.segments {
            if let Some(known) = search.chosen.get(c) {
                chosen.push(known.clone());
                continue;
            }
            let one = figures::choose(m, c, work).map_err(|what| mismatch(m, c, what))?;
            let broken = one.measured.iter().find(|f| !f.holds_within(1e-6));
            if let Some(f) = broken {
                return Err(mismatch(m, c, words::measured(m, f)));
            }
            search.chosen.insert(*c, one.clone());
            chosen.push(one);
        }
        let Some(at) = broken_step(m, &chain, &chosen) else {
            let mut stopped = None;
            if search.verdicts.is_exhausted(m) {
                let most = m.spec.effort.min(search.verdicts.most);
                search.verdicts.most = u64::MAX;
                lower = lower.min(relaxed_cost(m, progress)?);
                stopped = Some(format!(
                    "the effort of {most} evaluated segments was spent before every cheaper candidate was evaluated",
                ));
            } else {
                lower = chain.key.cost;
            }
            search.verdicts.most = u64::MAX;
            return Ok(Some(SolvedChain {
                chain,
                chosen,
                lower,
                stopped,
            }));
        };
        if ways == 0 {
            search.verdicts.most = search.verdicts.solver.evaluated + MOST_EVALUATED;
        }
        if ways >= MOST_WAYS || search.verdicts.solver.evaluated >= search.verdicts.most {
            search.verdicts.most = u64::MAX;
            let found = steps::otherwise(m, search, &chosen, lower, first, progress, work)?;
            search.gave_up = found.is_none();
            return Ok(found);
        }
        for left_out in [chain.segments[at], chain.segments[at + 1]] {
            let mut local = local.clone();
            local.insert(left_out);
            ways += 1;
            let these = &local;
            let without = Exclusions { these, first };
            if let Some(next) = search.cheapest(without, progress)? {
                open.insert((next.key, ways), (next, local));
            }
        }
        // What was left out because the work was spent is no proof that there is none.
        if open.is_empty() && search.verdicts.is_exhausted(m) {
            search.verdicts.most = u64::MAX;
            let found = steps::otherwise(m, search, &chosen, lower, first, progress, work)?;
            search.gave_up = found.is_none();
            return Ok(found);
        }
    }
    search.verdicts.most = u64::MAX;
    Ok(None)
}

/// Cost of the cheapest chain that no necessary condition refuses: nothing costs less.
fn relaxed_cost(m: &CheckedRun, progress: &mut Progress<'_>) -> Result<i64, FeedError> {
    let chain = relaxed(m, progress)?;
    Ok(chain.map_or(i64::MAX, |chain| chain.key.cost))
}

/// The cheapest chain that no necessary condition refuses.
pub(crate) fn relaxed(
    m: &CheckedRun,
    progress: &mut Progress<'_>,
) -> Result<Option<Chain>, FeedError> {
    let mut search = Search::new(m);
    search.verdicts.relaxed = true;
    let these = &BTreeSet::new();
    let without = Exclusions { these, first: None };
    search.cheapest(without, progress)
}

/// The effort was spent before the cheapest was found: the run is planned with breaks at few marks, and then with one feed
/// a segment and a break at each joint that adds resistance, where one is permitted.
fn simpler(
    m: &CheckedRun,
    lower: i64,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<Option<SolvedChain>, FeedError> {
    let one_feed = [Pattern::Start, Pattern::End, Pattern::Inside];
    for (marks, several) in [(64, true), (16, true), (64, false), (16, false), (1, false)] {
        let every = m.n.div_ceil(marks);
        let mut narrower = m.clone();
        for mark in (1..m.n).filter(|mark| mark % every > 0) {
            let forced = m.next_forced[mark - 1] == mark;
            narrower.can_break[mark] &= forced || m.adds_resistance(mark) || marks == 1;
        }
        if !several {
            let mut next = m.n;
            for mark in (0..m.n).rev() {
                narrower.next_forced[mark] = next.min(m.next_forced[mark]);
                if m.can_break[mark] && m.adds_resistance(mark) {
                    next = mark;
                }
            }
            narrower.patterns.retain(|p| one_feed.contains(p));
            narrower.spec.patterns.clone_from(&narrower.patterns);
        }
        let mut search = Search::new(&narrower);
        if let Some(found) = hold(&narrower, &mut search, progress, work, None)? {
            return Ok(Some(SolvedChain {
                lower,
                stopped: Some(format!(
                    "the effort of {} evaluated segments was spent; this plan {}",
                    m.spec.effort,
                    match (marks, several) {
                        (1, _) =>
                            "has one feed a segment and breaks the run at every joint that adds resistance",
                        (_, true) => "breaks the run at few marks only",
                        _ =>
                            "has one feed a segment and breaks the run at few marks and at every joint that adds resistance",
                    }
                )),
                ..found
            }));
        }
    }
    Ok(None)
}

pub(crate) fn mismatch(m: &CheckedRun, c: &Candidate, what: String) -> FeedError {
    FeedError::Mismatch {
        run: m.spec.run.clone(),
        from: c.from as u64,
        to: c.to as u64,
        what,
    }
}

/// The cheapest arrangement that starts with another kind of segment: another way of feeding,
/// another wire or another place.
fn runner_up(
    m: &CheckedRun,
    search: &mut Search<'_>,
    found: &SolvedChain,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<Option<Alternative>, FeedError> {
    let first = found.chain.segments[0];
    let kind = |c: &Candidate| (c.pattern, c.option(m, 0).place, c.option(m, 0).wire);
    let own = kind(&first);
    let same = |c: &Candidate| kind(c) == own;
    let other = match m.limits.visible_step {
        // What the search proved is not solved again where it is not planned.
        None => {
            let these = &BTreeSet::new();
            let first: Unwanted<'_> = Some(&same);
            let without = Exclusions { these, first };
            search.cheapest(without, progress)?
        }
        Some(_) => hold(m, search, progress, work, Some(&same))?.map(|found| found.chain),
    };
    // Where no proof was found, one that begins otherwise may even cost less; the next best it is not.
    let Some(other) = other.filter(|other| other.key >= found.chain.key) else {
        return Ok(None);
    };
    let dearer = other.key.cost - found.chain.key.cost;
    let why_not = match dearer {
        0 => {
            let feeds = |c: &Chain| c.key.feeds;
            if feeds(&other) > feeds(&found.chain) {
                "costs the same with more feeds".to_owned()
            } else {
                "costs the same with less even branches, or later in the stated order of ties"
                    .to_owned()
            }
        }
        more => format!("dearer by {more} minor units"),
    };
    Ok(Some(Alternative {
        what: words::chain(m, &other.segments),
        cost: other.key.cost,
        why_not,
    }))
}
