//! The least of any range of a row of costs.

use super::feeders::NO_WAY;
use std::ops::Range;

/// Least costs over 1, 2, 4, … places from each on; [`NO_WAY`] where there is none.
#[derive(Debug, Default)]
pub(crate) struct RangeMinima(Vec<Vec<i64>>);

impl RangeMinima {
    /// As many places, none stated yet, for ranges of at most `longest`.
    pub fn new(places: usize, longest: usize) -> Self {
        let levels = longest.checked_ilog2().map_or(0, |log| log as usize + 1);
        Self(vec![vec![NO_WAY; places]; levels])
    }

    /// States the cost of a place; those after it are stated before.
    pub fn state(&mut self, place: usize, cost: i64) {
        let mut least = cost;
        for (level, row) in self.0.iter_mut().enumerate() {
            row[place] = least;
            let beyond = row.get(place + (1 << level));
            least = least.min(beyond.copied().unwrap_or(NO_WAY));
        }
    }

    /// Least cost over some places; [`NO_WAY`] where there is none.
    #[inline]
    pub fn least(&self, places: Range<usize>) -> i64 {
        if places.start >= places.end {
            return NO_WAY;
        }
        let level = (places.end - places.start).ilog2() as usize;
        let row = &self.0[level];
        row[places.start].min(row[places.end - (1 << level)])
    }

    /// Some places from the first on whose cost is at most `left`.
    pub fn cheap(&self, places: Range<usize>, left: i64) -> Range<usize> {
        let mut first = places.start;
        for (level, row) in self.0.iter().enumerate().rev() {
            let beyond = first + (1 << level);
            if beyond <= places.end && row[first] > left {
                first = beyond;
            }
        }
        first..places.end
    }
}
