//! Tape: figures that a data sheet cannot state, and figures that contradict each other.

use super::general::{above_zero, plausible_temperature, positive, price, within};
use super::names::Names;
use super::products::{not_below_zero, share, volts};
use crate::exact::ExactLength;
use crate::job::fault::{FaultKind, Faults};
use crate::job::spec::{CellSpec, PowerBasis, RailSpec, StripSpec};
use crate::quantity::{ElectricPotential, show};
use crate::strip::{SheetPart, StringClass, StripError};

/// Shortest cut pitch: an assumption of this library, far below any tape's.
const SHORTEST_PITCH: ExactLength = ExactLength::from_millimetres(1);

/// Tape.
pub(super) fn strips(strips: &[(String, &StripSpec)], faults: &mut Faults) {
    for (subject, strip) in strips {
        volts(faults, subject, "rated", strip.rated);
        above_zero(faults, subject, "reel", strip.reel);
        let pitch = strip.pitch.length_of(1);
        within(
            faults,
            subject,
            "cut_pitch",
            pitch >= SHORTEST_PITCH,
            format!("is {pitch}"),
            format!(
                "It must be at least {SHORTEST_PITCH} (an assumption of this library: no tape is cut shorter)"
            ),
        );
        if strip.pitch.count_in(strip.reel) == 0 && faults.sound(subject, &["reel", "cut_pitch"]) {
            faults.say(
                FaultKind::Contradiction,
                (subject, "reel"),
                format!(
                    "is {}, shorter than the cut pitch, {}",
                    strip.reel, strip.pitch
                ),
                "Correct the one or the other",
            );
        }
        if let Some(length) = strip.longest_branch {
            above_zero(faults, subject, "longest_branch", length);
        }
        if let Some(radius) = strip.bend_radius {
            above_zero(faults, subject, "bend_radius", radius);
        }
        if let Some(current) = strip.pad_current {
            positive(faults, subject, "pad_current", current);
        }
        if let Some(highest) = strip.highest_volts {
            volts(faults, subject, "highest_volts", highest);
            if faults.sound(subject, &["highest_volts", "rated"]) && highest < strip.rated {
                faults.say(
                    FaultKind::Contradiction,
                    (subject, "highest_volts"),
                    format!(
                        "is {}, below the rated {}",
                        show(highest),
                        show(strip.rated)
                    ),
                    "Write the highest voltage that the maker permits, at least the rated one",
                );
            }
        }
        if let Some(highest) = strip.highest_ambient {
            plausible_temperature(faults, subject, "highest_ambient", highest);
        }
        if let Some(power) = strip.power {
            positive(faults, subject, "power", power);
        }
        price(faults, subject, "price_minor", strip.price);
        if let Some(joint) = &strip.reel_joint {
            price(faults, subject, "reel_joint: price_minor", joint.price);
            within(
                faults,
                subject,
                "reel_joint: resistance",
                (0.0..=10.0).contains(&joint.resistance.value),
                format!("is {}", show(joint.resistance)),
                "Write 0 to 10 Ω; a sound joint has some milliohms (common practice)".to_string(),
            );
        }
        if let Some(splices) = &strip.splices {
            above_zero(faults, subject, "splices: every", splices.every);
            not_below_zero(faults, subject, "splices: resistance", splices.resistance);
        }
        within(
            faults,
            subject,
            "cells_per_cut",
            (1..=1000).contains(&strip.cells),
            format!("is {}", strip.cells),
            "Write a whole number from 1 to 1000".to_string(),
        );
        emitters(subject, strip, faults);
        rails(subject, strip, faults);
        stated_power(subject, strip, faults);
        as_a_whole(subject, strip, faults);
    }
}

/// What the strip room has against figures of which each can be: a ballast that contradicts a current, say.
fn as_a_whole(subject: &str, strip: &StripSpec, faults: &mut Faults) {
    let fields = [
        "name",
        "rated",
        "cut_pitch",
        "cells_per_cut",
        "emitters",
        "rails",
        "power",
        "reel",
        "longest_branch",
        "pad_current",
        "bend_radius",
        "reel_joint",
        "splices",
    ];
    if !faults.sound(subject, &fields) {
        return;
    }
    let Err(errors) = strip.check() else {
        return;
    };
    for error in errors.0 {
        let (field, says, remedy) = match error {
            StripError::Figure {
                part,
                what,
                found,
                accepted,
                remedy,
                ..
            } => {
                let says = format!("cannot be: {what} is {found}, and {accepted} is accepted");
                (key_of(part), says, remedy)
            }
            StripError::Contradiction {
                what,
                against,
                remedy,
                ..
            } => (
                "emitters",
                format!("contradict: {what}, but {against}"),
                remedy,
            ),
            StripError::TooShort { what, length, .. } => (
                "rails",
                format!(
                    "cannot be: {what} of {length} is shorter than the cut pitch, {}",
                    strip.pitch
                ),
                "State a longer one",
            ),
            other => (
                "emitters",
                format!("cannot be: {other}"),
                "Correct the figures of the strip",
            ),
        };
        faults.say(FaultKind::Contradiction, (subject, field), says, remedy);
    }
}

/// The key of a part of a sheet.
fn key_of(part: SheetPart) -> &'static str {
    match part {
        SheetPart::Name => "name",
        SheetPart::Rated => "rated",
        SheetPart::Cells => "cells_per_cut",
        SheetPart::Reel => "reel",
        SheetPart::Power => "power",
        SheetPart::LongestBranch => "longest_branch",
        SheetPart::Pads => "pad_current",
        SheetPart::Bend => "bend_radius",
        SheetPart::ReelJoint => "reel_joint",
        SheetPart::Splices => "splices",
        SheetPart::Emitters => "emitters",
        _ => "rails",
    }
}

fn emitters(subject: &str, strip: &StripSpec, faults: &mut Faults) {
    let count = strip.emitters.len();
    within(
        faults,
        subject,
        "emitters",
        (1..=6).contains(&count),
        format!("has {count} entries"),
        "A tape has one to six emitters".to_string(),
    );
    let mut names = Names::take("emitter of the strip", std::iter::empty(), faults);
    for (index, emitter) in strip.emitters.iter().enumerate().take(6) {
        let here = format!("emitters {}", index + 1);
        let field = |key: &str| format!("{here}: {key}");
        names.add(subject, &field("name"), &emitter.name, faults);
        if let Some(flux) = emitter.flux {
            positive(faults, subject, &field("flux"), flux);
        }
        match &emitter.cell {
            CellSpec::Series {
                diodes,
                forward,
                current,
                ballast,
            } => {
                positive(faults, subject, &field("current"), *current);
                if let Some(ballast) = ballast {
                    positive(faults, subject, &field("ballast"), *ballast);
                }
                knee(
                    subject,
                    strip,
                    &field("forward"),
                    *diodes,
                    *forward,
                    ElectricPotential::default(),
                    faults,
                );
            }
            CellSpec::ConstantCurrent {
                diodes,
                forward,
                current,
                drop_out,
            } => {
                positive(faults, subject, &field("current"), *current);
                positive(faults, subject, &field("drop_out"), *drop_out);
                knee(
                    subject,
                    strip,
                    &field("forward"),
                    *diodes,
                    *forward,
                    *drop_out,
                    faults,
                );
            }
            CellSpec::StraightLine { knee, current } => {
                positive(faults, subject, &field("current"), *current);
                within(
                    faults,
                    subject,
                    &field("knee"),
                    knee.value > 0.0 && knee.value < strip.rated.value,
                    format!("is {}", show(*knee)),
                    format!(
                        "It must be above 0 V and below the rated {}",
                        show(strip.rated)
                    ),
                );
            }
            CellSpec::Class { strings, current } => {
                positive(faults, subject, &field("current"), *current);
                knee(
                    subject,
                    strip,
                    "rated",
                    StringClass::diodes(strip.rated),
                    strings.forward()[1],
                    ElectricPotential::default(),
                    faults,
                );
            }
            CellSpec::ConstantPower { power, works_from } => {
                positive(faults, subject, &field("power"), *power);
                within(
                    faults,
                    subject,
                    &field("works_from"),
                    works_from.value > 0.0 && works_from.value < strip.rated.value,
                    format!("is {}", show(*works_from)),
                    format!(
                        "It must be above 0 V and below the rated {}",
                        show(strip.rated)
                    ),
                );
            }
        }
    }
}

/// A string must leave something of the rated voltage for its ballast or regulator.
fn knee(
    subject: &str,
    strip: &StripSpec,
    field: &str,
    diodes: u32,
    forward: ElectricPotential,
    drop_out: ElectricPotential,
    faults: &mut Faults,
) {
    positive(faults, subject, field, forward);
    let knee = forward * f64::from(diodes) + drop_out;
    if faults.sound(subject, &[field, "rated"]) && !(knee < strip.rated) {
        faults.say(
            FaultKind::Contradiction,
            (subject, field),
            format!(
                "is {}, so that {diodes} in series need {} of the rated {}",
                show(forward),
                show(knee),
                show(strip.rated)
            ),
            "Leave a voltage for the ballast or the regulator",
        );
    }
}

fn rails(subject: &str, strip: &StripSpec, faults: &mut Faults) {
    let field = |key: &str| format!("rails: {key}");
    match &strip.rails {
        RailSpec::Stated { common, returns } => {
            positive(faults, subject, &field("common"), *common);
            positive(faults, subject, &field("returns"), *returns);
        }
        RailSpec::Foil {
            layers,
            thickness,
            common_width,
            return_width,
        } => {
            within(
                faults,
                subject,
                &field("layers"),
                (1..=8).contains(layers),
                format!("is {layers}"),
                "Write a whole number from 1 to 8".to_string(),
            );
            for (key, value, most) in [
                ("thickness", thickness, 1e-3),
                ("common_width", common_width, 0.1),
                ("return_width", return_width, 0.1),
            ] {
                within(
                    faults,
                    subject,
                    &field(key),
                    value.value > 0.0 && value.value <= most,
                    format!("is {}", show(*value)),
                    format!(
                        "It must be above zero and at most {}",
                        show(crate::quantity::metres(most))
                    ),
                );
            }
        }
        RailSpec::MaximumRun { length, by, .. } => {
            above_zero(faults, subject, &field("length"), *length);
            share(faults, subject, &field("by"), *by, 0.001, 0.9);
        }
        RailSpec::Reading { length, fed, far } => {
            above_zero(faults, subject, &field("length"), *length);
            volts(faults, subject, &field("fed_volts"), *fed);
            within(
                faults,
                subject,
                &field("far_volts"),
                far.value > 0.0 && far.value < fed.value,
                format!("is {}", show(*far)),
                format!(
                    "It must be above 0 V and below the {} at the feed",
                    show(*fed)
                ),
            );
        }
        RailSpec::CurrentReading { length, fed, far } => {
            above_zero(faults, subject, &field("length"), *length);
            volts(faults, subject, &field("fed_volts"), *fed);
            positive(faults, subject, &field("far_current"), *far);
        }
        RailSpec::Class { .. } => {}
    }
}

/// Power stated for a short piece must be that of its cells.
fn stated_power(subject: &str, strip: &StripSpec, faults: &mut Faults) {
    let (Some(power), PowerBasis::ShortPiece) = (strip.power, strip.power_basis) else {
        return;
    };
    if !faults.sound(
        subject,
        &["emitters", "power", "rated", "cut_pitch", "cells_per_cut"],
    ) {
        return;
    }
    let of_a_cell = |cell: &CellSpec| match cell {
        CellSpec::Series { current, .. }
        | CellSpec::ConstantCurrent { current, .. }
        | CellSpec::StraightLine { current, .. }
        | CellSpec::Class { current, .. } => current.value * strip.rated.value,
        CellSpec::ConstantPower { power, .. } => power.value,
    };
    let watts: f64 = strip.emitters.iter().map(|e| of_a_cell(&e.cell)).sum();
    let drawn = watts * f64::from(strip.cells) * strip.pitch.per_metre();
    if !((drawn / power.value - 1.0).abs() <= 0.1) {
        faults.say(
            FaultKind::Contradiction,
            (subject, "power"),
            format!(
                "is {}, but its cells draw {} at {}",
                show(power),
                show(crate::quantity::watts_per_metre(drawn)),
                show(strip.rated)
            ),
            "Make them agree within 10 %, or say that it was not measured on a short piece",
        );
    }
}
