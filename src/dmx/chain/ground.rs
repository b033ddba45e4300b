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
use super::link::Link;
use super::model::Chain;
use super::part::PartKind;
use crate::device::PortIsolation;
use crate::finding::plain::Finding;
use crate::quantity::ElectricPotential;

/// Largest difference between the commons of two devices, V: −7 V at a receiver less −1 V of a driver.
const APART: f64 = 6.0;
/// Most names in a sentence.
const NAMES: usize = 5;

/// How far the minus terminal of a device stands above a point of reference.
#[derive(Debug, Clone, PartialEq)]
pub struct Ground {
    /// The point: the supply whose minus it hangs on.
    pub reference: String,
    /// Least over all that may be lit, and over tolerances.
    pub least: ElectricPotential,
    /// Most.
    pub most: ElectricPotential,
}

/// A port that is not known to be isolated.
struct Tied<'a> {
    name: &'a str,
    sure: bool,
    ground: Option<&'a Ground>,
}

impl Chain {
    /// Judges the difference of supply minuses between ports that are not isolated.
    pub(super) fn grounds(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        const ID: &str = "chain-ground-offset";
        let tied: Vec<Tied<'_>> = link
            .parts
            .iter()
            .filter_map(|&part| self.spec.parts.get(part))
            .filter_map(|part| match part.kind {
                PartKind::Device { isolation, .. } if isolation != PortIsolation::Isolated => {
                    Some(Tied {
                        name: &part.name,
                        sure: isolation == PortIsolation::Joined,
                        ground: part.ground.as_ref(),
                    })
                }
                _ => None,
            })
            .collect();
        let all = worst(tied.iter());
        let sure = worst(tied.iter().filter(|tied| tied.sure));
        let open: Vec<&str> = tied.iter().filter(|t| !t.sure).map(|t| t.name).collect();
        let unknown: Vec<&str> = tied
            .iter()
            .filter(|tied| tied.ground.is_none())
            .map(|tied| tied.name)
            .collect();
        let mut references: Vec<&str> = tied
            .iter()
            .filter_map(|tied| tied.ground)
            .map(|ground| ground.reference.as_str())
            .collect();
        references.sort_unstable();
        references.dedup();
        let not_evaluated = |why: String| Finding::not_evaluated(ID, place, why);
        let finding = if let Some(apart) = sure.as_ref().filter(|a| !(a.volts <= APART)) {
            Finding::judged_at_most(ID, place, apart.volts, APART).figure(apart.words())
        } else if tied.is_empty() {
            Finding::pass(ID, place).says("no port is joined to its supply's minus")
        } else if tied.len() == 1 {
            let words = tied.first().map_or(("", ""), |tied| {
                (tied.name, if tied.sure { "is" } else { "may be" })
            });
            Finding::pass(ID, place).says(format!(
                "{} alone {} joined to its supply's minus: there is no second one to differ from",
                words.0, words.1
            ))
        } else if !unknown.is_empty() {
            not_evaluated(format!(
                "where the supply minus of {} stands is not known",
                list(&unknown)
            ))
        } else if references.len() > 1 {
            let within = match &all {
                Some(apart) => format!(" ({} on one of them)", apart.words()),
                None => String::new(),
            };
            not_evaluated(format!(
                "the ports hang on the minuses of {}; what stands between those is not stated{within}",
                list(&references)
            ))
        } else if let Some(apart) = all.as_ref().filter(|apart| !(apart.volts <= APART)) {
            not_evaluated(format!("isolation not stated: {}", list(&open))).figure(apart.words())
        } else if let Some(apart) = all {
            Finding::judged_at_most(ID, place, apart.volts, APART)
                .says("supply minuses of ports that are not isolated")
                .figure(apart.words())
        } else {
            not_evaluated("the volts of the supply minuses are no numbers".to_string())
        };
        findings.push(
            finding
                .limit("at most 6 V: -7 V at a receiver, of which a driver may use -1 V")
                .source(from::COMMON_MODE)
                .remedy("take isolated ports or an isolated splitter, or thicker feeders from one supply"),
        );
    }
}

/// Two devices and the volts between their minuses.
struct Apart<'a> {
    volts: f64,
    high: &'a str,
    low: &'a str,
}

impl Apart<'_> {
    fn words(&self) -> String {
        format!("{:.2} V between {} and {}", self.volts, self.high, self.low)
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
    known.sort_by(|a, b| a.0.cmp(b.0).then(a.2.total_cmp(&b.2)));
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

fn list(names: &[&str]) -> String {
    let shown = names.iter().take(NAMES).copied().collect::<Vec<_>>();
    match names.len().saturating_sub(NAMES) {
        0 => shown.join(", "),
        more => format!("{} and {more} more", shown.join(", ")),
    }
}
