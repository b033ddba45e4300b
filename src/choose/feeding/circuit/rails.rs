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
pub(crate) const MOST_FEEDS: usize = 3;

/// A rail of a segment: its links and where it is fed.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Rail<'a> {
    /// One increment, ohm.
    pub increment: f64,
    /// Added at each mark of the run, ohm; only marks strictly inside the segment count.
    pub joints: &'a [f64],
    /// Joints of reels, ohm: at each mark from the start of the segment up to `part`, and beyond at each of the run.
    pub reels: [&'a [f64]; 2],
    /// Mark of the run at which the tape is parted first.
    pub part: usize,
    /// First mark of the segment.
    pub from: usize,
    /// Feeds: mark and core resistance, by mark.
    pub feeds: [(usize, f64); MOST_FEEDS],
    pub count: usize,
}

/// Currents of a rail's feeders and its greatest link current.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(crate) struct RailFlow {
    pub feeders: [f64; MOST_FEEDS],
    pub total: f64,
    pub most_link: f64,
    /// Resistance between neighbouring feeds, its sum weighted with the current drawn before, and what is drawn to
    /// the left of each feed.
    pub gap: [f64; MOST_FEEDS],
    pub weight: [f64; MOST_FEEDS],
    pub before: [f64; MOST_FEEDS],
}

/// Core resistances of a rail's feeders at the near and at the far end of a span, ohm.
pub(crate) struct CoreSpan {
    pub count: usize,
    pub near: [f64; MOST_FEEDS],
    pub far: [f64; MOST_FEEDS],
}

impl CoreSpan {
    /// The far ones, but the near ones where asked.
    fn mixed(&self, near: impl Fn(usize) -> bool) -> [f64; MOST_FEEDS] {
        std::array::from_fn(|f| if near(f) { self.near[f] } else { self.far[f] })
    }

    /// What a feeder carries at most, given the flow of currents that no cell exceeds: the longer the others and the
    /// shorter it is itself, the more.
    pub fn most(&self, flow: &RailFlow, feeder: usize) -> f64 {
        let sums = flow.sums(self.count, self.mixed(|f| f == feeder));
        sums[feeder] - if feeder > 0 { sums[feeder - 1] } else { 0.0 }
    }

    /// What a feeder carries at least, given the flow of currents that no cell falls below.
    pub fn least(&self, flow: &RailFlow, feeder: usize) -> f64 {
        let sums = flow.sums(self.count, self.mixed(|f| f != feeder));
        sums[feeder] - if feeder > 0 { sums[feeder - 1] } else { 0.0 }
    }

    /// What a link carries at most, given the flows of currents that no cell exceeds, and falls below.
    pub fn most_link(&self, up: &RailFlow, down: &RailFlow) -> f64 {
        let mut most = up.before[0];
        for feed in 0..self.count {
            let sum_most = up.sums(self.count, self.mixed(|f| f <= feed))[feed];
            let sum_least = down.sums(self.count, self.mixed(|f| f > feed))[feed];
            let end = if feed + 1 < self.count {
                up.before[feed + 1]
            } else {
                0.0
            };
            most = most.max(sum_most - down.before[feed]).max(end - sum_least);
        }
        most
    }
}

impl RailFlow {
    /// Running sums of the feeder currents for the same cell currents and other cores.
    fn sums(&self, count: usize, cores: [f64; MOST_FEEDS]) -> [f64; MOST_FEEDS] {
        feeder_sums(count, cores, self.total, &self.gap, &self.weight)
    }
}

impl Rail<'_> {
    /// Adds to `drops` what this rail and its feeders take at each cell for the cell currents
    /// `amps`, none below zero, and reports the feeder currents.
    pub fn add_drops(&self, amps: &[f64], drops: &mut [f64]) -> RailFlow {
        let cells = amps.len();
        let joints = &self.joints[self.from..];
        let (own, legs) = (self.reels[0], &self.reels[1][self.from..]);
        let (from, part) = (self.from, self.part - self.from);
        let reels = |mark: usize| if mark < part { own[mark] } else { legs[mark] };
        let half = 0.5 * self.increment;
        // From a mark to the cell beside it; and over a mark inside from cell to cell.
        let half_link = |mark: usize| {
            if mark > 0 && mark < cells {
                half + 0.5 * (joints[mark] + reels(mark))
            } else {
                half
            }
        };
        let link = |mark: usize| self.increment + joints[mark] + reels(mark);
        let count = self.count;
        let feed_at = |feed: usize| self.feeds[feed].0 - from;
        let first = feed_at(0);
        let left_of_first: f64 = amps[..first].iter().sum();
        // Resistance between neighbouring feeds, and its sum weighted with the current drawn before.
        let mut gap = [0.0; MOST_FEEDS];
        let mut weight = [0.0; MOST_FEEDS];
        let mut drawn = [left_of_first; MOST_FEEDS];
        let mut before = left_of_first;
        for feed in 1..count {
            let (start, end) = (feed_at(feed - 1), feed_at(feed));
            let mut resistance = half_link(start);
            let mut weighted = resistance * before;
            for mark in start + 1..end {
                let link = link(mark);
                before += amps[mark - 1];
                resistance += link;
                weighted += link * before;
            }
            before += amps[end - 1];
            gap[feed - 1] = resistance + half_link(end);
            weight[feed - 1] = weighted + half_link(end) * before;
            drawn[feed] = before;
        }
        let total = before + amps[feed_at(count - 1)..].iter().sum::<f64>();
        let cores = self.feeds.map(|(_, core)| core);
        let sums = feeder_sums(count, cores, total, &gap, &weight);
        let mut flow = RailFlow {
            total,
            gap,
            weight,
            before: drawn,
            ..RailFlow::default()
        };
        let mut last = 0.0;
        for (own, sum) in flow.feeders.iter_mut().zip(sums).take(count) {
            *own = sum - last;
            last = sum;
        }
        // Walk from the first feed to the right, then to the left; the current falls from cell to cell.
        let at_first = self.feeds[0].1 * flow.feeders[0];
        let mut before = left_of_first;
        let mut drop = at_first;
        for (feed, sum) in sums.iter().enumerate().take(count) {
            let start = feed_at(feed);
            let end = if feed + 1 < count {
                feed_at(feed + 1)
            } else {
                cells
            };
            if start == end {
                continue;
            }
            let mut current = sum - before;
            flow.most_link = flow.most_link.max(current.abs());
            drop += half_link(start) * current;
            drops[start] += drop;
            for k in start + 1..end {
                current -= amps[k - 1];
                drop += link(k) * current;
                drops[k] += drop;
            }
            current -= amps[end - 1];
            flow.most_link = flow.most_link.max(current.abs());
            drop += half_link(end) * current;
            before = sum - current;
        }
        if first > 0 {
            let mut current = left_of_first;
            flow.most_link = flow.most_link.max(current);
            let mut drop = at_first + half_link(first) * current;
            drops[first - 1] += drop;
            for k in (0..first - 1).rev() {
                current -= amps[k + 1];
                drop += link(k + 1) * current;
                drops[k] += drop;
            }
        }
        flow
    }
}

/// The sums `P` of the feeder currents: a tridiagonal system of at most two unknowns.
pub(crate) fn feeder_sums(
    count: usize,
    f: [f64; MOST_FEEDS],
    total: f64,
    gap: &[f64; MOST_FEEDS],
    weight: &[f64; MOST_FEEDS],
) -> [f64; MOST_FEEDS] {
    match count {
        2 => [
            (weight[0] + f[1] * total) / (f[0] + f[1] + gap[0]),
            total,
            total,
        ],
        3 => {
            let (a, b) = (f[0] + f[1] + gap[0], f[1] + f[2] + gap[1]);
            let (x, y) = (weight[0], weight[1] + f[2] * total);
            let det = a * b - f[1] * f[1];
            [(b * x + f[1] * y) / det, (a * y + f[1] * x) / det, total]
        }
        _ => [total; MOST_FEEDS],
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
            reels: [&NONE; 2],
            part: 8,
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

    /// Greatest link current of both passes over a rail, walked half by half.
    fn links(feeds: &[(usize, f64)], amps: &[f64]) -> f64 {
        let flow = rail(feeds).add_drops(amps, &mut vec![0.0; amps.len()]);
        let mut most: f64 = 0.0;
        let mut current = 0.0;
        for (k, own) in amps.iter().enumerate() {
            let entering = feeds.iter().position(|f| f.0 == k);
            current += entering.map_or(0.0, |f| flow.feeders[f]);
            most = most.max(f64::abs(current)).max(f64::abs(current - own));
            current -= own;
        }
        most
    }

    proptest::proptest! {
        #[test]
        fn a_span_encloses_what_feeders_and_links_carry(
            less in proptest::collection::vec(0.0..1.0_f64, 7),
            more in proptest::collection::vec(0.0..0.5_f64, 7),
            share in proptest::collection::vec(0.0..1.0_f64, 10),
            near in proptest::collection::vec(0.01..3.0_f64, 3),
            longer in proptest::collection::vec(0.0..3.0_f64, 3),
            marks in proptest::sample::subsequence((0..=7_usize).collect::<Vec<_>>(), 1..=3),
        ) {
            let count = marks.len();
            let at = |core: &dyn Fn(usize) -> f64| -> Vec<(usize, f64)> {
                marks.iter().enumerate().map(|(f, mark)| (*mark, core(f))).collect()
            };
            let most: Vec<f64> = less.iter().zip(&more).map(|(a, b)| a + b).collect();
            let own: Vec<f64> = (0..7).map(|k| less[k] + share[k] * more[k]).collect();
            let feeds = at(&|f| near[f] + share[7 + f] * longer[f]);
            let mut span = CoreSpan { count, near: [0.0; 3], far: [0.0; 3] };
            for f in 0..count {
                (span.near[f], span.far[f]) = (near[f], near[f] + longer[f]);
            }
            let flow = |amps: &[f64]| rail(&at(&|f| near[f])).add_drops(amps, &mut [0.0; 7]);
            let (up, down) = (flow(&most), flow(&less));
            let truly = rail(&feeds).add_drops(&own, &mut [0.0; 7]);
            for f in 0..count {
                proptest::prop_assert!(truly.feeders[f] <= span.most(&up, f) + 1e-12);
                proptest::prop_assert!(truly.feeders[f] >= span.least(&down, f) - 1e-12);
            }
            let link = links(&feeds, &own);
            proptest::prop_assert!((truly.most_link - link).abs() < 1e-12);
            proptest::prop_assert!(link <= span.most_link(&up, &down) + 1e-12);
        }
    }
}
