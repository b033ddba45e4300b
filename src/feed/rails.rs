//! Drop along one rail of a segment for given cell currents: linear, exact, in one pass.
//!
//! ```text
//!      F0          F1
//!      │           │
//!  ────●──r──○──r──●──r──○──   ● cut marks with a feed, ○ cells in the middle of increments
//! ```
//! With feeder currents `J`, the sum `P[m]` of the first `m + 1` of them obeys
//! `−F[m]·P[m−1] + (F[m] + F[m+1] + R[m])·P[m] − F[m+1]·P[m+1] = W[m]`, where `R[m]` is the rail
//! between feeds `m` and `m + 1` and `W[m]` the sum over it of resistance times the cell current
//! drawn to its left. All coefficients of drops and feeder currents in the cell currents are at
//! least zero: more current anywhere never lowers a drop.

/// Most feeds of a segment.
pub(super) const MOST_FEEDS: usize = 3;

/// A rail of a segment: its links and where it is fed.
#[derive(Debug, Clone, Copy)]
pub(super) struct Rail<'a> {
    /// One increment, ohm.
    pub increment: f64,
    /// Added at each mark of the run, ohm; only marks strictly inside the segment count.
    pub joints: &'a [f64],
    /// First mark of the segment.
    pub from: usize,
    /// Feeds: mark and core resistance, by mark.
    pub feeds: [(usize, f64); MOST_FEEDS],
    pub count: usize,
}

/// Currents of a rail's feeders and its greatest link current.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct RailFlow {
    pub feeders: [f64; MOST_FEEDS],
    pub total: f64,
    pub most_link: f64,
    /// Heat of rail and feeder cores, watt.
    pub loss: f64,
}

impl Rail<'_> {
    /// Adds to `drops` what this rail and its feeders take at each cell for the cell currents
    /// `amps`, and reports the feeder currents.
    pub fn add_drops(&self, amps: &[f64], drops: &mut [f64]) -> RailFlow {
        let cells = amps.len();
        let to = self.from + cells;
        let half = 0.5 * self.increment;
        let inside = |mark: usize| {
            if mark > self.from && mark < to {
                half + 0.5 * self.joints[mark]
            } else {
                half
            }
        };
        let total: f64 = amps.iter().sum();
        // Resistance between neighbouring feeds, and its sum weighted with the current drawn before.
        let mut gap = [0.0; MOST_FEEDS];
        let mut weight = [0.0; MOST_FEEDS];
        let count = self.count;
        let cell_of = |feed: usize| self.feeds[feed].0 - self.from;
        let first = cell_of(0);
        let left_of_first: f64 = amps[..first].iter().sum();
        let mut before = left_of_first;
        for feed in 1..count {
            let gap_cells = cell_of(feed - 1)..cell_of(feed);
            for (k, own) in gap_cells.clone().zip(&amps[gap_cells]) {
                let (left, right) = (inside(self.from + k), inside(self.from + k + 1));
                let next = before + own;
                gap[feed - 1] += left + right;
                weight[feed - 1] += left * before + right * next;
                before = next;
            }
        }
        let sums = self.feeder_sums(total, &gap, &weight);
        let mut flow = RailFlow {
            total,
            ..RailFlow::default()
        };
        let mut last = 0.0;
        for (m, sum) in sums.iter().enumerate().take(count) {
            flow.feeders[m] = sum - last;
            last = *sum;
            flow.loss += flow.feeders[m] * flow.feeders[m] * self.feeds[m].1;
        }
        // Walk from the first feed to the right, then to the left.
        let at_first = self.feeds[0].1 * flow.feeders[0];
        let mut before = left_of_first;
        let mut drop = at_first;
        for (feed, sum) in sums.iter().enumerate().take(count) {
            let end = if feed + 1 < count {
                cell_of(feed + 1)
            } else {
                cells
            };
            for k in cell_of(feed)..end {
                let (left, right) = (inside(self.from + k), inside(self.from + k + 1));
                let current = sum - before;
                drop += left * current;
                drops[k] += drop;
                before += amps[k];
                let after = sum - before;
                drop += right * after;
                flow.most_link = flow.most_link.max(current.abs()).max(after.abs());
                flow.loss += left * current * current + right * after * after;
            }
        }
        let mut current = left_of_first;
        let mut drop = at_first;
        for k in (0..first).rev() {
            let (left, right) = (inside(self.from + k), inside(self.from + k + 1));
            flow.most_link = flow.most_link.max(current);
            drop += right * current;
            flow.loss += right * current * current;
            drops[k] += drop;
            current -= amps[k];
            drop += left * current;
            flow.loss += left * current * current;
        }
        flow
    }

    /// The sums `P` of the feeder currents: a tridiagonal system of at most two unknowns.
    fn feeder_sums(
        &self,
        total: f64,
        gap: &[f64; MOST_FEEDS],
        weight: &[f64; MOST_FEEDS],
    ) -> [f64; MOST_FEEDS] {
        let f = |m: usize| self.feeds[m].1;
        match self.count {
            2 => [
                (weight[0] + f(1) * total) / (f(0) + f(1) + gap[0]),
                total,
                total,
            ],
            3 => {
                let (a, b) = (f(0) + f(1) + gap[0], f(1) + f(2) + gap[1]);
                let (x, y) = (weight[0], weight[1] + f(2) * total);
                let det = a * b - f(1) * f(1);
                [(b * x + f(1) * y) / det, (a * y + f(1) * x) / det, total]
            }
            _ => [total; MOST_FEEDS],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rail(feeds: &[(usize, f64)]) -> Rail<'static> {
        const NONE: [f64; 8] = [0.0; 8];
        let mut all = [(0, 0.0); MOST_FEEDS];
        all[..feeds.len()].copy_from_slice(feeds);
        Rail {
            increment: 1.0,
            joints: &NONE,
            from: 0,
            feeds: all,
            count: feeds.len(),
        }
    }

    #[test]
    fn one_feed_at_the_start() {
        // 3 cells of 1 A, 1 ohm an increment, 2 ohm feeder: 6 + 1.5, + 2, + 1.
        let mut drops = [0.0; 3];
        let flow = rail(&[(0, 2.0)]).add_drops(&[1.0; 3], &mut drops);
        assert_eq!(drops, [7.5, 9.5, 10.5]);
        assert_eq!(flow.feeders[0], 3.0);
        assert_eq!(flow.most_link, 3.0);
        // Heat: 9·2 + 9·½ + 4·1 + 1·1.
        assert_eq!(flow.loss, 27.5);
    }

    #[test]
    fn a_feed_inside_and_mirror() {
        let mut drops = [0.0; 4];
        rail(&[(1, 0.0)]).add_drops(&[1.0; 4], &mut drops);
        assert_eq!(drops, [0.5, 1.5, 3.5, 4.5]);
        let mut mirrored = [0.0; 4];
        rail(&[(3, 0.0)]).add_drops(&[1.0; 4], &mut mirrored);
        mirrored.reverse();
        assert_eq!(drops, mirrored);
    }

    #[test]
    fn both_ends_share_alike() {
        let mut drops = [0.0; 4];
        let flow = rail(&[(0, 0.25), (4, 0.25)]).add_drops(&[1.0; 4], &mut drops);
        assert_eq!(flow.feeders, [2.0, 2.0, 0.0]);
        assert_eq!(drops, [1.5, 2.5, 2.5, 1.5]);
        let flow = rail(&[(0, 0.25), (2, 0.1), (4, 0.25)]).add_drops(&[1.0; 4], &mut [0.0; 4]);
        assert!((flow.feeders[0] - flow.feeders[2]).abs() < 1e-15);
        assert!((flow.feeders.iter().sum::<f64>() - 4.0).abs() < 1e-15);
    }
}
