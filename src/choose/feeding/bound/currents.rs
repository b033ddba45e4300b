//! What a segment draws in all, at least: by the limits of current themselves.
//!
//! Suppose that they are kept, so that all of it draws `I ≤ L`. Copper is linear and reciprocal: the mean drop of `n`
//! cells is `Σ d(j)·i(j) / n`, where `d(j)` is the drop at cell `j` were each cell to draw one ampere, so no more than
//! `max d · L / n`. A convex function `g` that no load falls below then gives (Jensen)
//!
//! ```text
//!  I = Σ i(v) ≥ n · g(mean v) ≥ n · g(E − max d · L / n)
//! ```
//! Where that is more than `L` the limits are not kept.

use super::uniform_load::{UniformLoad, greatest};
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::shape::Cores;
use crate::choose::feeding::problem::accelerations::Acceleration;
use crate::choose::feeding::problem::cell_limits::cap;
use crate::choose::feeding::problem::checked::{BAND, CheckedRun, HIGH, LOW, SourceNumbers};

/// Voltages at which a load is asked.
const SAMPLES: usize = 128;

/// Corners of a convex function.
type Convex = Vec<[f64; 2]>;

/// Functions that the loads never fall below, at one corner.
#[derive(Debug)]
struct ConvexLoads {
    corner: usize,
    /// By emitter.
    loads: Vec<Convex>,
}

/// What is known of the loads where every cell has its least voltage, and anywhere.
#[derive(Debug)]
pub(crate) struct CurrentBounds([ConvexLoads; 2]);

impl CurrentBounds {
    pub fn new(m: &CheckedRun) -> Self {
        let below = |corner: usize, kept: bool| {
            let top = m.sources.iter().map(|s| s.volts[corner]);
            let top = top.fold(0.0, f64::max);
            let floor = |e: usize| if kept { m.least_volts[e].min(top) } else { 0.0 };
            let each = (0..m.emitters()).map(|e| convex_below(m, corner, e, [floor(e), top]));
            ConvexLoads {
                corner,
                loads: each.collect(),
            }
        };
        // The low corner draws less, but there the light limit says what a cell has.
        let kept = if m.high_is_stronger { HIGH } else { LOW };
        Self([below(kept, true), below(HIGH, false)])
    }

    /// Whether a segment surely draws more than its limits, with feeders of `cores` ohm or shorter ones, and joints
    /// inside of `joints` ohm together, on the common and on a return, or less.
    pub fn surely_break(
        &self,
        m: &CheckedRun,
        c: &Candidate,
        source: &SourceNumbers,
        wires: &[usize],
        cores: &Cores,
        joints: [f64; 2],
    ) -> bool {
        if !m.uses(Acceleration::CurrentBounds) {
            return false;
        }
        let l = &m.limits;
        let most = |common: bool, limit: f64| {
            let fed = c.entered_by(common).map(|feed| m.through(wires[feed]));
            limit.min(fed.sum()) * (1.0 + 2.0 * BAND) + 2.0 * BAND * 1e-3
        };
        let own = most(false, cap(l.output_current));
        let all = most(true, cap(l.segment_current));
        if own == f64::INFINITY && all == f64::INFINITY {
            return false;
        }
        let [kept, anywhere] = &self.0;
        let breaks = |below: &ConvexLoads| below.breaks(m, c, source, (cores, joints), [own, all]);
        match c.keeps_least(m, kept.corner) {
            // At the same corner it says more.
            true if kept.corner == HIGH => breaks(kept),
            speaks => breaks(anywhere) || speaks && breaks(kept),
        }
    }
}

impl ConvexLoads {
    /// Whether more is drawn than each return, or the common, may carry.
    fn breaks(
        &self,
        m: &CheckedRun,
        c: &Candidate,
        source: &SourceNumbers,
        (cores, joints): (&Cores, [f64; 2]),
        [own, all]: [f64; 2],
    ) -> bool {
        let n = c.cells() as f64;
        let most = |state: &Vec<usize>| {
            let each = state.iter().map(|e| n * self.most(*e));
            each.clone().all(|amps| amps <= own) && each.sum::<f64>() <= all
        };
        if m.states.iter().all(most) {
            return false;
        }
        let drop = |emitter: Option<usize>| {
            if c.count == 1 {
                // From the feed on drops rise and currents fall, so of each branch the mean drop counts (Chebyshev).
                let feed = c.feeds[0].0;
                let branch = (feed - c.from).max(c.to - feed) as f64;
                let tape = &m.corners[self.corner];
                let increment = emitter.map_or(tape.common, |e| tape.rails[e]);
                return cores[0][self.corner] + increment * (branch * branch / 3.0 + 1.0 / 6.0) / n;
            }
            let rail = UniformLoad::new(m, c, self.corner, emitter, cores, 1.0);
            greatest(c.cells(), [&rail]) / n
        };
        let common = drop(None);
        m.states.iter().any(|state| {
            let all = all.min(own * state.len() as f64);
            let own = own.min(all);
            let amps = |e: &usize| {
                let rail = if m.one_loop && c.entered_by(true) == c.entered_by(false) {
                    common
                } else {
                    drop(Some(*e))
                };
                let before = (common + joints[0] + source.shared()) * all
                    + (rail + joints[1] + source.switch) * own;
                n * self.at(*e, source.volts[self.corner] - before)
            };
            let each = state.iter().map(amps);
            each.clone().any(|amps| amps > own) || each.sum::<f64>() > all
        })
    }

    /// What is known of a load at the voltage of the source.
    fn most(&self, emitter: usize) -> f64 {
        self.loads[emitter].last().map_or(0.0, |c| c[1])
    }

    /// What a load draws at least, A.
    fn at(&self, emitter: usize, volts: f64) -> f64 {
        let corners = &self.loads[emitter];
        let after = corners.partition_point(|c| c[0] <= volts);
        let (Some(a), Some(b)) = (corners.get(after.wrapping_sub(1)), corners.get(after)) else {
            return 0.0;
        };
        a[1] + (b[1] - a[1]) * (volts - a[0]) / (b[0] - a[0])
    }
}

/// A convex function that a load does not fall below from one voltage to another.
fn convex_below(m: &CheckedRun, corner: usize, emitter: usize, [low, high]: [f64; 2]) -> Convex {
    // What counts is drawn near the voltage of the source.
    let volts = |k: usize| {
        let below = 1.0 - k as f64 / SAMPLES as f64;
        high - (high - low) * below.powi(if low > 0.0 { 1 } else { 3 })
    };
    let amps = |k: usize| m.corners[corner].amps(emitter, volts(k));
    // Currents never fall: between two voltages a load draws no less than at the lower.
    let mut last = amps(0);
    let mut corners = vec![[low, last]];
    for k in 1..=SAMPLES {
        let next = [volts(k), last];
        while let [.., a, b] = corners[..]
            && (b[1] - a[1]) * (next[0] - a[0]) >= (next[1] - a[1]) * (b[0] - a[0])
        {
            corners.pop();
        }
        corners.push(next);
        last = amps(k);
    }
    corners
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choose::feeding::problem::spec::FeedLimits;
    use crate::choose::feeding::tests::every_candidate::candidates;
    use crate::choose::feeding::tests::exhaustive::problem;
    use crate::choose::feeding::verdict::solver::SegmentSolver;
    use crate::quantity::amps;

    #[test]
    fn what_surely_breaks_a_limit_breaks_it() {
        let (mut refused, mut found) = (0, 0);
        for emitters in [1, 2] {
            for (own, all) in [(2.0, 9.0), (9.0, 2.4), (3.1, 4.0)] {
                let mut problem = problem(emitters, 0.4, true, 0);
                problem.limits = FeedLimits {
                    output_current: Some(amps(own)),
                    segment_current: Some(amps(all)),
                    ..problem.limits
                };
                let m = problem.check().expect("a sound run");
                let totals = CurrentBounds::new(&m);
                let mut solver = SegmentSolver::default();
                for to in [12, 20, 24, 28, 40] {
                    for c in candidates(&m, 0, to) {
                        let wires: Vec<_> = (0..c.count).map(|f| c.option(&m, f).wire).collect();
                        let (source, cores) = (&m.sources[c.place(&m)], c.cores(&m));
                        let broken = solver.broken(&m, &c).is_some();
                        let surely = totals.surely_break(
                            &m,
                            &c,
                            source,
                            &wires,
                            &cores,
                            m.joint_sums(c.from, c.to),
                        );
                        assert!(broken || !surely, "{c:?}");
                        refused += usize::from(broken);
                        found += usize::from(surely);
                    }
                }
            }
        }
        assert!(found > 300 && found < refused, "{found} of {refused}");
    }
}
