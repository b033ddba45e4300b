//! Rows that every answer keeps and the fractional solution does not.
//!
//! From weights `u >= 0` of the rows `A·x >= b`, all numbers whole and over the common
//! denominator `D`: with `g = u·A`, `h = u·b`, `r = h mod D` every whole `x >= 0` keeps
//! `Σ (⌊g/D⌋·r + min(g mod D, r)) · x >= r·⌈h/D⌉` (mixed-integer rounding: Nemhauser and
//! Wolsey, *Integer and Combinatorial Optimization*, 1988, II.1.7). The weights are the
//! fractional parts of a row of the inverse (Gomory, *Outline of an algorithm for integer
//! solutions to linear programs*, 1958); the row itself is computed in whole numbers, so it
//! holds whatever the rounding of the weights was.

/// Denominators tried; the last takes what is left, rounded.
const DENOMINATORS: [i64; 14] = [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 24, 60];
/// Coefficients above this are not kept: they would spoil the numbers of the simplex.
const MOST: i64 = 100_000;

/// A row in whole numbers, by column.
#[derive(Debug, Clone)]
pub struct Row {
    /// Coefficients.
    pub coefficients: Vec<i64>,
    /// Right side: `coefficients · x >= right`.
    pub right: i64,
}

/// Whole weights over a common denominator for the fractional parts of `weights`.
fn whole_weights(weights: &[f64]) -> (i64, Vec<i64>) {
    let parts: Vec<f64> = weights
        .iter()
        .map(|w| {
            let part = w - libm::floor(*w);
            if part > 1.0 - 1e-7 { 0.0 } else { part }
        })
        .collect();
    let fits = |d: &i64| {
        parts.iter().all(|p| {
            let x = p * *d as f64;
            (x - libm::round(x)).abs() < 1e-5
        })
    };
    let d = DENOMINATORS.into_iter().find(fits).unwrap_or(120);
    let whole = parts.iter().map(|p| libm::round(p * d as f64) as i64 % d);
    (d, whole.collect())
}

/// How a weighted sum of rows is rounded.
#[derive(Debug, Clone)]
pub struct Rounding {
    /// Whole weights of the rows.
    pub weights: Vec<i64>,
    /// Their common denominator.
    denominator: i64,
    /// What the right side leaves when it is divided.
    rest: i64,
    /// Right side of the rounded row.
    pub right: i64,
}

impl Rounding {
    /// Of the sum of rows with the fractional parts of `weights`, whose right sides are `right`; none
    /// where nothing is rounded or numbers grow too large.
    pub fn of(weights: &[f64], right: &[i64]) -> Option<Self> {
        let (denominator, weights) = whole_weights(weights);
        let sum: i64 = weights.iter().zip(right).map(|(u, b)| u * b).sum();
        let rest = sum.rem_euclid(denominator);
        let right = rest * (sum.div_euclid(denominator) + 1);
        (rest > 0 && right.abs() <= MOST).then_some(Self {
            weights,
            denominator,
            rest,
            right,
        })
    }

    /// Coefficient of the rounded row from that of the sum; none where it grows too large.
    pub fn round(&self, sum: i64) -> Option<i64> {
        let d = self.denominator;
        let rounded = sum.div_euclid(d) * self.rest + sum.rem_euclid(d).min(self.rest);
        (rounded.abs() <= MOST).then_some(rounded)
    }

    /// The rounded row from the coefficients of the sum.
    pub fn row(&self, sums: Vec<i64>) -> Option<Row> {
        let coefficients: Option<Vec<i64>> = sums.into_iter().map(|sum| self.round(sum)).collect();
        Some(Row {
            coefficients: coefficients?,
            right: self.right,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three items, each pair fills a bin: half of each pair covers all, two bins are needed.
    #[test]
    fn halves_of_three_pairs_are_cut_off() {
        let columns = [[1, 1, 0], [0, 1, 1], [1, 0, 1]];
        let rounding = Rounding::of(&[0.5, 0.5, 0.5], &[1, 1, 1]).expect("3/2 is rounded");
        let u = &rounding.weights;
        let g = columns.map(|c| c.iter().zip(u).map(|(a, u)| a * u).sum());
        let row = rounding.row(g.to_vec()).expect("small numbers");
        assert_eq!((row.coefficients, row.right), (vec![1, 1, 1], 2));
    }

    /// Against all small whole points: what keeps the rows keeps the rounded row.
    #[test]
    fn no_whole_point_is_cut_off() {
        let rows: [([i64; 3], i64); 2] = [([3, 1, 2], 7), ([1, 4, -1], 3)];
        for (a, b) in (0..60).flat_map(|a| (0..60).map(move |b| (a, b))) {
            let weights = [f64::from(a) / 60.0, f64::from(b) / 60.0];
            let rounding = Rounding::of(&weights, &rows.map(|(_, right)| right));
            let Some(rounding) = rounding else { continue };
            let u = &rounding.weights;
            let g = (0..3).map(|c| rows[0].0[c] * u[0] + rows[1].0[c] * u[1]);
            let cut = rounding.row(g.collect()).expect("small numbers");
            for point in 0..7i64.pow(3) {
                let x = [point % 7, point / 7 % 7, point / 49];
                let dot = |c: &[i64]| -> i64 { c.iter().zip(&x).map(|(c, x)| c * x).sum() };
                if rows.iter().all(|(c, b)| dot(c) >= *b) {
                    assert!(dot(&cut.coefficients) >= cut.right, "{weights:?} {x:?}");
                }
            }
        }
    }
}
