//! Which rows are added to cut the fractional solution off.

use super::Branch;
use super::cut::{Rounding, Row};

/// Rows added in one round.
const ROWS: usize = 10;

impl Branch<'_, '_, '_> {
    /// Adds rows that cut the fractional solution off; false when there are none.
    pub(super) fn cut(&mut self) -> bool {
        let mut found: Vec<(f64, Rounding)> = Vec::new();
        let used: Vec<(usize, f64)> = self.lp.used().collect();
        let mut turned = Vec::with_capacity(self.right.len());
        for (_, weights) in self.lp.broken().into_iter().take(3 * ROWS) {
            turned.clear();
            turned.extend(weights.iter().map(|w| -w));
            for weights in [weights, &turned] {
                let rounding = Rounding::of(weights, &self.right);
                let far = rounding.and_then(|r| Some((self.far(&r, &used)?, r)));
                found.extend(far.filter(|(far, _)| *far > 1e-3));
            }
        }
        found.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut added: Vec<Row> = Vec::new();
        for (_, rounding) in found {
            if added.len() >= ROWS {
                break;
            }
            let Some(row) = rounding.row(self.sums(&rounding.weights)) else {
                continue;
            };
            if added.iter().all(|a| a.coefficients != row.coefficients) {
                added.push(row);
            }
        }
        let any = !added.is_empty();
        for row in added {
            self.add(row);
        }
        any
    }

    /// How far the values are from keeping a rounded row.
    fn far(&self, rounding: &Rounding, used: &[(usize, f64)]) -> Option<f64> {
        let (mut here, mut square) = (0.0, 0.0);
        for &(at, x) in used {
            let a = rounding.round(self.sum(at, &rounding.weights))? as f64;
            here += a * x;
            square += a * a;
        }
        Some((rounding.right as f64 - here) / f64::max(square, 1.0).sqrt())
    }

    /// Sum of the rows with whole weights in one column. Weights are below a thousand and coefficients
    /// below 2^21, so nothing overflows.
    fn sum(&self, at: usize, weights: &[i64]) -> i64 {
        let entries = self.columns[at].entries.iter();
        let first: i64 = entries.map(|&(row, a)| weights[row] * a).sum();
        let later = self.later.iter().zip(&weights[self.base..]);
        first + later.map(|(row, u)| u * row.coefficients[at]).sum::<i64>()
    }

    /// [`Branch::sum`] of every column; closed columns count as zero.
    fn sums(&self, weights: &[i64]) -> Vec<i64> {
        let mut sums = vec![0i64; self.columns.len()];
        for (row, &u) in self.later.iter().zip(&weights[self.base..]) {
            if u != 0 {
                for (sum, &a) in sums.iter_mut().zip(&row.coefficients) {
                    *sum += u * a;
                }
            }
        }
        for &at in &self.lp.state.active {
            let entries = self.columns[at as usize].entries.iter();
            sums[at as usize] += entries.map(|&(row, a)| weights[row] * a).sum::<i64>();
        }
        sums
    }
}
