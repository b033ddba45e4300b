//! Rules on outputs that copper ties together: standing alone, in parallel, live from elsewhere.

use super::classes::may_stay_joined;
use super::joins::Tied;
use super::spec::OutputSpec;
use crate::finding::{Case, Figure, Finding, Rule, Subject, Value, Verdict};
use crate::source::{Source, documents};

/// Interconnection of Class 2 outputs.
pub const INTERCONNECTION: Source = documents::NEC
    .at("725.60 (725.121(B) in the edition of 2017)")
    .quoted();
/// Supplies side by side.
const PARALLELING: Source = Source::common_practice(
    "outputs are paralleled only where their maker states a parallel mode: a set point 1 % apart sends nearly all current through one of them",
);
/// Fed from two sides.
const DOUBLE_FEEDING: Source = documents::IEC_60364_4_46.at(
    "462, as BS 7671:2018, 462.1, 514.15.1 and 537.1.2, adopts it: a means of isolation for each supply, and a notice where one device does not cut off all live parts",
);

/// Most ties that are all named, and how many are where there are more.
const ALL_NAMED: usize = 6;
const FIRST_NAMED: usize = 5;

/// One answer in three forms: the way is not traced, all of its ties are named, the first five are.
macro_rules! by_way {
    ($key:literal, $before:literal, $after:literal, $case:ident => $done:expr) => {{
        const fn done($case: Case) -> Case {
            $done
        }
        [
            done(Case::plain($key, concat!($before, " {with}", $after))),
            done(Case::plain(
                concat!($key, "-through"),
                concat!($before, " {with} through {way}", $after),
            )),
            done(Case::plain(
                concat!($key, "-through-many"),
                concat!($before, " {with} through {way:5} and {more} more", $after),
            )),
        ]
    }};
}

/// The answer about an output and what ties it, in the form that its way asks for.
fn tied_finding(
    rule: &Rule,
    [untraced, all, first]: &[Case; 3],
    verdict: Verdict,
    outputs: &[OutputSpec],
    about: Subject,
    tied: &Tied,
) -> Finding {
    let others = tied.with.iter().filter_map(|&k| outputs.get(k));
    let with = others.map(|output| output.about.clone()).collect();
    let ways = tied.through.len();
    let case = match ways {
        0 => untraced,
        n if n <= ALL_NAMED => all,
        _ => first,
    };
    let finding = rule
        .finds(case, verdict, about)
        .fact("with", Value::subjects(with));
    if ways == 0 {
        return finding;
    }
    let finding = finding.fact("way", Value::subjects(tied.through.clone()));
    if ways <= ALL_NAMED {
        return finding;
    }
    let more = u64::try_from(ways - FIRST_NAMED).unwrap_or(u64::MAX);
    finding.fact("more", Figure::count(more))
}

const UNTIED: Case = Case::plain(
    "untied",
    "no copper ties this {class} output to another output",
)
.limit("alone");
const MARKED: [Case; 3] =
    by_way!("marked", "tied to", "; the labels allow it", case => case.limit("alone"));
const NOT_ALONE: [Case; 3] = by_way!(
    "tied",
    "this {class} output is tied to",
    ": what they feed together is not {class}",
    case => case.limit("alone").remedy("cut the tape between the feeds, or keep each output's conductors apart, plus, minus and data common; or use outputs marked for interconnection")
);

/// A power-limited output stands alone, or is marked for joining with all it is joined to.
pub(super) const ALONE: Rule = Rule {
    id: "class-2-alone",
    title: "Power-limited outputs apart",
    asks: "Does each output labelled Class 2 or limited power stand alone, or does its label allow what copper ties it to?",
    source: INTERCONNECTION,
    needs: &["the energy class on the label"],
    cases: &[
        &UNTIED,
        &MARKED[0],
        &MARKED[1],
        &MARKED[2],
        &NOT_ALONE[0],
        &NOT_ALONE[1],
        &NOT_ALONE[2],
    ],
};

pub(super) fn alone(
    outputs: &[OutputSpec],
    output: &OutputSpec,
    tied: Option<&Tied>,
) -> Option<Finding> {
    if !output.energy.is_limited() {
        return None;
    }
    let about = output.about.clone();
    let finding = match tied {
        None => ALONE.passes(&UNTIED, about),
        Some(tied) if may_stay_joined(outputs, tied) => {
            tied_finding(&ALONE, &MARKED, Verdict::Pass, outputs, about, tied)
        }
        Some(tied) => tied_finding(&ALONE, &NOT_ALONE, Verdict::Fail, outputs, about, tied),
    };
    Some(finding.fact("class", Value::name(output.energy.word())))
}

const DECLARED: [Case; 3] =
    by_way!("declared", "plus joined with", "; a parallel mode is declared", case => case);
const JOINED: [Case; 3] = by_way!(
    "joined",
    "plus joined with",
    "",
    case => case.remedy("break plus between them, or use supplies with a declared parallel mode")
);

/// Plus of an output on the plus of another.
pub(super) const PARALLELED: Rule = Rule {
    id: "outputs-paralleled",
    title: "Outputs in parallel",
    asks: "Is plus of each output that is joined with another declared for parallel operation?",
    source: PARALLELING,
    needs: &[],
    cases: &[
        &DECLARED[0],
        &DECLARED[1],
        &DECLARED[2],
        &JOINED[0],
        &JOINED[1],
        &JOINED[2],
    ],
};

pub(super) fn paralleled(outputs: &[OutputSpec], output: &OutputSpec, tied: &Tied) -> Finding {
    let (cases, verdict) = if may_stay_joined(outputs, tied) {
        (&DECLARED, Verdict::Pass)
    } else {
        (&JOINED, Verdict::Fail)
    };
    let about = output.about.clone();
    tied_finding(&PARALLELED, cases, verdict, outputs, about, tied)
}

const LIVE: [Case; 3] = by_way!(
    "live",
    "with this output off, what it feeds stays live from",
    "",
    case => Case {
        reason: "whether one point disconnects all of its supplies is not stated",
        ..case
    }.remedy("label both ends, list it among the isolations, and give the zone one point of disconnection")
);

/// Copper fed from two supplies stays live with one of them off; one point of disconnection is not in the facts.
pub(super) const STAYS_LIVE: Rule = Rule {
    id: "output-stays-live",
    title: "Live from another supply",
    asks: "Does one point disconnect everything that is fed from two supplies?",
    source: DOUBLE_FEEDING,
    needs: &["one point of disconnection"],
    cases: &[&LIVE[0], &LIVE[1], &LIVE[2]],
};

pub(super) fn stays_live(
    outputs: &[OutputSpec],
    output: &OutputSpec,
    tied: &Tied,
) -> Option<Finding> {
    let mut others = tied.with.iter().filter_map(|&k| outputs.get(k));
    others.any(|other| other.unit != output.unit).then(|| {
        let about = output.about.clone();
        let verdict = Verdict::NotEvaluated;
        tied_finding(&STAYS_LIVE, &LIVE, verdict, outputs, about, tied)
    })
}
