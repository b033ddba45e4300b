//! What stands between the supply minuses of devices on one line.
//!
//! A port that is joined to its supply's minus ties the signal common to that point. The current of a feeder
//! lifts the point by `R·I` of its minus core, so two such devices stand apart, and a receiver sees it as
//! common-mode volts:
//!
//! ```text
//! v_cm = v_driver + V_d − V_r        −1 V ≤ v_driver ≤ 3 V (offset of a driver)
//! −7 V ≤ v_cm ≤ 12 V                 so −6 V ≤ V_d − V_r ≤ 9 V
//! ```
//!
//! Which of two devices stands higher changes with what is lit, so 6 V is the limit either way. Volts between
//! earths of a building, a broken minus (the load then returns through the data cable), and what the
//! signal common itself carries (it brings the two nearer) are left out.

use super::super::sources as from;
use super::judge::LinkContext;
use super::part::PartKind;
use crate::device::PortIsolation;
use crate::finding::{Case, Finding, Limit, Rule, Value};
use crate::order::Order as _;
use crate::quantity::{ElectricPotential, volts};
use serde::{Deserialize, Serialize};

/// Largest difference between the commons of two devices, V: −7 V at a receiver less −1 V of a driver.
const APART_VOLTS: f64 = 6.0;

/// How far the minus terminal of a device stands above a point of reference.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ground {
    /// The point: the supply whose minus it hangs on.
    pub reference: String,
    /// Least over all that may be lit, and over tolerances.
    #[serde(with = "crate::quantity::valued")]
    pub least: ElectricPotential,
    /// Most.
    #[serde(with = "crate::quantity::valued")]
    pub most: ElectricPotential,
}

impl Ground {
    /// A minus that stands so far, least and most, above that of the supply `reference`.
    #[must_use]
    pub fn new(
        reference: impl Into<String>,
        least: ElectricPotential,
        most: ElectricPotential,
    ) -> Self {
        Self {
            reference: reference.into(),
            least,
            most,
        }
    }
}

const BETWEEN: &str = "{figure:.2} V between {high} and {low}";
/// The same limit and remedy behind every answer.
const fn case(key: &'static str, says: &'static str, reason: &'static str) -> Case {
    Case::open(key, says, reason)
        .limit("at most {limit:.0 V}: receivers accept -7 V, of which driver offset may take -1 V")
        .remedy("use isolated ports, an isolated splitter, or larger feeders from one supply")
}
const APART: Case = case(
    "apart",
    "supply minus terminals of ports that are not isolated",
    "",
)
.figure(BETWEEN);
const JOINED_APART: Case = case("joined_apart", "", "").figure(BETWEEN);
const NO_PORT: Case = case(
    "no_port",
    "every port is isolated from its supply minus",
    "",
);
const ONE_JOINED: Case = case(
    "one_joined",
    "only {port} is connected to its supply minus: no offset can arise",
    "",
);
const ONE_PERHAPS: Case = case(
    "one_perhaps",
    "only {port} may be connected to its supply minus: no offset can arise",
    "",
);
const NOT_KNOWN: Case = case(
    "not_known",
    "",
    "the potential of the supply minus at {ports:5+} is not known",
);
const REFERENCES: Case = case(
    "references",
    "",
    "the ports are referenced to the supply minus of {references:5+}; the offset between these is not stated",
);
const REFERENCES_APART: Case = case(
    "references_apart",
    "",
    "the ports are referenced to the supply minus of {references:5+}; the offset between these is not stated \
     ({figure:.2} V between {high} and {low} on one of them)",
);
const NOT_STATED: Case = case(
    "isolation_not_stated",
    "",
    "isolation not stated: {ports:5+}",
)
.figure(BETWEEN);
const NO_NUMBERS: Case = case(
    "no_numbers",
    "the potentials of the supply minus terminals are not finite numbers",
    "the potentials of the supply minus terminals are not finite numbers",
);

pub(in crate::dmx) const GROUND_OFFSET: Rule = Rule {
    id: "chain-ground-offset",
    title: "Offset between supply minus terminals on one line",
    asks: "Are the supply minus terminals of ports that are not isolated within 6 V of each other?",
    source: from::COMMON_MODE,
    needs: &[
        "isolation of every port",
        "potential of the supply minus of every port that is not isolated",
    ],
    cases: &[
        &APART,
        &JOINED_APART,
        &NO_PORT,
        &ONE_JOINED,
        &ONE_PERHAPS,
        &NOT_KNOWN,
        &REFERENCES,
        &REFERENCES_APART,
        &NOT_STATED,
        &NO_NUMBERS,
    ],
};

/// A port that is not known to be isolated.
struct Tied<'a> {
    name: &'a str,
    sure: bool,
    ground: Option<&'a Ground>,
}

/// Judges the difference of supply minuses between ports that are not isolated.
pub(super) fn offset(on: &LinkContext<'_>) -> Finding {
    let tied = tied(on);
    judged(on, &tied).limit(Limit::AtMost(volts(APART_VOLTS).into()))
}

fn tied<'a>(on: &LinkContext<'a>) -> Vec<Tied<'a>> {
    on.parts()
        .filter_map(|(_, part)| match part.kind {
            PartKind::Device { isolation, .. } if isolation != PortIsolation::Isolated => {
                Some(Tied {
                    name: &part.name,
                    sure: isolation == PortIsolation::Joined,
                    ground: part.ground.as_ref(),
                })
            }
            _ => None,
        })
        .collect()
}

fn judged(on: &LinkContext<'_>, tied: &[Tied<'_>]) -> Finding {
    let rule = &GROUND_OFFSET;
    let names = |of: &dyn Fn(&Tied<'_>) -> bool| {
        Value::names(tied.iter().filter(|t| of(t)).map(|t| t.name))
    };
    let open = |case| rule.not_evaluated(case, on.subject());
    let passes = |case| rule.passes(case, on.subject());
    let judge = |case, apart: &Apart<'_>| {
        let (found, limit) = (volts(apart.volts), volts(APART_VOLTS));
        apart.named(rule.at_most(case, on.subject(), found, limit))
    };
    let over = |apart: &&Apart<'_>| !(apart.volts <= APART_VOLTS);
    let all = worst(tied.iter());
    let sure = worst(tied.iter().filter(|tied| tied.sure));
    if let Some(apart) = sure.as_ref().filter(over) {
        return if apart.volts.is_finite() {
            judge(&JOINED_APART, apart)
        } else {
            rule.fails(&NO_NUMBERS, on.subject())
        };
    }
    match tied {
        [] => return passes(&NO_PORT),
        [one] => {
            let case = if one.sure { &ONE_JOINED } else { &ONE_PERHAPS };
            return passes(case).fact("port", Value::name(one.name));
        }
        _ => {}
    }
    if tied.iter().any(|tied| tied.ground.is_none()) {
        return open(&NOT_KNOWN).fact("ports", names(&|t| t.ground.is_none()));
    }
    let grounds = tied.iter().filter_map(|tied| tied.ground);
    let mut references: Vec<&str> = grounds.map(|ground| ground.reference.as_str()).collect();
    references.sort_unstable();
    references.dedup();
    if references.len() > 1 {
        let finding = match all.as_ref().filter(|apart| apart.volts.is_finite()) {
            Some(apart) => apart.named(open(&REFERENCES_APART)),
            None => open(&REFERENCES),
        };
        return finding.fact("references", Value::names(references));
    }
    match all {
        Some(apart) if !apart.volts.is_finite() => open(&NO_NUMBERS),
        Some(apart) if over(&&apart) => apart
            .named(open(&NOT_STATED))
            .fact("ports", names(&|t| !t.sure)),
        Some(apart) => judge(&APART, &apart),
        None => open(&NO_NUMBERS),
    }
}

/// Two devices and the volts between their minuses.
struct Apart<'a> {
    volts: f64,
    high: &'a str,
    low: &'a str,
}

impl Apart<'_> {
    /// A finding with these volts and these two devices.
    fn named(&self, finding: Finding) -> Finding {
        finding
            .figure(volts(self.volts))
            .fact("high", Value::name(self.high))
            .fact("low", Value::name(self.low))
    }
}

/// The largest difference between two devices on one reference: the most of one less the least of another.
fn worst<'a>(tied: impl Iterator<Item = &'a Tied<'a>>) -> Option<Apart<'a>> {
    let mut known: Vec<(&str, &str, f64, f64)> = tied
        .filter_map(|tied| {
            let ground = tied.ground?;
            Some((
                ground.reference.as_str(),
                tied.name,
                ground.least.value,
                ground.most.value,
            ))
        })
        .collect();
    // The lowest of every reference first; beside the lowest itself the second lowest counts.
    known.order_by(|a, b| a.0.cmp(b.0).then(a.2.total_cmp(&b.2)));
    let mut worst: Option<Apart<'_>> = None;
    for group in known.chunk_by(|a, b| a.0 == b.0) {
        for (at, high) in group.iter().enumerate() {
            let Some(low) = group.get(usize::from(at == 0)) else {
                continue;
            };
            let volts = high.3 - low.2;
            // A figure that is no number stays, so that no limit passes on it.
            if !worst
                .as_ref()
                .is_some_and(|known| known.volts.is_nan() || volts <= known.volts)
            {
                worst = Some(Apart {
                    volts,
                    high: high.1,
                    low: low.1,
                });
            }
        }
    }
    worst
}
