//! The damped pass for laws that are monotone but not convex (plateaus, tables, customs).

use super::sweep::{Draw, Ladder, Links};

/// A full step this small, V, is the end, and below the reach of a search.
const SETTLED: f64 = 1e-10;

/// Newton step with a line search on the slope of the co-content; the same contract as [`super::sweep::pass`].
pub(super) fn pass<D: Draw, L: Links>(
    ladder: &Ladder<D, L>,
    drop: &mut [f64],
    near: &mut [f64],
    add: &mut [f64],
    spare: &mut [f64],
) -> f64 {
    let cells = drop.len();
    let (before, rest) = spare.split_at_mut(cells);
    let work = &mut rest[..cells];
    before.copy_from_slice(drop);
    let most = super::sweep::pass(ladder, drop, near, work);
    if most <= SETTLED {
        return most;
    }
    for ((a, p), b) in add.iter_mut().zip(drop.iter()).zip(before.iter()) {
        *a = p - b;
    }
    let at_start = slope(ladder, before, add);
    let enough = 0.5 * at_start.abs();
    let (mut low, mut slope_low, mut high, mut slope_high) =
        (0.0, at_start, 1.0, slope(ladder, drop, add));
    if !(slope_high > enough) {
        return most;
    }
    let mut share = 1.0;
    for round in 0..60 {
        let secant = low - slope_low * (high - low) / (slope_high - slope_low);
        let edge = 0.05 * (high - low);
        share = if round % 3 == 2 || !secant.is_finite() {
            0.5 * (low + high)
        } else {
            secant.clamp(low + edge, high - edge)
        };
        for ((p, b), a) in drop.iter_mut().zip(before.iter()).zip(add.iter()) {
            *p = b + share * a;
        }
        let found = slope(ladder, drop, add);
        if found.abs() <= enough {
            break;
        }
        if found > 0.0 {
            (high, slope_high) = (share, found);
        } else {
            (low, slope_low) = (share, found);
        }
    }
    // A shortened step is no proof of being there.
    (share * most).max(1e-6)
}

/// Slope of the co-content along `step` (of the drops).
fn slope<D: Draw, L: Links>(ladder: &Ladder<D, L>, drop: &[f64], step: &[f64]) -> f64 {
    let mut sum = 0.0;
    for (k, (p, d)) in drop.iter().zip(step).enumerate() {
        let (i, _) = ladder.draw.at(ladder.volts - p);
        sum -= ladder.many * i * d;
        if k > 0 {
            sum += (p - drop[k - 1]) * ladder.links.siemens(k - 1) * (d - step[k - 1]);
        }
    }
    sum + ladder
        .taps
        .iter()
        .map(|t| t.siemens * drop[t.cell] * step[t.cell])
        .sum::<f64>()
}
