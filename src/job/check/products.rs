//! Cables, supplies and decoders: figures that a data sheet cannot state.

use super::general::{above_zero, plausible_temperature, positive, price, within};
use crate::device::LevelBits;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{CableItem, DecoderSpec, SupplySpec};
use crate::quantity::{ElectricPotential, Ratio, amps, seconds, show};

/// Most volts of anything here: beyond extra-low voltage nothing is planned.
const MOST_VOLTS: f64 = 120.0;

/// Most amperes that a cable is taken to be stated for, for each square metre of its core: an assumption of this library, far
/// above what any of its tables allows.
const MOST_AMPS_PER_AREA: f64 = 100e6;
/// Most of its rated power that all outputs of a supply together are stated for: an assumption of this library. Outputs that
/// share the power of a supply, each rated for a good part of it, are found; above this is an error of writing.
const MOST_OF_POWER: f64 = 4.0;
/// Bits inside a decoder above which levels of 16 bit are more than a name.
const COARSE_BITS: u32 = 8;

/// Volts of extra-low voltage.
pub(super) fn volts(faults: &mut Faults, subject: &str, field: &str, value: ElectricPotential) {
    within(
        faults,
        subject,
        field,
        value.value > 0.0 && value.value <= MOST_VOLTS,
        format!("is {}", show(value)),
        format!("It must be above 0 V and at most {MOST_VOLTS} V DC"),
    );
}

/// A share between two others.
pub(super) fn share(
    faults: &mut Faults,
    subject: &str,
    field: &str,
    value: Ratio,
    least: f64,
    most: f64,
) {
    within(
        faults,
        subject,
        field,
        value.value >= least && value.value <= most,
        format!("is {}", show(value)),
        format!(
            "It must be between {} % and {} %",
            least * 100.0,
            most * 100.0
        ),
    );
}

/// A figure must not be negative.
pub(super) fn not_below_zero<Q: crate::quantity::Measured>(
    faults: &mut Faults,
    subject: &str,
    field: &str,
    value: Q,
) {
    within(
        faults,
        subject,
        field,
        value.si() >= 0.0 && value.si().is_finite(),
        format!("is {}", show(value)),
        "It must not be negative".to_string(),
    );
}

/// Cables.
pub(super) fn cables(cables: &[(String, &CableItem)], faults: &mut Faults) {
    for (subject, cable) in cables {
        within(
            faults,
            subject,
            "cores",
            (1..=100).contains(&cable.cores),
            format!("is {}", cable.cores),
            "Write a whole number from 1 to 100".to_string(),
        );
        plausible_temperature(faults, subject, "insulation", cable.insulation);
        if let Some(current) = cable.ampacity {
            positive(faults, subject, "ampacity", current);
            let most = cable.size.area().value * MOST_AMPS_PER_AREA;
            within(
                faults,
                subject,
                "ampacity",
                current.value <= most,
                format!("is {} for cores of {}", show(current), cable.size),
                format!(
                    "It must be at most {}, 100 A for each mm² (an assumption of this library)",
                    show(amps(most))
                ),
            );
        }
        if let Some(ambient) = cable.ampacity_ambient {
            plausible_temperature(faults, subject, "ampacity_ambient", ambient);
            within(
                faults,
                subject,
                "ampacity_ambient",
                cable.ampacity.is_some(),
                format!("is {}, and no ampacity is stated", show(ambient)),
                "State `ampacity`, or leave `ampacity_ambient` out".to_string(),
            );
            within(
                faults,
                subject,
                "ampacity_ambient",
                ambient < cable.insulation,
                format!("is {}", show(ambient)),
                format!(
                    "It must be below the insulation, {}",
                    show(cable.insulation)
                ),
            );
        }
        price(
            faults,
            subject,
            "price_per_metre_minor",
            cable.price_per_metre,
        );
        if let Some(reel) = cable.reel {
            above_zero(faults, subject, "reel", reel);
        }
    }
}

/// Supplies.
pub(super) fn supplies(supplies: &[(String, &SupplySpec)], faults: &mut Faults) {
    for (subject, supply) in supplies {
        positive(faults, subject, "power", supply.power);
        volts(faults, subject, "volts", supply.volts);
        share(faults, subject, "tolerance", supply.tolerance, 0.0, 0.2);
        positive(faults, subject, "output_current", supply.output_current);
        if let Some(limit) = supply.limit_current {
            within(
                faults,
                subject,
                "limit_current",
                limit.value >= supply.output_current.value,
                format!("is {}", show(limit)),
                format!(
                    "It must be at least the rated {}",
                    show(supply.output_current)
                ),
            );
        }
        not_below_zero(
            faults,
            subject,
            "output_resistance",
            supply.output_resistance,
        );
        if let Some((low, high)) = supply.trim {
            volts(faults, subject, "trim: low", low);
            volts(faults, subject, "trim: high", high);
            if faults.sound(subject, &["trim", "volts"])
                && !(low <= supply.volts && supply.volts <= high)
            {
                faults.say(
                    FaultKind::Contradiction,
                    (subject, "trim"),
                    format!(
                        "goes from {} to {}, and the set point of {} is not between",
                        show(low),
                        show(high),
                        show(supply.volts)
                    ),
                    "The set point must lie within the trim range",
                );
            }
        }
        if let Some(efficiency) = supply.efficiency {
            share(faults, subject, "efficiency", efficiency, 0.01, 1.0);
        }
        if let Some((peak, time)) = supply.inrush {
            positive(faults, subject, "inrush: peak", peak);
            positive(faults, subject, "inrush: time", time);
        }
        if let Some(leakage) = supply.leakage {
            not_below_zero(faults, subject, "leakage", leakage);
        }
        outputs(subject, supply, faults);
        derating(subject, supply, faults);
        price(faults, subject, "price_minor", supply.price);
    }
}

/// What its outputs are stated to give must be what the supply can have.
fn outputs(subject: &str, supply: &SupplySpec, faults: &mut Faults) {
    let all = supply.output_current * supply.volts * f64::from(supply.outputs);
    if all <= supply.power * MOST_OF_POWER
        || !faults.sound(subject, &["power", "volts", "output_current", "outputs"])
    {
        return;
    }
    let (current, volts) = (show(supply.output_current), show(supply.volts));
    let (field, says) = match supply.outputs {
        1 => (
            "output_current",
            format!("is {current}, which is {} at {volts}", show(all)),
        ),
        count => (
            "outputs",
            format!(
                "is {count}, of {current} each, which is {} at {volts}",
                show(all)
            ),
        ),
    };
    let remedy = format!(
        "Read the label again: at most {MOST_OF_POWER} times the rated {} are taken (an assumption of this library)",
        show(supply.power)
    );
    faults.say(FaultKind::Contradiction, (subject, field), says, remedy);
}

/// Derating: ambient rises, share does not.
fn derating(subject: &str, supply: &SupplySpec, faults: &mut Faults) {
    for (index, (ambient, part)) in supply.derating.iter().enumerate() {
        let here = format!("derating {}", index + 1);
        plausible_temperature(faults, subject, &format!("{here}: ambient"), *ambient);
        share(faults, subject, &format!("{here}: share"), *part, 0.0, 1.0);
    }
    if !faults.sound(subject, &["derating"]) {
        return;
    }
    let pairs = supply.derating.iter().zip(supply.derating.iter().skip(1));
    for (index, (before, after)) in pairs.enumerate() {
        if !(after.0 > before.0 && after.1 <= before.1) {
            faults.say(
                FaultKind::Contradiction,
                (subject, &format!("derating {}", index + 2)),
                format!(
                    "is {} at {}, after {} at {}",
                    show(after.1),
                    show(after.0),
                    show(before.1),
                    show(before.0)
                ),
                "List points by rising ambient, none with a larger share than the one before",
            );
        }
    }
}

/// Decoders.
pub(super) fn decoders(decoders: &[(String, &DecoderSpec)], faults: &mut Faults) {
    for (subject, decoder) in decoders {
        within(
            faults,
            subject,
            "outputs",
            (1..=64).contains(&decoder.outputs),
            format!("is {}", decoder.outputs),
            "Write a whole number from 1 to 64".to_string(),
        );
        within(
            faults,
            subject,
            "bits",
            (8..=32).contains(&decoder.bits),
            format!("is {}", decoder.bits),
            "Write a whole number from 8 to 32".to_string(),
        );
        positive(faults, subject, "output_current", decoder.output_current);
        positive(faults, subject, "total_current", decoder.total_current);
        positive(
            faults,
            subject,
            "terminal_current",
            decoder.terminal_current,
        );
        not_below_zero(faults, subject, "switch", decoder.switch);
        positive(faults, subject, "frequency", decoder.frequency);
        if let Some(pulse) = decoder.shortest_pulse {
            positive(faults, subject, "shortest_pulse", pulse);
            let period = 1.0 / decoder.frequency.value;
            within(
                faults,
                subject,
                "shortest_pulse",
                !faults.sound(subject, &["frequency"]) || pulse.value < period,
                format!("is {}", show(pulse)),
                format!(
                    "It must be shorter than the period of {}, {}",
                    show(decoder.frequency),
                    show(seconds(period))
                ),
            );
        }
        if decoder.levels.contains(&LevelBits::Sixteen)
            && decoder.bits <= COARSE_BITS
            && faults.sound(subject, &["levels", "bits"])
        {
            faults.say(
                FaultKind::Contradiction,
                (subject, "bits"),
                format!("is {}, and its `levels` have \"16 bit\"", decoder.bits),
                "Leave \"16 bit\" out, or state the bits that it dims with: the steps would be those of 8 bit",
            );
        }
        price(faults, subject, "price_minor", decoder.price);
        let (low, high) = decoder.volts;
        volts(faults, subject, "volts: low", low);
        volts(faults, subject, "volts: high", high);
        if faults.sound(subject, &["volts"]) && !(low <= high) {
            faults.say(
                FaultKind::Contradiction,
                (subject, "volts"),
                format!("goes from {} to {}", show(low), show(high)),
                "The low end comes first",
            );
        }
        for (field, count) in [
            ("levels", decoder.levels.len()),
            ("curves", decoder.curves.len()),
        ] {
            if count == 0 && faults.sound(subject, &[field]) {
                faults.say(
                    FaultKind::Missing,
                    (subject, field),
                    "is empty",
                    "Name what the decoder can be set to",
                );
            }
        }
    }
}
