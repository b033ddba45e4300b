//! Limits and arrangements of a run in words.

use super::rules::subject;
use super::solve::Found;
use super::steps::step_across;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::spec::Positions;
use crate::choose::feeding::result::plan::Binding;
use crate::choose::feeding::verdict::measure::{LimitKind, Measured};

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
    Binding {
        limit: f.kind.words().into(),
        figure: f.kind.figure(f.figure).to_string(),
        permitted: f.kind.figure(f.limit).to_string(),
        place: subject(m, f).to_string(),
        used,
        at_limit: (used - 1.0).abs() <= 1e-9,
    }
}

/// The limit that comes nearest to being broken.
pub(crate) fn binding(m: &CheckedRun, found: &Found) -> Binding {
    let across = (0..found.chosen.len().saturating_sub(1)).filter_map(|at| {
        step_across(
            m,
            found.chain.segments[at].to,
            &found.chosen[at],
            &found.chosen[at + 1],
        )
    });
    let own = found.chosen.iter().flat_map(|c| c.measured.iter().copied());
    match own
        .chain(across)
        .max_by(|a, b| a.used().total_cmp(&b.used()))
    {
        Some(f) => binding_of(m, &f),
        None => no_arrangement(m),
    }
}

/// There is no arrangement at all.
pub(crate) fn no_arrangement(m: &CheckedRun) -> Binding {
    Binding {
        limit: "a way to feed the whole run".into(),
        figure: "none".into(),
        permitted: "one".into(),
        place: format!("run {}", m.spec.run),
        used: f64::INFINITY,
        at_limit: false,
    }
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
pub(crate) fn problem(m: &CheckedRun) -> String {
    let marks = |p: &Positions, what: &str| match p {
        Positions::Ends => format!("no {what} but at the ends"),
        Positions::Any => format!("{what}s at every cut mark"),
        Positions::At(list) => format!("{what}s at {} listed marks", list.len()),
    };
    let ways: Vec<&str> = m.patterns.iter().map(|p| p.words()).collect();
    let inside = if m.listed_inside.is_none() {
        "; two and three feeds inside at even places only"
    } else {
        ""
    };
    let reel = m.spec.reel.map_or(String::new(), |reel| {
        format!(
            ", tape from reels of {} increments, each piece joined at whole reels from its start",
            reel.increments
        )
    });
    format!(
        "run {}: {} increments{reel}, {}, {}; fed at {}{inside}; wires {}; from {}; lit states {}; source with the copper shared between segments as a reserve",
        m.spec.run,
        m.n,
        marks(&m.spec.breaks, "break"),
        marks(&m.spec.feed_points, "feed"),
        ways.join(", "),
        m.wire_names.join(", "),
        m.place_names.join(", "),
        m.states.len(),
    )
}
