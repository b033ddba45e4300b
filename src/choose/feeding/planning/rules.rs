//! The rules that the search answers: which limit no arrangement keeps, and whether there is one at all.

use super::steps::{MOST_EVALUATED, MOST_WAYS};
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::result::limit::LimitKind;
use crate::choose::feeding::verdict::measured::Measured;
use crate::finding::{Case, Figure, Finding, Limit, Rule, Subject};
use crate::id::{EmitterId, RunId};
use crate::quantity::{amps, fraction, metres};
use crate::source::Source;

const CANDIDATES: Source =
    Source::computed("break and feed search, candidates as stated in the job");

macro_rules! limits {
    ($($kind:ident, $rule:ident, $case:ident: $id:literal, $title:literal, $words:literal, $remedy:expr;)*) => {
        $(
            static $case: Case = Case::judged(
                "broken",
                concat!("no permitted feed and cable keeps this limit beside the others: ", $words),
            )
            .remedy($remedy);

            static $rule: Rule = Rule {
                id: $id,
                title: $title,
                asks: concat!("Does some arrangement of the run keep this limit beside the others: ", $words, "?"),
                source: CANDIDATES,
                needs: &[],
                cases: &[&$case],
            };
        )*

        /// Every rule of this room.
        pub const RULES: &[&Rule] = &[$(&$rule,)* &NONE, &EFFORT];

        impl LimitKind {
            /// The limit in words.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {
                    $(Self::$kind => $words,)*
                }
            }

            fn rule(self) -> (&'static Rule, &'static Case) {
                match self {
                    $(Self::$kind => (&$rule, &$case),)*
                }
            }
        }
    };
}

const MORE_LIGHT: &str = "feed at more points (`feed_points`), permit breaks nearer together, offer a thicker wire or a nearer place, raise the set point within the trim range, or take a tape of higher voltage";
const NEARER: &str = "feed nearer: more feeds, or permit feed points inside";
const SHORTER: &str = "permit breaks so that segments are shorter, or take outputs of more current";

const SHORTER_OR_MORE: &str = "permit breaks so that segments are shorter, or take supplies and decoders of more current: their outputs, totals and terminals count, and the load factor";

limits! {
    LeastCurrent, LEAST_CURRENT, DARK: "feed-least-current", "Light of a run",
        "least current of a cell, worst case, low", MORE_LIGHT;
    VisibleStep, VISIBLE_STEP, STEP: "feed-visible-step", "Steps of light along a run",
        "step in light at a visible joint, worst case, low",
        "move the break away from the visible joint, or feed both sides alike";
    Balance, BALANCE, UNEVEN: "feed-balance", "Balance of emitters along a run",
        "balance of emitters lit together, worst case, low",
        "shorten the branches, feed from both ends, or take a tape with heavier rails";
    VoltageDrop, VOLTAGE_DROP, DROP: "feed-voltage-drop", "Voltage drop along a run",
        "voltage drop, worst case, low", MORE_LIGHT;
    Branch, BRANCH, LONG_BRANCH: "feed-branch", "Branches of a run",
        "longest branch from a feed", NEARER;
    RailCurrent, RAIL_CURRENT, RAIL: "feed-rail-current", "Rails of a run",
        "rail current, worst case", NEARER;
    ConnectorCurrent, CONNECTION_CURRENT, CONNECTION: "feed-connection-current", "Connections to the tape of a run",
        "connection current, worst case",
        "share the current over more feeds, or state a connection that is rated for it";
    CoreCurrent, CORE_CURRENT, CORE: "feed-core-current", "Cores of the feeders of a run",
        "core current, worst case", "offer a thicker wire, or permit more feeds";
    OutputCurrent, OUTPUT_CURRENT, OUTPUT: "feed-output-current", "Outputs that feed a run",
        "current of one decoder output, worst case", SHORTER;
    SegmentCurrent, SEGMENT_CURRENT, SEGMENT: "feed-segment-current", "Current of the segments of a run",
        "current of one segment, worst case", SHORTER_OR_MORE;
    FeederLength, FEEDER_LENGTH, FEEDER: "feed-feeder-length", "Chopped feeders of a run",
        "feeder length under chopping", "bring the decoder nearer";
}

impl LimitKind {
    /// A figure of this limit with its unit, a branch counted in increments.
    fn figure(self, figure: f64) -> Figure {
        match self {
            Self::LeastCurrent | Self::VisibleStep | Self::Balance | Self::VoltageDrop => {
                fraction(figure).into()
            }
            Self::Branch => Figure::count(figure as u64),
            Self::FeederLength => metres(figure).into(),
            _ => amps(figure).into(),
        }
    }
}

/// Where a figure of a run was found.
pub(crate) fn subject(m: &CheckedRun, f: &Measured) -> Subject {
    let emitter = f.emitter.and_then(|e| m.spec.tape.emitters.get(e));
    Subject::Mark {
        run: RunId::new(&*m.spec.run),
        emitter: emitter.map(|emitter| EmitterId::new(&*emitter.name)),
        increment: matches!(
            f.kind,
            LimitKind::LeastCurrent | LimitKind::VoltageDrop | LimitKind::Balance
        ),
        number: f.at as u64,
        position: Some(m.spec.tape.pitch.length_of(f.at as u64)),
    }
}

fn run(m: &CheckedRun) -> Subject {
    Subject::Run(RunId::new(&*m.spec.run))
}

/// A figure beside its limit, which no arrangement keeps.
pub(crate) fn broken(m: &CheckedRun, f: &Measured) -> Finding {
    let (rule, case) = f.kind.rule();
    rule.fails(case, subject(m, f))
        .figure(figure(m, f.kind, f.figure))
        .limit(limit(m, f.kind, f.limit))
}

/// A figure of a limit of this run: a branch by its length.
pub(crate) fn figure(m: &CheckedRun, kind: LimitKind, figure: f64) -> Figure {
    match kind {
        LimitKind::Branch => m.spec.tape.pitch.length_of(figure as u64).into(),
        _ => kind.figure(figure),
    }
}

/// A limit of this run.
pub(crate) fn limit(m: &CheckedRun, kind: LimitKind, limit: f64) -> Limit {
    let limit = figure(m, kind, limit);
    match kind {
        LimitKind::LeastCurrent => Limit::AtLeast(limit),
        _ => Limit::AtMost(limit),
    }
}

const NO_CHAIN: Case = Case::plain(
    "none",
    "no chain of permitted segments with permitted feeds covers the run",
)
.figure("none")
.limit("one")
.remedy("permit feeds at an end or inside, breaks, or further ways of feeding");

const NONE: Rule = Rule {
    id: "feed-none",
    title: "An arrangement of a run",
    asks: "Is there a chain of permitted segments with permitted feeds that covers the run?",
    source: CANDIDATES,
    needs: &[],
    cases: &[&NO_CHAIN],
};

/// There is no arrangement at all.
pub(crate) fn no_arrangement(m: &CheckedRun) -> Finding {
    NONE.fails(&NO_CHAIN, run(m))
}

const LESS_WORK: &str = "permit more effort, list fewer feed points, offer thicker wires; where breaks are seen, fix segments of like length";
const SPENT: Case = Case::open(
    "spent",
    "whether some arrangement keeps every limit",
    "the effort of {effort} evaluated segments was spent before one was found",
)
.remedy(LESS_WORK);
const SPENT_ON_STEPS: Case = Case::open(
    "spent-on-steps",
    "whether some arrangement keeps every limit",
    "the effort of {effort} evaluated segments was spent, or arrangements with a step that is seen across a break were followed as far as {ways} of them or {followed} evaluated segments, before one was found",
)
.remedy(LESS_WORK);

const EFFORT: Rule = Rule {
    id: "feed-effort",
    title: "Effort of the search",
    asks: "Was the search for an arrangement of the run gone through?",
    source: Source::computed("break and feed search"),
    needs: &[],
    cases: &[&SPENT, &SPENT_ON_STEPS],
};

/// Whether there is an arrangement was not found out.
pub(crate) fn cut_short(m: &CheckedRun) -> Finding {
    let effort = Figure::count(m.spec.effort);
    if m.limits.visible_step.is_none() {
        return EFFORT.not_evaluated(&SPENT, run(m)).fact("effort", effort);
    }
    EFFORT
        .not_evaluated(&SPENT_ON_STEPS, run(m))
        .fact("effort", effort)
        .fact("ways", Figure::count(MOST_WAYS as u64))
        .fact("followed", Figure::count(MOST_EVALUATED))
}
