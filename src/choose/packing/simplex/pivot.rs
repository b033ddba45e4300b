//! Pivots: from dual values that are feasible, or from values that are, to the least.

use super::{EPS, End, Lp, PIVOT, SURPLUS, State};

impl Lp {
    /// Row of the inverse times every column, into `across`; basic columns count as zero.
    fn look_across(&mut self, row: usize) {
        let n = self.rows();
        let weights = &self.state.inverse[row * n..(row + 1) * n];
        self.across.clear();
        self.across.resize(self.columns(), 0.0);
        for (later, &weight) in self.later.iter().zip(&weights[self.first..]) {
            if weight != 0.0 {
                for (sum, a) in self.across.iter_mut().zip(later) {
                    *sum += weight * a;
                }
            }
        }
        for &column in &self.state.active {
            let column = column as usize;
            if self.state.basic[column] {
                self.across[column] = 0.0;
                continue;
            }
            let from = if column == 0 {
                0
            } else {
                self.ends[column - 1]
            };
            let mut sum = self.across[column];
            for &(row, a) in &self.entries[from..self.ends[column]] {
                sum += weights[row as usize] * a;
            }
            self.across[column] = sum;
        }
    }

    /// Inverse times the column of a variable, into `along`.
    fn look_along(&mut self, var: u32) {
        let n = self.rows();
        self.along.clear();
        self.along.resize(n, 0.0);
        self.column.clear();
        if var & SURPLUS == 0 {
            let column = var as usize;
            let from = if column == 0 {
                0
            } else {
                self.ends[column - 1]
            };
            let first = self.entries[from..self.ends[column]].iter();
            self.column.extend(first.map(|&(row, a)| (row as usize, a)));
            let later = self.later.iter().enumerate();
            let later = later.map(|(at, row)| (self.first + at, row[column]));
            self.column.extend(later.filter(|(_, a)| *a != 0.0));
        } else {
            self.column.push(((var ^ SURPLUS) as usize, -1.0));
        }
        let rows = self.state.inverse.chunks_exact(n.max(1));
        for (along, inverse) in self.along.iter_mut().zip(rows) {
            for &(row, a) in &self.column {
                *along += a * inverse[row];
            }
        }
    }

    /// Exchanges the basic variable of a row; `along` and `across` are those of the pivot.
    fn pivot(&mut self, row: usize, var: u32, step: f64) {
        let n = self.rows();
        let State {
            inverse,
            basis,
            value,
            dual,
            reduced,
            basic,
            active,
        } = &mut self.state;
        let (along, across) = (&self.along, &self.across);
        let own = &inverse[row * n..(row + 1) * n];
        for (dual, own) in dual.iter_mut().zip(own) {
            *dual -= step * own;
        }
        if step != 0.0 {
            for &column in active.iter() {
                reduced[column as usize] += step * across[column as usize];
            }
        }
        let pivot = along[row];
        let amount = value[row] / pivot;
        for (value, along) in value.iter_mut().zip(along) {
            *value -= amount * along;
        }
        value[row] = amount;
        let leaving = basis[row];
        basis[row] = var;
        if leaving & SURPLUS == 0 {
            basic[leaving as usize] = false;
            reduced[leaving as usize] = step;
        }
        if var & SURPLUS == 0 {
            basic[var as usize] = true;
            reduced[var as usize] = 0.0;
        } else {
            dual[(var ^ SURPLUS) as usize] = 0.0;
        }
        let (before, rest) = inverse.split_at_mut(row * n);
        let (own, after) = rest.split_at_mut(n);
        for x in own.iter_mut() {
            *x /= pivot;
        }
        let rows = before.chunks_exact_mut(n).zip(along);
        let rows = rows.chain(after.chunks_exact_mut(n).zip(&along[row + 1..]));
        for (other, &factor) in rows {
            if factor != 0.0 {
                for (x, own) in other.iter_mut().zip(own.iter()) {
                    *x -= factor * own;
                }
            }
        }
        self.pivots += 1;
    }

    /// From dual values that are feasible to the least, until the objective passes `limit`, in
    /// at most so many pivots.
    pub fn dual(&mut self, limit: f64, most: usize) -> End {
        let n = self.rows();
        for _ in 0..most {
            if self.objective() > limit {
                return End::Passed;
            }
            let mut leaving: Option<(f64, usize)> = None;
            for (row, &x) in self.state.value.iter().enumerate() {
                if x < -EPS {
                    let own = &self.state.inverse[row * n..(row + 1) * n];
                    let square: f64 = own.iter().map(|a| a * a).sum();
                    let score = x * x / square.max(1e-30);
                    if leaving.is_none_or(|(best, _)| score > best * (1.0 + 1e-9)) {
                        leaving = Some((score, row));
                    }
                }
            }
            let Some((_, row)) = leaving else {
                return End::Least;
            };
            self.look_across(row);
            // Least ratio; among near ties the largest pivot.
            let mut entering: Option<(f64, f64, u32)> = None;
            let mut offer = |across: f64, reduced: f64, var: u32| {
                if across < -PIVOT {
                    let ratio = reduced.max(0.0) / -across;
                    let better = entering.is_none_or(|(least, pivot, _)| {
                        ratio < least - EPS || (ratio <= least + EPS && -across > pivot)
                    });
                    if better {
                        entering = Some((ratio, -across, var));
                    }
                }
            };
            for &column in &self.state.active {
                let at = column as usize;
                offer(self.across[at], self.state.reduced[at], column);
            }
            let own = &self.state.inverse[row * n..(row + 1) * n];
            for (at, (&x, &dual)) in own.iter().zip(&self.state.dual).enumerate() {
                if self.state.basis[row] != SURPLUS | at as u32 {
                    offer(-x, dual, SURPLUS | at as u32);
                }
            }
            let Some((ratio, _, var)) = entering else {
                // The objective grows without end along the row.
                let per_unit = -self.state.value[row];
                let push = ((limit - self.objective()).max(0.0) * 1.01 + 1e-3) / per_unit;
                if !push.is_finite() {
                    return End::Lost;
                }
                let own = self.state.inverse[row * n..(row + 1) * n].to_vec();
                for (dual, own) in self.state.dual.iter_mut().zip(own) {
                    *dual -= push * own;
                }
                return End::Nothing;
            };
            self.look_along(var);
            if !(self.along[row].abs() > PIVOT / 2.0) {
                return End::Lost;
            }
            self.pivot(row, var, ratio);
        }
        End::Lost
    }

    /// From values that are feasible to the least.
    pub fn primal(&mut self) -> End {
        for _ in 0..self.enough() {
            let mut entering: Option<(f64, u32)> = None;
            let mut offer = |reduced: f64, var: u32| {
                if reduced < -EPS && entering.is_none_or(|(least, _)| reduced < least) {
                    entering = Some((reduced, var));
                }
            };
            for &column in &self.state.active {
                if !self.state.basic[column as usize] {
                    offer(self.state.reduced[column as usize], column);
                }
            }
            for (row, &dual) in self.state.dual.iter().enumerate() {
                offer(dual, SURPLUS | row as u32);
            }
            let Some((reduced, var)) = entering else {
                return End::Least;
            };
            self.look_along(var);
            let mut leaving: Option<(f64, usize)> = None;
            for (row, &along) in self.along.iter().enumerate() {
                if along > PIVOT {
                    let step = self.state.value[row].max(0.0) / along;
                    let better = leaving.is_none_or(|(least, best)| {
                        step < least - 1e-12 || (step <= least + 1e-12 && along > self.along[best])
                    });
                    if better {
                        leaving = Some((step, row));
                    }
                }
            }
            let Some((_, row)) = leaving else {
                return End::Lost;
            };
            self.look_across(row);
            let step = -reduced / self.along[row];
            self.pivot(row, var, step);
        }
        End::Lost
    }
}
