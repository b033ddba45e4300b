//! Whether the figures of a data sheet can be, all of them at once.

use super::cells::as_stated;
use super::checked::Strip;
use super::class::StringClass;
use super::error::{SheetPart, StripError, StripErrors};
use super::power;
use super::spec::{CellSpec, EmitterSpec, RailSpec, StripSpec};
use crate::exact::ExactLength;
use crate::network::MOST_EMITTERS;
use crate::quantity::{Measured, amps, metres, ohms, ohms_per_metre, show, volts, watts_per_metre};

/// Most cells of an emitter between two cuts.
const MOST_CELLS: u32 = 1000;
/// Greatest rated voltage, V.
const MOST_VOLTS: f64 = 1000.0;
/// By how much a stated ballast may disagree with a stated current.
const BALLAST_ROUNDING: f64 = 0.1;

/// Collects what is wrong.
struct Faults<'a> {
    strip: &'a str,
    /// The part of the sheet that is looked at.
    part: SheetPart,
    found: Vec<StripError>,
}

impl Faults<'_> {
    fn figure(
        &mut self,
        holds: bool,
        what: impl Into<String>,
        found: String,
        accepted: impl Into<String>,
        remedy: &'static str,
    ) -> bool {
        if !holds {
            self.found.push(StripError::Figure {
                strip: self.strip.to_string(),
                part: self.part,
                what: what.into(),
                found,
                accepted: accepted.into(),
                remedy,
            });
        }
        holds
    }

    /// Above 0 and at most `most`, both in SI units; NaN fails.
    fn positive<Q: Measured>(
        &mut self,
        what: impl Into<String>,
        value: f64,
        shown: Q,
        most: Q,
        limit: f64,
    ) -> bool {
        self.figure(
            value > 0.0 && value <= limit,
            what,
            show(shown),
            format!("above 0 and at most {}", show(most)),
            "Read the figure again, and its unit",
        )
    }

    fn length(&mut self, what: &str, length: ExactLength) -> bool {
        self.figure(
            length > ExactLength::ZERO,
            what,
            length.to_string(),
            "above 0",
            "Read the figure again, and its unit",
        )
    }

    fn contradiction(&mut self, what: String, against: String, remedy: &'static str) {
        self.found.push(StripError::Contradiction {
            strip: self.strip.to_string(),
            what,
            against,
            remedy,
        });
    }
}

impl StripSpec {
    /// Checks the sheet.
    ///
    /// # Errors
    /// [`StripErrors`]: every figure that is out of range or contradicts another, together.
    pub fn check(&self) -> Result<Strip, StripErrors> {
        let mut faults = Faults {
            strip: &self.name,
            part: SheetPart::Name,
            found: Vec::new(),
        };
        faults.figure(
            !self.name.trim().is_empty(),
            "its name",
            "empty".into(),
            "any text",
            "Name the strip, so that reports can",
        );
        faults.part = SheetPart::Rated;
        let rated = faults.positive(
            "the rated voltage",
            self.rated.value,
            self.rated,
            volts(MOST_VOLTS),
            MOST_VOLTS,
        );
        faults.part = SheetPart::Cells;
        faults.figure(
            (1..=MOST_CELLS).contains(&self.cells),
            "the number of cells between two cuts",
            self.cells.to_string(),
            format!("1 to {MOST_CELLS}"),
            "Count the strings of one emitter between two cut marks",
        );
        faults.part = SheetPart::Reel;
        if faults.length("the reel", self.reel) && self.pitch.count_in(self.reel) == 0 {
            faults.contradiction(
                format!("the reel is {}", self.reel),
                format!("one cut increment is {}", self.pitch.length_of(1)),
                "Correct the one or the other",
            );
        }
        faults.part = SheetPart::Power;
        if let Some(power) = self.power {
            faults.positive(
                "the power per length",
                power.value,
                power,
                watts_per_metre(1e4),
                1e4,
            );
        }
        faults.part = SheetPart::LongestBranch;
        if let Some(length) = self.longest_branch {
            faults.length("the longest branch", length);
        }
        faults.part = SheetPart::Pads;
        if let Some(current) = self.pad_current {
            faults.positive(
                "the current of a pad",
                current.value,
                current,
                amps(1e3),
                1e3,
            );
        }
        faults.part = SheetPart::Bend;
        if let Some(radius) = self.bend_radius {
            faults.length("the bending radius", radius);
        }
        faults.part = SheetPart::ReelJoint;
        if let Some(joint) = &self.reel_joint {
            faults.figure(
                joint.resistance.value >= 0.0 && joint.resistance.value <= 10.0,
                "the resistance of a joint between reels",
                show(joint.resistance),
                format!("0 to {}", show(ohms(10.0))),
                "Read the figure again, and its unit",
            );
        }
        faults.part = SheetPart::Splices;
        if let Some(splices) = &self.splices {
            faults.length("the distance between factory splices", splices.every);
            faults.figure(
                splices.resistance.value >= 0.0 && splices.resistance.value <= 10.0,
                "the resistance of a factory splice",
                show(splices.resistance),
                format!("0 to {}", show(ohms(10.0))),
                "Read the figure again, and its unit",
            );
        }
        faults.part = SheetPart::Emitters;
        emitters(self, rated, &mut faults);
        faults.part = SheetPart::Rails;
        rails(self, &mut faults);
        if faults.found.is_empty()
            && let Err(fault) = power::short_piece_agrees(self)
        {
            faults.found.push(fault);
        }
        if faults.found.is_empty() {
            Ok(Strip::checked(self.clone()))
        } else {
            Err(StripErrors(faults.found))
        }
    }
}

fn emitters(strip: &StripSpec, rated: bool, faults: &mut Faults<'_>) {
    let count = strip.emitters.len();
    if !(1..=MOST_EMITTERS).contains(&count) {
        faults.found.push(StripError::Emitters {
            strip: strip.name.clone(),
            found: count,
            most: MOST_EMITTERS,
        });
    }
    let listed = strip
        .emitters
        .get(..MOST_EMITTERS)
        .unwrap_or(&strip.emitters);
    for (index, emitter) in listed.iter().enumerate() {
        faults.figure(
            !emitter.name.trim().is_empty(),
            format!("the name of emitter {}", index + 1),
            "empty".into(),
            "its colour",
            "Name every emitter",
        );
        let before = listed.get(..index).unwrap_or(&[]);
        if before.iter().any(|other| other.name == emitter.name) {
            faults.contradiction(
                format!("emitter {} is named \"{}\"", index + 1, emitter.name),
                "another one has that name".into(),
                "Give every emitter a name of its own",
            );
        }
        if let Some(flux) = emitter.flux {
            faults.figure(
                flux.value > 0.0 && flux.value.is_finite(),
                format!("the flux of emitter \"{}\"", emitter.name),
                show(flux),
                "above 0",
                "Read the figure again, and its unit",
            );
        }
        if rated {
            cell(strip, emitter, faults);
        }
    }
}

/// A cell must leave something of the rated voltage, be a load, and draw what it is said to.
fn cell(strip: &StripSpec, emitter: &EmitterSpec, faults: &mut Faults<'_>) {
    let of = |what: &str| format!("the {what} of emitter \"{}\"", emitter.name);
    let current = emitter.cell.stated_current(strip.rated);
    if !faults.positive(of("current"), current.value, current, amps(100.0), 100.0) {
        return;
    }
    let needs = match &emitter.cell {
        CellSpec::Series {
            diodes, forward, ..
        } => f64::from(*diodes) * *forward,
        CellSpec::ConstantCurrent {
            diodes,
            forward,
            drop_out,
            ..
        } => {
            if !faults.figure(
                drop_out.value > 0.0,
                of("drop-out voltage"),
                show(*drop_out),
                "above 0",
                "State what the regulator needs to hold its current",
            ) {
                return;
            }
            f64::from(*diodes) * *forward + *drop_out
        }
        CellSpec::StraightLine { knee, .. } => *knee,
        CellSpec::ConstantPower { works_from, .. } => *works_from,
        CellSpec::Class { strings, .. } => {
            f64::from(StringClass::diodes(strip.rated)) * strings.forward()[1]
        }
    };
    if !faults.figure(
        needs.value > 0.0 && needs.value < strip.rated.value,
        of("voltage that the cells need"),
        show(needs),
        format!("above 0 and below the rated {}", show(strip.rated)),
        "Leave a voltage for the ballast or the regulator",
    ) {
        return;
    }
    match as_stated(&emitter.cell, strip.rated) {
        Err(error) => faults.found.push(StripError::Cell {
            strip: strip.name.clone(),
            emitter: emitter.name.clone(),
            why: error.to_string(),
        }),
        Ok(draws) if !((draws.value / current.value - 1.0).abs() <= BALLAST_ROUNDING) => faults
            .contradiction(
                format!("{} is {}", of("current"), show(current)),
                format!("by its ballast it draws {}", show(draws)),
                "Correct the one or the other, or leave the ballast out",
            ),
        Ok(_) => {}
    }
}

fn rails(strip: &StripSpec, faults: &mut Faults<'_>) {
    match &strip.rails {
        RailSpec::Stated { common, returns } => {
            for (what, value) in [("the common rail", common), ("a return rail", returns)] {
                faults.positive(what, value.value, *value, ohms_per_metre(1e3), 1e3);
            }
        }
        RailSpec::Foil {
            layers,
            thickness,
            common_width,
            return_width,
        } => {
            faults.figure(
                (1..=8).contains(layers),
                "the number of copper layers",
                layers.to_string(),
                "1 to 8",
                "Ask for the layers that carry a rail, and the finished thickness of one",
            );
            for (what, value, most) in [
                ("the thickness of the foil", thickness, 1e-3),
                ("the width of the common rail", common_width, 0.1),
                ("the width of a return rail", return_width, 0.1),
            ] {
                faults.positive(what, value.value, *value, metres(most), most);
            }
        }
        RailSpec::MaximumRun { length, by, .. } => {
            piece(strip, *length, "the maximum run", faults);
            faults.figure(
                by.value >= 0.001 && by.value <= 0.9,
                "what falls over the maximum run",
                show(*by),
                "0.1 % to 90 %",
                "State the share that is lost, not what is left",
            );
        }
        RailSpec::Reading { length, fed, far } => {
            piece(strip, *length, "the piece that was read", faults);
            if faults.positive(
                "the voltage at its feed",
                fed.value,
                *fed,
                volts(MOST_VOLTS),
                MOST_VOLTS,
            ) {
                faults.figure(
                    far.value > 0.0 && far.value < fed.value,
                    "the voltage at its far end",
                    show(*far),
                    format!("above 0 and below the {} at its feed", show(*fed)),
                    "Read both ends at once, with every emitter lit",
                );
            }
        }
        RailSpec::CurrentReading { length, fed, far } => {
            piece(strip, *length, "the piece that was read", faults);
            faults.positive(
                "the voltage at its feed",
                fed.value,
                *fed,
                volts(MOST_VOLTS),
                MOST_VOLTS,
            );
            faults.positive(
                "the current of its last increment",
                far.value,
                *far,
                amps(1e3),
                1e3,
            );
        }
        RailSpec::Class { .. } => {}
    }
}

fn piece(strip: &StripSpec, length: ExactLength, what: &'static str, faults: &mut Faults<'_>) {
    if faults.length(what, length) && strip.pitch.count_in(length) == 0 {
        faults.found.push(StripError::TooShort {
            strip: strip.name.clone(),
            what,
            length: length.to_string(),
            increment: strip.pitch.length_of(1).to_string(),
        });
    }
}
