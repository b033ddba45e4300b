//! What RDM asks of a line: both ends terminated, one bias, splitters that turn round.

use super::super::bias::Bias;
use super::super::electrical::{RDM_IDLE_VOLTS, THRESHOLD_VOLTS};
use super::super::line::reflection;
use super::super::rdm::MOST_IN_LINE;
use super::super::sources as from;
use super::link::Link;
use super::model::{Chain, SOURCE};
use super::part::PartKind;
use super::shape::WORST_ECHO;
use crate::finding::plain::Finding;

impl Chain {
    /// Judges bias, and with RDM splitters and the terminated near end.
    pub(super) fn answers(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        if self.spec.rdm {
            self.in_line(findings, link, place);
        }
        match self.spec.bias {
            Some(bias) if link.driver == SOURCE => self.biased(findings, bias, link, place),
            None if link.driver == SOURCE && self.spec.rdm => findings.push(
                Finding::not_evaluated("chain-bias", place, "the bias at the port is not stated")
                    .says("volts of the idle line between request and answer")
                    .limit("at least 245 mV")
                    .source(from::E1_20_BIAS)
                    .remedy("state supply and resistors from the controller's sheet"),
            ),
            _ if self.spec.rdm => findings.push(
                Finding::not_evaluated(
                    "chain-bias",
                    place,
                    "bias and terminator inside the splitter's output are not stated",
                )
                .says("volts of the idle line between request and answer")
                .limit("at least 245 mV")
                .source(from::E1_20_BIAS)
                .remedy("read them from the splitter's sheet"),
            ),
            _ => {}
        }
    }

    fn in_line(&self, findings: &mut Vec<Finding>, link: &Link, place: &str) {
        findings.push(
            Finding::judged_at_most(
                "chain-rdm-splitters",
                place,
                link.splitters as f64,
                f64::from(MOST_IN_LINE),
            )
            .says(format!(
                "{} splitters between controller and this link",
                link.splitters
            ))
            .figure(link.splitters.to_string())
            .limit("at most 4")
            .source(from::E1_20)
            .remedy("split nearer to the controller"),
        );
        for &part in &link.parts {
            if let Some(PartKind::Splitter { rdm: false, .. }) =
                self.spec.parts.get(part).map(|part| part.kind)
            {
                findings.push(
                    Finding::fail("chain-rdm-pass", format!("{place}, at {}", self.name(part)))
                        .says(format!(
                            "{} does not pass RDM: devices behind it do not answer",
                            self.name(part)
                        ))
                        .source(from::E1_20)
                        .remedy("use a splitter that passes RDM both ways"),
                );
            }
        }
    }

    /// Idle volts at the port and along the cable: the supply behind both resistors, on terminators, cable and receivers.
    fn biased(&self, findings: &mut Vec<Finding>, bias: Bias, link: &Link, place: &str) {
        let (port, along) = self.steady_from(link, bias.supply.value, bias.across().value);
        let (limit, source) = if self.spec.rdm {
            (RDM_IDLE_VOLTS, from::E1_20_BIAS)
        } else {
            (THRESHOLD_VOLTS, from::EIA485_THRESHOLD)
        };
        let milli = |volts: f64| format!("{:.0} mV", 1e3 * volts);
        findings.push(
            Finding::judged_at_least("chain-bias", place, port, limit)
                .says(format!(
                    "the idle line rests at {} at the port",
                    milli(port)
                ))
                .figure(milli(port))
                .limit(format!("at least {}", milli(limit)))
                .source(source)
                .remedy(enough(bias, port, limit)),
        );
        let least = along.iter().copied().fold(port, f64::min);
        findings.push(
            Finding::judged_at_least("chain-bias-far", place, least, THRESHOLD_VOLTS)
                .says(format!(
                    "the idle line rests at {} where it is least",
                    milli(least)
                ))
                .figure(milli(least))
                .limit(format!("at least {}", milli(THRESHOLD_VOLTS)))
                .source(from::EIA485_THRESHOLD)
                .remedy("a shorter line, thicker cores, or smaller bias resistors"),
        );
        let (taken, _) = bias.unit_loads();
        findings.push(
            Finding::pass("chain-bias-load", place)
                .says(format!(
                    "each bias resistor loads its line like {taken:.1} unit loads, beside {} of the receivers",
                    link.unit_loads()
                ))
                .figure(format!("{taken:.1} unit loads"))
                .limit("counted apart from the 32 of the receivers")
                .source(from::BIAS_LOAD),
        );
        if let (true, Some(terminator)) = (self.spec.rdm, self.spec.source_terminator) {
            let impedance = link
                .parts
                .first()
                .map_or(self.spec.cable, |&part| self.cable_of(part));
            let near = bias.near_end(Some(terminator));
            let echo = reflection(impedance.impedance, near);
            findings.push(
                Finding::judged_at_most("chain-terminator-near", place, echo.abs(), WORST_ECHO)
                    .says(format!(
                        "terminator and bias make {:.1} ohm on a line of {} ohm: {:.1} % of an answer goes back",
                        near.value,
                        impedance.impedance.value,
                        100.0 * echo.abs()
                    ))
                    .figure(format!("{:.1} ohm", near.value))
                    .limit("an echo of at most 9.1 %, as of 120 ohm on a 100 ohm pair")
                    .source(from::BIASED_END)
                    .remedy("the terminator that, beside both bias resistors, gives the impedance of the line"),
            );
        }
    }
}

/// The largest whole bias resistors that hold `limit` volts where these hold `port`, all else as it is.
fn enough(bias: Bias, port: f64, limit: f64) -> String {
    let supply = bias.supply.value;
    // What loads the bias, as a conductance: port = Vs/(1 + 2 Rb G).
    let load = (supply / port - 1.0) / bias.across().value;
    let most = libm::floor((supply / limit - 1.0) / load / 2.0);
    if most >= 1.0 {
        format!("bias resistors of at most {most} ohm each, all else as it is")
    } else {
        "a higher supply of the bias".to_string()
    }
}
