//! One verdict for all segments of a shape whose feeders lie in a span of lengths.
//!
//! A longer feeder never lowers a drop that given cell currents make. So with `T` of the longest feeders
//! applied to upper bounds of the cell voltages, and `T` of the shortest applied to lower bounds, the two
//! sides enclose the solutions of the whole span, for any number of emitters and any pattern of feeds.
//! No verdict is given where the enclosure is too wide.
//!
//! Joints inside may lie anywhere: one of `R` ohm changes no drop by more than `R` times all the current
//! (the share of any cell's current that passes it is between −1 and 1), and lowers none on a rail that is fed once.

use super::solver::SegmentSolver;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::rails::{CoreSpan, MOST_FEEDS};
use crate::choose::feeding::circuit::shape::Copper;
use crate::choose::feeding::problem::cell_limits::cap;
use crate::choose::feeding::problem::checked::{BAND, CheckedRun, LOW};

/// Passes before the enclosure counts as too wide.
const MOST_PASSES: usize = 6;

/// Shortest and longest feeders of a span.
#[derive(Clone, Copy)]
pub(crate) struct FeederEnds<'a> {
    pub near: &'a Copper,
    pub far: &'a Copper,
}

/// Whether all of a span keep the limits of current.
#[derive(Debug, Clone, Copy)]
pub(crate) struct CurrentVerdict {
    pub holds: bool,
    /// Decided by what all of a conductor carries, whatever part of it takes which way.
    pub by_total: bool,
}

impl SegmentSolver {
    /// Whether all of the span keep the limits of light, or all break one, or neither is known.
    pub fn light_over(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        ends: &FeederEnds<'_>,
    ) -> Option<bool> {
        self.counted(|solver| {
            let mut all = Some(true);
            for state in 0..m.states.len() {
                match solver.state_over(m, c, ends, state) {
                    Some(false) => return Some(false),
                    None => all = None,
                    Some(true) => {}
                }
            }
            all
        })
    }

    fn state_over(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        ends: &FeederEnds<'_>,
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
        self.begin_above(m, c, LOW, state, true, ends.near);
        let mut last = f64::INFINITY;
        for _ in 0..MOST_PASSES {
            if self.upper.iter().enumerate().any(|(k, v)| *v < least(k)) {
                return Some(false);
            }
            self.pass(m, c, LOW, state, true, ends.far);
            let light_holds = !self.raise(least);
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
            self.pass(m, c, LOW, state, false, ends.near);
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

    /// The same for the limits of current, for all of the span that keep those of light.
    pub fn currents_over(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        ends: &FeederEnds<'_>,
    ) -> Option<CurrentVerdict> {
        self.counted(|solver| {
            let mut all = Some(CurrentVerdict {
                holds: true,
                by_total: true,
            });
            for &corner in c.current_corners(m) {
                for state in 0..m.states.len() {
                    match (solver.state_currents_over(m, c, corner, state, ends), all) {
                        (Some(verdict), _) if !verdict.holds => return Some(verdict),
                        (Some(verdict), Some(last)) => {
                            let by_total = verdict.by_total && last.by_total;
                            all = Some(CurrentVerdict { by_total, ..last });
                        }
                        _ => all = None,
                    }
                }
            }
            all
        })
    }

    /// One state: by the whole currents, for no part of a rail carries more and its feeders carry all of it; and by
    /// what each feeder and each link carry at most and at least.
    fn state_currents_over(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        state: usize,
        ends: &FeederEnds<'_>,
    ) -> Option<CurrentVerdict> {
        let l = &m.limits;
        let verdict = |holds, by_total| Some(CurrentVerdict { holds, by_total });
        let feeder = |feed: usize| m.through(c.option(m, feed).wire);
        let whole = |rail: usize| {
            if rail == 0 {
                cap(l.segment_current)
            } else {
                cap(l.output_current)
            }
        };
        let feeders = |rail: usize| c.entered_by(rail == 0);
        let band = |limit: f64| limit * (1.0 + BAND) + BAND * 1e-3;
        let surely = |rail: usize| {
            let part = feeders(rail).map(feeder);
            whole(rail).min(part.fold(cap(l.rail_current), f64::min))
        };
        let at_most = |rail: usize| {
            let together: f64 = feeders(rail).map(feeder).sum();
            band(whole(rail).min(together))
        };
        // Where joints inside may lie anywhere, only whole currents say anything.
        let anywhere = ends.near.joints.is_some();
        let cores = |rail: usize| CoreSpan::of(c, corner, rail == 0, ends);
        self.begin_above(m, c, corner, state, c.keeps_least(m, corner), ends.near);
        let mut last = f64::INFINITY;
        for _ in 0..MOST_PASSES {
            // Flows of the upper voltages are upper bounds, those of the lower voltages lower bounds.
            self.pass(m, c, corner, state, true, ends.far);
            let mut flows = self.flows.iter().enumerate();
            if flows.all(|(rail, flow)| flow.total <= surely(rail)) {
                return verdict(true, true);
            }
            let most = std::mem::take(&mut self.flows);
            self.pass(m, c, corner, state, false, ends.near);
            let mut flows = self.flows.iter().enumerate();
            if flows.any(|(rail, flow)| flow.total > at_most(rail)) {
                return verdict(false, true);
            }
            if !anywhere {
                let mut holds = true;
                for (rail, (up, down)) in most.iter().zip(&self.flows).enumerate() {
                    let cores = cores(rail);
                    let limits = || feeders(rail).map(feeder).enumerate();
                    if limits().any(|(slot, limit)| cores.least(down, slot) > band(limit)) {
                        return verdict(false, false);
                    }
                    holds &= up.total <= whole(rail)
                        && limits().all(|(slot, limit)| cores.most(up, slot) <= limit)
                        && cores.most_link(up, down) <= cap(l.rail_current);
                }
                if holds {
                    return verdict(true, false);
                }
            }
            let width = self.width();
            if !(width < 0.8 * last) {
                break;
            }
            last = width;
        }
        None
    }
}

impl CoreSpan {
    fn of(c: &Candidate, corner: usize, common: bool, ends: &FeederEnds<'_>) -> Self {
        let entered = c.entered_by(common);
        let mut span = Self {
            count: entered.len(),
            near: [0.0; MOST_FEEDS],
            far: [0.0; MOST_FEEDS],
        };
        for (slot, feed) in entered.enumerate() {
            span.near[slot] = ends.near.cores[feed][corner];
            span.far[slot] = ends.far.cores[feed][corner];
        }
        span
    }
}
