//! Feeders by place and wire along the run: what they cost, and how long a branch they may carry.

use super::branch_lengths::BLOCK;
use super::ranges::RangeMinima;
use crate::choose::feeding::bound::branch_needs::Side;
use crate::choose::feeding::bound::conditions::Conditions;
use crate::choose::feeding::problem::checked::{CheckedRun, FeedOption, LOW};
use crate::choose::feeding::problem::spec::Pattern;

/// More than any chain costs.
pub(crate) const NO_WAY: i64 = i64::MAX / 4;

/// A row is a place and a wire; in a row the marks lie one after another.
#[derive(Debug)]
pub(crate) struct FeederTable {
    wires: usize,
    each: usize,
    /// For segments that begin at a mark or contain it, and for those that end there.
    inside: FeederLane,
    at_end: FeederLane,
    /// Least cost at a mark or after it, in either lane.
    least: Vec<i64>,
    /// The same costs, for ranges of marks.
    costs: RangeMinima,
    /// Longest branch to the right of a feed at a mark or after it.
    right_after: Vec<usize>,
    /// By row and block of marks: longest segment on one feed inside at a mark of the block or after it.
    both_after: Vec<usize>,
}

/// One value for each row and mark.
#[derive(Debug)]
struct FeederLane {
    /// Which option of the mark.
    option: Vec<Option<u32>>,
    cost: Vec<i64>,
    /// Longest branch to the left, and the same of a feed at a mark or after it.
    left: Vec<usize>,
    left_after: Vec<usize>,
}

impl FeederTable {
    pub fn new(m: &CheckedRun, bounds: &Conditions) -> Self {
        let (each, wires) = (m.n + 1, m.wire_names.len());
        let lane = |lists: &[Vec<FeedOption>]| {
            let size = each * wires * m.sources.len();
            let mut lane = FeederLane {
                option: vec![None; size],
                cost: vec![NO_WAY; size],
                left: vec![0; size],
                left_after: Vec::new(),
            };
            for (mark, list) in lists.iter().enumerate() {
                for (k, o) in list.iter().enumerate() {
                    let at = (o.place * wires + o.wire) * each + mark;
                    lane.option[at] = Some(k as u32);
                    lane.cost[at] = o.cost;
                    lane.left[at] = longest_left(m, bounds, mark, o);
                }
            }
            lane.left_after = suffixes(&lane.left, each, usize::max);
            lane
        };
        let (inside, at_end) = (lane(&m.options), lane(&m.end_options));
        let either = inside.cost.iter().zip(&at_end.cost);
        let least: Vec<i64> = either.map(|(a, b)| *a.min(b)).collect();
        let mut costs = RangeMinima::new(least.len(), each);
        for (at, cost) in least.iter().enumerate().rev() {
            costs.state(at, *cost);
        }
        let mut all = Self {
            wires,
            each,
            costs,
            least: suffixes(&least, each, i64::min),
            right_after: Vec::new(),
            both_after: Vec::new(),
            inside,
            at_end,
        };
        let right = all.longest_right(m, bounds);
        all.both_after = all.longest_both(&right);
        all.right_after = suffixes(&right, each, usize::max);
        all
    }

    /// Longest branch to the right by row and mark.
    pub fn longest_right(&self, m: &CheckedRun, bounds: &Conditions) -> Vec<usize> {
        let mut right = vec![0; self.inside.cost.len()];
        for (mark, (list, reaches)) in m.options.iter().zip(&bounds.reach_right).enumerate() {
            for (o, reach) in list.iter().zip(reaches) {
                right[self.at(self.row(o.place, o.wire), mark)] = *reach;
            }
        }
        right
    }

    fn longest_both(&self, right: &[usize]) -> Vec<usize> {
        let blocks = self.each.div_ceil(BLOCK);
        let mut all = Vec::with_capacity(blocks * self.rows().len());
        for row in self.rows() {
            for block in 0..blocks {
                let marks = block * BLOCK..self.each.min(block * BLOCK + BLOCK);
                let each = |f: usize| self.left(row, f) + right[self.at(row, f)];
                all.push(marks.map(each).max().unwrap_or(0));
            }
        }
        suffixes(&all, blocks, usize::max)
    }

    pub fn rows(&self) -> std::ops::Range<usize> {
        0..self.least.len() / self.each
    }

    pub fn row(&self, place: usize, wire: usize) -> usize {
        place * self.wires + wire
    }

    pub fn place(&self, row: usize) -> usize {
        row / self.wires
    }

    pub fn wire(&self, row: usize) -> usize {
        row % self.wires
    }

    /// Where a row and a mark lie in a table of all.
    #[inline]
    pub fn at(&self, row: usize, mark: usize) -> usize {
        row * self.each + mark
    }

    /// Which option of a mark is of a row.
    pub fn option(&self, row: usize, mark: usize) -> Option<usize> {
        self.inside.option[self.at(row, mark)].map(|k| k as usize)
    }

    /// The same for segments that end at the mark.
    pub fn option_at_end(&self, row: usize, mark: usize) -> Option<usize> {
        self.at_end.option[self.at(row, mark)].map(|k| k as usize)
    }

    /// What a feeder costs; [`NO_WAY`] where there is none.
    #[inline]
    pub fn cost(&self, row: usize, mark: usize) -> i64 {
        self.inside.cost[self.at(row, mark)]
    }

    /// The same for segments that end at the mark.
    #[inline]
    pub fn cost_at_end(&self, row: usize, mark: usize) -> i64 {
        self.at_end.cost[self.at(row, mark)]
    }

    /// Least cost of a feeder at or after a mark.
    #[inline]
    pub fn least(&self, row: usize, mark: usize) -> i64 {
        self.least[self.at(row, mark)]
    }

    /// Least cost of a feeder at any mark from the first to the last.
    #[inline]
    pub fn least_in(&self, row: usize, first: usize, last: usize) -> i64 {
        self.costs
            .least(self.at(row, first)..self.at(row, last) + 1)
    }

    /// Longest branch to the left of a feed inside a segment.
    #[inline]
    pub fn left(&self, row: usize, mark: usize) -> usize {
        self.inside.left[self.at(row, mark)]
    }

    /// The same of any feed at or after a mark.
    pub fn left_after(&self, row: usize, mark: usize) -> usize {
        self.inside.left_after[self.at(row, mark)]
    }

    /// Longest branch to the left of a feed where a segment ends, at or after a mark.
    pub fn left_after_at_end(&self, row: usize, mark: usize) -> usize {
        self.at_end.left_after[self.at(row, mark)]
    }

    /// Longest segment on one feed inside at or after a mark.
    pub fn both_after(&self, row: usize, mark: usize) -> usize {
        self.both_after[row * self.each.div_ceil(BLOCK) + mark / BLOCK]
    }

    /// Longest branch to the right of any feed at or after a mark.
    pub fn right_after(&self, row: usize, mark: usize) -> usize {
        self.right_after[self.at(row, mark)]
    }
}

/// Longest branch to the left that a feeder at a mark may carry, whatever hangs on its right.
fn longest_left(m: &CheckedRun, bounds: &Conditions, mark: usize, o: &FeedOption) -> usize {
    let ends = m.end_options[mark].iter().zip(&bounds.reach_left[mark]);
    let known =
        |(e, _): &(&FeedOption, &usize)| e.place == o.place && e.wire == o.wire && e.core == o.core;
    if let Some((_, reach)) = ends.into_iter().find(known) {
        return *reach;
    }
    let most = mark.min(m.most_cells(Pattern::Start, &[o.wire]));
    let source = &m.sources[o.place];
    bounds
        .branches
        .reach(Side::Left, mark, o.core[LOW], source, most, most)
}

/// In each row, all from a mark on folded to one.
fn suffixes<T: Copy>(rows: &[T], each: usize, fold: impl Fn(T, T) -> T) -> Vec<T> {
    let mut all = rows.to_vec();
    for row in all.chunks_mut(each) {
        for mark in (0..each - 1).rev() {
            row[mark] = fold(row[mark], row[mark + 1]);
        }
    }
    all
}
