//! Linear programmes of the shape `least c·x, A·x >= b, x >= 0`: primal and dual simplex
//! with an explicit inverse. Answers are guesses of values and dual values only; `price`
//! and `branch` make bounds of the dual values in integers.

mod pivot;

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

    /// Steps that one pivot is worth.
    pub fn pivot_work(&self) -> u64 {
        let rows = self.rows() as u64;
        (rows * rows + 8 * self.state.active.len() as u64) / 64 + 1
    }
}
