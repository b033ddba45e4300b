//! Linear programmes of the shape `least c·x, A·x >= b, x >= 0`: primal and dual simplex
//! with an explicit inverse. Answers are guesses of values and dual values only; `price`
//! and `branch` make bounds of the dual values in integers.

/// Below this a reduced cost, a value or a step counts as zero.
const EPS: f64 = 1e-9;
/// Below this nothing is pivoted on.
const PIVOT: f64 = 1e-7;
/// Names of surplus variables have this bit; the rest is their row.
const SURPLUS: u32 = 1 << 31;

/// How a solve ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// At the least.
    Least,
    /// The objective has passed the limit given.
    Passed,
    /// No values keep all rows; the dual values have been pushed far along the proof.
    Nothing,
    /// Too many pivots, or none that is safe.
    Lost,
}

/// Where the simplex stands.
#[derive(Debug, Clone)]
pub struct State {
    /// Inverse of the basis, row after row.
    inverse: Vec<f64>,
    /// Basic variable of each row.
    basis: Vec<u32>,
    /// Its value.
    value: Vec<f64>,
    /// Dual value of each row.
    pub dual: Vec<f64>,
    /// Reduced cost of each column.
    reduced: Vec<f64>,
    basic: Vec<bool>,
    /// Columns that may enter.
    pub active: Vec<u32>,
}

/// A linear programme and where its solve stands.
#[derive(Debug)]
pub struct Lp {
    /// Entries of the columns in the first rows: (row, coefficient), one after the other.
    entries: Vec<(u32, f64)>,
    ends: Vec<usize>,
    cost: Vec<f64>,
    /// Rows added later, by column.
    later: Vec<Vec<f64>>,
    first: usize,
    right: Vec<f64>,
    /// Where the solve stands.
    pub state: State,
    along: Vec<f64>,
    across: Vec<f64>,
    column: Vec<(usize, f64)>,
    /// Pivots made so far.
    pub pivots: u64,
}

impl Lp {
    /// Rows without columns yet: every surplus basic.
    pub fn new(right: Vec<f64>) -> Self {
        let n = right.len();
        let mut inverse = vec![0.0; n * n];
        for row in 0..n {
            inverse[row * n + row] = -1.0;
        }
        Self {
            entries: Vec::new(),
            ends: Vec::new(),
            cost: Vec::new(),
            later: Vec::new(),
            first: n,
            state: State {
                inverse,
                basis: (0..n as u32).map(|row| SURPLUS | row).collect(),
                value: right.iter().map(|b| -b).collect(),
                dual: vec![0.0; n],
                reduced: Vec::new(),
                basic: Vec::new(),
                active: Vec::new(),
            },
            right,
            along: Vec::new(),
            across: Vec::new(),
            column: Vec::new(),
            pivots: 0,
        }
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.right.len()
    }

    /// Pivots that are enough unless something is wrong.
    pub fn enough(&self) -> usize {
        200 + 20 * self.rows()
    }

    /// Number of columns.
    pub fn columns(&self) -> usize {
        self.cost.len()
    }

    /// Adds a column with entries in the first rows; its index.
    pub fn column(&mut self, cost: f64, entries: impl Iterator<Item = (usize, f64)>) -> usize {
        let from = self.entries.len();
        self.entries.extend(entries.map(|(row, a)| (row as u32, a)));
        self.ends.push(self.entries.len());
        let paid: f64 = self.entries[from..]
            .iter()
            .map(|&(row, a)| self.state.dual[row as usize] * a)
            .sum();
        let index = self.cost.len();
        self.cost.push(cost);
        self.state.reduced.push(cost - paid);
        self.state.basic.push(false);
        self.state.active.push(index as u32);
        index
    }

    /// Reduced cost of a column.
    pub fn reduced(&self, column: usize) -> f64 {
        self.state.reduced[column]
    }

    /// Adds a row over all columns; the solve stands beside it until [`Lp::dual`].
    pub fn row(&mut self, coefficients: Vec<f64>, right: f64) {
        let n = self.rows();
        let mut last = vec![0.0; n + 1];
        let mut value = -right;
        for (at, &var) in self.state.basis.iter().enumerate() {
            if var & SURPLUS == 0 {
                let a = coefficients[var as usize];
                value += a * self.state.value[at];
                if a != 0.0 {
                    let inverse = &self.state.inverse[at * n..(at + 1) * n];
                    for (last, x) in last.iter_mut().zip(inverse) {
                        *last += a * x;
                    }
                }
            }
        }
        last[n] = -1.0;
        let mut inverse = Vec::with_capacity((n + 1) * (n + 1));
        for row in self.state.inverse.chunks_exact(n.max(1)).take(n) {
            inverse.extend_from_slice(row);
            inverse.push(0.0);
        }
        inverse.extend_from_slice(&last);
        self.state.inverse = inverse;
        self.state.basis.push(SURPLUS | n as u32);
        self.state.value.push(value);
        self.state.dual.push(0.0);
        self.right.push(right);
        self.later.push(coefficients);
    }

    /// Takes the last rows away and goes back to where the solve stood without them.
    pub fn back(&mut self, rows: usize, state: State) {
        self.right.truncate(rows);
        self.later.truncate(rows.saturating_sub(self.first));
        self.state = state;
    }

    /// Objective of the present dual values.
    pub fn objective(&self) -> f64 {
        let dual = self.state.dual.iter();
        dual.zip(&self.right).map(|(y, b)| y * b).sum()
    }

    /// Columns in use and how far.
    pub fn used(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        let basis = self.state.basis.iter().zip(&self.state.value);
        basis
            .filter(|(var, x)| **var & SURPLUS == 0 && **x > EPS)
            .map(|(var, x)| (*var as usize, *x))
    }

    /// Whether a row holds with something to spare.
    pub fn is_loose(&self, row: usize) -> bool {
        self.state.basis.contains(&(SURPLUS | row as u32))
    }

    /// Rows of the inverse whose basic variable is furthest from whole, furthest first:
    /// (distance, row of the inverse).
    pub fn broken(&self) -> Vec<(f64, &[f64])> {
        let n = self.rows();
        let mut rows: Vec<(f64, usize)> = (self.state.value.iter().enumerate())
            .map(|(row, x)| ((x - libm::round(*x)).abs(), row))
            .filter(|(distance, _)| *distance > 1e-4)
            .collect();
        rows.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        rows.into_iter()
            .map(|(d, row)| (d, &self.state.inverse[row * n..(row + 1) * n]))
            .collect()
    }

    /// Closes active columns that are not basic.
    pub fn close(&mut self, closed: impl Fn(usize) -> bool) {
        let State { active, basic, .. } = &mut self.state;
        active.retain(|&at| basic[at as usize] || !closed(at as usize));
    }

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

    /// Steps that one pivot is worth.
    pub fn pivot_work(&self) -> u64 {
        let rows = self.rows() as u64;
        (rows * rows + 8 * self.state.active.len() as u64) / 64 + 1
    }
}
