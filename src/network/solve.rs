//! Newton's method with a line search on the co-content.
//!
//! With monotone loads the balance is the gradient of a convex function (the
//! co-content of the network), so the slope along a step rises with the share taken, and the
//! search is for the share at which it vanishes; the iteration settles from any start.

use super::balance::Place;
use super::error::SolveError;
use super::linear::Slopes;
use super::plan::Network;
use super::solution::Solution;
use super::spec::Corner;
use super::workspace::Workspace;
use crate::quantity::{ElectricPotential, volts};

/// Where the iteration starts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Start {
    /// From no current anywhere.
    #[default]
    Cold,
    /// From the last solution in the workspace, if it is of this very network; else cold.
    Warm,
}

/// How to solve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolveOptions {
    /// Corner of the sources' tolerance.
    pub corner: Corner,
    /// The iteration ends when a full step moves no node by more; 1e-12 V to 1 V.
    pub step_tolerance: ElectricPotential,
    /// Most iterations, 1 to 10,000.
    pub most_iterations: usize,
    /// Where to start.
    pub start: Start,
    /// Whether to look, with constant-power loads, how far the network is from collapse (a few more solves).
    pub find_collapse: bool,
}

impl Default for SolveOptions {
    fn default() -> Self {
        Self {
            corner: Corner::Nominal,
            step_tolerance: volts(1e-9),
            most_iterations: 200,
            start: Start::Cold,
            find_collapse: false,
        }
    }
}

/// Full steps before the line search watches: they end sooner on plateaus, and the search takes over if they do not end.
const FULL_STEPS: usize = 12;

/// Current left over at a node that is none, as a share of the greatest that a source gives (of 1 mA where less is given).
const BALANCED: f64 = 1e-9;
/// Further iterations while the currents do not balance though no node moves any more.
const MOST_REFINEMENTS: usize = 6;

/// What the iteration reports.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Report {
    pub iterations: usize,
    pub residual_amps: f64,
    pub step_volts: f64,
    pub bound_volts: f64,
    pub bound_amps: f64,
    /// The part of the bound that the balance left over accounts for.
    pub left_volts: f64,
    pub bound_is_rigorous: bool,
    /// Whether the iteration ended on the bound, so that it is known.
    pub proved: bool,
    pub collapse_share: Option<f64>,
}

/// How an attempt ended.
enum End {
    Settled,
    /// The matrix lost its definiteness: past the fold of falling loads.
    Fold,
    Unsettled {
        residual: (f64, Place),
    },
}

impl Network {
    /// Solves the network.
    ///
    /// Time: iterations × (cells × rails³ + wiring); memory: `rails·(rails + 1)` numbers a cell, twice that
    /// between two attachments. Nothing is allocated if the workspace already fits.
    /// # Errors
    /// [`SolveError::NoConvergence`] with the best residual; [`SolveError::Collapse`] where constant-power loads have no
    /// operating point; [`SolveError::Option`] and [`SolveError::Memory`].
    ///
    /// ```
    /// use evenrun::load::{Load, Resistive};
    /// use evenrun::network::{NetworkSpec, SolveOptions, Workspace};
    /// use evenrun::quantity::{celsius, ohms, volts};
    /// // 24 V over 1 ohm of feeder and 11 ohm of load: 24 V · 11/12 = 22 V at the load.
    /// let mut spec = NetworkSpec::new();
    /// let (plus, minus, far) = (spec.node("plus"), spec.node("minus"), spec.node("far end"));
    /// spec.stiff_source("supply", plus, minus, volts(24.0));
    /// spec.link("feeder", plus, far, ohms(1.0));
    /// let law = spec.law(Load::Resistive(Resistive { resistance: ohms(11.0) }).law(celsius(25.0))?);
    /// let load = spec.load("load", far, minus, law);
    /// let network = spec.check()?;
    /// let mut work = Workspace::new();
    /// let solution = network.solve(&SolveOptions::default(), &mut work)?;
    /// let found = solution.load_voltage(load).expect("a load of the network");
    /// assert!((found.value - 22.0).abs() < 1e-9);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn solve<'a>(
        &'a self,
        options: &SolveOptions,
        work: &'a mut Workspace,
    ) -> Result<Solution<'a>, SolveError> {
        let tolerance = options.step_tolerance.value;
        if !(1e-12..=1.0).contains(&tolerance) {
            return Err(SolveError::Option {
                what: "step_tolerance (V)",
                found: tolerance,
                accepted: "1e-12 V to 1 V",
            });
        }
        if !(1..=10_000).contains(&options.most_iterations) {
            let found = options.most_iterations as f64;
            return Err(SolveError::Option {
                what: "most_iterations",
                found,
                accepted: "1 to 10,000",
            });
        }
        let mut report = self.settle(options, work)?;
        if !report.proved {
            self.bound(work, &mut report);
        }
        work.mark = self.mark;
        Ok(Solution::new(self, work, options.corner, report))
    }

    /// The state of the solution in the workspace; the bound still to be found.
    pub(super) fn settle(
        &self,
        options: &SolveOptions,
        work: &mut Workspace,
    ) -> Result<Report, SolveError> {
        let warm = options.start == Start::Warm && work.mark == self.mark;
        work.mark = 0;
        work.fit(self)?;
        let mut report = Report::default();
        if warm && !self.falling {
            self.reset_sources(work, options.corner);
        } else if self.falling || !self.start_from_coarser(work, options.corner) {
            self.reset(work, options.corner);
        }
        if self.falling {
            self.continue_falling(options, work, &mut report)?;
            return Ok(report);
        }
        if let Some(folds) = &self.folds {
            if self.settle_folded(folds, options, work, &mut report) {
                return Ok(report);
            }
            report = Report::default();
            self.reset(work, options.corner);
        }
        match self.newton(options, work, 1.0, &mut report) {
            End::Settled => Ok(report),
            End::Fold => Err(self.no_convergence(&report, self.worst_balance(work))),
            End::Unsettled { residual } => Err(self.no_convergence(&report, residual)),
        }
    }

    fn no_convergence(&self, report: &Report, (residual_amps, place): (f64, Place)) -> SolveError {
        SolveError::NoConvergence {
            iterations: report.iterations,
            residual_amps,
            step_volts: report.step_volts,
            worst: self.name(place),
        }
    }

    /// No step need be longer: twice the highest set point.
    pub(super) fn reach(&self) -> f64 {
        let each = self.spec.sources.iter().map(|s| s.set_point.value);
        2.0 * each.fold(0.0, f64::max)
    }

    /// Newton from the state in the workspace; `share` scales the falling loads.
    fn newton(
        &self,
        options: &SolveOptions,
        w: &mut Workspace,
        share: f64,
        report: &mut Report,
    ) -> End {
        let tolerance = options.step_tolerance.value;
        let reach = self.reach();
        w.steeper = 1.0;
        let mut refined = 0;
        // The factor with which the slopes in the workspace were made.
        let mut made_with = 1.0;
        self.balance(w, share);
        for iteration in 0..options.most_iterations {
            report.iterations += 1;
            let outcome = self.linear(w, Slopes::State);
            if !outcome.positive {
                return End::Fold;
            }
            // A flat part that nothing holds would be thrown out of sight.
            let mut taken = f64::min(1.0, reach / outcome.most);
            let watched = !self.falling && iteration >= FULL_STEPS && outcome.most > tolerance;
            let at_start = if watched {
                self.slope_along_step(w)
            } else {
                0.0
            };
            let tried = taken;
            self.advance(w, taken);
            self.balance(w, share);
            if watched {
                taken = self.search(w, share, at_start, taken);
            }
            report.step_volts = taken * outcome.most;
            let plain = made_with == 1.0;
            made_with = w.steeper;
            // At a kink the slope of one side may allow no step: steeper flat parts turn the step, as Levenberg's.
            let cut = watched && taken < 1e-2 * tried;
            w.steeper = if cut {
                (w.steeper * 1e3).min(1e12)
            } else {
                (w.steeper * 0.1).max(1.0)
            };
            if watched && (self.is_rounding(w) || self.is_proved(w, share, tolerance, report)) {
                return End::Settled;
            }
            // A shortened or turned step is no proof of being there.
            if taken < 1.0 || !plain {
                continue;
            }
            if outcome.most <= tolerance {
                refined += 1;
                if refined > MOST_REFINEMENTS || self.is_balanced(w, self.worst_balance(w).0) {
                    return End::Settled;
                }
            }
            if self.may_be_there(outcome.most, tolerance)
                && self.is_proved(w, share, tolerance, report)
            {
                return End::Settled;
            }
        }
        End::Unsettled {
            residual: self.worst_balance(w),
        }
    }

    /// Whether the bound proves the state within the tolerance (beside what the table of the law leaves); if not, the
    /// iteration goes on.
    fn is_proved(
        &self,
        w: &mut Workspace,
        share: f64,
        tolerance: f64,
        report: &mut Report,
    ) -> bool {
        self.bound(w, report);
        report.proved = report.bound_is_rigorous
            && report.left_volts <= tolerance
            && self.is_balanced(w, report.residual_amps);
        if !report.proved {
            self.balance(w, share);
        }
        report.proved
    }

    /// Whether the currents balance: a stiff branch may carry amperes too many at no voltage that counts.
    pub(super) fn is_balanced(&self, w: &Workspace, residual: f64) -> bool {
        let each = self.sources.iter().zip(&w.source_amps);
        let given = each.fold(0.0, |m: f64, (s, &free)| m.max(s.given(free)));
        residual <= BALANCED * given.max(1e-3)
    }

    /// Whether what is left over is rounding of the currents that flow, or of the voltages that drive them: nothing
    /// better can be had, and the bound says what it is worth.
    fn is_rounding(&self, w: &Workspace) -> bool {
        let most = |of: &[f64]| of.iter().fold(0.0_f64, |m, i| m.max(i.abs()));
        let flowing = most(&w.cell_amps).max(most(&w.load_amps));
        let driven = most(&w.volts) * most(&w.cell_siemens).max(most(&w.load_siemens));
        self.worst_balance(w).0 <= f64::EPSILON * (64.0 * flowing + 8.0 * driven)
    }

    /// Whether smooth laws have so little bend that a full step this long leaves less than a tenth of the tolerance.
    pub(super) fn may_be_there(&self, step: f64, tolerance: f64) -> bool {
        self.bend
            .is_some_and(|bend| 2.0 * bend * step * step <= 0.1 * tolerance)
    }

    /// Shortens a step that has passed the lowest point of the co-content. Returns the share taken.
    fn search(&self, w: &mut Workspace, share: f64, at_start: f64, tried: f64) -> f64 {
        let enough = 0.5 * at_start.abs();
        let (mut low, mut slope_low, mut high) = (0.0, at_start, tried);
        let mut slope_high = self.slope_along_step(w);
        if !(slope_high > enough) {
            return tried;
        }
        let mut taken = tried;
        for round in 0..80 {
            let secant = low - slope_low * (high - low) / (slope_high - slope_low);
            let edge = 0.05 * (high - low);
            let next = if round % 3 == 2 || !secant.is_finite() {
                0.5 * (low + high)
            } else {
                secant.clamp(low + edge, high - edge)
            };
            if !(next > low && next < high) {
                break;
            }
            self.advance(w, next - taken);
            taken = next;
            self.balance(w, share);
            let slope = self.slope_along_step(w);
            if slope.abs() <= enough {
                return taken;
            }
            if slope > 0.0 {
                (high, slope_high) = (taken, slope);
            } else {
                (low, slope_low) = (taken, slope);
            }
        }
        // A jump of slope (a stiff source that blocks): stay on the side that still descends.
        if low > 0.0 && taken != low {
            self.advance(w, low - taken);
            self.balance(w, share);
            taken = low;
        }
        taken
    }

    /// Upper solution with falling loads: from no power to full power, halving the step at a fold.
    fn continue_falling(
        &self,
        options: &SolveOptions,
        w: &mut Workspace,
        report: &mut Report,
    ) -> Result<(), SolveError> {
        if let End::Unsettled { residual } = self.newton(options, w, 0.0, report) {
            return Err(self.no_convergence(report, residual));
        }
        let reached = self.follow(options, w, report, 0.0, 1.0, 1e-4)?;
        if reached < 1.0 {
            let (lowest_volts, place) = self.lowest_falling(w);
            return Err(SolveError::Collapse {
                reached,
                lowest_volts,
                place,
            });
        }
        if options.find_collapse {
            let mut spare = w.clone();
            let beyond = self.follow(options, &mut spare, report, 1.0, 1e3, 1e-5)?;
            report.collapse_share = Some(beyond);
        }
        Ok(())
    }

    /// Follows the upper solution from `from` towards `to`; the share reached, whose state is left in the workspace.
    fn follow(
        &self,
        options: &SolveOptions,
        w: &mut Workspace,
        report: &mut Report,
        from: f64,
        to: f64,
        finest: f64,
    ) -> Result<f64, SolveError> {
        let (mut at, mut step) = (from, if from > 0.0 { 0.5 * from } else { to });
        w.keep()?;
        while at < to && step > finest * to.min(at.max(finest)) {
            let next = (at + step).min(to);
            let settled = matches!(self.newton(options, w, next, report), End::Settled);
            if settled && self.falling_cells_work(w) {
                at = next;
                step *= 2.0;
                w.keep()?;
            } else {
                w.take_back();
                step *= 0.5;
            }
        }
        w.take_back();
        self.balance(w, at);
        Ok(at)
    }
}
