//! Where to feed a run, and what one more feed brings.

use super::error::AskError;
use super::sheet::Sheet;
use super::solved::{figures, increments};
use super::tape::TapeFacts;
use crate::exact::ExactLength;
use crate::network::Workspace;
use crate::protect::{Limited, Rule, power_limits};
use crate::quantity::{Amps, Ratio, Share, amps, fraction, show, show_in};
use crate::source::Source;
use serde::Serialize;

/// Most feeds that are tried.
const MOST_FEEDS: u64 = 50;

/// Where do I feed a run of this length, so that every cell keeps its light?
///
/// The fewest feeds of one supply along unbroken tape, each in the middle of an equal share of the length, at the
/// nearest cut: with `k` feeds a branch is `L/2k` long.
#[derive(Debug, Clone, PartialEq)]
pub struct FeedPoints {
    /// Tape.
    pub tape: TapeFacts,
    /// Length.
    pub length: ExactLength,
    /// Share of its light that every cell has to keep.
    pub light: Ratio,
}

/// A run fed at some marks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FedAt {
    /// Distances from the start of the run.
    pub at: Vec<ExactLength>,
    /// Light of the weakest cell, the least over the copper that the tape may have.
    pub light: Share,
    /// Current of the whole run.
    pub current: Amps,
}

/// Where to feed it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FeedPointsAnswer {
    /// The fewest feeds that keep the light; none within fifty.
    pub feeds: Option<FedAt>,
    /// One feed fewer, where there is one.
    pub one_fewer: Option<FedAt>,
    /// One feed more.
    pub one_more: Option<FedAt>,
    /// Class 2 supplies (US code, dc) that its current asks for at least, by their nameplates.
    pub class_2: Option<u64>,
    #[serde(skip)]
    class_2_source: Option<Source>,
    #[serde(skip)]
    asked: FeedPoints,
}

impl FeedPoints {
    /// Adds feeds until the light is kept.
    ///
    /// # Errors
    /// [`AskError`]: a figure out of range.
    pub fn answer(&self) -> Result<FeedPointsAnswer, AskError> {
        let mut work = Workspace::new();
        let mut one_fewer = None;
        let mut found = None;
        for count in 1..=MOST_FEEDS {
            let Some(fed) = self.fed(count, &mut work)? else {
                break;
            };
            if fed.light.0 >= self.light {
                found = Some((count, fed));
                break;
            }
            one_fewer = Some(fed);
        }
        let (feeds, one_more) = match found {
            Some((count, fed)) => (Some(fed), self.fed(count + 1, &mut work)?),
            None => (None, None),
        };
        let limits = power_limits(Rule::Class2Dc, Limited::Inherently, self.tape.volts).ok();
        let current = feeds.as_ref().map(|fed| fed.current.0.value);
        let most = limits.as_ref().and_then(|l| l.nameplate_current);
        let class_2 = current
            .zip(most)
            .map(|(all, most)| (all / most).ceil() as u64);
        Ok(FeedPointsAnswer {
            feeds,
            one_fewer,
            one_more,
            class_2,
            class_2_source: limits.map(|limits| limits.source),
            asked: self.clone(),
        })
    }

    /// The run with so many feeds; none where it has too few cuts for them.
    fn fed(&self, feeds: u64, work: &mut Workspace) -> Result<Option<FedAt>, AskError> {
        let (mut light, mut current) = (f64::INFINITY, 0.0_f64);
        let mut marks: Vec<u64> = Vec::new();
        for model in &self.tape.models()? {
            let count = increments(model, self.length)?;
            // The middle of the i-th of `feeds` equal shares, to the nearest cut.
            marks = (0..feeds)
                .map(|i| (count * (2 * i + 1) + feeds) / (2 * feeds))
                .collect();
            if marks.windows(2).any(|two| two[0] == two[1]) {
                return Ok(None);
            }
            let solved = figures(model, count, &marks, work)?.nominal;
            light = light.min(solved.least_current.value);
            current = current.max(solved.current.value);
        }
        Ok(Some(FedAt {
            at: marks.iter().map(|m| self.tape.cut.length_of(*m)).collect(),
            light: fraction(light).into(),
            current: amps(current).into(),
        }))
    }
}

impl FeedPointsAnswer {
    /// The answer as a person reads it.
    #[must_use]
    pub fn sheet(&self) -> Sheet {
        let metres = |l: &ExactLength| show_in(l.to_length(), "m", 2);
        let length = metres(&self.asked.length);
        let Some(fed) = &self.feeds else {
            return Sheet::new(format!(
                "Not with {MOST_FEEDS} feeds: no cell of this tape keeps {} of its light.",
                show(self.asked.light)
            ));
        };
        let marks: Vec<String> = fed.at.iter().map(metres).collect();
        let mut sheet =
            Sheet::new(format!("At {} of {length}.", marks.join(", "))).because(format!(
                "The weakest cell keeps {} of its light ({} asked for), all feeds from one supply.",
                fed.light,
                show(self.asked.light)
            ));
        if let Some(less) = &self.one_fewer {
            let n = less.at.len();
            let feeds = if n == 1 {
                "one feed".to_string()
            } else {
                format!("{n} feeds")
            };
            sheet = sheet.because(format!("With {feeds} it keeps {}.", less.light));
        }
        if let Some(more) = &self.one_more {
            sheet = sheet.because(format!(
                "One more feed brings it to {}, at {} and so on.",
                more.light,
                more.at.first().map_or(String::new(), metres)
            ));
        }
        sheet = sheet.because(format!("It draws {} in all.", fed.current));
        if let (Some(count), Some(source)) = (self.class_2, &self.class_2_source)
            && count > 1
        {
            sheet = sheet
                .because(format!(
                    "Class 2 supplies (US code): {count} at least, the tape cut between them. Never join two supplies."
                ))
                .source(source.clone());
        }
        sheet
            .because("A feeder takes volts as well: ask how far the decoder may be.")
            .assumed(&self.asked.tape.assumed())
            .source(Source::computed(
                "every cell of the tape solved, currents by Kirchhoff",
            ))
    }
}
