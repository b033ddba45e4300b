//! Limits, arrangements and findings of a run in words.

use super::solve::SolvedChain;
use super::steps::{MOST_WAYS, step_across};
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::spec::Positions;
use crate::choose::feeding::result::limit::LimitKind;
use crate::choose::feeding::result::plan::{Binding, FeedProblem, Marks};
use crate::choose::feeding::verdict::measured::Measured;
use crate::finding::plain::Finding;
use crate::finding::{Figure, Limit, Subject};
use crate::id::{PlaceId, ProductId, RunId};
use crate::quantity::{amps, fraction, metres, show};
use crate::source::Source;

impl LimitKind {
    /// The limit in words.
    pub fn words(self) -> &'static str {
        match self {
            Self::LeastCurrent => "least relative current, low corner",
            Self::VisibleStep => "step of light at a visible joint, low corner",
            Self::Balance => "balance of emitters lit together, low corner",
            Self::VoltageDrop => "voltage drop, low corner",
            Self::Branch => "longest branch from a feed, increments",
            Self::RailCurrent => "rail current, worst corner",
            Self::ConnectorCurrent => "connection current, worst corner",
            Self::CoreCurrent => "core current, worst corner",
            Self::OutputCurrent => "current of one decoder output, worst corner",
            Self::SegmentCurrent => "current of one segment, worst corner",
            Self::FeederLength => "feeder length under chopping",
        }
    }

    fn id(self) -> &'static str {
        match self {
            Self::LeastCurrent => "feed-least-current",
            Self::VisibleStep => "feed-visible-step",
            Self::Balance => "feed-balance",
            Self::VoltageDrop => "feed-voltage-drop",
            Self::Branch => "feed-branch",
            Self::RailCurrent => "feed-rail-current",
            Self::ConnectorCurrent => "feed-connection-current",
            Self::CoreCurrent => "feed-core-current",
            Self::OutputCurrent => "feed-output-current",
            Self::SegmentCurrent => "feed-segment-current",
            Self::FeederLength => "feed-feeder-length",
        }
    }

    fn remedy(self) -> &'static str {
        match self {
            Self::LeastCurrent | Self::VoltageDrop => {
                "feed at more points, permit breaks or feed points nearer together, offer a thicker wire or a nearer place, raise the set point within the trim range, or take a tape of higher voltage"
            }
            Self::VisibleStep => {
                "move the break away from the visible joint, or feed both sides alike"
            }
            Self::Balance => {
                "shorten the branches, feed from both ends, or take a tape with heavier rails"
            }
            Self::Branch | Self::RailCurrent => {
                "feed nearer: more feeds, or permit feed points inside"
            }
            Self::ConnectorCurrent => {
                "share the current over more feeds, or state a connection that is rated for it"
            }
            Self::CoreCurrent => "offer a thicker wire, or permit more feeds",
            Self::OutputCurrent | Self::SegmentCurrent => {
                "permit breaks so that segments are shorter, or take outputs of more current"
            }
            Self::FeederLength => "bring the decoder nearer",
        }
    }

    /// Whether its place is an increment, not a mark.
    fn is_of_increments(self) -> bool {
        matches!(self, Self::LeastCurrent | Self::VoltageDrop | Self::Balance)
    }

    /// A number of this limit as a figure.
    fn typed(self, figure: f64) -> Figure {
        match self {
            Self::LeastCurrent | Self::VisibleStep | Self::Balance | Self::VoltageDrop => {
                fraction(figure).into()
            }
            Self::Branch => Figure::count(figure as u64),
            Self::FeederLength => metres(figure).into(),
            _ => amps(figure).into(),
        }
    }

    fn number(self, figure: f64) -> String {
        match self {
            Self::LeastCurrent | Self::VisibleStep | Self::Balance | Self::VoltageDrop => {
                show(fraction(figure))
            }
            Self::Branch => format!("{figure}"),
            Self::FeederLength => show(metres(figure)),
            _ => show(amps(figure)),
        }
    }
}

fn place(m: &CheckedRun, f: &Measured) -> String {
    let emitter = match f.emitter {
        Some(e) => format!(", {}", m.spec.tape.emitters[e].name),
        None => String::new(),
    };
    let mark = if f.kind.is_of_increments() {
        "increment"
    } else {
        "mark"
    };
    format!("run {}{emitter}, {mark} {}", m.spec.run, f.at)
}

/// A figure beside its limit, in one line.
pub(crate) fn measured(m: &CheckedRun, f: &Measured) -> String {
    format!(
        "{} {} ({} {}) at {}",
        f.kind.words(),
        f.kind.number(f.figure),
        if f.kind == LimitKind::LeastCurrent {
            "at least"
        } else {
            "at most"
        },
        f.kind.number(f.limit),
        place(m, f)
    )
}

/// A figure beside its limit as a failing finding.
pub(crate) fn broken(m: &CheckedRun, f: &Measured) -> Finding {
    Finding::fail(f.kind.id(), place(m, f))
        .says(format!(
            "no arrangement of the candidates keeps this limit beside the others: {}",
            f.kind.words()
        ))
        .figure(f.kind.number(f.figure))
        .limit(f.kind.number(f.limit))
        .source(Source::computed(
            "break and feed search, candidates as stated in the job",
        ))
        .remedy(f.kind.remedy())
}

/// A figure beside its limit as the binding one.
pub(crate) fn binding_of(m: &CheckedRun, f: &Measured) -> Binding {
    let used = f.used();
    let limit = f.kind.typed(f.limit);
    Binding {
        limit: f.kind,
        figure: f.kind.typed(f.figure),
        permitted: if f.kind == LimitKind::LeastCurrent {
            Limit::AtLeast(limit)
        } else {
            Limit::AtMost(limit)
        },
        at: Subject::Mark {
            run: RunId::new(&*m.spec.run),
            emitter: f.emitter.map(|e| m.spec.tape.emitters[e].name.clone()),
            increment: f.kind.is_of_increments(),
            number: f.at as u64,
        },
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

pub(crate) fn no_arrangement_finding(m: &CheckedRun) -> Finding {
    Finding::fail("feed-none", format!("run {}", m.spec.run))
        .says("no chain of permitted segments with permitted feeds covers the run")
        .figure("none")
        .limit("one")
        .source(Source::computed(
            "break and feed search, candidates as stated in the job",
        ))
        .remedy("permit feeds at an end or inside, breaks, or further ways of feeding")
}

/// Whether there is an arrangement was not found out.
pub(crate) fn cut_short_finding(m: &CheckedRun) -> Finding {
    let steps = m.limits.visible_step.map_or(String::new(), |_| {
        format!(
            ", or {MOST_WAYS} arrangements with a step that is seen across a break were followed,"
        )
    });
    let reason = format!(
        "the effort of {} evaluated segments was spent{steps} before one was found",
        m.spec.effort
    );
    Finding::not_evaluated("feed-effort", format!("run {}", m.spec.run), reason)
        .says("whether some arrangement keeps every limit")
        .source(Source::computed("break and feed search"))
        .remedy(
            "permit more effort, list fewer feed points, offer thicker wires; where breaks are seen, fix segments of like length",
        )
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
        Positions::Ends => Marks::FeederEnds,
        Positions::Any => Marks::SegmentList,
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
