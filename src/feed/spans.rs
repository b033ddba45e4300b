//! One verdict for all segments of a shape whose feeders lie in a span of lengths.
//!
//! A longer feeder never lowers a drop that given cell currents make. So with `T` of the longest feeders
//! applied to upper bounds of the cell voltages, and `T` of the shortest applied to lower bounds, the two
//! sides enclose the solutions of the whole span, for any number of emitters and any pattern of feeds.
//! No verdict is given where the enclosure is too wide.
//!
//! Joints inside may lie anywhere: one of `R` ohm changes no drop by more than `R` times all the current
//! (the share of any cell's current that passes it is between −1 and 1), and lowers none on a rail that is fed once.

use super::candidate::Candidate;
use super::judge::{Judge, currents_surely_hold};
use super::model::{BAND, CheckedRun, HIGH, LOW};
use super::shape::Copper;

/// Passes before the enclosure counts as too wide.
const MOST_PASSES: usize = 6;

/// Shortest and longest feeders of a span.
#[derive(Clone, Copy)]
pub(super) struct Ends<'a> {
    pub near: &'a Copper,
    pub far: &'a Copper,
}

impl Judge {
    /// Whether all of the span keep the limits of light, or all break one, or neither is known.
    pub fn light_over(&mut self, m: &CheckedRun, c: &Candidate, ends: &Ends<'_>) -> Option<bool> {
        self.evaluated += 1;
        let mut all = Some(true);
        for state in 0..m.states.len() {
            match self.state_over(m, c, ends, state) {
                Some(false) => return Some(false),
                None => all = None,
                Some(true) => {}
            }
        }
        all
    }

    fn state_over(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        ends: &Ends<'_>,
        state: usize,
    ) -> Option<bool> {
        let lit = &m.states[state];
        let n = c.cells();
        let source = &m.sources[c.place(m)];
        // The drop limit as a least voltage, with the band that counts as the limit.
        let floor = m.limits.voltage_drop.map_or(f64::NEG_INFINITY, |most| {
            let most = most.value * (1.0 + BAND) + BAND * 1e-3;
            source.set_point[LOW] - most * m.spec.tape.rated.value
        });
        let least = |k: usize| m.least_volts[lit[k / n]].max(floor);
        self.size(lit.len() * n);
        self.upper.fill(source.volts[LOW]);
        let mut last = f64::INFINITY;
        for _ in 0..MOST_PASSES {
            self.pass(m, c, LOW, state, true, ends.far);
            let light_holds = self.lower.iter().enumerate().all(|(k, v)| *v >= least(k));
            if light_holds && m.limits.balance.is_none() {
                return Some(true);
            }
            self.pass(m, c, LOW, state, false, ends.near);
            if self.upper.iter().enumerate().any(|(k, v)| *v < least(k)) {
                return Some(false);
            }
            match self.balance_over(m, lit, n) {
                Some(true) if light_holds => return Some(true),
                Some(false) => return Some(false),
                _ => {}
            }
            let width = self.width();
            if !(width < 0.8 * last) {
                return None;
            }
            last = width;
        }
        None
    }

    /// Whether the balance of all increments surely holds, or that of one surely does not.
    fn balance_over(&self, m: &CheckedRun, lit: &[usize], n: usize) -> Option<bool> {
        let Some(limit) = m.limits.balance else {
            return Some(true);
        };
        let limit = limit.value * (1.0 + BAND) + BAND * 1e-3;
        let relative =
            |volts: f64, q: usize| m.corners[LOW].amps(lit[q], volts) / m.nominal[lit[q]];
        let step = |least: f64, most: f64| if most > 0.0 { 1.0 - least / most } else { 0.0 };
        let mut all = true;
        for k in 0..n {
            let (mut low, mut high) = ([f64::INFINITY, 0.0_f64], [f64::INFINITY, 0.0_f64]);
            for q in 0..lit.len() {
                let below = relative(self.lower[q * n + k], q);
                let above = relative(self.upper[q * n + k], q);
                low = [low[0].min(below), low[1].max(below)];
                high = [high[0].min(above), high[1].max(above)];
            }
            if step(high[0], low[1]) > limit {
                return Some(false);
            }
            all &= step(low[0], high[1]) <= limit;
        }
        all.then_some(true)
    }

    /// The same for the limits of current.
    pub fn currents_over(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        ends: &Ends<'_>,
    ) -> Option<bool> {
        if currents_surely_hold(m, c, &ends.near.cores) {
            return Some(true);
        }
        self.evaluated += 1;
        let l = &m.limits;
        let cap = |limit: Option<crate::quantity::ElectricCurrent>| {
            limit.map_or(f64::INFINITY, |a| a.value)
        };
        let core = (0..c.count)
            .map(|f| m.core_limit[c.option(m, f).wire])
            .fold(f64::INFINITY, f64::min);
        let part = core.min(cap(l.rail_current)).min(cap(l.connector_current));
        let single = c.count == 1;
        let through = core.min(cap(l.connector_current));
        let band = |limit: f64| limit * (1.0 + BAND) + BAND * 1e-3;
        let mut all = Some(true);
        for state in 0..m.states.len() {
            let source = m.sources[c.place(m)].volts[HIGH];
            self.size(m.states[state].len() * c.cells());
            self.upper.fill(source);
            let mut last = f64::INFINITY;
            let mut verdict = None;
            for _ in 0..MOST_PASSES {
                // Flows of the upper voltages are upper bounds, those of the lower voltages lower bounds.
                self.pass(m, c, HIGH, state, true, ends.far);
                let holds = self.flows.iter().enumerate().all(|(r, flow)| {
                    let own = if r == 0 {
                        cap(l.segment_current)
                    } else {
                        cap(l.output_current)
                    };
                    flow.total <= own.min(part)
                });
                if holds {
                    verdict = Some(true);
                    break;
                }
                self.pass(m, c, HIGH, state, false, ends.near);
                let breaks = self.flows.iter().enumerate().any(|(r, flow)| {
                    let own = if r == 0 {
                        cap(l.segment_current)
                    } else {
                        cap(l.output_current)
                    };
                    let limit = if single { own.min(through) } else { own };
                    flow.total > band(limit)
                });
                if breaks {
                    verdict = Some(false);
                    break;
                }
                let width = self.width();
                if !(width < 0.8 * last) {
                    break;
                }
                last = width;
            }
            match verdict {
                Some(false) => return Some(false),
                None => all = None,
                Some(true) => {}
            }
        }
        all
    }
}
