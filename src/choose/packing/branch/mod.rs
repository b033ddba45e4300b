//! Branch and cut over a pool of columns: the linear programme, rows that cut its fractional
//! solution off, and a division in two where none is found.
//!
//! A part is left out only when its dual values, rounded to whole numbers and checked
//! against every column of the pool in whole numbers, prove that it holds nothing better.

mod cut;
mod cutting;
mod divide;

use self::cut::Row;
use self::divide::halves;
use crate::choose::packing::pool::{Column, Of, columns, right};
use crate::choose::packing::simplex::{End, Lp, State};
use crate::choose::packing::sums::Sums;
use crate::choose::packing::{Pattern, Problem, Work};

/// Rounds of cuts at the root, and below.
const ROUNDS: (usize, usize) = (12, 2);
/// A value this near to a whole number counts as whole.
const WHOLE: f64 = 1e-6;

/// What the search over the pool found.
#[derive(Debug)]
pub struct Found {
    /// The best answer that costs no more than asked.
    pub best: Option<(u64, Vec<Pattern>)>,
    /// No answer out of the pool costs less.
    pub lower: u64,
    /// Whether the pool holds nothing better than `best` (nothing at all without one).
    pub complete: bool,
    /// Whether the caller cancelled.
    pub cancelled: bool,
}

/// A part of the search with what is still to be done in it.
struct Frame {
    rows: usize,
    state: State,
    bound: i128,
    /// The other half.
    then: Option<Row>,
}

/// What became of a part.
enum Part {
    Closed,
    /// Open at the division by these columns: as many as `0`, or one more.
    Open(Vec<bool>, i64),
    Lost,
}

/// The search.
pub struct Branch<'a, 'p, 'f> {
    problem: &'p Problem<'f>,
    columns: Vec<Column>,
    right: Vec<i64>,
    base: usize,
    later: Vec<Row>,
    lp: Lp,
    unit: f64,
    scale: i64,
    sums: &'a Sums,
    /// What an answer may cost at most.
    target: u64,
    best: Option<(u64, Vec<Pattern>)>,
    bound: i128,
    reduced: Vec<i128>,
    /// Whether nothing can cost less than `best`.
    is_done: bool,
}

impl<'a, 'p, 'f> Branch<'a, 'p, 'f> {
    /// Over `patterns`, for answers that cost at most `target`.
    pub fn new(
        problem: &'p Problem<'f>,
        patterns: Vec<Pattern>,
        scale: i64,
        sums: &'a Sums,
        target: u64,
    ) -> Self {
        let columns = columns(problem, patterns);
        let right = right(problem);
        let unit = columns.iter().map(|c| c.cost).max().unwrap_or(1).max(1) as f64;
        let lp = programme(&columns, &right, unit);
        Self {
            problem,
            reduced: vec![0; columns.len()],
            columns,
            base: right.len(),
            right,
            later: Vec::new(),
            lp,
            unit,
            scale,
            sums,
            target,
            best: None,
            bound: 0,
            is_done: false,
        }
    }

    /// Leaves closed columns and loose cuts away, and starts again with what is left.
    fn tidy(&mut self, work: &mut Work) {
        let loose: Vec<bool> = (0..self.later.len())
            .map(|at| self.lp.is_loose(self.base + at))
            .collect();
        let keep = &self.lp.state.active;
        if keep.len() == self.columns.len() && !loose.contains(&true) {
            return;
        }
        let rows = std::mem::take(&mut self.later).into_iter().zip(loose);
        let rows: Vec<Row> = rows
            .filter(|(_, loose)| !loose)
            .map(|(row, _)| Row {
                coefficients: keep
                    .iter()
                    .map(|&at| row.coefficients[at as usize])
                    .collect(),
                right: row.right,
            })
            .collect();
        self.columns = keep
            .iter()
            .map(|&at| self.columns[at as usize].clone())
            .collect();
        self.reduced = vec![0; self.columns.len()];
        self.right.truncate(self.base);
        self.lp = programme(&self.columns, &self.right, self.unit);
        for row in rows {
            self.add(row);
        }
        self.solve(self.lp.enough(), work);
    }

    /// Searches the pool.
    pub fn run(mut self, work: &mut Work, tick: &mut dyn FnMut(&Work) -> bool) -> Found {
        let mut frames: Vec<Frame> = Vec::new();
        let mut complete = true;
        let mut cancelled = false;
        let mut low: Option<i128> = None;
        let mut next = Some(None);
        loop {
            // The next part: the one just opened, or the other half of an earlier one.
            let row = match next.take() {
                Some(row) => row,
                None => match frames.pop() {
                    None => break,
                    Some(Frame {
                        rows,
                        state,
                        bound,
                        then,
                    }) => {
                        self.back(rows, state);
                        if bound > self.limit() {
                            continue;
                        }
                        self.bound = bound;
                        then
                    }
                },
            };
            if let Some(row) = row {
                self.add(row);
            }
            let part = self.part(frames.len(), work);
            if cancelled || !tick(work) {
                cancelled = true;
            }
            if self.is_done {
                break;
            }
            match part {
                Part::Closed => {}
                Part::Open(set, floor) if work.left > 0 && !cancelled => {
                    let (few, more) = halves(&set, floor);
                    frames.push(Frame {
                        rows: self.right.len(),
                        state: self.lp.state.clone(),
                        bound: self.bound,
                        then: Some(few),
                    });
                    next = Some(Some(more));
                }
                Part::Open(..) | Part::Lost => {
                    complete = false;
                    low = Some(low.map_or(self.bound, |l| l.min(self.bound)));
                    if work.left == 0 || cancelled {
                        for frame in frames.drain(..) {
                            low = low.map(|l| l.min(frame.bound));
                        }
                    }
                }
            }
        }
        let end = self
            .best
            .as_ref()
            .map_or(self.target + 1, |(cost, _)| *cost);
        let whole = |bound: i128| -> u64 {
            let scale = i128::from(self.scale);
            u64::try_from(bound.max(0).saturating_add(scale - 1) / scale).unwrap_or(u64::MAX)
        };
        complete |= self.is_done;
        let low = low.filter(|_| !self.is_done);
        let lower = low.map_or(end, |low| self.sums.from(whole(low)).min(end));
        Found {
            lower,
            complete,
            cancelled,
            best: self.best,
        }
    }

    /// Bounds above this leave nothing that is asked for.
    fn limit(&self) -> i128 {
        i128::from(self.target) * i128::from(self.scale)
    }

    fn add(&mut self, row: Row) {
        let coefficients = row.coefficients.iter().map(|&a| a as f64).collect();
        self.lp.row(coefficients, row.right as f64);
        self.right.push(row.right);
        self.later.push(row);
    }

    fn back(&mut self, rows: usize, state: State) {
        self.right.truncate(rows);
        self.later.truncate(rows - self.base);
        self.lp.back(rows, state);
    }

    /// Solves a part: closed, or how to divide it.
    fn part(&mut self, depth: usize, work: &mut Work) -> Part {
        let rounds = if depth == 0 { ROUNDS.0 } else { ROUNDS.1 };
        let mut before = f64::NEG_INFINITY;
        for round in 0..=rounds {
            let end = self.solve(self.lp.enough(), work);
            if end == End::Lost {
                return Part::Lost;
            }
            if self.prove() {
                return Part::Closed;
            }
            if end != End::Least {
                // Beyond the limit by the floating numbers, not by the whole ones.
                return Part::Lost;
            }
            if self
                .lp
                .used()
                .all(|(_, x)| (x - libm::round(x)).abs() < WHOLE)
            {
                return self.take();
            }
            let now = self.lp.objective();
            let better = now > before + 1e-4 * now.abs().max(1e-9) || round < 2;
            before = now;
            if round == rounds || !better || work.left == 0 || !self.cut() {
                break;
            }
        }
        if depth == 0 {
            self.tidy(work);
        }
        match self.choose(work) {
            Some((set, floor)) => Part::Open(set, floor),
            None => Part::Lost,
        }
    }

    fn solve(&mut self, most: usize, work: &mut Work) -> End {
        let before = self.lp.pivots;
        let limit = (self.target as f64 + 1e-6) / self.unit;
        let end = self.lp.dual(limit * (1.0 + 1e-9), most);
        work.spend((self.lp.pivots - before + 1) * self.lp.pivot_work());
        end
    }

    /// Computes the bound of the dual values in whole numbers; true when it leaves nothing. Columns that
    /// alone cost too much are closed.
    fn prove(&mut self) -> bool {
        let to_whole = |x: f64| {
            let y = x.max(0.0) * self.unit * self.scale as f64;
            if y < 4e18 { y as i64 } else { 0 }
        };
        let dual: Vec<i64> = self.lp.state.dual.iter().map(|&y| to_whole(y)).collect();
        let mut bound: i128 = dual
            .iter()
            .zip(&self.right)
            .map(|(&y, &b)| i128::from(y) * i128::from(b))
            .sum();
        for &at in &self.lp.state.active {
            let at = at as usize;
            let column = &self.columns[at];
            let mut left = i128::from(column.cost) * i128::from(self.scale);
            for &(row, a) in &column.entries {
                left -= i128::from(dual[row]) * i128::from(a);
            }
            self.reduced[at] = left;
        }
        for (row, &y) in self.later.iter().zip(&dual[self.base..]) {
            if y != 0 {
                for &at in &self.lp.state.active {
                    let a = row.coefficients[at as usize];
                    self.reduced[at as usize] -= i128::from(y) * i128::from(a);
                }
            }
        }
        for &at in &self.lp.state.active {
            let at = at as usize;
            let (left, column) = (self.reduced[at], &self.columns[at]);
            if left < 0 {
                bound += left * i128::from(column.most);
            }
        }
        self.bound = self.bound.max(bound);
        let slack = self.limit() - bound;
        if slack < 0 {
            return true;
        }
        let reduced = &self.reduced;
        self.lp.close(|at| reduced[at] > slack);
        false
    }

    /// A whole solution as an answer.
    fn take(&mut self) -> Part {
        let mut patterns = Vec::new();
        for (at, x) in self.lp.used() {
            if let Of::Pattern(pattern) = &self.columns[at].of {
                for _ in 0..libm::round(x) as u64 {
                    patterns.push(pattern.clone());
                }
            }
        }
        patterns.sort();
        match self.problem.answer(patterns) {
            Some((cost, patterns)) if cost <= self.target => {
                self.best = Some((cost, patterns));
                match self.sums.below(cost) {
                    Some(below) => self.target = below,
                    None => {
                        self.is_done = true;
                        return Part::Closed;
                    }
                }
                // What the dual values prove against the new limit.
                if self.prove() {
                    Part::Closed
                } else {
                    Part::Lost
                }
            }
            _ => Part::Lost,
        }
    }
}

/// The linear programme without cuts.
fn programme(columns: &[Column], right: &[i64], unit: f64) -> Lp {
    let mut lp = Lp::new(right.iter().map(|&b| b as f64).collect());
    for column in columns {
        let entries = column.entries.iter().map(|&(row, a)| (row, a as f64));
        lp.column(column.cost as f64 / unit, entries);
    }
    lp
}
