//! Lengths by row and mark that only fall, with the most of them by block of marks.

use std::ops::Range;

/// Marks of a block.
pub(crate) const BLOCK: usize = 8;

/// One length for each row and mark.
#[derive(Debug, Default)]
pub(crate) struct BranchLengths {
    each: usize,
    all: Vec<usize>,
    /// No length of a block is more.
    most: Vec<usize>,
}

impl BranchLengths {
    /// Rows of `each` marks.
    pub fn new(all: Vec<usize>, each: usize) -> Self {
        let mut most = Vec::with_capacity(all.len() / BLOCK + 1);
        for row in all.chunks(each.max(1)) {
            most.extend(row.chunks(BLOCK).map(most_of));
        }
        Self { each, all, most }
    }

    /// Blocks over a range of marks, each with its part of the range.
    pub fn blocks(marks: Range<usize>) -> impl Iterator<Item = (usize, Range<usize>)> {
        let blocks = marks.start / BLOCK..marks.end.div_ceil(BLOCK);
        let own = move |block: usize| {
            let first = block * BLOCK;
            (block, marks.start.max(first)..marks.end.min(first + BLOCK))
        };
        blocks.map(own).filter(|(_, own)| !own.is_empty())
    }

    #[inline]
    pub fn at(&self, row: usize, mark: usize) -> usize {
        self.all[row * self.each + mark]
    }

    /// Lowers a length.
    pub fn lower(&mut self, row: usize, mark: usize, to: usize) {
        let length = &mut self.all[row * self.each + mark];
        *length = to.min(*length);
    }

    /// What no length of a block exceeds.
    #[inline]
    pub fn most_in(&self, row: usize, block: usize) -> usize {
        self.most[row * self.each.div_ceil(BLOCK) + block]
    }

    /// Makes good what [`BranchLengths::most_in`] says of a block in which lengths were lowered.
    pub fn refresh(&mut self, row: usize, block: usize) {
        let start = row * self.each + block * BLOCK;
        let end = (row + 1) * self.each;
        let own = &self.all[start..end.min(start + BLOCK)];
        self.most[row * self.each.div_ceil(BLOCK) + block] = most_of(own);
    }
}

fn most_of(block: &[usize]) -> usize {
    block.iter().copied().max().unwrap_or(0)
}
