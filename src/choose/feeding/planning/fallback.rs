//! What to say when no arrangement holds, and what would have been taken if no limit counted.

use super::rules;
use super::solve::{SolvedChain, assemble, hold, mismatch, relaxed};
use super::steps::step_across;
use super::words;
use crate::choose::feeding::circuit::candidate::{Candidate, Rank};
use crate::choose::feeding::figures::{self, Chosen};
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::error::FeedError;
use crate::choose::feeding::problem::spec::{FeedLimits, Pattern};
use crate::choose::feeding::result::limit::LimitKind;
use crate::choose::feeding::result::plan::{Alternative, Infeasible, Proof, RunOutcome};
use crate::choose::feeding::search::chain::{Chain, Search};
use crate::choose::feeding::verdict::measured::Measured;
use crate::choose::feeding::verdict::solver::SegmentSolver;
use crate::network::Workspace;
use crate::order::Order as _;
use crate::progress::Progress;
use crate::quantity::fraction;
use std::collections::BTreeMap;

/// The patterns with one feed.
const ONE_FEED: [Pattern; 3] = [Pattern::Start, Pattern::End, Pattern::Inside];

/// Halvings of the light limit: the greatest that can be kept is known to a hundredth of it.
const HALVINGS: usize = 7;
/// Share of the most light that the best effort keeps.
const EASED: f64 = 0.97;

/// The same run with no limit but the light limit, at `light` times the nominal current.
fn only_light(m: &CheckedRun, light: f64) -> CheckedRun {
    let mut free = m.clone();
    free.limits = FeedLimits {
        feeder_length: m.limits.feeder_length,
        ..FeedLimits::light_alone(fraction(light))
    };
    free.branch = usize::MAX;
    free.core_limit.iter_mut().for_each(|c| *c = f64::INFINITY);
    free.set_light(light);
    free
}

/// The cheapest arrangement if no limit counted, where it is cheaper, with the limit it breaks.
pub(crate) fn refused(
    m: &CheckedRun,
    cost: i64,
    progress: &mut Progress<'_>,
) -> Result<Option<Alternative>, FeedError> {
    let chain = if m.fixed_feeds.is_empty()
        && m.fixed_segments.is_empty()
        && ONE_FEED.iter().all(|p| m.patterns.contains(p))
    {
        // Without limits a second feed never pays, and a break only where it saves a joint: one of a reel at most.
        let feeders = m.options.iter().chain(&m.end_options).flatten();
        let feeder = feeders.map(|o| o.cost).min().unwrap_or(0);
        let more = m.spec.costs.per_segment + feeder;
        if m.reels.price == 0 || m.reels.price < more {
            without_limits(m)
        } else {
            let mut free = only_light(m, 0.0);
            free.patterns = ONE_FEED.to_vec();
            relaxed(&free, progress)?
        }
    } else {
        relaxed(&only_light(m, 0.0), progress)?
    };
    let Some(chain) = chain.filter(|chain| chain.key.cost < cost) else {
        return Ok(None);
    };
    let mut solver = SegmentSolver::default();
    let broken = chain.segments.iter().find_map(|c| solver.judge(m, c));
    Ok(broken.map(|broken| Alternative {
        what: words::chain(m, &chain.segments),
        cost: chain.key.cost,
        why_not: format!("breaks the limit: {}", words::measured(m, &broken)),
    }))
}

/// The cheapest chain of segments with one feed each, if no limit counted.
fn without_limits(m: &CheckedRun) -> Option<Chain> {
    let pays = |mark: &usize| {
        let forced = m.next_forced[mark - 1] == *mark;
        let joint = m.joint_price_before[*mark] < m.joint_price_before[mark + 1];
        m.can_break[*mark] && (forced || joint)
    };
    let ends: Vec<usize> = (1..m.n).filter(pays).chain([m.n]).collect();
    // From the end of the run on: the best way on from each break, and from the start.
    let mut best: BTreeMap<usize, (Rank, Option<Candidate>)> = BTreeMap::new();
    best.insert(m.n, (Rank::default(), None));
    for &from in ends.iter().rev().skip(1).chain([&0]) {
        let last = m.next_forced[from];
        let mut ways: Vec<(Rank, Candidate)> = Vec::new();
        for (&to, (rest, _)) in best.range(..=last) {
            let rest = *rest
                + Rank {
                    cost: m.break_cost[to],
                    ..Rank::default()
                };
            let feeds = (from..=to).flat_map(|mark| {
                let pattern = match mark {
                    _ if mark == from => Pattern::Start,
                    _ if mark == to => Pattern::End,
                    _ => Pattern::Inside,
                };
                let options = 0..m.options_at(mark, to).len();
                options.map(move |o| Candidate::new(from, to, pattern, &[(mark, o)]))
            });
            let with_key = feeds.map(|c| {
                let own = Rank {
                    cost: c.price(m),
                    feeds: 1,
                    uneven: c.uneven(),
                };
                (own + rest, c)
            });
            ways.extend(with_key.min());
        }
        if let Some((key, way)) = ways.into_iter().min() {
            best.insert(from, (key, Some(way)));
        }
    }
    let (key, _) = *best.get(&0)?;
    let mut segments = Vec::new();
    let mut at = 0;
    while at < m.n {
        let way = best.get(&at)?.1?;
        segments.push(way);
        at = way.to;
    }
    Some(Chain { key, segments })
}

/// The cheapest arrangement that keeps every limit but that of steps across breaks, and how many were evaluated.
fn without_steps(
    m: &CheckedRun,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<Option<(Chain, u64)>, FeedError> {
    if m.limits.visible_step.is_none() {
        return Ok(None);
    }
    let mut free = m.clone();
    free.limits.visible_step = None;
    let mut search = Search::new(&free);
    let found = hold(&free, &mut search, progress, work, None)?;
    Ok(found.map(|found| (found.chain, search.verdicts.solver.evaluated)))
}

/// Of arrangements that keep no limit but that of light the one with the most light, or nearly.
fn brightest(
    m: &CheckedRun,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<Option<(Chain, u64)>, FeedError> {
    let asked = m.limits.least_current.value;
    let mut best: Option<(CheckedRun, Chain, u64)> = None;
    let (mut low, mut high) = (0.0, asked);
    let mut light = asked;
    for halving in 0..=HALVINGS {
        let free = only_light(m, light);
        let mut search = Search::new(&free);
        match hold(&free, &mut search, progress, work, None)? {
            Some(found) => {
                best = Some((free.clone(), found.chain, search.verdicts.solver.evaluated));
                low = light;
                if halving == 0 {
                    break;
                }
            }
            None => high = light,
        }
        light = if halving + 1 == HALVINGS && best.is_none() {
            0.0
        } else {
            0.5 * (low + high)
        };
    }
    // The last hundredth of light may cost a feed an increment: a little less is a better start.
    if let Some((free, _, _)) = &best {
        let eased = only_light(m, free.limits.least_current.value * EASED);
        let mut search = Search::new(&eased);
        if let Some(found) = hold(&eased, &mut search, progress, work, None)? {
            best = Some((eased.clone(), found.chain, search.verdicts.solver.evaluated));
        }
    }
    Ok(best.map(|(_, chain, evaluated)| (chain, evaluated)))
}

/// The shortest feeder there is, where every one is longer than a feeder under chopping may be: the search has none of them.
fn too_far(m: &CheckedRun) -> Option<Measured> {
    let has_one = m
        .options
        .iter()
        .chain(&m.end_options)
        .any(|o| !o.is_empty());
    let mut spec = m.spec.clone();
    let limit = spec.limits.feeder_length.take().filter(|_| !has_one)?;
    let all = spec.check().ok()?;
    let by_mark = all.options.iter().enumerate();
    let routes = by_mark.flat_map(|(at, options)| options.iter().map(move |o| (o.route, at)));
    let (route, at) = routes.min()?;
    Some(Measured {
        kind: LimitKind::FeederLength,
        figure: route as f64 * 1e-9,
        limit: limit.metres(),
        emitter: None,
        at,
    })
}

/// No arrangement keeps every limit: one that keeps all but that of steps across breaks, or the most light, and every
/// limit it breaks.
pub(crate) fn infeasible(
    m: &CheckedRun,
    cut_short: bool,
    progress: &mut Progress<'_>,
    work: &mut Workspace,
) -> Result<RunOutcome, FeedError> {
    let (best, kept) = match without_steps(m, progress, work)? {
        Some(best) => (
            Some(best),
            "every limit but that of steps of light across breaks",
        ),
        None => (
            brightest(m, progress, work)?,
            "97 % of the most light that the weakest cell can have",
        ),
    };
    let Some((chain, evaluated)) = best else {
        return Ok(RunOutcome::Infeasible(Box::new(Infeasible {
            nearest: None,
            best_effort: None,
            findings: vec![match too_far(m) {
                _ if cut_short => rules::cut_short(m),
                Some(shortest) => rules::broken(m, &shortest),
                None => rules::no_arrangement(m),
            }],
            cut_short,
        })));
    };
    let mut chosen: Vec<Chosen> = Vec::new();
    for c in &chain.segments {
        chosen.push(figures::choose(m, c, work).map_err(|what| mismatch(m, c, what))?);
    }
    let mut broken: Vec<Measured> = Vec::new();
    let mut keep = |f: &Measured| match broken.iter_mut().find(|g: &&mut Measured| g.kind == f.kind)
    {
        Some(g) if f.used() > g.used() => *g = *f,
        Some(_) => {}
        None => broken.push(*f),
    };
    for c in &chosen {
        c.measured.iter().filter(|f| !f.holds()).for_each(&mut keep);
    }
    for at in 0..chosen.len().saturating_sub(1) {
        if let Some(f) = step_across(m, chain.segments[at].to, &chosen[at], &chosen[at + 1])
            && !f.holds()
        {
            keep(&f);
        }
    }
    broken.order_by_key(|f| f.kind);
    let mut findings: Vec<_> = broken.iter().map(|f| rules::broken(m, f)).collect();
    let worst = broken.iter().max_by(|a, b| a.used().total_cmp(&b.used()));
    let nearest = worst.map(|f| words::binding_of(m, f));
    if cut_short {
        findings.push(rules::cut_short(m));
    } else if worst.is_none() {
        // Light alone can be kept, and this arrangement breaks nothing: the limits contradict only together.
        findings.push(rules::no_arrangement(m));
    }
    let cost = chain.key.cost;
    let found = SolvedChain {
        chain,
        chosen,
        lower: cost,
        stopped: None,
    };
    let proof = Proof::Gap {
        problem: words::problem(m),
        reason: format!(
            "{}; this one keeps {kept}, and breaks the limits named",
            if cut_short {
                "the search was cut short before any arrangement was found that keeps every limit"
            } else {
                "no candidate keeps every limit"
            }
        ),
    };
    Ok(RunOutcome::Infeasible(Box::new(Infeasible {
        nearest,
        best_effort: Some(assemble(m, found, proof, None, None, evaluated)),
        findings,
        cut_short,
    })))
}
