//! Branches, stubs and terminators of a link.

use super::super::line::reflection;
use super::super::sources as from;
use super::link::Link;
use super::model::{Chain, SOURCE};
use crate::finding::plain::Finding;

/// Worst echo of an end: 120 Ω on a 100 Ω pair, 20/220; anything worse is no terminator for this line.
pub(super) const WORST_ECHO: f64 = 20.0 / 220.0;
/// A line may work without a terminator up to here, by trade pages, m.
const SHORT: f64 = 45.0;
/// Longest stub, m.
const STUB: f64 = 0.3;

impl Chain {
    /// Passive branches and stubs.
    pub(super) fn branches(
        &self,
        findings: &mut Vec<Finding>,
        link: &Link,
        successors: &[Vec<usize>],
        place: &str,
    ) {
        let mut bare = true;
        let starts = link
            .parts
            .iter()
            .filter(|&&part| link.driver == SOURCE && self.parents.get(part) == Some(&None));
        let from_port = starts.count();
        let mut branch = |at: &str, ways: usize| {
            bare = false;
            findings.push(
                Finding::fail("chain-split", format!("{place}, at {at}"))
                    .says(format!(
                        "the line splits {ways} ways at {at} without a powered splitter"
                    ))
                    .figure(format!("{ways} ways"))
                    .limit("one way on")
                    .source(from::E1_11_TOPOLOGY)
                    .remedy(
                        "run the cable on from device to device, or put a powered splitter there",
                    ),
            );
            findings.push(
                Finding::fail("chain-split-habit", format!("{place}, at {at}"))
                    .says(format!("cables are joined at {at}"))
                    .source(from::OWN_TERMINALS)
                    .remedy("bring the cable in and out of every device"),
            );
        };
        if from_port > 1 {
            branch(SOURCE, from_port);
        }
        for &part in &link.parts {
            let ways = successors.get(part).map_or(0, Vec::len);
            if ways > 1 && !self.is_splitter(part) {
                branch(self.name(part), ways);
            }
        }
        if bare {
            findings.push(
                Finding::pass("chain-split", place)
                    .says("a daisy chain, without a branch")
                    .source(from::E1_11_TOPOLOGY),
            );
        }
        for stub in self.stubs(link, successors) {
            let length = stub.1;
            findings.push(
                Finding::judged_at_most(
                    "chain-stub",
                    format!("{place}, {}", self.name(stub.0)),
                    length,
                    STUB,
                )
                .says(format!("a stub of {length:.2} m to {}", self.name(stub.0)))
                .figure(format!("{length:.2} m"))
                .limit("at most 0.3 m")
                .source(from::STUB)
                .remedy("bring the line in and out of the device"),
            );
        }
    }

    /// Short side ways of the link: at every branch all but the longest way, with the length each adds.
    fn stubs(&self, link: &Link, successors: &[Vec<usize>]) -> Vec<(usize, f64)> {
        let mut reach = vec![0.0_f64; self.spec.parts.len()];
        let mut far = (0..self.spec.parts.len()).collect::<Vec<_>>();
        for &part in link.parts.iter().rev() {
            let own = self
                .spec
                .parts
                .get(part)
                .map_or(0.0, |part| part.length.value);
            let (mut longest, mut end) = (0.0, part);
            if !self.is_splitter(part) {
                for &next in successors.get(part).map_or(&[][..], Vec::as_slice) {
                    let length = reach.get(next).copied().unwrap_or(0.0);
                    if length > longest {
                        (longest, end) = (length, far.get(next).copied().unwrap_or(next));
                    }
                }
            }
            if let (Some(reach), Some(far)) = (reach.get_mut(part), far.get_mut(part)) {
                (*reach, *far) = (own + longest, end);
            }
        }
        let mut stubs = Vec::new();
        let roots: Vec<usize> = link
            .parts
            .iter()
            .copied()
            .filter(|&part| self.parents.get(part) == Some(&None))
            .collect();
        let forks = link.parts.iter().filter(|&&part| !self.is_splitter(part));
        let forks = forks.filter_map(|&part| successors.get(part));
        for ways in forks.chain([&roots]).filter(|ways| ways.len() > 1) {
            let mut ways: Vec<usize> = ways.clone();
            ways.sort_by(|a, b| {
                reach
                    .get(*b)
                    .unwrap_or(&0.0)
                    .total_cmp(reach.get(*a).unwrap_or(&0.0))
                    .then(a.cmp(b))
            });
            for &way in ways.iter().skip(1) {
                let end = far.get(way).copied().unwrap_or(way);
                stubs.push((end, reach.get(way).copied().unwrap_or(0.0)));
            }
        }
        stubs
    }

    pub(super) fn terminators(
        &self,
        findings: &mut Vec<Finding>,
        link: &Link,
        successors: &[Vec<usize>],
        place: &str,
    ) {
        let mut farthest = None;
        for (&part, &distance) in link.parts.iter().zip(&link.distances) {
            if farthest.is_none_or(|(_, most)| distance >= most) {
                farthest = Some((part, distance));
            }
        }
        let Some((end, _)) = farthest else { return };
        let at_end = self.spec.parts.get(end).and_then(|part| part.terminator);
        let impedance = self.cable_of(end).impedance.value;
        findings.push(match at_end {
            None => Finding::fail(
                "chain-terminator",
                format!("{place}, at {}", self.name(end)),
            )
            .says(format!("no terminator at the far end, {}", self.name(end)))
            .figure("none")
            .limit("120 ohm")
            .source(from::E1_11_TERMINATION)
            .remedy(if link.length() <= SHORT {
                format!(
                    "put 120 ohm on {}: trade pages let up to about 45 m go without, the standard does not",
                    self.name(end)
                )
            } else {
                format!("put 120 ohm on {}", self.name(end))
            }),
            Some(resistance) => {
                let echo = reflection(self.cable_of(end).impedance, resistance);
                Finding::judged_at_most(
                    "chain-terminator",
                    format!("{place}, at {}", self.name(end)),
                    echo.abs(),
                    WORST_ECHO,
                )
                .says(format!(
                    "{} ohm on a line of {impedance} ohm sends back {:.1} % of a wave",
                    resistance.value,
                    100.0 * echo
                ))
                .figure(format!("{} ohm", resistance.value))
                .limit("120 ohm, which on a 100 ohm pair sends back 9.1 %")
                .source(from::E1_11_TERMINATION)
                .remedy("use the impedance of the line, 100 to 120 ohm")
            }
        });
        for &part in &link.parts {
            let splits = self.is_splitter(part);
            if part != end
                && self
                    .spec
                    .parts
                    .get(part)
                    .is_some_and(|part| part.terminator.is_some())
            {
                let mid = !splits && successors.get(part).is_some_and(|next| !next.is_empty());
                let what = if mid {
                    "in mid-line"
                } else {
                    "at the end of a branch"
                };
                findings.push(
                    Finding::fail(
                        "chain-terminator-extra",
                        format!("{place}, at {}", self.name(part)),
                    )
                    .says(format!(
                        "a terminator {what}, at {}, beside the far end",
                        self.name(part)
                    ))
                    .limit("one, at the far end")
                    .source(from::E1_11_TERMINATION)
                    .remedy(format!("take it off {}", self.name(part))),
                );
            }
        }
        let near = self.spec.source_terminator.is_some();
        if link.driver == SOURCE && near != self.spec.rdm {
            let (says, remedy) = if near {
                ("a terminator at the port too, without RDM", "take it off")
            } else {
                (
                    "RDM answers reach a port without a terminator",
                    "terminate the port, and bias the line there",
                )
            };
            let source = if near {
                from::E1_11_TERMINATION
            } else {
                from::E1_20_TERMINATION
            };
            findings.push(
                Finding::fail("chain-terminator-port", place)
                    .says(says)
                    .source(source)
                    .remedy(remedy),
            );
        }
    }
}
