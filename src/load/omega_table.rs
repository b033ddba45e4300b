//! Wright omega from a table: what makes a solve as cheap as the elimination under it.
//!
//! One table serves every series string, since only `z = V/a + offset` differs.
//! Quintic Hermite pieces of width 1/16 through value, first and second derivative
//! (`w' = w/(1 + w)`, `w'' = w/(1 + w)³`), from -46 to 210. The relative error is below
//! `h⁶/46080 = 1.3e-12` (tested against the closed form). Outside the table the closed form is used.

use super::omega::wright_omega;
use std::sync::OnceLock;

const LOW: f64 = -46.0;
const PER_UNIT: f64 = 16.0;
const PIECES: usize = 4096;
/// 1.5 times 2^52.
const ROUNDER: f64 = 6_755_399_441_055_744.0;

/// The table: six coefficients a piece, by powers of the place in it (0 to 1).
pub(crate) struct OmegaTable(Vec<[f64; 6]>);

/// The table, made on first use (4,097 values, a quarter of a millisecond); a constant.
pub(crate) fn omega_table() -> &'static OmegaTable {
    static TABLE: OnceLock<OmegaTable> = OnceLock::new();
    TABLE.get_or_init(|| {
        let knot = |k: usize| {
            let w = wright_omega(LOW + k as f64 / PER_UNIT);
            let (p, h) = (1.0 + w, 1.0 / PER_UNIT);
            (w, h * w / p, h * h * w / (p * p * p))
        };
        let mut pieces = Vec::with_capacity(PIECES);
        let mut from = knot(0);
        for k in 0..PIECES {
            let to = knot(k + 1);
            pieces.push(quintic(from, to));
            from = to;
        }
        OmegaTable(pieces)
    })
}

/// The quintic on 0 to 1 through value, slope and second derivative at both ends.
fn quintic(from: (f64, f64, f64), to: (f64, f64, f64)) -> [f64; 6] {
    let ((f0, d0, s0), (f1, d1, s1)) = (from, to);
    let rise = f1 - f0 - d0 - 0.5 * s0;
    let slope = d1 - d0 - s0;
    let bend = s1 - s0;
    [
        f0,
        d0,
        0.5 * s0,
        10.0 * rise - 4.0 * slope + 0.5 * bend,
        -15.0 * rise + 7.0 * slope - bend,
        6.0 * rise - 3.0 * slope + 0.5 * bend,
    ]
}

impl OmegaTable {
    /// The piece of a place, and the place in it; none outside the table.
    #[inline(always)]
    fn piece(&self, place: f64) -> Option<(&[f64; 6], f64)> {
        // Rounding to the nearest integer by adding a number so large that its last bit counts units.
        let rounded = (place - 0.5) + ROUNDER;
        let piece = rounded.to_bits().wrapping_sub(ROUNDER.to_bits()) as usize;
        Some((self.0.get(piece)?, place - (rounded - ROUNDER)))
    }

    /// `w`; 0 below the table, where it is less than 1.1e-20.
    #[inline(always)]
    pub fn value(&self, z: f64) -> f64 {
        let place = (z - LOW) * PER_UNIT;
        match self.piece(place) {
            Some((c, t)) => at(c, t),
            None if place > 0.0 => wright_omega(z),
            None => 0.0,
        }
    }

    /// `w` and `dw/dz`.
    #[inline(always)]
    pub fn at(&self, z: f64) -> (f64, f64) {
        let w = match self.piece((z - LOW) * PER_UNIT) {
            Some((c, t)) => at(c, t),
            None => wright_omega(z),
        };
        (w, w / (1.0 + w))
    }
}

/// The quintic at a place of its piece: two halves side by side, not one chain.
#[inline(always)]
fn at(c: &[f64; 6], t: f64) -> f64 {
    let square = t * t;
    (c[0] + t * c[1]) + square * ((c[2] + t * c[3]) + square * (c[4] + t * c[5]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_the_closed_form() {
        let table = omega_table();
        let (mut worst, mut worst_slope) = (0.0_f64, 0.0_f64);
        for k in 0..400_000 {
            let z = -50.0 + 265.0 * f64::from(k) / 400_000.0;
            let w = wright_omega(z);
            let (found, slope) = table.at(z);
            worst = worst.max(((found - w) / w).abs());
            let swept = if z > LOW { table.value(z) } else { w };
            worst = worst.max(((swept - w) / w).abs());
            worst_slope = worst_slope.max((slope / (w / (1.0 + w)) - 1.0).abs());
        }
        assert!(worst < 2e-12, "relative error {worst}");
        assert!(
            worst_slope < 1e-9,
            "relative error of the slope {worst_slope}"
        );
    }

    #[test]
    fn the_closed_form_obeys_its_equation() {
        for k in 0..100_000 {
            let z = -700.0 + 2000.0 * f64::from(k) / 100_000.0;
            let w = wright_omega(z);
            // d(w + ln w) = (1 + 1/w) dw, so the error of w relative to w is the defect over (1 + w).
            let defect = if w > 0.0 {
                (w + libm::log(w) - z) / (1.0 + w)
            } else {
                0.0
            };
            assert!(
                defect.abs() < 4e-16 * (1.0 + z.abs() / (1.0 + w)),
                "omega({z}) = {w}: {defect}"
            );
        }
    }
}
