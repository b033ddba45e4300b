//! A piece of tape fed stiffly at marks, solved at the three corners.

use super::error::AskError;
use crate::exact::ExactLength;
use crate::network::Workspace;
use crate::quantity::{Corner, Corners, Ratio, ohms};
use crate::segment::{Circuit, Feeder, Segment, SegmentFigures};
use crate::strip::TapeModel;
use serde::Serialize;

/// Most cut increments of a piece.
const MOST_INCREMENTS: u64 = 20_000;

/// Where a piece of tape is fed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Fed {
    /// At one end.
    OneEnd,
    /// In the middle.
    Middle,
    /// At both ends.
    BothEnds,
}

impl Fed {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::OneEnd => "fed at one end",
            Self::Middle => "fed in the middle",
            Self::BothEnds => "fed at both ends",
        }
    }

    pub(super) fn marks(self, increments: u64) -> Vec<u64> {
        match self {
            Self::OneEnd => vec![0],
            Self::Middle => vec![increments / 2],
            Self::BothEnds => vec![0, increments],
        }
    }
}

/// Increments of a length, where a piece of it can be asked about.
pub(super) fn increments(tape: &TapeModel, length: ExactLength) -> Result<u64, AskError> {
    let count = tape.pitch.count_in(length);
    if (1..=MOST_INCREMENTS).contains(&count) {
        return Ok(count);
    }
    let most = tape.pitch.length_of(MOST_INCREMENTS);
    Err(AskError::figure(
        "the length of the tape",
        length,
        format!("{} (one cut) to {most}", tape.pitch.length_of(1)),
        "Give a length within it",
    ))
}

/// The figures of a piece fed with its rated voltage at these marks, all of one supply.
pub(super) fn figures(
    tape: &TapeModel,
    increments: u64,
    marks: &[u64],
    work: &mut Workspace,
) -> Result<Corners<SegmentFigures>, AskError> {
    let stiff = Corners::same(ohms(0.0));
    let feeders = marks.iter().map(|mark| Feeder::full(tape, *mark, stiff));
    let segment = Segment::plain(tape, 0, increments, feeders.collect());
    let circuit = Circuit::of(Corners::same(tape.rated), segment).check()?;
    let solved = circuit.solve(work)?;
    let own = |figures: crate::segment::CircuitFigures| {
        let branch = figures.branches.into_iter().next()?;
        branch.segments.into_iter().next()
    };
    match (own(solved.low), own(solved.nominal), own(solved.high)) {
        (Some(low), Some(nominal), Some(high)) => Ok(Corners { low, nominal, high }),
        _ => Err(AskError::Unsolved("it has no segment".to_string())),
    }
}

/// Light of the weakest cell at a corner, a share of what it gives there with rated voltage.
pub(super) fn kept(tape: &TapeModel, found: &Corners<SegmentFigures>, corner: Corner) -> f64 {
    let Some(emitter) = tape.emitters.first() else {
        return f64::NAN;
    };
    let full = emitter.law[corner].current(tape.rated).value;
    let nominal = emitter.law.nominal.current(tape.rated).value;
    found[corner].least_current.value * nominal / full
}

/// The tape with its corners turned to what bounds volts and fall-off: at the low corner rails of the most resistance
/// and cells that draw most, at the high one the least of both.
pub(super) fn for_volts(tape: &TapeModel) -> TapeModel {
    let mut turned = tape.clone();
    for emitter in &mut turned.emitters {
        std::mem::swap(&mut emitter.law.low, &mut emitter.law.high);
    }
    turned
}

/// Most increments whose weakest cell keeps `light` of what it gives with rated voltage, at a corner; 0: not one.
///
/// The least current never rises as tape of one emitter, fed by one voltage, becomes longer, so the longest is found by
/// halving.
pub(super) fn longest(
    tape: &TapeModel,
    fed: Fed,
    light: Ratio,
    corner: Corner,
    work: &mut Workspace,
) -> Result<u64, AskError> {
    let mut keeps = |count: u64| -> Result<bool, AskError> {
        let found = figures(tape, count, &fed.marks(count), work)?;
        Ok(kept(tape, &found, corner) >= light.value)
    };
    let (mut holds, mut breaks) = (0, 1);
    while keeps(breaks)? {
        holds = breaks;
        if holds == MOST_INCREMENTS {
            return Ok(holds);
        }
        breaks = (breaks * 2).min(MOST_INCREMENTS);
    }
    while breaks - holds > 1 {
        let middle = holds + (breaks - holds) / 2;
        if keeps(middle)? {
            holds = middle;
        } else {
            breaks = middle;
        }
    }
    Ok(holds)
}
