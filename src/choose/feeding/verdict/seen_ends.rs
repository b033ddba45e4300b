//! The light of the end cells of a segment beside breaks that are seen.

use super::solver::SegmentSolver;
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::shape::Copper;
use crate::choose::feeding::problem::checked::{CheckedRun, LOW};

/// How near end cells are found, relative to the source: a step of a thousandth of its limit is left for it.
const NEAR: f64 = 1e-5;

/// Least and most relative current of end cells beside a break that is seen.
pub(crate) type Window = [f64; 2];

impl SegmentSolver {
    /// Least and most relative current of the end cells of a candidate beside breaks that are seen, low corner.
    pub fn seen_ends(&mut self, m: &CheckedRun, c: &Candidate) -> Window {
        let n = c.cells();
        let copper = Copper::own(c.cores(m));
        let ends = [(c.from, 0), (c.to, n - 1)];
        let seen = ends.map(|(mark, cell)| (mark > 0 && mark < m.n && m.visible[mark], cell));
        let mut window = [f64::INFINITY, 0.0];
        for (state, lit) in m.states.iter().enumerate() {
            self.converge_to(NEAR, m, c, LOW, state, &copper);
            for (q, e) in lit.iter().enumerate() {
                for (_, cell) in seen.iter().filter(|(seen, _)| *seen) {
                    let amps = m.corners[LOW].amps(*e, self.lower[q * n + cell]);
                    let relative = amps / m.nominal[*e];
                    window = [window[0].min(relative), window[1].max(relative)];
                }
            }
        }
        window
    }
}
