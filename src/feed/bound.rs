//! Necessary conditions, each in constant or logarithmic time, and where several feeds may lie.

use super::candidate::Candidate;
use super::march::{Branches, SLACK, Side, volts_needed};
use super::model::{CheckedRun, FeedOption, LOW, SourceNumbers};
use super::spec::Pattern;

/// A feed at `f` with branches to both sides: the longer needs its voltage, and each draws at
/// least its own least current.
#[inline]
pub(super) fn inside_may_hold(
    m: &CheckedRun,
    b: &Branches,
    f: usize,
    left: usize,
    right: usize,
    option: &FeedOption,
    source: &SourceNumbers,
) -> bool {
    let (Some(l), Some(r)) = (b.needs(Side::Left, f, left), b.needs(Side::Right, f, right)) else {
        return false;
    };
    let core = option.core[LOW];
    let (common, returns) = (0.5 * m.joint_common[f], 0.5 * m.joint_returns[f]);
    l.iter().zip(r).all(|(l, r)| {
        let through = |n: &super::march::Need| n.volts + common * n.sum + returns * n.own;
        let together = super::march::Need {
            volts: through(l).max(through(r)),
            own: l.own + r.own,
            sum: l.sum + r.sum,
        };
        volts_needed(&together, core, source) <= source.volts[LOW] + SLACK
    })
}

/// Uniform tape fed at its ends (both, or opposite): margin in volt that the least permitted
/// currents leave to the worst cell. Below zero the segment cannot hold.
///
/// With equal cell currents `i` the drop along a rail is a concave parabola in the cell's place, so its
/// greatest value lies next to the vertex.
pub(super) fn two_ends(m: &CheckedRun, c: &Candidate) -> f64 {
    let n = c.cells() as f64;
    let source = &m.sources[c.place(m)];
    let (left, right) = (c.option(m, 0).core[LOW], c.option(m, 1).core[LOW]);
    let copper = &m.corners[LOW];
    // Current that enters a rail of `r` ohm an increment at its start for a cell current `i`.
    let entering = |r: f64, i: f64, at_start: bool, at_end: bool| match (at_start, at_end) {
        (true, true) => (0.5 * i * r * n * n + right * n * i) / (left + right + n * r),
        (true, false) => n * i,
        _ => 0.0,
    };
    let both = c.pattern == Pattern::BothEnds;
    let common_start = c.pattern != Pattern::CommonAtEnd;
    let common_end = c.pattern != Pattern::CommonAtStart;
    let (return_start, return_end) = if both {
        (true, true)
    } else {
        (common_end, common_start)
    };
    // Drop at x increments from the start, measured from the bus.
    let drop = |r: f64, i: f64, p: f64, at_start: bool, x: f64| {
        if at_start {
            // Cells tap at half marks: the exact discrete sum is the parabola plus an eighth.
            left * p + r * (p * x - 0.5 * i * (x * x - 0.25))
        } else {
            let y = n - x;
            right * n * i + r * (n * i * y - 0.5 * i * (y * y - 0.25))
        }
    };
    let mut margin = f64::INFINITY;
    for state in &m.states {
        let sum: f64 = state.iter().map(|e| m.least_amps[*e]).sum();
        let rc = copper.common;
        let pc = entering(rc, sum, common_start, common_end);
        for &e in state {
            let (re, i) = (copper.rails[e], m.least_amps[e]);
            let pe = entering(re, i, return_start, return_end);
            // Slope of the sum vanishes where r·(p − i·x) summed does.
            let vertex = (rc * pc + re * pe) / (rc * sum + re * i).max(f64::MIN_POSITIVE);
            let cell = (vertex - 0.5).round().clamp(0.0, n - 1.0);
            let at = |cell: f64| {
                let x = cell + 0.5;
                drop(rc, sum, pc, common_start, x) + drop(re, i, pe, return_start, x)
            };
            let worst = at(cell);
            let fixed = source.volts[LOW] - source.shared() * n * sum - source.switch * n * i;
            margin = margin.min(fixed - worst - m.least_volts[e]);
        }
    }
    margin
}

/// Both ends fed where all folds to one loop: some cell has the least voltage; left of it `k` cells hang
/// on the left feeder and the others on the right one, and that cell draws from both.
pub(super) fn both_ends_one_loop(m: &CheckedRun, b: &Branches, c: &Candidate) -> bool {
    let n = c.cells();
    let source = &m.sources[c.place(m)];
    let (left, right) = (c.option(m, 0).core[LOW], c.option(m, 1).core[LOW]);
    let stiff = SourceNumbers {
        output: 0.0,
        lead: 0.0,
        switch: 0.0,
        ..*source
    };
    let least = m.least_volts[0];
    let at = |side: Side, length: usize| {
        if length == 0 {
            return Some((least, 0.0));
        }
        let (mark, core) = if side == Side::Right {
            (c.from, left)
        } else {
            (c.to, right)
        };
        let need = b.needs(side, mark, length)?.first()?;
        Some((volts_needed(need, core, &stiff), need.sum))
    };
    // The bus voltage at which `k` cells hang on the left rises with k, that of the rest falls: find the crossing.
    let (mut low, mut high) = (0, n);
    while high - low > 1 {
        let k = usize::midpoint(low, high);
        let left_first = match (at(Side::Right, k), at(Side::Left, n - k)) {
            (None, _) => false,
            (_, None) => true,
            (Some(l), Some(r)) => l.0 <= r.0,
        };
        if left_first {
            low = k;
        } else {
            high = k;
        }
    }
    // The least cell is the one after `low` cells: the bus needs at least what the full cells on either side do.
    let (Some(l), Some(r)) = (at(Side::Right, low), at(Side::Left, n - 1 - low)) else {
        return false;
    };
    let current = l.1 + r.1 + m.least_amps[0];
    l.0.max(r.0) + (source.shared() + source.switch) * current <= source.volts[LOW] + SLACK
}

/// Marks of a placement and their count.
pub(super) type Marks = ([usize; 3], usize);

/// Where two and three feeds may lie in a segment.
///
/// Few listed marks: every pair and triple of them. Otherwise the even places only: quarters for two,
/// sixths for three, the middle between both ends, mirrored in the segment, where these marks are permitted.
pub(super) fn placements(m: &CheckedRun, from: usize, to: usize) -> Vec<(Pattern, Marks)> {
    let n = to - from;
    let mut all = Vec::new();
    let has = |p: Pattern| m.patterns.contains(&p);
    let mut push = |pattern: Pattern, marks: Marks| {
        let list = &marks.0[..marks.1];
        if list.windows(2).all(|w| w[0] < w[1])
            && list.iter().all(|k| !m.options_at(*k, to).is_empty())
        {
            all.push((pattern, marks));
        }
    };
    if let Some(listed) = &m.listed_inside {
        let inner: Vec<usize> = listed
            .iter()
            .copied()
            .filter(|k| *k > from && *k < to)
            .collect();
        for (a, &first) in inner.iter().enumerate() {
            if has(Pattern::BothEndsAndInside) {
                push(Pattern::BothEndsAndInside, ([from, first, to], 3));
            }
            for (b, &second) in inner.iter().enumerate().skip(a + 1) {
                if has(Pattern::TwoInside) {
                    push(Pattern::TwoInside, ([first, second, 0], 2));
                }
                if has(Pattern::ThreeInside) {
                    for &third in &inner[b + 1..] {
                        push(Pattern::ThreeInside, ([first, second, third], 3));
                    }
                }
            }
        }
        return all;
    }
    let (quarter, sixth) = ((n + 2) / 4, (n + 3) / 6);
    let middles = if n.is_multiple_of(2) {
        vec![from + n / 2]
    } else {
        vec![from + n / 2, from + n / 2 + 1]
    };
    let inner = |k: usize| k > from && k < to;
    if has(Pattern::TwoInside) && inner(from + quarter) && inner(to - quarter) {
        push(Pattern::TwoInside, ([from + quarter, to - quarter, 0], 2));
    }
    for &middle in middles.iter().filter(|k| inner(**k)) {
        if has(Pattern::BothEndsAndInside) {
            push(Pattern::BothEndsAndInside, ([from, middle, to], 3));
        }
        if has(Pattern::ThreeInside) && inner(from + sixth) && inner(to - sixth) {
            push(
                Pattern::ThreeInside,
                ([from + sixth, middle, to - sixth], 3),
            );
        }
    }
    all
}
