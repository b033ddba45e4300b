//! Limits and arrangements of a run in words.

use super::rules::subject;
use super::solve::SolvedChain;
use super::steps::step_across;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::spec::Positions;
use crate::choose::feeding::result::limit::LimitKind;
use crate::choose::feeding::result::plan::{Binding, FeedProblem, Marks};
use crate::choose::feeding::verdict::measured::Measured;
use crate::finding::Limit;
use crate::id::{PlaceId, ProductId, RunId};

/// A figure beside its limit, in one line.
pub(crate) fn measured(m: &CheckedRun, f: &Measured) -> String {
    format!(
        "{} {} ({} {}) at {}",
        f.kind.words(),
        f.kind.figure(f.figure),
        if f.kind == LimitKind::LeastCurrent {
            "at least"
        } else {
            "at most"
        },
        f.kind.figure(f.limit),
        subject(m, f)
    )
}

/// A figure beside its limit as the binding one.
pub(crate) fn binding_of(m: &CheckedRun, f: &Measured) -> Binding {
    let used = f.used();
    let limit = f.kind.figure(f.limit);
    Binding {
        limit: f.kind,
        figure: f.kind.figure(f.figure),
        permitted: if f.kind == LimitKind::LeastCurrent {
            Limit::AtLeast(limit)
        } else {
            Limit::AtMost(limit)
        },
        at: subject(m, f),
        used,
        at_limit: (used - 1.0).abs() <= 1e-9,
    }
}

/// The limit that comes nearest to being broken.
pub(crate) fn binding(m: &CheckedRun, found: &SolvedChain) -> Option<Binding> {
    let across = (0..found.chosen.len().saturating_sub(1)).filter_map(|at| {
        step_across(
            m,
            found.chain.segments[at].to,
            &found.chosen[at],
            &found.chosen[at + 1],
        )
    });
    let own = found.chosen.iter().flat_map(|c| c.measured.iter().copied());
    own.chain(across)
        .max_by(|a, b| a.used().total_cmp(&b.used()))
        .map(|f| binding_of(m, &f))
}

/// A chain of segments in words.
pub(crate) fn chain(m: &CheckedRun, segments: &[Candidate]) -> String {
    let one = |c: &Candidate| {
        let option = c.option(m, 0);
        format!(
            "increments {} to {} fed at {} through {} from {}",
            c.from,
            c.to,
            c.pattern.words(),
            m.wire_names[option.wire],
            m.place_names[option.place]
        )
    };
    let all: Vec<String> = segments.iter().map(one).collect();
    all.join("; ")
}

/// The problem that was solved.
pub(crate) fn problem(m: &CheckedRun) -> FeedProblem {
    let marks = |p: &Positions| match p {
        Positions::Ends => Marks::Ends,
        Positions::Any => Marks::Every,
        Positions::At(list) => Marks::Listed(list.len() as u64),
    };
    FeedProblem {
        run: RunId::new(&*m.spec.run),
        increments: m.n as u64,
        reel: m.spec.reel.map(|reel| reel.increments),
        breaks: marks(&m.spec.breaks),
        feeds: marks(&m.spec.feed_points),
        patterns: m.patterns.clone(),
        even_places_only: m.listed_inside.is_none(),
        cables: m
            .wire_names
            .iter()
            .map(|name| ProductId::new(&**name))
            .collect(),
        places: m
            .place_names
            .iter()
            .map(|name| PlaceId::new(&**name))
            .collect(),
        states: m.states.len() as u64,
        light: None,
    }
}
