//! Terminators: one at the far end, none elsewhere, and one at the port with RDM.

use super::super::line::reflection;
use super::super::sources as from;
use super::judge::LinkContext;
use crate::finding::{Case, Finding, Limit, Rule, Value};
use crate::quantity::fraction;

/// Worst echo of an end: 120 Ω on a 100 Ω pair, 20/220; anything worse is no terminator for this line.
pub(super) const WORST_ECHO: f64 = 20.0 / 220.0;
/// A line may work without a terminator up to here, by trade pages, m.
const SHORT: f64 = 45.0;

/// Words of a far end without a terminator.
const fn missing(key: &'static str, remedy: &'static str) -> Case {
    Case::plain(key, "no terminator at the far end, {part}")
        .figure("none")
        .limit("120 Ω")
        .remedy(remedy)
}
const MISSING: Case = missing("missing", "fit 120 Ω at {part}");
const MISSING_SHORT: Case = missing(
    "missing_short",
    "fit 120 Ω at {part}: some trade guidance omits it below about 45 m, the standard does not",
);
const ECHO: Case = Case::judged(
    "echo",
    "{terminator:* Ω} on a line of {impedance:* Ω} reflects {echo:.1 (%)} %",
)
.figure("{terminator:* Ω}")
.limit("120 Ω (9.1 % reflection on a 100 Ω pair)")
.remedy("match the impedance of the line, 100 Ω to 120 Ω");

pub(in crate::dmx) const TERMINATOR: Rule = Rule {
    id: "chain-terminator",
    title: "Terminator at the far end",
    asks: "Is the far end of every link terminated to suit its cable?",
    source: from::E1_11_TERMINATION,
    needs: &[],
    cases: &[&ECHO, &MISSING, &MISSING_SHORT],
};

pub(super) fn far_terminator(on: &LinkContext<'_>) -> Option<Finding> {
    let end = farthest(on)?;
    let name = on.name(end);
    let Some(terminator) = on.written(end).and_then(|part| part.terminator) else {
        let short = on.link.length() <= SHORT;
        let case = if short { &MISSING_SHORT } else { &MISSING };
        return Some(
            TERMINATOR
                .fails(case, on.point(name))
                .limit(Limit::AtMost(fraction(WORST_ECHO).into()))
                .fact("part", Value::name(name)),
        );
    };
    let impedance = on.chain.cable_of(end).impedance;
    let echo = reflection(impedance, terminator);
    Some(
        TERMINATOR
            .at_most(
                &ECHO,
                on.point(name),
                fraction(echo.abs()),
                fraction(WORST_ECHO),
            )
            .fact("terminator", terminator)
            .fact("impedance", impedance)
            .fact("echo", fraction(echo)),
    )
}

/// The part farthest from the driver, the last of several.
fn farthest(on: &LinkContext<'_>) -> Option<usize> {
    let mut farthest: Option<(usize, f64)> = None;
    for (&part, &distance) in on.link.parts.iter().zip(&on.link.distances) {
        if farthest.is_none_or(|(_, most)| distance >= most) {
            farthest = Some((part, distance));
        }
    }
    farthest.map(|(part, _)| part)
}

/// Words of a terminator beside the one at the far end.
const fn extra(key: &'static str, says: &'static str) -> Case {
    Case::plain(key, says)
        .limit("one, at the far end")
        .remedy("remove it from {part}")
}
const MID_LINE: Case = extra(
    "mid_line",
    "a terminator in mid-line, at {part}, besides that at the far end",
);
const BRANCH_END: Case = extra(
    "branch_end",
    "a terminator at the end of a branch, at {part}, besides that at the far end",
);

pub(in crate::dmx) const TERMINATOR_EXTRA: Rule = Rule {
    id: "chain-terminator-extra",
    title: "Terminator at the far end only",
    asks: "Is each link terminated at its far end only?",
    source: from::E1_11_TERMINATION,
    needs: &[],
    cases: &[&MID_LINE, &BRANCH_END],
};

pub(super) fn extra_terminators(on: &LinkContext<'_>) -> Vec<Finding> {
    let end = farthest(on);
    let extra = on
        .parts()
        .filter(|&(index, part)| Some(index) != end && part.terminator.is_some());
    extra
        .map(|(index, part)| {
            let mid = !on.chain.is_splitter(index) && !on.ways(index).is_empty();
            let case = if mid { &MID_LINE } else { &BRANCH_END };
            TERMINATOR_EXTRA
                .fails(case, on.point(&part.name))
                .fact("part", Value::name(&*part.name))
        })
        .collect()
}

const WITHOUT_RDM: Case = Case::plain(
    "without_rdm",
    "a terminator at the port as well, without RDM",
)
.remedy("remove it");
const WITH_RDM: Case = Case::plain("with_rdm", "RDM answers reach a port without a terminator")
    .remedy("terminate the port, and bias the line there");

pub(in crate::dmx) const TERMINATOR_PORT: Rule = Rule {
    id: "chain-terminator-port",
    title: "Terminator at the port",
    asks: "Is the port terminated where devices answer, and only there?",
    source: from::E1_11_TERMINATION,
    needs: &[],
    cases: &[&WITHOUT_RDM, &WITH_RDM],
};

pub(super) fn port_terminator(on: &LinkContext<'_>) -> Option<Finding> {
    let spec = &on.chain.spec;
    let near = spec.source_terminator.is_some();
    if !on.is_at_port() || near == spec.rdm {
        return None;
    }
    Some(if near {
        TERMINATOR_PORT.fails(&WITHOUT_RDM, on.subject())
    } else {
        TERMINATOR_PORT
            .fails(&WITH_RDM, on.subject())
            .source(from::E1_20_TERMINATION)
    })
}
