//! Length, core and kind of the cable of a link.

use super::super::sources as from;
use super::cable::CableKind;
use super::judge::LinkContext;
use crate::finding::{Case, Finding, Rule};
use crate::quantity::{metres, ohms};

/// Longest line of the EIA-485 guidance, m.
const OUTER_LENGTH: f64 = 1200.0;
/// Most resistance of one core from the driver to the farthest device, ohm.
const CORE_OHMS: f64 = 200.0;

const LONG: &str = "{figure:.1 m} of cable from the driver to the farthest device";

const REACHES: Case = Case::judged("length", LONG)
    .figure("{figure:.1 m}")
    .limit("at most {limit:.0 m}")
    .remedy("fit a repeater or splitter on the route");
const NO_LENGTH: Case = Case::open(
    "core_not_known",
    "",
    "the published lengths are for cores of 24 AWG and 22 AWG or larger; the core here is smaller or not known",
)
.figure("{figure:.1 m}")
.remedy("state the core size, or use 24 AWG or larger");

pub(in crate::dmx) const LENGTH: Rule = Rule {
    id: "chain-length",
    title: "Published length of a data line",
    asks: "Is the cable from the driver to the farthest device within the published length of its core?",
    source: from::USITT_LENGTH,
    needs: &["core size of the data cable"],
    cases: &[&REACHES, &NO_LENGTH],
};

pub(super) fn published(on: &LinkContext<'_>) -> Finding {
    let length = metres(on.link.length());
    // The thinnest core decides which of the two published lengths holds.
    let mut sizes = on.cables().into_iter().map(|cable| cable.awg);
    let thinnest = sizes.try_fold(0, |most, awg| awg.map(|awg| most.max(awg)));
    let limit = match thinnest {
        Some(awg) if awg <= 22 => 500.0,
        Some(awg) if awg <= 24 => 300.0,
        _ => {
            return LENGTH
                .not_evaluated(&NO_LENGTH, on.subject())
                .figure(length);
        }
    };
    LENGTH.at_most(&REACHES, on.subject(), length, metres(limit))
}

const REACHES_OUTER: Case = Case::judged("length", LONG)
    .figure("{figure:.1 m}")
    .limit("at most {limit:.0 m}")
    .remedy("fit a repeater on the route");

pub(in crate::dmx) const LENGTH_OUTER: Rule = Rule {
    id: "chain-length-outer",
    title: "Upper length of an EIA-485 line",
    asks: "Is the cable from the driver to the farthest device within the 1200 m of the EIA-485 guidance?",
    source: from::EIA485_LENGTH,
    needs: &[],
    cases: &[&REACHES_OUTER],
};

pub(super) fn outer(on: &LinkContext<'_>) -> Finding {
    let length = metres(on.link.length());
    LENGTH_OUTER.at_most(&REACHES_OUTER, on.subject(), length, metres(OUTER_LENGTH))
}

const CORE: Case = Case::judged("core", "{figure:.1 Ω} per core to the farthest device")
    .figure("{figure:.1 Ω}")
    .limit("at most {limit:.0 Ω}")
    .remedy("use larger cores, or fit a repeater on the route");

pub(in crate::dmx) const RESISTANCE: Rule = Rule {
    id: "chain-resistance",
    title: "Resistance of a data core",
    asks: "Is each core from the driver to the farthest device within 200 Ω?",
    source: from::CORE_RESISTANCE,
    needs: &["core size of the data cable"],
    cases: &[&CORE],
};

pub(super) fn core_resistance(on: &LinkContext<'_>) -> Option<Finding> {
    let known = on.cables().iter().all(|cable| cable.awg.is_some());
    known.then(|| RESISTANCE.at_most(&CORE, on.subject(), ohms(core_ohms(on)), ohms(CORE_OHMS)))
}

/// The largest resistance of one core from the driver to a part of the link, ohm.
fn core_ohms(on: &LinkContext<'_>) -> f64 {
    let chain = on.chain;
    let mut reached = vec![0.0_f64; chain.spec.parts.len()];
    let mut most = 0.0_f64;
    for (part, written) in on.parts() {
        let before = chain.parents.get(part).copied().flatten();
        let before = before.filter(|&before| !chain.is_splitter(before));
        let before = before.and_then(|before| reached.get(before).copied());
        let own = written.length.value * chain.cable_of(part).loop_resistance.value / 2.0;
        let here = before.unwrap_or(0.0) + own;
        if let Some(reached) = reached.get_mut(part) {
            *reached = here;
        }
        most = most.max(here);
    }
    most
}

const ONE_IMPEDANCE: Case = Case::plain("one_impedance", "one impedance throughout");
const MIXED: Case = Case::plain(
    "mixed",
    "cables of different impedance on one link: a small reflection where they meet",
);
const NOT_KNOWN: Case = Case::open("not_known", "", "the cable is not known")
    .remedy("state it: a data pair for EIA-485 or category 5 or higher");

pub(in crate::dmx) const CABLE: Rule = Rule {
    id: "chain-cable",
    title: "Kind of data cable",
    asks: "Is the cable made for EIA-485, or of category 5 or higher?",
    source: from::E1_27_2,
    needs: &["kind of the data cable"],
    cases: &[&ONE_IMPEDANCE, &MIXED, &NOT_KNOWN],
};

pub(super) fn cable(on: &LinkContext<'_>) -> Finding {
    let cables = on.cables();
    if cables.iter().any(|cable| cable.kind == CableKind::Unknown) {
        return CABLE.not_evaluated(&NOT_KNOWN, on.subject());
    }
    let mixed = cables.windows(2).any(|pair| match pair {
        [a, b] => (a.impedance.value - b.impedance.value).abs() > 1e-9,
        _ => false,
    });
    let case = if mixed { &MIXED } else { &ONE_IMPEDANCE };
    CABLE.passes(case, on.subject())
}
