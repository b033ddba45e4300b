//! Full evaluation of one candidate segment: which limit it breaks, if any.
//!
//! With copper linear, cell voltages obey `V = E − Z·I(V)` with no negative coefficient in `Z`; with
//! currents that never fall, the right side `T(V)` falls as `V` rises. So `T` of an upper bound is a lower
//! bound and the reverse: the two close in on the solution from both sides, whatever the pattern of feeds and
//! the number of emitters. Where the sides do not close (deeply starved tape), the network solver decides.
//!
//! The light limit gives a start: were it kept, every cell would have its least voltage `v` at least, so no more than
//! `U = T(v)`. If then `T(U) < v` nowhere, `T` takes what lies between `v` and `U` into itself, so the solution lies
//! there and the limit is kept; if `U < v` anywhere it is not. Else `v` is raised to `T(U)` where that is more.

use super::currents::worst_current;
use super::measured::{Measured, branch, light_figure, light_figures};
use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::rails::RailFlow;
use crate::choose::feeding::circuit::shape::Copper;
use crate::choose::feeding::full;
use crate::choose::feeding::problem::checked::{CheckedRun, LOW, NOMINAL};
use crate::choose::feeding::result::limit::LimitKind;

/// Passes after which the network solver takes over.
pub(crate) const MOST_PASSES: usize = 60;
/// So many more, and the network solver takes less time.
const MOST_MORE: f64 = 10.0;
/// Width at which the two sides count as one, relative to the source.
const CLOSED: f64 = 1e-12;

/// Scratch space for evaluations.
#[derive(Debug, Default)]
pub(crate) struct SegmentSolver {
    pub(crate) upper: Vec<f64>,
    pub(crate) lower: Vec<f64>,
    amps: Vec<f64>,
    sum: Vec<f64>,
    /// Slopes of the loads come with their currents; they are not used.
    slopes: Vec<f64>,
    common_drop: Vec<f64>,
    /// Totals of common and returns in the last pass of upper voltages.
    most_totals: Vec<f64>,
    pub flows: Vec<RailFlow>,
    pub evaluated: u64,
    passes: u64,
}

enum LightVerdict {
    Holds,
    Breaks(Measured),
}

impl SegmentSolver {
    /// The first limit that a candidate breaks, with a figure that is enough for the verdict.
    pub fn broken(&mut self, m: &CheckedRun, c: &Candidate) -> Option<Measured> {
        if c.longest_branch() > m.branch {
            return Some(branch(m, c));
        }
        self.counted(|solver| {
            let light = solver.light_broken(m, c);
            light.or_else(|| solver.currents_broken(m, c))
        })
    }

    /// Counts what takes currents of loads as one evaluation; what the least currents refuse takes none.
    pub(crate) fn counted<T>(&mut self, work: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.passes;
        let done = work(self);
        self.evaluated += u64::from(self.passes > before);
        done
    }

    /// Judges a candidate against every limit: the first that breaks with its solved figure, or none.
    pub fn judge(&mut self, m: &CheckedRun, c: &Candidate) -> Option<Measured> {
        let broken = self.broken(m, c)?;
        if broken.kind == LimitKind::Branch {
            return Some(broken);
        }
        // What was enough for the verdict is not yet the figure that a person is told.
        let copper = Copper::own(c.cores(m));
        let solved = (0..m.states.len()).find_map(|state| {
            if broken.kind < LimitKind::Branch {
                self.converge(m, c, LOW, state, &copper);
                let figures = light_figures(m, c, state, &self.lower);
                figures.into_iter().find(|f| !f.holds())
            } else {
                c.current_corners(m).iter().find_map(|corner| {
                    self.converge(m, c, *corner, state, &copper);
                    worst_current(m, c, state, &self.flows)
                })
            }
        });
        Some(solved.unwrap_or(broken))
    }

    /// The first limit of light that breaks.
    pub fn light_broken(&mut self, m: &CheckedRun, c: &Candidate) -> Option<Measured> {
        let copper = Copper::own(c.cores(m));
        for state in 0..m.states.len() {
            if let LightVerdict::Breaks(figure) = self.light(m, c, state, &copper) {
                return Some(figure);
            }
        }
        let l = &m.limits;
        let inner_visible =
            l.visible_step.is_some() && (c.from + 1..c.to).any(|k| m.seen_inside[k]);
        if inner_visible || l.balance.is_some() || l.voltage_drop.is_some() {
            for state in 0..m.states.len() {
                self.converge(m, c, LOW, state, &copper);
                for figure in light_figures(m, c, state, &self.lower) {
                    if figure.kind != LimitKind::LeastCurrent && !figure.holds() {
                        return Some(figure);
                    }
                }
            }
        }
        None
    }

    /// Watts lost in feeders, source resistances and rails with the first (largest) state lit, nominal: what
    /// the currents spend between source and cells.
    pub fn lost(&mut self, m: &CheckedRun, c: &Candidate) -> f64 {
        self.converge(m, c, NOMINAL, 0, &Copper::own(c.cores(m)));
        let volts = m.sources[c.place(m)].volts[NOMINAL];
        let spent = self.amps.iter().zip(&self.lower);
        spent.map(|(amps, cell)| amps * (volts - cell)).sum()
    }

    /// Closes in until the light limit is decided for one state.
    fn light(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        state: usize,
        copper: &Copper,
    ) -> LightVerdict {
        let lit = &m.states[state];
        let n = c.cells();
        let source = m.sources[c.place(m)].volts[LOW];
        if let Some(&e) = lit.iter().find(|e| !(m.least_volts[**e] <= source)) {
            return LightVerdict::Breaks(light_figure(m, c, e, 0, m.corners[LOW].amps(e, source)));
        }
        self.begin_above(m, c, LOW, state, true, copper);
        for _ in 0..MOST_PASSES {
            let least = |k: usize| m.least_volts[lit[k / n]];
            let worst = self
                .upper
                .iter()
                .enumerate()
                .map(|(k, v)| (k, *v - least(k)))
                .min_by(|a, b| a.1.total_cmp(&b.1));
            if let Some((k, short)) = worst
                && short < 0.0
            {
                let e = lit[k / n];
                let amps = m.corners[LOW].amps(e, self.upper[k]);
                return LightVerdict::Breaks(light_figure(m, c, e, k % n, amps));
            }
            self.pass(m, c, LOW, state, true, copper);
            if !self.raise(least) || self.width() <= CLOSED * source {
                return LightVerdict::Holds;
            }
            self.pass(m, c, LOW, state, false, copper);
        }
        let volts = full::cell_volts(m, c, LOW, state);
        let figures = light_figures(m, c, state, &volts);
        match figures
            .into_iter()
            .find(|f| f.kind == LimitKind::LeastCurrent)
        {
            Some(figure) if figure.holds() => LightVerdict::Holds,
            Some(figure) => LightVerdict::Breaks(figure),
            None => LightVerdict::Holds,
        }
    }

    /// Solves one state at one corner; the cell voltages are left in `lower`, emitter by emitter,
    /// the flows of common and returns in `flows`.
    pub(crate) fn converge(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        state: usize,
        copper: &Copper,
    ) {
        self.converge_to(CLOSED, m, c, corner, state, copper);
    }

    /// The same until the two sides are as near, relative to the source.
    pub(crate) fn converge_to(
        &mut self,
        near: f64,
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        state: usize,
        copper: &Copper,
    ) {
        let source = m.sources[c.place(m)].volts[corner];
        self.begin_above(m, c, corner, state, false, copper);
        let mut last = f64::INFINITY;
        for pass in 0..MOST_PASSES {
            self.pass(m, c, corner, state, true, copper);
            self.pass(m, c, corner, state, false, copper);
            let width = self.width();
            if width <= near * source {
                return;
            }
            // The sides come nearer by about the same share each time.
            let share = width / last;
            let more = (near * source / width).ln() / share.ln();
            if pass > 0 && !(share < 1.0 && more < MOST_MORE) {
                break;
            }
            last = width;
        }
        self.upper = full::cell_volts(m, c, corner, state);
        self.pass(m, c, corner, state, true, copper);
        self.lower.copy_from_slice(&self.upper);
    }

    pub(crate) fn size(&mut self, count: usize) {
        for list in [&mut self.upper, &mut self.lower, &mut self.amps] {
            list.clear();
            list.resize(count, 0.0);
        }
    }

    pub(crate) fn width(&self) -> f64 {
        self.upper
            .iter()
            .zip(&self.lower)
            .map(|(u, l)| u - l.max(0.0))
            .fold(0.0, f64::max)
    }

    /// Starts with what no cell has more of: what the least permitted currents leave, where every cell has its least
    /// voltage `at_least`; else what the source gives.
    pub(crate) fn begin_above(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        state: usize,
        at_least: bool,
        copper: &Copper,
    ) {
        let lit = &m.states[state];
        let n = c.cells();
        self.size(lit.len() * n);
        // What joints somewhere inside may do is only known beside a lower side.
        if !at_least || copper.joints.is_some() {
            self.upper.fill(m.sources[c.place(m)].volts[corner]);
            return;
        }
        for (amps, e) in self.amps.chunks_mut(n).zip(lit) {
            amps.fill(m.least_amps[*e]);
        }
        self.drops(m, c, corner, state, false, copper);
    }

    /// Raises the lower side to what each cell has at least; says whether there was need.
    pub(crate) fn raise(&mut self, least: impl Fn(usize) -> f64) -> bool {
        let mut raised = false;
        for (k, volts) in self.lower.iter_mut().enumerate() {
            if !(*volts >= least(k)) {
                *volts = least(k);
                raised = true;
            }
        }
        raised
    }

    /// `lower = T(upper)`, or the reverse.
    pub(crate) fn pass(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        state: usize,
        down: bool,
        copper: &Copper,
    ) {
        self.passes += 1;
        let n = c.cells();
        let from = if down { &self.upper } else { &self.lower };
        self.slopes.resize(n, 0.0);
        let laws = &m.corners[corner].laws;
        let lit = m.states[state].iter();
        for ((e, volts), amps) in lit.zip(from.chunks(n)).zip(self.amps.chunks_mut(n)) {
            laws[*e].0.fill(volts, amps, &mut self.slopes);
        }
        self.drops(m, c, corner, state, down, copper);
    }

    /// What the currents leave to each cell: a lower side of currents from above, or the reverse.
    fn drops(
        &mut self,
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        state: usize,
        down: bool,
        copper: &Copper,
    ) {
        let lit = &m.states[state];
        let n = c.cells();
        let source = &m.sources[c.place(m)];
        let to = if down {
            &mut self.lower
        } else {
            &mut self.upper
        };
        self.sum.clear();
        self.sum.resize(n, 0.0);
        for amps in self.amps.chunks(n) {
            for (sum, amps) in self.sum.iter_mut().zip(amps) {
                *sum += *amps;
            }
        }
        self.common_drop.clear();
        self.common_drop.resize(n, 0.0);
        self.flows.clear();
        self.most_totals.resize(lit.len() + 1, 0.0);
        // What joints do at most, wherever they lie: down by the current that may pass all of them; and up, where
        // a rail is fed twice and may send current another way, by as much.
        let by_joints = |flow: &RailFlow, r: usize, most: &mut f64| match copper.joints {
            None => 0.0,
            Some(sums) if down => {
                *most = flow.total;
                sums[r.min(1)] * flow.total
            }
            Some(sums) if c.entered_by(r == 0).len() > 1 => -sums[r.min(1)] * *most,
            Some(_) => 0.0,
        };
        let flow = c
            .rail(m, corner, None, copper)
            .add_drops(&self.sum, &mut self.common_drop);
        let shared = source.shared() * flow.total + by_joints(&flow, 0, &mut self.most_totals[0]);
        self.flows.push(flow);
        // One emitter on one loop: the return takes what the common does.
        if m.one_loop && c.entered_by(true) == c.entered_by(false) && copper.joints.is_none() {
            self.flows.push(flow);
            let fixed = source.volts[corner] - shared - source.switch * flow.total;
            for (v, d) in to.iter_mut().zip(&self.common_drop) {
                *v = fixed - 2.0 * d;
            }
            return;
        }
        for (q, &e) in lit.iter().enumerate() {
            let own = &mut to[q * n..(q + 1) * n];
            own.fill(0.0);
            let flow = c
                .rail(m, corner, Some(e), copper)
                .add_drops(&self.amps[q * n..(q + 1) * n], own);
            let joints = by_joints(&flow, q + 1, &mut self.most_totals[q + 1]);
            let fixed = source.volts[corner] - shared - source.switch * flow.total - joints;
            for (v, d) in own.iter_mut().zip(&self.common_drop) {
                *v = fixed - *v - d;
            }
            self.flows.push(flow);
        }
    }
}
