//! Whether one candidate keeps its limits of current: surely, or by closing in from both sides.

use super::measured::{Measured, current_figures};
use super::solver::{MOST_PASSES, SegmentSolver};
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::rails::RailFlow;
use crate::choose::feeding::circuit::shape::Copper;
use crate::choose::feeding::problem::checked::CheckedRun;

impl SegmentSolver {
    /// The limit of current that breaks where those of light hold; of several the one that teaches most about other candidates.
    pub fn currents_broken(&mut self, m: &CheckedRun, c: &Candidate) -> Option<Measured> {
        let copper = Copper::own(c.cores(m));
        c.current_corners(m).iter().find_map(|&corner| {
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
