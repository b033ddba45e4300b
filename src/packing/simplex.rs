//! The master problem over the patterns known so far: revised primal simplex with
//! an explicit inverse. Its answer is a guess of dual values only; `price` makes a
//! bound of them in integers.

/// Below this a reduced cost or a pivot counts as zero.
const EPS: f64 = 1e-9;

/// A column: cost and (row, coefficient).
#[derive(Debug, Clone)]
pub struct Column {
    /// Cost, scaled to about one.
    pub cost: f64,
    /// Row and coefficient.
    pub entries: Vec<(usize, f64)>,
}

/// Rows `0..covers` are `>=`, the others `<=`.
pub struct Master {
    covers: usize,
    rows: usize,
    inverse: Vec<f64>,
    /// Value and cost of the basic column of each row.
    basic: Vec<f64>,
    basic_cost: Vec<f64>,
    /// Id of the basic column of each row, for reading the solution.
    basic_id: Vec<usize>,
    /// Dual values.
    pub dual: Vec<f64>,
}

/// Id of a column that is no pattern.
pub const NO_PATTERN: usize = usize::MAX;

impl Master {
    /// Starts from one column per row that has an entry in that row only:
    /// (coefficient, cost, id).
    pub fn new(demand: &[f64], limits: &[f64], start: &[(f64, f64, usize)]) -> Self {
        let covers = demand.len();
        let rows = covers + limits.len();
        let mut inverse = vec![0.0; rows * rows];
        let mut basic = vec![0.0; rows];
        let mut basic_cost = vec![0.0; rows];
        let mut basic_id = vec![NO_PATTERN; rows];
        let mut dual = vec![0.0; rows];
        for (row, right) in demand.iter().chain(limits).enumerate() {
            let (coefficient, cost, id) = match start.get(row) {
                Some(&column) if row < covers => column,
                _ => (1.0, 0.0, NO_PATTERN),
            };
            inverse[row * rows + row] = 1.0 / coefficient;
            basic[row] = right / coefficient;
            basic_cost[row] = cost;
            basic_id[row] = id;
            dual[row] = cost / coefficient;
        }
        Self {
            covers,
            rows,
            inverse,
            basic,
            basic_cost,
            basic_id,
            dual,
        }
    }

    /// Cost of the present solution.
    pub fn cost(&self) -> f64 {
        self.basic
            .iter()
            .zip(&self.basic_cost)
            .map(|(x, c)| x * c)
            .sum()
    }

    /// What a column would save per unit.
    pub fn gain(&self, column: &Column) -> f64 {
        let paid: f64 = column
            .entries
            .iter()
            .map(|&(row, a)| self.dual[row] * a)
            .sum();
        paid - column.cost
    }

    /// Columns of the basis and how far each is used.
    pub fn used(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.basic_id
            .iter()
            .zip(&self.basic)
            .filter(|(id, x)| **id != NO_PATTERN && **x > EPS)
            .map(|(id, x)| (*id, *x))
    }

    /// Brings slack columns in while one gains; true if any did.
    pub fn bring_slacks(&mut self) -> bool {
        let mut any = false;
        for _ in 0..self.rows {
            // A surplus gains when its row's dual is negative, a slack when it is positive.
            let worst = (0..self.rows)
                .map(|row| {
                    let gain = if row < self.covers {
                        -self.dual[row]
                    } else {
                        self.dual[row]
                    };
                    (row, gain)
                })
                .filter(|(_, gain)| *gain > EPS)
                .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)));
            let Some((row, _)) = worst else { break };
            let sign = if row < self.covers { -1.0 } else { 1.0 };
            let column = Column {
                cost: 0.0,
                entries: vec![(row, sign)],
            };
            if !self.bring(&column, NO_PATTERN) {
                break;
            }
            any = true;
        }
        any
    }

    /// Brings a column into the basis; false when it cannot (no pivot).
    pub fn bring(&mut self, column: &Column, id: usize) -> bool {
        let n = self.rows;
        let gain = self.gain(column);
        let mut along = vec![0.0; n];
        for (row, along) in along.iter_mut().enumerate() {
            let inverse = &self.inverse[row * n..(row + 1) * n];
            *along = column.entries.iter().map(|&(at, a)| inverse[at] * a).sum();
        }
        let mut leaving: Option<(usize, f64)> = None;
        for row in 0..n {
            if along[row] > 1e-7 {
                let step = self.basic[row].max(0.0) / along[row];
                let better = match leaving {
                    None => true,
                    Some((best, least)) => {
                        step < least - 1e-12 || (step <= least + 1e-12 && along[row] > along[best])
                    }
                };
                if better {
                    leaving = Some((row, step));
                }
            }
        }
        let Some((pivot_row, step)) = leaving else {
            return false;
        };
        let pivot = along[pivot_row];
        for (row, x) in self.basic.iter_mut().enumerate() {
            *x -= step * along[row];
        }
        self.basic[pivot_row] = step;
        let (before, rest) = self.inverse.split_at_mut(pivot_row * n);
        let (own, after) = rest.split_at_mut(n);
        for x in own.iter_mut() {
            *x /= pivot;
        }
        let rows = before.chunks_exact_mut(n).enumerate().chain(
            after
                .chunks_exact_mut(n)
                .enumerate()
                .map(|(k, r)| (k + pivot_row + 1, r)),
        );
        for (row, inverse) in rows {
            let factor = along[row];
            if factor != 0.0 {
                for (x, own) in inverse.iter_mut().zip(own.iter()) {
                    *x -= factor * own;
                }
            }
        }
        // The entering column's gain becomes zero.
        for (dual, own) in self.dual.iter_mut().zip(own.iter()) {
            *dual -= gain * own;
        }
        self.basic_cost[pivot_row] = column.cost;
        self.basic_id[pivot_row] = id;
        true
    }

    /// Steps that one pivot is worth.
    pub fn pivot_work(&self) -> u64 {
        (self.rows as u64 * self.rows as u64) / 16 + 1
    }
}
