//! Limits and arrangements of a run in words.

use super::rules::{figure, limit, subject};
use super::solve::SolvedChain;
use super::steps::step_across;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::spec::Positions;
use crate::choose::feeding::result::limit::LimitKind;
use crate::choose::feeding::result::plan::{Binding, FeedProblem, Marks};
use crate::choose::feeding::verdict::measured::Measured;
use crate::id::{PlaceId, ProductId, RunId};

/// A figure beside its limit, in one line.
pub(crate) fn measured(m: &CheckedRun, f: &Measured) -> String {
    format!(
        "{} {} ({} {}) at {}",
        f.kind.words(),
        figure(m, f.kind, f.figure),
        if f.kind == LimitKind::LeastCurrent {
            "at least"
        } else {
            "at most"
        },
        figure(m, f.kind, f.limit),
        place(m, f)
    )
}

/// Where on the run a figure was found: `run S1, white, at 5.95 m`.
fn place(m: &CheckedRun, f: &Measured) -> String {
    let emitter = f.emitter.and_then(|e| m.spec.tape.emitters.get(e));
    let emitter = emitter.map_or(String::new(), |emitter| format!(", {}", emitter.name));
    let at = m.spec.tape.pitch.length_of(f.at as u64);
    format!("run {}{emitter}, at {at}", m.spec.run)
}

/// A figure beside its limit as the binding one.
pub(crate) fn binding_of(m: &CheckedRun, f: &Measured) -> Binding {
    let used = f.used();
    Binding {
        limit: f.kind,
        figure: figure(m, f.kind, f.figure),
        permitted: limit(m, f.kind, f.limit),
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
            "{} to {} {} through {} from {}",
            m.spec.tape.pitch.length_of(c.from as u64),
            m.spec.tape.pitch.length_of(c.to as u64),
            c.pattern.fed(),
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
