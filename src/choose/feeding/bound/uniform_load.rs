//! Drop along plain tape whose cells all draw alike: closed forms.
//!
//! ```text
//!  0        a           b          n      between two marks the current falls by i from cell to cell, so the drop
//!  ├──○──○──●──○──○──○──●──○──○────┤      at x increments beyond a is d(a) + r·(c(a)·x − i·(x² − ¼)/2), which is
//!                                         concave: its greatest value lies beside its vertex
//! ```
//! Checked against the pass over all cells ([`rails`](crate::choose::feeding::circuit::rails)).

use crate::choose::feeding::circuit::candidate::Candidate;
use crate::choose::feeding::circuit::rails::{MOST_FEEDS, feeder_sums};
use crate::choose::feeding::circuit::shape::Cores;
use crate::choose::feeding::problem::checked::{CheckedRun, LOW, SourceNumbers};

/// A rail and its feeders, each cell drawing `amps`.
#[derive(Debug, Clone, Copy)]
pub(crate) struct UniformLoad {
    increment: f64,
    amps: f64,
    count: usize,
    /// Feeds: mark from the start of the segment, drop of the feeder, and the current that enters up to it.
    marks: [usize; MOST_FEEDS],
    drops: [f64; MOST_FEEDS],
    sums: [f64; MOST_FEEDS],
}

impl UniformLoad {
    /// The common rail of a segment that begins at mark 0, or the return rail of an emitter.
    pub fn new(
        m: &CheckedRun,
        c: &Candidate,
        corner: usize,
        emitter: Option<usize>,
        cores: &Cores,
        amps: f64,
    ) -> Self {
        let copper = &m.corners[corner];
        let increment = emitter.map_or(copper.common, |e| copper.rails[e]);
        let entered = c.entered_by(emitter.is_none());
        let count = entered.len();
        let (mut marks, mut own) = ([0; MOST_FEEDS], [0.0; MOST_FEEDS]);
        for (slot, feed) in entered.enumerate() {
            (marks[slot], own[slot]) = (c.feeds[feed].0 - c.from, cores[feed][corner]);
        }
        let (mut gap, mut weight) = ([0.0; MOST_FEEDS], [0.0; MOST_FEEDS]);
        for feed in 1..count {
            let (before, length) = (
                marks[feed - 1] as f64,
                (marks[feed] - marks[feed - 1]) as f64,
            );
            gap[feed - 1] = increment * length;
            weight[feed - 1] = increment * length * (before + 0.5 * length);
        }
        let sums = feeder_sums(count, own, c.cells() as f64, &gap, &weight);
        let drop =
            |feed: usize| own[feed] * (sums[feed] - if feed > 0 { sums[feed - 1] } else { 0.0 });
        Self {
            increment,
            amps,
            count,
            marks,
            drops: std::array::from_fn(|feed| if feed < count { amps * drop(feed) } else { 0.0 }),
            sums: sums.map(|sum| amps * sum),
        }
    }

    /// Drop at a mark, and the current that leaves it to the right; beyond a feed that is the last up to the mark.
    fn at(&self, mark: usize) -> [f64; 2] {
        let before = self.marks[..self.count]
            .iter()
            .take_while(|k| **k <= mark)
            .count();
        let feed = before.max(1) - 1;
        let (own, x) = (self.marks[feed] as f64, mark as f64);
        if before == 0 {
            let drop = 0.5 * self.increment * self.amps * (own * own - x * x);
            return [self.drops[feed] + drop, -self.amps * x];
        }
        let (current, x) = (self.sums[feed] - self.amps * own, x - own);
        let drop = self.increment * (current * x - 0.5 * self.amps * x * x);
        [self.drops[feed] + drop, current - self.amps * x]
    }
}

/// The greatest sum of the drops along some rails over `n` cells.
pub(crate) fn greatest<const N: usize>(n: usize, rails: [&UniformLoad; N]) -> f64 {
    let mut marks = [n; 2 * MOST_FEEDS + 2];
    let mut count = 1;
    marks[0] = 0;
    for rail in rails {
        marks[count..count + rail.count].copy_from_slice(&rail.marks[..rail.count]);
        count += rail.count;
    }
    marks[..count].sort_unstable();
    let curve: f64 = rails.iter().map(|rail| rail.increment * rail.amps).sum();
    let mut most = 0.0_f64;
    for pair in marks[..=count].windows(2) {
        let [start, end] = [pair[0], pair[1]];
        if start == end {
            continue;
        }
        let at = rails.map(|rail| rail.at(start));
        let slope: f64 = rails
            .iter()
            .zip(at)
            .map(|(rail, at)| rail.increment * at[1])
            .sum();
        let vertex = slope / curve.max(f64::MIN_POSITIVE);
        // The cell around it, or the one next to it.
        let x = (vertex as usize).min(end - start - 1) as f64 + 0.5;
        let drop =
            at.iter().map(|at| at[0]).sum::<f64>() + slope * x - 0.5 * curve * (x * x - 0.25);
        most = most.max(drop);
    }
    most
}

/// Margin in volt over its least voltage that the least permitted currents leave to the worst cell of a segment: below
/// zero it cannot hold. Joints inside of `joints` ohm together, on the common and on a return, may lie anywhere: they
/// never lower a drop along a rail that is fed once, and on another by no more than all its current makes on them.
pub(crate) fn margin_at_least(
    m: &CheckedRun,
    c: &Candidate,
    source: &SourceNumbers,
    cores: &Cores,
    joints: [f64; 2],
) -> f64 {
    let n = c.cells();
    let eased = [true, false].map(|common| {
        let several = c.entered_by(common).len() > 1;
        if several {
            joints[usize::from(!common)]
        } else {
            0.0
        }
    });
    let mut margin = f64::INFINITY;
    for state in &m.states {
        let sum: f64 = state.iter().map(|e| m.least_amps[*e]).sum();
        let common = UniformLoad::new(m, c, LOW, None, cores, sum);
        for &e in state {
            let amps = m.least_amps[e];
            let (shared, switch) = (source.shared() - eased[0], source.switch - eased[1]);
            let shared = n as f64 * (shared * sum + switch * amps);
            let drop = if m.one_loop && c.entered_by(true) == c.entered_by(false) {
                2.0 * greatest(n, [&common])
            } else {
                let own = UniformLoad::new(m, c, LOW, Some(e), cores, amps);
                greatest(n, [&common, &own])
            };
            let drop = shared + drop;
            margin = margin.min(source.volts[LOW] - drop - m.least_volts[e]);
        }
    }
    margin
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choose::feeding::circuit::shape::Copper;
    use crate::choose::feeding::tests::every_candidate::candidates;

    /// The same with joints where they are, in one pass over the cells.
    fn margin_over_cells(
        m: &CheckedRun,
        c: &Candidate,
        source: &SourceNumbers,
        cores: &Cores,
    ) -> f64 {
        let n = c.cells();
        let copper = Copper::own(*cores);
        let mut margin = f64::INFINITY;
        let (mut sum, mut common_drop, mut lower) = (Vec::new(), Vec::new(), Vec::new());
        for state in &m.states {
            let total: f64 = state.iter().map(|e| m.least_amps[*e]).sum();
            sum.clear();
            sum.resize(n, total);
            common_drop.clear();
            common_drop.resize(n, 0.0);
            let flow = c
                .rail(m, LOW, None, &copper)
                .add_drops(&sum, &mut common_drop);
            for &e in state {
                sum.fill(m.least_amps[e]);
                lower.clear();
                lower.resize(n, 0.0);
                let own = c.rail(m, LOW, Some(e), &copper).add_drops(&sum, &mut lower);
                let fixed = source.volts[LOW]
                    - source.shared() * flow.total
                    - source.switch * own.total
                    - m.least_volts[e];
                for (a, b) in lower.iter().zip(&common_drop) {
                    margin = margin.min(fixed - a - b);
                }
            }
        }
        margin
    }

    #[test]
    fn closed_forms_say_what_the_pass_over_all_cells_says() {
        let mut asked = 0;
        for emitters in [1, 2] {
            let problem =
                crate::choose::feeding::tests::exhaustive::problem(emitters, 0.6, true, 0);
            let m = problem.check().expect("a sound run");
            for (from, to) in [(0, 1), (0, 2), (3, 10), (5, 22), (40, 70)] {
                for c in candidates(&m, from, to) {
                    let (source, cores) = (&m.sources[c.place(&m)], c.cores(&m));
                    let closed = margin_at_least(&m, &c, source, &cores, [0.0; 2]);
                    let passed = margin_over_cells(&m, &c, source, &cores);
                    approx::assert_relative_eq!(closed, passed, epsilon = 1e-10);
                    asked += 1;
                }
            }
        }
        assert!(asked > 300, "{asked}");
    }
}
