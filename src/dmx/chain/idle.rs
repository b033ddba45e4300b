//! What holds the idle line: bias at the port, along the cable, and what it does to the near end.

use super::super::bias::Bias;
use super::super::electrical::{RDM_IDLE_VOLTS, THRESHOLD_VOLTS};
use super::super::line::reflection;
use super::super::sources as from;
use super::ends::WORST_ECHO;
use super::judge::LinkContext;
use crate::finding::{Case, Figure, Finding, Limit, Loads, Rule};
use crate::quantity::{fraction, ohms, volts};

/// Every rule of the idle line, in order; none where neither RDM nor a bias is stated.
pub(super) fn bias(on: &LinkContext<'_>) -> Vec<Finding> {
    let spec = &on.chain.spec;
    let not_evaluated = |case| {
        BIAS.not_evaluated(case, on.subject())
            .limit(Limit::AtLeast(volts(RDM_IDLE_VOLTS).into()))
    };
    match (on.is_at_port(), spec.bias) {
        (true, Some(bias)) => {
            let (port, along) =
                on.chain
                    .steady_from(on.link, bias.supply.value, bias.across().value);
            let least = along.iter().copied().fold(port, f64::min);
            let mut findings = vec![at_port(on, bias, port), far(on, least), load(on, bias)];
            findings.extend(near_end(on, bias));
            findings
        }
        (true, None) if spec.rdm => vec![not_evaluated(&NOT_STATED)],
        (false, _) if spec.rdm => vec![not_evaluated(&SPLITTER_NOT_STATED)],
        _ => Vec::new(),
    }
}

/// Words of the idle volts at the port.
const fn rests(key: &'static str, remedy: &'static str) -> Case {
    Case::judged(key, "the idle line rests at {figure:.0 mV} at the port")
        .figure("{figure:.0 mV}")
        .limit("at least {limit:.0 mV}")
        .remedy(remedy)
}
const RESTS: Case = rests(
    "rests",
    "bias resistors of {resistor:.0 Ω} each at most, all else unchanged",
);
const WEAK_SUPPLY: Case = rests("weak_supply", "a higher bias supply voltage");
const UNLOADED: Case = rests("unloaded", "");
/// Words of a bias that is not stated.
const fn open(key: &'static str, reason: &'static str, remedy: &'static str) -> Case {
    Case::open(
        key,
        "idle line voltage between request and response",
        reason,
    )
    .limit("at least {limit:.0 mV}")
    .remedy(remedy)
}
const NOT_STATED: Case = open(
    "not_stated",
    "the bias at the port is not stated",
    "state supply and resistors from the controller's sheet",
);
const SPLITTER_NOT_STATED: Case = open(
    "splitter_not_stated",
    "bias and terminator inside the splitter's output are not stated",
    "read them from the splitter's sheet",
);

pub(in crate::dmx) const BIAS: Rule = Rule {
    id: "chain-bias",
    title: "Bias at the driver",
    asks: "Does the bias hold the idle line at the driver to 245 mV with RDM, to the 200 mV of a receiver without?",
    source: from::E1_20_BIAS,
    needs: &["bias of the port and of every splitter output"],
    cases: &[
        &RESTS,
        &WEAK_SUPPLY,
        &UNLOADED,
        &NOT_STATED,
        &SPLITTER_NOT_STATED,
    ],
};

/// The supply behind both resistors, on terminators, cable and receivers.
fn at_port(on: &LinkContext<'_>, bias: Bias, port: f64) -> Finding {
    let (limit, source) = if on.chain.spec.rdm {
        (RDM_IDLE_VOLTS, from::E1_20_BIAS)
    } else {
        (THRESHOLD_VOLTS, from::EIA485_THRESHOLD)
    };
    let most = largest_resistor(bias, port, limit);
    let case = if most.is_infinite() {
        &UNLOADED
    } else if most >= 1.0 {
        &RESTS
    } else {
        &WEAK_SUPPLY
    };
    BIAS.at_least(case, on.subject(), volts(port), volts(limit))
        .source(source)
        .fact("resistor", ohms(most))
}

/// The largest whole bias resistors that hold `limit` volts where these hold `port`, all else as it is, ohm.
fn largest_resistor(bias: Bias, port: f64, limit: f64) -> f64 {
    let supply = bias.supply.value;
    // What loads the bias, as a conductance: port = Vs/(1 + 2 Rb G).
    let load = (supply / port - 1.0) / bias.across().value;
    libm::floor((supply / limit - 1.0) / load / 2.0)
}

const RESTS_FAR: Case = Case::judged(
    "rests",
    "the idle line rests at {figure:.0 mV} where it is least",
)
.figure("{figure:.0 mV}")
.limit("at least {limit:.0 mV}")
.remedy("a shorter line, larger cores, or lower bias resistors");

pub(in crate::dmx) const BIAS_FAR: Rule = Rule {
    id: "chain-bias-far",
    title: "Bias along the line",
    asks: "Does every receiver on the idle line see at least its threshold?",
    source: from::EIA485_THRESHOLD,
    needs: &["bias of the port"],
    cases: &[&RESTS_FAR],
};

fn far(on: &LinkContext<'_>, least: f64) -> Finding {
    BIAS_FAR.at_least(
        &RESTS_FAR,
        on.subject(),
        volts(least),
        volts(THRESHOLD_VOLTS),
    )
}

const BESIDE: Case = Case::judged(
    "beside",
    "each bias resistor loads its line by {figure:.1} unit loads, in addition to {receivers} of the receivers",
)
.figure("{figure:.1} unit loads")
.limit("counted separately from the 32 of the receivers");

pub(in crate::dmx) const BIAS_LOAD: Rule = Rule {
    id: "chain-bias-load",
    title: "Load of the bias",
    asks: "What load does the bias add to that of the receivers?",
    source: from::BIAS_LOAD,
    needs: &["bias of the port"],
    cases: &[&BESIDE],
};

fn load(on: &LinkContext<'_>, bias: Bias) -> Finding {
    let (taken, _) = bias.unit_loads();
    let unit_loads_e4 = on.link.load;
    BIAS_LOAD
        .passes(&BESIDE, on.subject())
        .figure(Figure::number(taken))
        .fact("receivers", Loads { unit_loads_e4 })
}

const ECHO: Case = Case::judged(
    "echo",
    "terminator and bias make {near:.1 Ω} on a line of {impedance:* Ω}: {figure:.1 %} of a response is reflected",
)
.figure("{near:.1 Ω}")
.limit("a reflection of at most {limit:.1 %}, as of 120 Ω on a 100 Ω pair")
.remedy("the terminator that, in parallel with both bias resistors, matches the impedance of the line");

pub(in crate::dmx) const TERMINATOR_NEAR: Rule = Rule {
    id: "chain-terminator-near",
    title: "Terminator in parallel with the bias",
    asks: "Do terminator and bias of the port together match the cable that responses come through?",
    source: from::BIASED_END,
    needs: &["bias of the port"],
    cases: &[&ECHO],
};

fn near_end(on: &LinkContext<'_>, bias: Bias) -> Option<Finding> {
    let spec = &on.chain.spec;
    let terminator = spec.source_terminator.filter(|_| spec.rdm)?;
    let first = on.link.parts.first();
    let cable = first.map_or(spec.cable, |&part| on.chain.cable_of(part));
    let near = bias.near_end(Some(terminator));
    let echo = reflection(cable.impedance, near).abs();
    Some(
        TERMINATOR_NEAR
            .at_most(&ECHO, on.subject(), fraction(echo), fraction(WORST_ECHO))
            .fact("near", near)
            .fact("impedance", cable.impedance),
    )
}
