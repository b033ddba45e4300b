//! What the least permitted currents say by themselves: the volts a cell needs, and how many increments the limits of
//! current leave to a segment.
//!
//! ```text
//!  at the low corner every lit increment draws at least its own: n·Σi ≤ I(segment), n·i ≤ I(output),
//!  n·Σi ≤ what its feeders may carry together, n·Σi ≤ link ends at feeds · I(rail)
//! ```
//! The limits of current hold at the low corner as at the high one, so these conditions are necessary for any
//! number of emitters.

use super::checked::{BAND, CheckedRun};
use super::spec::Pattern;
use crate::quantity::{ElectricCurrent, amps};

/// Rounding must not lose a segment that just holds.
const ROUNDING: f64 = 1e-6;

/// How many increments the limits of current leave at least currents; infinite where there is no limit.
#[derive(Debug, Clone, Default)]
pub(crate) struct CellLimits {
    /// In a segment.
    pub segment: f64,
    /// On one link beside a feed.
    pub branch: f64,
    /// On one feeder, by wire.
    pub feeder: Vec<f64>,
    /// In a segment with one feed inside, by wire, and on one side of the feed.
    pub inside: Vec<usize>,
    pub beside: Vec<usize>,
}

/// A limit as a number, A.
pub(crate) fn cap(limit: Option<ElectricCurrent>) -> f64 {
    limit.map_or(f64::INFINITY, |a| a.value)
}

impl CheckedRun {
    /// What one conductor of a feeder may carry: its core and its connection, A.
    pub(crate) fn through(&self, wire: usize) -> f64 {
        self.core_limit[wire].min(cap(self.limits.connector_current))
    }

    /// Sets the light limit, the cell voltages at the low corner that keep it, and what follows.
    pub(crate) fn set_light(&mut self, least: f64) {
        self.limits.least_current = crate::quantity::fraction(least);
        let of = |e: &f64| e * least * (1.0 - BAND);
        self.least_amps = self.nominal.iter().map(of).collect();
        self.least_volts = self
            .least_amps
            .iter()
            .zip(&self.corners[0].laws)
            .map(|(i, law)| law.voltage_for(amps(*i)).map_or(f64::INFINITY, |v| v.value))
            .collect();
        let sums = self
            .states
            .iter()
            .map(|state| state.iter().map(|e| self.least_amps[*e]).sum());
        let sum = sums.fold(0.0, f64::max);
        let own = self
            .states
            .iter()
            .flatten()
            .map(|e| self.least_amps[*e])
            .fold(0.0, f64::max);
        let l = &self.limits;
        let of = |limit: f64, amps: f64| {
            if amps > 0.0 {
                limit / amps
            } else {
                f64::INFINITY
            }
        };
        self.most = CellLimits {
            segment: of(cap(l.segment_current), sum).min(of(cap(l.output_current), own)),
            branch: of(cap(l.rail_current), sum),
            feeder: self
                .core_limit
                .iter()
                .enumerate()
                .map(|(wire, _)| of(self.through(wire), sum))
                .collect(),
            inside: Vec::new(),
            beside: Vec::new(),
        };
        let wires = 0..self.core_limit.len();
        let most = |pattern| wires.clone().map(move |w| (pattern, [w]));
        let of = |(pattern, wire): (Pattern, [usize; 1])| self.most_cells(pattern, &wire);
        let inside = most(Pattern::Inside).map(of).collect();
        let beside = most(Pattern::Start).map(of).collect();
        (self.most.inside, self.most.beside) = (inside, beside);
    }

    /// Most increments of a segment fed in a way through these wires, feed by feed.
    pub(crate) fn most_cells(&self, pattern: Pattern, wires: &[usize]) -> usize {
        let (feeders, links) = match pattern {
            Pattern::Start | Pattern::End => (wires, 1.0),
            Pattern::Inside => (wires, 2.0),
            Pattern::CommonAtStart => (&wires[..1], 1.0),
            Pattern::CommonAtEnd => (&wires[1..], 1.0),
            Pattern::BothEnds => (wires, 2.0),
            Pattern::TwoInside | Pattern::BothEndsAndInside => (wires, 4.0),
            Pattern::ThreeInside => (wires, 6.0),
        };
        let fed: f64 = feeders.iter().map(|w| self.most.feeder[*w]).sum();
        let most = self.most.segment.min(fed).min(links * self.most.branch);
        // At least one: the full evaluation names the limit that it breaks.
        ((most * (1.0 + ROUNDING)).floor() as usize).max(1)
    }

    /// Most increments of any segment.
    pub(crate) fn most_in_any(&self) -> usize {
        ((self.most.segment * (1.0 + ROUNDING)).floor() as usize).max(1)
    }
}
