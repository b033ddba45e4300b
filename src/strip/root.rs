//! The root of a function that changes sign over an interval.

/// Steps after which the search ends; bisection alone would have reached rounding by then.
const MOST_STEPS: usize = 120;

/// Where `of` is zero between `a` and `b`; `fa` and `fb`, its values there, differ in sign.
///
/// Chandrupatla's method: inverse quadratic interpolation where it can be trusted, else bisection.
/// The interval always holds a change of sign, so a jump is found as well as a zero.
/// `width` is the half width at which the search ends.
///
/// # Source
/// T. R. Chandrupatla, A new hybrid quadratic/bisection algorithm for finding the zero of a
/// nonlinear function without using derivatives, Advances in Engineering Software 28 (1997).
pub(super) fn between<E>(
    (a, fa): (f64, f64),
    (b, fb): (f64, f64),
    width: f64,
    mut of: impl FnMut(f64) -> Result<f64, E>,
) -> Result<f64, E> {
    // `b` is the newest point, `a` is on the other side of the root, `c` the point before.
    let (mut a, mut fa, mut b, mut fb) = (a, fa, b, fb);
    let mut share = 0.5;
    for _ in 0..MOST_STEPS {
        let x = b + share * (a - b);
        let fx = of(x)?;
        let (c, fc);
        if (fx > 0.0) == (fb > 0.0) {
            (c, fc) = (b, fb);
        } else {
            (c, fc) = (a, fa);
            (a, fa) = (b, fb);
        }
        (b, fb) = (x, fx);
        let best = if fa.abs() < fb.abs() { a } else { b };
        let spread = (a - b).abs();
        let least = width + 2.0 * f64::EPSILON * best.abs();
        if fb == 0.0 || !(spread > 2.0 * least) {
            return Ok(if fb == 0.0 { b } else { best });
        }
        let xi = (b - a) / (c - a);
        let phi = (fb - fa) / (fc - fa);
        share = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            fb / (fa - fb) * fc / (fa - fc)
                + (c - b) / (a - b) * (fb / (fc - fb)) * (fa / (fc - fa))
        } else {
            0.5
        };
        // NaN (equal values) falls to bisection; a step of less than the width says nothing.
        let edge = least / spread;
        share = if share > 0.0 && share < 1.0 {
            share.max(edge).min(1.0 - edge)
        } else {
            0.5
        };
    }
    Ok(0.5 * (a + b))
}

#[cfg(test)]
mod tests {
    use super::between;

    fn root(a: f64, b: f64, f: impl Fn(f64) -> f64) -> f64 {
        between((a, f(a)), (b, f(b)), 1e-15, |x| Ok::<_, ()>(f(x))).unwrap_or(f64::NAN)
    }

    #[test]
    fn finds_roots_and_jumps() {
        assert!((root(0.0, 3.0, |x| x * x - 2.0) - 2f64.sqrt()).abs() < 1e-14);
        assert!((root(-10.0, 10.0, |x| 1.0 - libm::exp(x + 4.0)) + 4.0).abs() < 1e-13);
        assert!((root(0.0, 1.0, |x| if x < 0.7 { -1.0 } else { 1e9 }) - 0.7).abs() < 1e-14);
        assert!((root(0.0, 1.0, |x| libm::pow(x - 0.3, 9.0)) - 0.3).abs() < 1e-2);
    }
}
