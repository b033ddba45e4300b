//! A bound on the voltage error from the current balance left over.
//!
//! With monotone loads the difference `d` between state and solution obeys `M·d = residual`
//! for a symmetric M-matrix `M` whose load slopes lie somewhere between zero and
//! unknown; its inverse has no negative entry and shrinks as slopes grow, so
//! `|d| <= w` with `M0·w = |residual|` and `M0` the matrix of the copper and the
//! sources alone. Where that matrix does not tie every node (an output that holds its
//! current, a floating part) the slopes of the state are used, and the bound is first order only.

use super::linear::Slopes;
use super::plan::Network;
use super::solve::Report;
use super::workspace::Workspace;

impl Network {
    /// Fills the bound of the report. Spoils the balance and the step.
    pub(super) fn bound(&self, w: &mut Workspace, report: &mut Report) {
        let top = w.volts.iter().fold(0.0_f64, |m, v| m.max(v.abs()));
        let (mut worst, mut sum) = (0.0_f64, 0.0);
        for b in &mut w.rail_balance {
            *b = b.abs();
            sum += *b;
            worst = if *b > worst { *b } else { worst };
        }
        self.measure_rest(w, report);
        report.residual_amps = report.residual_amps.max(worst);
        w.left_amps += sum;
        let mut outcome = self.linear(w, Slopes::LoadsFlat);
        report.bound_is_rigorous =
            !self.falling && outcome.positive && !outcome.lost && outcome.most.is_finite();
        if !report.bound_is_rigorous {
            outcome = self.linear(w, Slopes::State);
        }
        // Two nodes make a cell; the potentials are rounded, and strings are read from a table (relative 2e-12, on both rails).
        report.left_volts = 2.0 * outcome.most;
        report.bound_volts = report.left_volts + 8e-12 * top;
        report.bound_amps = w.left_amps;
    }

    /// Turns the balance of the wiring into sizes: its largest goes to the report, their sum to the workspace.
    pub(super) fn measure_rest(&self, w: &mut Workspace, report: &mut Report) {
        (report.residual_amps, w.left_amps) = (0.0, 0.0);
        for b in &mut w.balance {
            *b = b.abs();
            w.left_amps += *b;
            report.residual_amps = report.residual_amps.max(*b);
        }
    }
}
