//! 12, 24 or 48 V.

use super::error::AskError;
use super::sheet::Sheet;
use super::solved::{Fed, figures, increments, longest};
use super::tape::TapeFacts;
use crate::exact::ExactLength;
use crate::network::Workspace;
use crate::quantity::{
    Amps, Corner, ElectricPotential, Ratio, Share, Volts, amps, fraction, show, show_in, volts,
};
use crate::source::Source;
use serde::Serialize;

/// 12, 24 or 48 V for this length: tape of the same power, cuts and copper at each, fed at one end.
#[derive(Debug, Clone, PartialEq)]
pub struct Voltage {
    /// Tape; its voltage is not read.
    pub tape: TapeFacts,
    /// Length.
    pub length: ExactLength,
    /// Share of its light that every cell has to keep.
    pub light: Ratio,
}

/// One voltage.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AtVoltage {
    /// Voltage.
    pub volts: Volts,
    /// Light of the far end, a share of its own: the least over the copper that it may have.
    pub light: Share,
    /// Current of the whole length.
    pub current: Amps,
    /// Longest piece fed at one end that keeps the light, with the thinnest copper that it may have.
    pub reach: ExactLength,
}

/// Which voltage.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct VoltageAnswer {
    /// The lowest voltage that keeps the light fed at one end; none: it needs more feeds at any.
    pub enough: Option<Volts>,
    /// At 12, 24 and 48 V.
    pub at: Vec<AtVoltage>,
    #[serde(skip)]
    asked: Voltage,
}

impl Voltage {
    /// Solves the length at each voltage.
    ///
    /// # Errors
    /// [`AskError`]: a figure out of range.
    pub fn answer(&self) -> Result<VoltageAnswer, AskError> {
        let mut work = Workspace::new();
        let mut at = Vec::new();
        for rated in [12.0, 24.0, 48.0] {
            at.push(self.at(volts(rated), &mut work)?);
        }
        let keeps = |row: &&AtVoltage| row.light.0 >= self.light;
        Ok(VoltageAnswer {
            enough: at.iter().find(keeps).map(|row| row.volts),
            at,
            asked: self.clone(),
        })
    }

    fn at(&self, rated: ElectricPotential, work: &mut Workspace) -> Result<AtVoltage, AskError> {
        let tape = TapeFacts {
            volts: rated,
            ..self.tape.clone()
        };
        let (mut light, mut current, mut reach) = (f64::INFINITY, 0.0_f64, u64::MAX);
        for model in &tape.models()? {
            let count = increments(model, self.length)?;
            let found = figures(model, count, &[0], work)?.nominal;
            light = light.min(found.least_current.value);
            current = current.max(found.current.value);
            reach = reach.min(longest(
                model,
                Fed::OneEnd,
                self.light,
                Corner::Nominal,
                work,
            )?);
        }
        Ok(AtVoltage {
            volts: rated.into(),
            light: fraction(light).into(),
            current: amps(current).into(),
            reach: tape.cut.length_of(reach),
        })
    }
}

impl VoltageAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let length = show_in(self.asked.length.to_length(), "m", 2);
        let mut sheet = Sheet::new(match self.enough {
            Some(enough) => format!(
                "{enough}: fed at one end, {length} keeps {} of its light.",
                show(self.asked.light)
            ),
            None => format!(
                "None of them fed at one end: {length} needs more feeds to keep {} of its light, fewest at 48 V.",
                show(self.asked.light)
            ),
        });
        for row in &self.at {
            sheet = sheet.because(format!(
                "{}: {} of light at the far end, {}; {} would keep it.",
                row.volts,
                row.light,
                row.current,
                show_in(row.reach.to_length(), "m", 2)
            ));
        }
        sheet
            .because("Cuts are often longer at a higher voltage, and not every tape is made for all three.")
            .assumed(&["strings of 3, 6 and 12 diodes of 3 V with a ballast".to_string()])
            .assumed(&self.asked.tape.assumed_copper())
            .source(Source::computed("every cell of the tape solved, currents by Kirchhoff"))
    }
}
