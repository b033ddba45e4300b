//! Whether each run can be posed as a problem of feeding: the one thing that it lacks.

use crate::finding::{Case, Figure, Finding, Rule, Subject, Value};
use crate::id::RunId;
use crate::network::Polarity;
use crate::quantity::ElectricPotential;
use crate::source::Source;

const NO_FEED: &str = "no feed";
const fn none(key: &'static str, says: &'static str, remedy: &'static str) -> Case {
    Case::plain(key, says)
        .figure(NO_FEED)
        .limit("one")
        .remedy(remedy)
}

const NO_MODEL: Case = none("no-model", "its strip has no model", "correct the strip");
const NO_ROUTE: Case = none(
    "no-route",
    "no route leads to it from a place of the zone {zone}",
    "state a route from one of those places",
);
const NO_SUPPLY: Case = none(
    "no-supply",
    "no supply of the job has the voltage of its tape, {rated}",
    "list a supply of that voltage, or take tape of the voltage that is there",
);
const SUPPLY_NOT_PERMITTED: Case = none(
    "supply-not-permitted",
    "{supply} has the voltage of its tape, {rated}, and may not be put at {place}",
    "name a supply of that voltage under `supplies` of the place and of the zone, or leave both lists out",
);
const DECODER_NOT_PERMITTED: Case = none(
    "decoder-not-permitted",
    "no decoder may be put at {place}, not even {decoder}",
    "name a decoder under `decoders` of the place and of the zone, or leave both lists out",
);
const MINUS: Case = none(
    "polarity-plus",
    "its tape has a common plus and needs a decoder that switches the minus; {decoder} at {place} switches the plus",
    "take a decoder with a common plus, or tape with a common minus: the two cannot be joined",
);
const PLUS: Case = none(
    "polarity-minus",
    "its tape has a common minus and needs a decoder that switches the plus; {decoder} at {place} switches the minus",
    "take a decoder with a common minus, or tape with a common plus: the two cannot be joined",
);
const DECODER_VOLTS: Case = none(
    "decoder-volts",
    "{decoder} at {place} is made for {low} to {high}, and its tape is rated {rated}",
    "list a decoder for that voltage",
);
const OUTPUTS: Case = none(
    "outputs",
    "{decoder} at {place} has {has} outputs, and its tape {needs} emitters",
    "list a decoder with an output for each emitter",
);
const LEVELS: Case = none(
    "levels",
    "{decoder} at {place} does not take levels of {asked}, which its zone asks for",
    "list a decoder that does, or change `control` of the zone",
);
const CURVE: Case = none(
    "curve",
    "{decoder} at {place} cannot be set to the {asked} curve, which its zone asks for",
    "list a decoder that can, or change `curve` of the zone",
);
const ENOUGH_CORES: &str = "name a cable with enough cores";
const NO_CABLE: Case = none(
    "no-cable",
    "none of its cables has {cores} cores and a known resistance",
    ENOUGH_CORES,
);
const CABLES_REFUSED: Case = none(
    "cables-refused",
    "none of its cables has {cores} cores and a known resistance: {why}",
    ENOUGH_CORES,
);
const FAULT: Case = none("fault", "{why}", "correct the run, its strip or its cables");

pub(super) static RULE: Rule = Rule {
    id: "feed-problem",
    title: "A way to feed a run",
    asks: "Has each run a place, a supply, a decoder and a cable that it can be fed with?",
    source: Source::job("the job"),
    needs: &[],
    cases: &[
        &NO_MODEL,
        &NO_ROUTE,
        &NO_SUPPLY,
        &SUPPLY_NOT_PERMITTED,
        &DECODER_NOT_PERMITTED,
        &MINUS,
        &PLUS,
        &DECODER_VOLTS,
        &OUTPUTS,
        &LEVELS,
        &CURVE,
        &NO_CABLE,
        &CABLES_REFUSED,
        &FAULT,
    ],
};

fn problem(run: &str, case: &Case) -> Finding {
    RULE.fails(case, Subject::Run(RunId::new(run)))
}

/// Of a decoder at a place.
fn of_decoder(run: &str, case: &Case, place: &str, decoder: &str) -> Finding {
    problem(run, case)
        .fact("place", Value::name(place))
        .fact("decoder", Value::name(decoder))
}

/// The tape of a run has no model.
pub(crate) fn no_model(run: &str) -> Finding {
    problem(run, &NO_MODEL)
}

/// No route leads to a run.
pub(crate) fn no_route(run: &str, zone: &str) -> Finding {
    problem(run, &NO_ROUTE).fact("zone", Value::name(zone))
}

/// No supply of the job has the voltage of the tape.
pub(crate) fn no_supply(run: &str, place: &str, rated: ElectricPotential) -> Finding {
    problem(run, &NO_SUPPLY)
        .fact("place", Value::name(place))
        .fact("rated", rated)
}

/// A supply of the voltage may not be put at the place.
pub(crate) fn supply_not_permitted(
    run: &str,
    place: &str,
    supply: &str,
    rated: ElectricPotential,
) -> Finding {
    problem(run, &SUPPLY_NOT_PERMITTED)
        .fact("place", Value::name(place))
        .fact("supply", Value::name(supply))
        .fact("rated", rated)
}

/// No decoder may be put at the place.
pub(crate) fn decoder_not_permitted(run: &str, place: &str, decoder: &str) -> Finding {
    of_decoder(run, &DECODER_NOT_PERMITTED, place, decoder)
}

/// The decoder switches the other side.
pub(crate) fn polarity(run: &str, place: &str, decoder: &str, tape: Polarity) -> Finding {
    let case = match tape {
        Polarity::CommonPlus => &MINUS,
        Polarity::CommonMinus => &PLUS,
    };
    of_decoder(run, case, place, decoder)
}

/// The decoder is for other voltages.
pub(crate) fn decoder_volts(
    run: &str,
    place: &str,
    decoder: &str,
    rated: ElectricPotential,
    (low, high): (ElectricPotential, ElectricPotential),
) -> Finding {
    of_decoder(run, &DECODER_VOLTS, place, decoder)
        .fact("rated", rated)
        .fact("low", low)
        .fact("high", high)
}

/// The decoder has too few outputs.
pub(crate) fn outputs(run: &str, place: &str, decoder: &str, has: u32, needs: usize) -> Finding {
    of_decoder(run, &OUTPUTS, place, decoder)
        .fact("has", Figure::count(u64::from(has)))
        .fact("needs", Figure::count(needs as u64))
}

/// The decoder does not take such levels.
pub(crate) fn levels(run: &str, place: &str, decoder: &str, asked: &str) -> Finding {
    of_decoder(run, &LEVELS, place, decoder).fact("asked", Value::name(asked))
}

/// The decoder cannot be set to the curve.
pub(crate) fn curve(run: &str, place: &str, decoder: &str, asked: &str) -> Finding {
    of_decoder(run, &CURVE, place, decoder).fact("asked", Value::name(asked))
}

/// No cable of a run has so many cores and a known resistance; `refused`: those that have the cores, and why not.
pub(crate) fn no_cable(run: &str, cores: usize, refused: &[String]) -> Finding {
    let cores = Figure::count(cores as u64);
    if refused.is_empty() {
        return problem(run, &NO_CABLE).fact("cores", cores);
    }
    problem(run, &CABLES_REFUSED)
        .fact("cores", cores)
        .fact("why", Value::note(refused.join("; ")))
}

/// A figure of a run is out of range.
pub(crate) fn fault(run: &str, why: &impl ToString) -> Finding {
    problem(run, &FAULT).fact("why", Value::note(why.to_string()))
}
