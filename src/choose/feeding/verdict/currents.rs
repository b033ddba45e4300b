//! Whether one candidate keeps its limits of current: surely, or by closing in from both sides.

use super::judge::{Judge, MOST_PASSES};
use super::measure::{Measured, current_figures};
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::rails::RailFlow;
use crate::choose::feeding::circuit::shape::{Copper, Cores};
use crate::choose::feeding::problem::checked::CheckedRun;
use crate::choose::feeding::problem::least::cap;

impl Judge {
    /// The limit of current that breaks where those of light hold; of several the one that teaches most about other candidates.
    pub fn currents_broken(&mut self, m: &CheckedRun, c: &Candidate) -> Option<Measured> {
        let copper = Copper::own(c.cores(m));
        c.current_corners(m).iter().find_map(|&corner| {
            if currents_surely_hold(m, c, corner, &copper.cores) {
                return None;
            }
            (0..m.states.len()).find_map(|state| {
                self.closing_in(m, c, corner, state, &copper)
                    .unwrap_or_else(|| {
                        self.converge(m, c, corner, state, &copper);
                        worst_current(m, c, state, &self.flows)
                    })
            })
        })
    }

    /// Closes in until the currents of one state are decided: the limit that breaks, with a figure that is not
    /// less than the true one, or that none does; nothing where the sides do not close.
    ///
    /// Feeder currents and totals never fall as cell currents rise. A link takes a share between −1 and 1 of each
    /// cell's current, so its own lies within what all cells may still differ by.
    fn closing_in(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        state: usize,
        copper: &Copper,
    ) -> Option<Option<Measured>> {
        self.begin_above(m, c, corner, state, c.keeps_least(m, corner), copper);
        let mut last = f64::INFINITY;
        for _ in 0..MOST_PASSES {
            self.pass(m, c, corner, state, true, copper);
            let mut most = std::mem::take(&mut self.flows);
            self.pass(m, c, corner, state, false, copper);
            for (most, least) in most.iter_mut().zip(&mut self.flows) {
                let open = most.total - least.total;
                most.most_link += open;
                least.most_link -= open;
            }
            let surely = worst_current(m, c, state, &self.flows);
            let perhaps = worst_current(m, c, state, &most);
            let same = |f: &Measured| perhaps.is_some_and(|g| g.kind == f.kind);
            if perhaps.is_none() || surely.as_ref().is_some_and(same) {
                return Some(perhaps);
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

/// Of the limits of current that flows break the one that teaches most: that of the whole segment.
pub(crate) fn worst_current(
    m: &CheckedRun,
    c: &Candidate,
    state: usize,
    flows: &[RailFlow],
) -> Option<Measured> {
    current_figures(m, c, state, flows)
        .into_iter()
        .filter(|f| !f.holds())
        .max_by_key(|f| f.kind)
}

/// Whether each current limit is kept because breaking it would contradict itself: current above the limit
/// takes volts from the source on, and cells at what is left draw less than the limit.
pub(crate) fn currents_surely_hold(
    m: &CheckedRun,
    c: &Candidate,
    corner: usize,
    cores: &Cores,
) -> bool {
    let source = &m.sources[c.place(m)];
    let volts = source.volts[corner];
    let n = c.cells() as f64;
    let l = &m.limits;
    let part = (0..c.count)
        .map(|f| m.through(c.option(m, f).wire))
        .fold(cap(l.rail_current), f64::min);
    let sum_limit = part.min(cap(l.segment_current));
    let own_limit = part.min(cap(l.output_current));
    // All of a rail's current goes through its feeder where it has one only.
    let feeder = if c.count == 1 { cores[0][corner] } else { 0.0 };
    let law = |e: usize, volts: f64| m.corners[corner].amps(e, volts);
    let left = |taken: f64| {
        if taken.is_finite() {
            volts - taken
        } else {
            volts
        }
    };
    m.states.iter().all(|state| {
        let after_sum = left(sum_limit * (source.shared() + feeder));
        let sum: f64 = state.iter().map(|e| n * law(*e, after_sum)).sum();
        let after_own = left(own_limit * (source.shared() + source.switch + 2.0 * feeder));
        sum <= sum_limit && state.iter().all(|e| n * law(*e, after_own) <= own_limit)
    })
}
