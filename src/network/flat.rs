//! The stretch without loads: every rail is a chain of its own, and elimination is three numbers a node.
//!
//! Used for the bound, whose matrix has the copper and the sources only.

use super::section::{Left, Stretch};

/// Eliminates the stretch with all slopes zero; keeps `3·R` numbers a cell. The same contract as [`super::section::forward`].
#[inline(always)]
pub(super) fn forward<const R: usize, const BETWEEN: bool>(
    s: &Stretch,
    shares: &mut [f64],
) -> Left<R> {
    let mut left: Left<R> = Left::new();
    let mut behind = [0.0; R];
    if BETWEEN {
        for (i, b) in behind.iter_mut().enumerate() {
            *b = s.link(i, s.first, false);
        }
    }
    for (n, kept) in shares.chunks_exact_mut(3 * R).take(s.count).enumerate() {
        let k = s.cell(n);
        for (i, row) in kept.chunks_exact_mut(3).enumerate() {
            let here = left.next_amps[i] + s.amps[i * s.cells + k];
            let ahead = s.link(i, k, true);
            let total = ahead + behind[i];
            let inverse = if total > 0.0 { 1.0 / total } else { 0.0 };
            left.lost |= total == 0.0 && here != 0.0;
            let (on, back) = (ahead * inverse, behind[i] * inverse);
            (row[0], row[1], row[2]) = (here * inverse, on, back);
            left.next_amps[i] = on * here;
            left.left_amps[i] += back * here;
            behind[i] *= on;
        }
    }
    for (i, b) in behind.iter().enumerate() {
        left.next_left[i][i] = *b;
    }
    left
}

/// Puts the voltages back; returns the largest.
#[inline(always)]
pub(super) fn backward<const R: usize>(
    s: &Stretch,
    shares: &[f64],
    next: [f64; R],
    left: [f64; R],
    volts: &mut [f64],
) -> f64 {
    let mut ahead = next;
    let mut most = 0.0_f64;
    for (n, kept) in shares.chunks_exact(3 * R).take(s.count).enumerate().rev() {
        let k = s.cell(n);
        for (i, row) in kept.chunks_exact(3).enumerate() {
            let v = row[0] + row[1] * ahead[i] + row[2] * left[i];
            volts[i * s.cells + k] = v;
            most = most.max(v.abs());
            ahead[i] = v;
        }
    }
    most
}
