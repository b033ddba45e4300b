//! How long a tape may run.

use super::error::AskError;
use super::sheet::Sheet;
use super::solved::{Fed, for_volts, longest};
use super::tape::TapeFacts;
use super::wire::both;
use crate::exact::ExactLength;
use crate::network::Workspace;
use crate::protect::{Limited, Rule, power_limits};
use crate::quantity::{Corner, Metres, Ratio, Share, metres, show, show_in};
use crate::source::Source;
use serde::Serialize;
use std::fmt;

/// How long may this tape run, fed at one end, in the middle, at both ends?
///
/// The longest whole number of cuts whose weakest cell keeps `light` of its nominal current, every cell solved.
#[derive(Debug, Clone, PartialEq)]
pub struct Reach {
    /// Tape.
    pub tape: TapeFacts,
    /// Share of its light that every cell has to keep.
    pub light: Ratio,
}

/// A length, or the two that enclose it where the copper is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Span {
    /// With the thinnest copper.
    pub least: ExactLength,
    /// With the thickest.
    pub most: ExactLength,
}

/// `3.65 m (12.0 ft)`, or `2.54 m to 5.94 m (8.3 ft to 19.5 ft)`.
impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [least, most] = [self.least, self.most].map(ExactLength::to_length);
        if self.least == self.most {
            return f.write_str(&both(least));
        }
        let span = |unit, decimals| {
            let [least, most] = [least, most].map(|l| show_in(l, unit, decimals));
            format!("{least} to {most}")
        };
        write!(f, "{} ({})", span("m", 2), span("ft", 1))
    }
}

/// How far one way of feeding reaches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Reached {
    /// As the sheet says.
    pub nominal: Span,
    /// With copper, cells and tolerances that make most fall-off.
    pub least: Span,
}

/// How long it may run.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ReachAnswer {
    /// Share of its light that every cell keeps.
    pub light: Share,
    /// Fed at one end.
    pub one_end: Reached,
    /// Fed in the middle.
    pub middle: Reached,
    /// Fed at both ends.
    pub both_ends: Reached,
    /// Length that the nameplate of one Class 2 supply (US code, dc) feeds, where its voltage has one.
    pub class_2: Option<Metres>,
    #[serde(skip)]
    class_2_source: Option<Source>,
    #[serde(skip)]
    assumed: Vec<String>,
}

impl Reach {
    /// Solves the tape, longer and longer by halving.
    ///
    /// # Errors
    /// [`AskError`]: a figure out of range, or figures of a tape that contradict each other.
    pub fn answer(&self) -> Result<ReachAnswer, AskError> {
        if !(self.light.value > 0.0 && self.light.value < 1.0) {
            return Err(AskError::figure(
                "the share of light to keep",
                show(self.light),
                "above 0 %, below 100 %",
                "Give the share that the far end has to keep, like 90 %",
            ));
        }
        let models = self.tape.models()?;
        let mut work = Workspace::new();
        let mut reached = |fed: Fed| -> Result<Reached, AskError> {
            let mut lengths = [Vec::new(), Vec::new()];
            for model in &models {
                let nominal = longest(model, fed, self.light, Corner::Nominal, &mut work)?;
                let worst = for_volts(model);
                let low = longest(&worst, fed, self.light, Corner::Low, &mut work)?;
                lengths[0].push(model.pitch.length_of(nominal));
                lengths[1].push(model.pitch.length_of(low));
            }
            let [nominal, least] = lengths.map(|all| Span {
                least: all.iter().copied().min().unwrap_or(ExactLength::ZERO),
                most: all.iter().copied().max().unwrap_or(ExactLength::ZERO),
            });
            Ok(Reached { nominal, least })
        };
        let limits = power_limits(Rule::Class2Dc, Limited::Inherently, self.tape.volts).ok();
        let watts = limits.as_ref().and_then(|limits| limits.nameplate_power);
        Ok(ReachAnswer {
            light: self.light.into(),
            one_end: reached(Fed::OneEnd)?,
            middle: reached(Fed::Middle)?,
            both_ends: reached(Fed::BothEnds)?,
            class_2: watts.map(|watts| metres(watts / self.tape.power.value).into()),
            class_2_source: limits.map(|limits| limits.source),
            assumed: self.tape.assumed(),
        })
    }
}

impl ReachAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let mut sheet = Sheet::new(format!(
            "{} fed at one end; in the middle {}; at both ends {}.",
            self.one_end.nominal, self.middle.nominal, self.both_ends.nominal
        ))
        .because(format!(
            "At that length every cell keeps {} of its light, with rated voltage at the tape and figures as stated.",
            self.light
        ))
        .because(format!(
            "Worst case (copper warm, cells hot, tolerances against you): {}; {}; {}.",
            self.one_end.least, self.middle.least, self.both_ends.least
        ));
        if let (Some(length), Some(source)) = (self.class_2, &self.class_2_source) {
            sheet = sheet
                .because(format!(
                    "One Class 2 supply (US code) feeds {} of it at most, by its nameplate.",
                    both(length.0)
                ))
                .source(source.clone());
        }
        sheet
            .because("A feeder in front takes volts as well: ask for the wire, or plan the job.")
            .assumed(&self.assumed)
            .source(Source::computed(
                "every cell of the tape solved, currents by Kirchhoff",
            ))
    }
}
