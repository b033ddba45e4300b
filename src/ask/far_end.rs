//! What will be read at the far end.

use super::error::AskError;
use super::sheet::Sheet;
use super::solved::{Fed, figures, for_volts, increments, kept};
use super::tape::TapeFacts;
use crate::exact::ExactLength;
use crate::network::Workspace;
use crate::quantity::{Amps, Corner, Share, Volts, amps, fraction, show_in, volts};
use crate::source::Source;
use serde::Serialize;

/// What will be read at the cell farthest from the feed, at full level and warm?
#[derive(Debug, Clone, PartialEq)]
pub struct FarEnd {
    /// Tape.
    pub tape: TapeFacts,
    /// Length of it.
    pub length: ExactLength,
    /// Where it is fed.
    pub fed: Fed,
}

/// What will be read.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FarEndAnswer {
    /// Least, as the sheet says, most: volts between the rails at the weakest cell.
    pub volts: [Volts; 3],
    /// Light of the weakest cell, a share of its own at rated voltage: least, as the sheet says, most.
    pub light: [Share; 3],
    /// Current of the whole piece: least, as the sheet says, most.
    pub current: [Amps; 3],
    #[serde(skip)]
    asked: FarEnd,
}

impl FarEnd {
    /// Solves the piece at the three corners.
    ///
    /// # Errors
    /// [`AskError`]: a figure out of range, or figures of a tape that contradict each other.
    pub fn answer(&self) -> Result<FarEndAnswer, AskError> {
        let mut work = Workspace::new();
        let mut rows = Vec::new();
        for model in &self.tape.models()? {
            let count = increments(model, self.length)?;
            let marks = self.fed.marks(count);
            let turned = for_volts(model);
            let of_volts = figures(&turned, count, &marks, &mut work)?;
            let of_current = figures(model, count, &marks, &mut work)?;
            let corners = [Corner::Low, Corner::Nominal, Corner::High];
            rows.push(corners.map(|corner| {
                [
                    of_volts[corner].least_volts.value,
                    kept(&turned, &of_volts, corner),
                    of_current[corner].current.value,
                ]
            }));
        }
        // With two models the one nominal figure is the middle of the two.
        let span = |figure: usize| {
            let of = |corner: usize| rows.iter().map(move |row| row[corner][figure]);
            let nominal: f64 = of(1).sum();
            [
                of(0).fold(f64::INFINITY, f64::min),
                nominal / rows.len() as f64,
                of(2).fold(f64::NEG_INFINITY, f64::max),
            ]
        };
        Ok(FarEndAnswer {
            volts: span(0).map(|v| volts(v).into()),
            light: span(1).map(|s| fraction(s).into()),
            current: span(2).map(|i| amps(i).into()),
            asked: self.clone(),
        })
    }
}

impl FarEndAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let to = |v: Volts| show_in(v.0, "V", 2);
        let [least, nominal, most] = self.volts.map(to);
        let [dim, light, bright] = self.light;
        let [low, current, high] = self.current;
        Sheet::new(format!("{nominal} at the far end, {least} to {most}."))
            .because(format!(
                "{} of {}, {}, {} held at the feed: read between the rails at full level, when warm.",
                show_in(self.asked.length.to_length(), "m", 2),
                crate::quantity::show(self.asked.tape.power),
                self.asked.fed.words(),
                crate::quantity::show(self.asked.tape.volts)
            ))
            .because(format!("Light there {light} of what rated voltage gives ({dim} to {bright})."))
            .because(format!("Current of the piece {current} ({low} to {high})."))
            .because("Far below the least: a bad joint, another tape, or a supply set low.")
            .assumed(&self.asked.tape.assumed())
            .source(Source::computed("every cell of the tape solved, currents by Kirchhoff"))
    }
}
