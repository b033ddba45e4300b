//! Rules on the label of an output: what it claims, against the power-limit tables at the highest voltage.

use super::class2::{PowerLimits, power_limits};
use super::classes::CircuitClass;
use super::spec::OutputSpec;
use super::tables::extra_low_voltage;
use super::tables::power_limits::{self as table, Limited, Rule as LimitRule};
use crate::device::{EnergyLimit, ShockProtection};
use crate::finding::{Case, Finding, Limit, Rule, Value};
use crate::quantity::{amps, watts};
use crate::source::{Source, documents};

const CLASS: &str = "the energy class on the label";

const OUTSIDE: Case = Case::plain("outside", "labelled {class}, but {why}")
    .figure("{figure}")
    .remedy("check the label and the highest voltage that the trimmer reaches");
const NAMEPLATE_CURRENT: Case = Case::judged(
    "current",
    "labelled {class}; nameplate {figure} against {limit} at {high}, the highest it can be set to",
)
.remedy("check the label; block the trimmer; or count the output as not limited");

/// Nameplate current of a power-limited output.
pub(super) const NAMEPLATE: Rule = Rule {
    id: "class-2-nameplate",
    title: "Nameplate current of a power-limited output",
    asks: "Is the nameplate current of each output labelled Class 2 or limited power within the table, at the highest voltage it can be set to?",
    source: table::EVERY,
    needs: &[CLASS],
    cases: &[&NAMEPLATE_CURRENT, &OUTSIDE],
};

const NAMEPLATE_WATTS: Case = Case::judged(
    "power",
    "labelled {class}; nameplate {figure} against {limit} at {high}",
)
.remedy("check the label; or count the output as not limited");

/// Nameplate power of a power-limited output.
pub(super) const NAMEPLATE_POWER: Rule = Rule {
    id: "class-2-nameplate-power",
    title: "Nameplate power of a power-limited output",
    asks: "Is the nameplate power of each output labelled Class 2 or limited power within the table?",
    source: table::EVERY,
    needs: &[CLASS, "the power on the nameplate"],
    cases: &[&NAMEPLATE_WATTS],
};

const GREATEST_CURRENT: Case = Case::judged(
    "current",
    "labelled {class}; greatest current {figure} against {limit}",
)
.remedy("check the label; count the output as not limited");
const NEEDS_DEVICE: Case = Case::open(
    "needs-device",
    "",
    "{figure} is more than an inherently limited {class} source may give ({limit}); it can be one only with an overcurrent device of {device} at most inside, which the label must show",
)
.figure("{figure}")
.limit("{limit}");
const NOT_STATED: Case = Case::open(
    "not-stated",
    "",
    "the greatest current into a short circuit is not stated; the label is believed",
);

/// Short-circuit current of a power-limited output.
pub(super) const SHORT_CIRCUIT: Rule = Rule {
    id: "class-2-short-circuit",
    title: "Short-circuit current of a power-limited output",
    asks: "Is the greatest current of each output labelled Class 2 or limited power within what the table lets such a source give?",
    source: table::EVERY,
    needs: &[CLASS, "the greatest current of the output"],
    cases: &[&GREATEST_CURRENT, &NEEDS_DEVICE, &NOT_STATED],
};

const UNKNOWN: Case = Case::open(
    "unknown",
    "read the label: Class 2, limited power, or neither",
    "the energy class on the label is not stated; it counts as none",
);

/// Energy class of an output.
pub(super) const ENERGY_CLASS: Rule = Rule {
    id: "energy-class",
    title: "Energy class of an output",
    asks: "Does the label of each output say whether its energy is limited?",
    source: Source::label("label of the supply"),
    needs: &[CLASS],
    cases: &[&UNKNOWN],
};

pub(super) fn energy_class(output: &OutputSpec) -> Option<Finding> {
    (output.energy == EnergyLimit::Unknown)
        .then(|| ENERGY_CLASS.not_evaluated(&UNKNOWN, output.about.clone()))
}

const EXTRA_LOW: Case = Case::plain(
    "extra-low",
    "the label says {class}: separated from the mains, as class III equipment needs",
);
const NOT_SEPARATED: Case = Case::plain(
    "other",
    "the label says neither SELV nor PELV; tape is class III equipment and has no protection against electric shock of its own",
)
.figure("{class}")
.limit("SELV or PELV")
.remedy("take a supply labelled SELV or PELV");
/// A Class 2 circuit gives acceptable protection from electric shock.
const CLASS_2_CIRCUIT: Source = documents::NEC
    .at("definition of a Class 2 circuit, figures of 2017")
    .from_memory();
const CLASS_2_ONLY: Case = Case::open(
    "class-2",
    "the label says Class 2, and neither SELV nor PELV",
    "the US code counts a Class 2 circuit as protection against shock too, IEC rules ask for SELV or PELV; which code is in force is not in the job",
)
.limit("SELV or PELV")
.remedy("read the label, and state shock_protection of the supply; ask the authority where it says Class 2 alone");
const WEAKENED: Case = Case::plain(
    "weakened",
    "the label says {class}, and copper ties it to an output that is not SELV or PELV",
)
.figure("{fact}")
.limit("SELV or PELV")
.remedy("separate the two outputs, plus, minus and data common");
const SHOCK_UNKNOWN: Case = Case::open(
    "unknown",
    "separation of the output from the mains",
    "the shock protection on the label is not stated, SELV or PELV; it counts as none",
)
.limit("SELV or PELV")
.remedy("read the label, and state shock_protection of the supply");

/// Shock protection of an output.
pub(super) const SHOCK: Rule = Rule {
    id: "shock-protection",
    title: "Shock protection of an output",
    asks: "Is each output SELV or PELV, as class III equipment needs, by its label and by all that copper ties it to?",
    source: extra_low_voltage::CLASS_III,
    needs: &["the shock protection on the label"],
    cases: &[
        &EXTRA_LOW,
        &NOT_SEPARATED,
        &CLASS_2_ONLY,
        &WEAKENED,
        &SHOCK_UNKNOWN,
    ],
};

/// The label, and the class that the circuit has in fact.
pub(super) fn shock(output: &OutputSpec, circuit: CircuitClass) -> Finding {
    let (about, fact) = (output.about.clone(), circuit.shock);
    let finding = match (output.shock, fact) {
        (ShockProtection::Other | ShockProtection::Unknown, _)
            if circuit.energy == EnergyLimit::Class2 =>
        {
            SHOCK
                .not_evaluated(&CLASS_2_ONLY, about)
                .source(CLASS_2_CIRCUIT)
        }
        (ShockProtection::Other, _) => SHOCK.fails(&NOT_SEPARATED, about),
        (ShockProtection::Unknown, _) => SHOCK.not_evaluated(&SHOCK_UNKNOWN, about),
        (_, fact) if fact.is_extra_low() => SHOCK.passes(&EXTRA_LOW, about),
        _ => SHOCK.fails(&WEAKENED, about),
    };
    finding
        .fact("class", Value::name(label_word(output.shock)))
        .fact("fact", Value::name(label_word(fact)))
}

/// As a label writes it.
fn label_word(shock: ShockProtection) -> &'static str {
    match shock {
        ShockProtection::Selv => "SELV",
        ShockProtection::Pelv => "PELV",
        ShockProtection::Other => "neither",
        ShockProtection::Unknown => "not stated",
    }
}

/// The label against the table at the highest voltage; nothing where it claims no limit.
pub(super) fn judge(output: &OutputSpec) -> Vec<Finding> {
    let rule = match output.energy {
        EnergyLimit::Class2 => LimitRule::Class2Dc,
        EnergyLimit::LimitedPower => LimitRule::LimitedPowerDc,
        EnergyLimit::None | EnergyLimit::Unknown => return Vec::new(),
    };
    match power_limits(rule, Limited::Inherently, output.volts_high) {
        Err(error) => vec![
            NAMEPLATE
                .fails(&OUTSIDE, output.about.clone())
                .figure(output.volts_high)
                .fact("class", Value::name(output.energy.word()))
                .fact("why", Value::note(error.to_string())),
        ],
        Ok(limits) => nameplate(output, &limits)
            .into_iter()
            .chain(nameplate_power(output, &limits))
            .chain([short_circuit(output, rule, &limits)])
            .collect(),
    }
}

fn nameplate(output: &OutputSpec, limits: &PowerLimits) -> Option<Finding> {
    let about = output.about.clone();
    let most = limits.nameplate_current.map(amps)?;
    let finding = NAMEPLATE.at_most(&NAMEPLATE_CURRENT, about, output.rated, most);
    Some(labelled(finding, output, limits).fact("high", output.volts_high))
}

fn nameplate_power(output: &OutputSpec, limits: &PowerLimits) -> Option<Finding> {
    let about = output.about.clone();
    let (power, most) = (output.nameplate?, limits.nameplate_power.map(watts)?);
    let finding = NAMEPLATE_POWER.at_most(&NAMEPLATE_WATTS, about, power, most);
    Some(labelled(finding, output, limits).fact("high", output.volts_high))
}

fn labelled(finding: Finding, output: &OutputSpec, limits: &PowerLimits) -> Finding {
    finding
        .fact("class", Value::name(output.energy.word()))
        .source(limits.source.clone())
}

fn short_circuit(output: &OutputSpec, rule: LimitRule, limits: &PowerLimits) -> Finding {
    let about = output.about.clone();
    let own = amps(limits.current.unwrap_or(0.0));
    let by_device = power_limits(rule, Limited::ByDevice, output.volts_high).ok();
    let with_device = by_device.as_ref().and_then(|l| l.current).map(amps);
    let finding = match output.limit {
        None => SHORT_CIRCUIT.not_evaluated(&NOT_STATED, about),
        Some(limit) if limit > own && with_device.is_some_and(|most| limit <= most) => {
            let device = by_device.and_then(|l| l.device).unwrap_or(0.0);
            SHORT_CIRCUIT
                .not_evaluated(&NEEDS_DEVICE, about)
                .figure(limit)
                .limit(Limit::AtMost(own.into()))
                .fact("device", amps(device))
        }
        Some(limit) => SHORT_CIRCUIT.at_most(&GREATEST_CURRENT, about, limit, own),
    };
    labelled(finding, output, limits)
}
